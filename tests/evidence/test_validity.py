"""Every cell of the table of validity through the evidence: valid gives a value, wide widens it, refused says why."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

import fluewright
from fluewright.appliance.points import Cell, validity
from fluewright.evidence import flue, monoxide
from fluewright.evidence.finding import Finding
from fluewright.evidence.flue import Worked
from fluewright.evidence.formulas import FORMULAS
from fluewright.evidence.inputs import MIXING
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, PointKind, Stretch
from fluewright.evidence.reading import Surroundings as Place
from fluewright.rules import load
from fluewright.visit import emissions
from fluewright.visit.work import Verdict

TABLE = validity()
SOUND = Instrument("analyser NOT-REAL-1", "statutory", date(2027, 5, 1), "outdoors", "yes")
READ = {"o2": "5 %", "co": "70 ppm", "stack": "180 C", "air": "20 C", "intake_o2": "20.5 %", "no": "60 ppm",
        "no2": "3 ppm"}  # fmt: skip
AIR = ("air-short", "air-generous", "air-in-window")


def at(point: str) -> Point:
    """A point of one class."""
    kind: PointKind = TABLE.points[point].kind  # type: ignore[assignment]
    return Point(f"somewhere, {point}", kind, point)


def stretch(point: str, **typed: str) -> Stretch:
    """Readings at a point of one class."""
    return Stretch("as found", "10:00", at(point), fluewright.readings_of(typed), steady="steady for 90 s")


def worked(point: str, fuel: str = "oil-no-2") -> Worked:
    """One stretch with everything that oil can give, worked out at a point of one class."""
    record = fluewright.load_fuel(fuel)
    return flue.work(record=record, stretch=stretch(point, **READ), instrument=SOUND, surroundings=Place())


def verdict(one: Stretch, *, jurisdiction: str = "US-MN", fuel: str = "natural-gas", burner: str) -> Verdict:
    """The verdict on one stretch."""
    account = Account(
        title="Invented",
        customer="",
        site="",
        day=date(2026, 11, 25),
        technician="",
        appliance=Appliance("boiler", burner=burner, condensing=False),
        fuel=fluewright.load_fuel(fuel),
        instrument=SOUND,
        surroundings=Place(),
        stretches=(one,),
        jurisdiction=jurisdiction,
    )
    return fluewright.judged(account)


def findings(one: Stretch, **of: str) -> dict[str, Finding]:
    """The findings of one stretch by code."""
    return {finding.code: finding for finding in verdict(one, **of).judged.findings}  # type: ignore[arg-type]


def cells(*quantities: str) -> list[Cell]:
    """The cells of some rows."""
    return [TABLE.cell(quantity, point) for quantity in quantities for point in TABLE.points]


def label(cell: Cell) -> str:
    """A cell as a test is named."""
    return f"{cell.quantity} at {cell.point}"


def test_the_table_is_as_large_as_it_must_be() -> None:
    assert len(TABLE.points) >= 12
    assert len(TABLE.words) >= 20
    assert set(FORMULAS) <= set(TABLE.words)
    assert len(TABLE.cells) == len(TABLE.points) * len(TABLE.words)
    assert all(cell.reason.words and cell.reason.source for cell in TABLE.cells.values())
    assert {cell.grade for cell in TABLE.cells.values()} == {"valid", "wide", "refused"}


@pytest.mark.parametrize("cell", cells(*FORMULAS), ids=label)
def test_a_result_is_worth_what_its_cell_says(cell: Cell) -> None:
    plain, here = worked("undiluted").results[cell.quantity], worked(cell.point).results[cell.quantity]
    if cell.grade == "refused":
        assert here.value is None
        assert cell.reason.words in here.refused
        return
    assert here.value == pytest.approx(plain.value, rel=1e-12)
    assert here.working is not None
    named = MIXING in {one.words for one in here.working.inputs}
    if cell.grade == "valid":
        assert (here.below, here.above) == pytest.approx((plain.below, plain.above), rel=1e-12)
        assert not named
        assert "wide edge" not in here.working.holds
    else:
        assert here.below > plain.below
        assert here.above > plain.above
        assert named
        assert cell.reason.words in here.working.holds


@pytest.mark.parametrize("cell", cells("carbon_monoxide_mass_per_heat", "nitrogen_oxides_mass_per_heat"), ids=label)
def test_emissions_per_heat(cell: Cell) -> None:
    if cell.grade == "refused":
        assert verdict(stretch(cell.point, **READ), burner="premix").told[0][1] is None
        return
    plain, here = (emissions.of_stretch(worked(point))[cell.quantity] for point in ("undiluted", cell.point))
    assert here.value == pytest.approx(plain.value, rel=1e-12)
    assert (here.above > plain.above * (1 + 1e-9)) == (cell.grade == "wide")


@pytest.mark.parametrize("cell", cells("burner_window"), ids=label)
def test_the_burner_is_judged_only_where_its_own_gas_is(cell: Cell) -> None:
    one = stretch(cell.point, o2="7.4 %", co="20 ppm", stack="180 C", air="20 C")
    found = {code: f for code, f in findings(one, burner="premix").items() if code in AIR}
    if cell.grade == "refused":
        assert not found
        return
    plain = findings(stretch("undiluted", o2="7.4 %", co="20 ppm", stack="180 C", air="20 C"), burner="premix")
    assert found["air-generous"].odds is not None
    assert (found["air-generous"].odds < plain["air-generous"].odds) == (cell.grade == "wide")  # type: ignore[operator]


@pytest.mark.parametrize("cell", cells("carbon_monoxide_dry"), ids=label)
def test_raw_carbon_monoxide_meets_no_undiluted_limit_in_thinned_gas(
    cell: Cell, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = tuple(replace(rule, quantity="carbon_monoxide_dry", id="raw") for rule in load.limits()[:1])
    row = replace(raw[0], sense="at most", limit=300.0, unit="ppm", severity="act", decision="none")
    monkeypatch.setattr(monoxide, "rules_for", lambda name, _: (row,) if name == "carbon_monoxide_dry" else ())
    one = stretch(cell.point, o2="9 %", co="500 ppm", stack="180 C", air="20 C")
    found = findings(one, burner="unknown")
    assert ("raw" in found) == (cell.grade != "refused")
    if cell.grade == "wide":
        plain = findings(stretch("undiluted", o2="9 %", co="500 ppm", stack="180 C", air="20 C"), burner="unknown")
        assert found["raw"].odds < plain["raw"].odds  # type: ignore[operator]


@pytest.mark.parametrize("cell", cells("carbon_monoxide_room"), ids=label)
def test_only_air_that_people_breathe_is_judged_as_a_room(cell: Cell) -> None:
    one = stretch(cell.point, o2="12 %", co="70 ppm", stack="180 C", air="20 C")
    assert ("us-test-stop-co" in findings(one, burner="unknown")) == (cell.grade == "valid")


@pytest.mark.parametrize("cell", cells("smoke_spot"), ids=label)
def test_smoke_is_a_value_a_floor_or_refused(cell: Cell) -> None:
    oil = {"jurisdiction": "DE", "fuel": "oil-no-2", "burner": "oil pressure jet"}
    typed = {"o2": "5 %", "co": "20 ppm", "stack": "180 C", "air": "20 C"}
    dirty = findings(stretch(cell.point, smoke="3", **typed), **oil)
    clean = findings(stretch(cell.point, smoke="0", **typed), **oil)
    row = "de-1bimschv-soot-atomising"
    if cell.grade == "refused":
        assert row not in dirty
        assert cell.reason.words in dirty["smoke-not-here"].body
        return
    assert dirty[row].grade == "advise"
    assert "smoke-not-here" not in dirty
    if cell.grade == "wide":
        assert clean[row].grade == "open"
        assert row not in findings(stretch(cell.point, smoke="<1", **typed), **oil)


@pytest.mark.usefixtures("standing")
@pytest.mark.parametrize("point", [name for name, one in TABLE.points.items() if one.mixing])
def test_a_point_with_a_wide_edge_clears_nothing(point: str) -> None:
    # the law of Minnesota (read) clears 50 ppm air-free where the probe stands in undiluted gas
    typed = {"o2": "8 %", "co": "20 ppm", "stack": "180 C", "air": "20 C"}
    assert findings(stretch("undiluted", **typed), burner="natural draft")["us-mn-flue-co"].grade == "fine"
    assert "fine" not in {one.grade for one in findings(stretch(point, **typed), burner="natural draft").values()}


@pytest.mark.parametrize("point", ["above hood", "after damper", "common flue", "oven vent", "plume"])
def test_a_high_air_free_value_in_thinned_gas_is_a_full_alarm(point: str) -> None:
    # practice P1: 800 ppm at 14 % oxygen are 2400 ppm free of air, though raw they stay below 1000
    one = stretch(point, o2="14 %", co="800 ppm", stack="100 C", air="20 C")
    assert findings(one, burner="natural draft")["practice-co-stop"].grade == "stop"


def test_from_below_the_hood_to_above_it() -> None:
    # practice P1 (checks RED-DIL): 7 % O2 and 230 C thinned with air of 20 C to 14 % arrive at 135.4 C
    record = fluewright.load_fuel("methane")
    below = stretch("undiluted", o2="7 %", co="100 ppm", stack="230 C", air="20 C")
    above = stretch("above hood", o2="14 %", co="49.80 ppm", stack="135.4 C", air="20 C")
    one, two = (
        flue.work(record=record, stretch=each, instrument=SOUND, surroundings=Place()).results
        for each in (below, above)
    )
    free = "carbon_monoxide_air_free"
    assert two[free].value == pytest.approx(one[free].value, rel=0.002)
    assert two[free].above > one[free].above
    assert two["loss_gross"].value == pytest.approx(one["loss_gross"].value, abs=0.001)
    assert two["loss_gross"].above > one["loss_gross"].above
    for name in ("excess_air", "water_dew_point", "loss_siegert"):
        assert one[name].value is not None
        assert two[name].value is None
        assert "room air in the sample" in two[name].refused


def test_the_page_shows_the_table_that_is_used(root: Path) -> None:
    text = (root / "docs" / "method" / "appliances.md").read_text(encoding="utf-8")
    rows = [line for line in text.splitlines() if line.startswith("| `")]
    shown = {re.findall(r"`([\w-]+)`", line)[0]: [part.strip() for part in line.split("|")[2:-1]] for line in rows}
    letters = {"valid": "v", "wide": "w", "refused": "–"}
    for quantity in TABLE.words:
        assert shown[quantity] == [letters[cell.grade] for cell in TABLE.row(quantity)], quantity
    for point in TABLE.points:
        assert f"| {point} |" in text
    for reason in {cell.reason.name: cell.reason for cell in TABLE.cells.values()}.values():
        assert reason.words in text
