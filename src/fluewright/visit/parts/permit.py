"""The table [permit]: what a permit asks, the checks with gas before and after, the runs between them."""

from collections.abc import Mapping
from typing import Any, cast, get_args

from fluewright.evidence.lit import moment
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.rules.schema import Decision, Rounding
from fluewright.tune.permit_told import CheckTyped, PermitGiven, RunTyped
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

GASES = {
    "nox": "nitrogen_oxides_dry",
    "co": "carbon_monoxide_dry",
    "no": "nitric_oxide_dry",
    "no2": "nitrogen_dioxide_dry",
    "so2": "sulfur_dioxide_dry",
}
"""Gases of a permit by their trade names."""
MOST_RUNS = 50

FORM = Form(
    tables={
        "permit": (
            "gas", "limit", "reference", "decision", "rounding", "runs", "drift", "error", "response", "document",
            "clause", "edition", "initials", "conditioning", "new_source", "check", "run",
        ),
        "permit.check": ("when", "time", "gas", "read", "response"),
        "permit.run": ("mean", "o2", "start", "end"),
    },
    required={"permit": ("gas", "limit"), "permit.check": ("when", "gas", "read"), "permit.run": ("mean",)},
    lists=("permit.check", "permit.run"),
)  # fmt: skip


def _minute(file: Source, place: str, row: Mapping[str, Any], key: str) -> float | None:
    found = moment(file.clock(place, row, key)) if key in row else None
    return None if found is None else found / 60.0


def _seconds(file: Source, place: str, row: Mapping[str, Any]) -> float | None:
    found = file.reading(place, row, "response", "ignition_time")
    return None if found is None else found.figure


def _checks(file: Source, table: Mapping[str, Any], quantity: str, when: str) -> tuple[CheckTyped, ...]:
    found = []
    for place, row in file.rows("check", table, "permit"):
        if file.choice(place, row, "when", ("before", "after")) != when:
            continue
        gas, read = file.reading(place, row, "gas", quantity), file.reading(place, row, "read", quantity)
        if gas is not None and read is not None:
            found.append(CheckTyped(gas, read, _minute(file, place, row, "time"), _seconds(file, place, row)))
    return tuple(found)


def _runs(file: Source, table: Mapping[str, Any], quantity: str) -> tuple[RunTyped, ...]:
    found = []
    for place, row in file.rows("run", table, "permit"):
        mean = file.reading(place, row, "mean", quantity)
        if mean is not None:
            oxygen = file.reading(place, row, "o2", "oxygen_dry")
            found.append(RunTyped(mean, oxygen, *(_minute(file, place, row, key) for key in ("start", "end"))))
    return tuple(found)


def _wanted(file: Source, table: Mapping[str, Any]) -> int:
    """How many runs the permit asks for."""
    many = table.get("runs", 1)
    if isinstance(many, int) and not isinstance(many, bool) and 1 <= many <= MOST_RUNS:
        return many
    file.gathered.add(
        code="FW-V-324",
        place="permit, runs",
        read=f"{many!r}",
        expected=f"how many runs the permit asks for, 1 to {MOST_RUNS}, without quotes",
        matters="a mean of fewer runs has no standing",
        do="write the number of the permit",
    )
    return 1


def _limit(file: Source, table: Mapping[str, Any], quantity: str) -> Reading | None:
    limit = file.reading("permit", table, "limit", quantity)
    if limit is None:
        return None
    good = limit.typed.kind == "value" and (limit.figure or 0.0) > 0.0
    if not good:
        file.gathered.add(
            code="FW-V-325",
            place="permit, limit",
            read=limit.typed.text,
            expected="one figure above zero, such as 9 ppm",
            matters="nothing can be compared with it",
            do="write the figure of the permit",
        )
    return limit if good else None


def read(file: Source) -> tuple[Measured, ...]:
    """The permit run, where the file has one."""
    table = file.table("permit")
    if not table:
        return ()
    quantity = GASES[file.choice("permit", table, "gas", tuple(GASES))]
    limit = _limit(file, table, quantity)
    if limit is None:
        return ()
    texts = {
        key: file.text("permit", table, key) for key in ("document", "clause", "edition", "initials", "conditioning")
    }
    found = PermitGiven(
        quantity,
        limit,
        _checks(file, table, quantity, "before"),
        _checks(file, table, quantity, "after"),
        _runs(file, table, quantity),
        decision=cast(Decision, file.choice("permit", table, "decision", get_args(Decision))),
        rounding=cast(Rounding, file.choice("permit", table, "rounding", get_args(Rounding))),
        reference=file.reading("permit", table, "reference", "reference_oxygen"),
        wanted=_wanted(file, table),
        drift=file.reading("permit", table, "drift", quantity),
        error=file.reading("permit", table, "error", quantity),
        response=_seconds(file, "permit", table),
        new_source=bool(file.flag("permit", table, "new_source")),
        **texts,
    )
    return (found,)
