"""A trace judged as a visit is: its stretches through the one path, its peaks of carbon monoxide against the books."""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from fluewright import clock
from fluewright.errors import PhysicsRefused
from fluewright.evidence import monoxide
from fluewright.evidence.finding import ORDER, Finding, Judged
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Reading, Stretch, Surroundings
from fluewright.evidence.trace import readings, worked
from fluewright.evidence.trace.peaks import Peaks
from fluewright.evidence.trace.stretch import Accuracy
from fluewright.evidence.trace.trace import Trace
from fluewright.evidence.trace.worked import Worked
from fluewright.fuels import load
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import parse
from fluewright.visit import work

MOST = 20
"""Stretches judged of a long trace: the worst by carbon monoxide, by oxygen, by flue temperature, and the last."""
ASSUMED = "natural-gas"
"""Fuel that a trace without one is judged by. Air-free carbon monoxide hangs on oxygen, hardly on the fuel."""
WITHOUT_FUEL = frozenset(
    ("carbon_monoxide_dry", "carbon_monoxide_wet", "carbon_monoxide_air_free", "oxygen_dry", "oxygen_wet")
)
GRAVE = ("stop", "act")
NAMED = 5


@dataclass(frozen=True, slots=True)
class Judgement:
    """What a trace says about its appliance.

    account  who, what, where, without a stretch
    judged   findings, gravest first, each kind once; and what cannot be told
    numbers  of the stretches that were judged
    of       how many stretches there are
    refused  stretches that could not be judged, with the reason
    assumed  whether no fuel was named
    """

    account: Account
    judged: Judged
    numbers: tuple[int, ...]
    of: int
    refused: tuple[str, ...]
    assumed: bool

    @property
    def grave(self) -> bool:
        """Whether something must be stopped or mended."""
        return any(finding.grade in GRAVE for finding in self.judged.findings)


def account_of(args: argparse.Namespace, *, record: FuelRecord | None, day: date) -> Account:
    """What is known beside the trace, from the options.

    record  fuel, None when none was named
    day     whose rules count
    -> Account without a stretch
    """
    output = parse.single(args.output, quantity="heat_output").value if args.output is not None else None
    return Account(
        title="A trace",
        customer="",
        site="",
        day=day,
        technician="",
        appliance=Appliance("appliance not named", args.burner, args.condensing, output=output),
        fuel=record or load.load(ASSUMED),
        instrument=Instrument(accuracy=args.instrument),
        surroundings=Surroundings(),
        stretches=(),
        jurisdiction=args.jurisdiction.upper(),
        route="trace",
        system=args.units,
    )


def day_of(trace: Trace, end: float) -> date:
    """The day a trace ends on; today where it knows no day."""
    text = trace.shown(end)
    return date.fromisoformat(text[:10]) if text[4:5] == "-" else clock.now().date()


def chosen(rows: Sequence[Worked]) -> list[Worked]:
    """The stretches that are judged: all of them, or the worst of each kind and the last."""
    if len(rows) <= MOST:
        return list(rows)
    picked = {len(rows) - 1}
    for name in ("oxygen_dry", "oxygen_wet", "flue_temperature"):
        have = [(row.stretch.means[name], index) for index, row in enumerate(rows) if name in row.stretch.means]
        picked |= {min(have)[1]} if have else set()
    for index in sorted(range(len(rows)), key=lambda i: -_foul(rows[i])):
        if len(picked) >= MOST:
            break
        picked.add(index)
    return [rows[index] for index in sorted(picked)]


def _foul(row: Worked) -> float:
    """Carbon monoxide of a stretch nearly as air-free, for putting the worst first."""
    means = row.stretch.means
    monoxide = max(means.get("carbon_monoxide_dry", 0.0), means.get("carbon_monoxide_wet", 0.0))
    return monoxide / max(0.2095 - min(means.get("oxygen_dry", 0.0), means.get("oxygen_wet", 1.0)), 0.01)


def judge(
    account: Account, trace: Trace, rows: Sequence[Worked], *,
    point: Point, peaks: Peaks, accuracy: Accuracy, air: worked.Air, typed_air: Reading | None, assumed: bool,
) -> Judgement:  # fmt: skip
    """Judge the stretches one by one, because nobody has said that what was wrong in one was mended in the next.

    account    without a stretch
    rows       all steady stretches
    point      where the probe stood
    peaks      carbon monoxide beyond the limit
    accuracy   of the instrument
    air        where the temperature of the combustion air comes from; typed_air when a person said it
    assumed    whether the fuel is only assumed: then only what hardly hangs on it is kept
    -> Judgement; a stretch that no flame can have made is refused and named, the others are judged
    """
    told: list[tuple[str, Finding]] = []
    cannot: list[str] = []
    refused: list[str] = []
    numbers: list[int] = []
    for row in chosen(rows):
        stretch = _stretch(row, trace, account, point, air, typed_air)
        try:
            verdict = work.judged(replace(account, stretches=(stretch,)))
        except PhysicsRefused as error:
            refused.append(f"{stretch.word}: {error.read}; {error.do}")
            continue
        numbers.append(row.stretch.number)
        told += [(stretch.word, finding) for finding in verdict.judged.findings]
        cannot += verdict.judged.cannot_tell
    if assumed:
        told = [(word, one) for word, one in told if {name for _, name in one.evidence} <= WITHOUT_FUEL]
    for burst in readings.bursts(peaks, trace, accuracy):
        finding = monoxide.burst(burst, account)
        told += [(finding.evidence[0][0], finding)] if finding else []
    judged = Judged(_merged(told), tuple(dict.fromkeys(cannot)))
    return Judgement(account, judged, tuple(numbers), len(rows), tuple(refused), assumed)


def _stretch(
    row: Worked, trace: Trace, account: Account, point: Point, air: worked.Air, typed_air: Reading | None
) -> Stretch:
    """A stretch of the trace as one of a visit."""
    found = row.stretch
    read = readings.readings(found, trace, system=account.system)
    if typed_air is not None:
        read["air_temperature"] = typed_air
    elif air.channel in found.means:
        read["air_temperature"] = readings.reading(
            "air_temperature", found.means[air.channel], side=found.side(air.channel), system=account.system
        )
    return Stretch(
        f"stretch {found.number} from {trace.shown(found.start)}",
        readings.clock(trace, found.end),
        point,
        read,
        steady=readings.steady_words(found, trace),
        basis=readings.basis_of(read),
    )


def _merged(told: Sequence[tuple[str, Finding]]) -> tuple[Finding, ...]:
    """Each kind of finding once, with the stretches that say the same; nothing fine beside what is grave."""
    groups: dict[tuple[str, str], list[tuple[str, Finding]]] = {}
    for word, finding in told:
        groups.setdefault((finding.code, finding.grade), []).append((word, finding))
    grave = {one.evidence[0][1] for _, one in told if one.grade in GRAVE and one.evidence}
    found = []
    for group in groups.values():
        first = max((one for _, one in group), key=lambda one: one.odds or 0.0)
        if first.grade in ("fine", "open") and first.limit and first.evidence[0][1] in grave:
            continue
        others = list(dict.fromkeys(word for word, one in group if one is not first and one.evidence))
        more = f" and {len(others) - NAMED} more" if len(others) > NAMED else ""
        same = f" The same: {', '.join(others[:NAMED])}{more}." if others else ""
        found.append(replace(first, body=first.body + same))
    return tuple(sorted(found, key=lambda finding: ORDER.index(finding.grade)))
