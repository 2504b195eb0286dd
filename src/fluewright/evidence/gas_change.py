"""Another gas in the same burner: heat, air and flame after a change of gas, and which way is dangerous."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from fluewright.evidence.finding import Finding
from fluewright.evidence.limits import HARDLY, Question, answered, rules_for
from fluewright.evidence.part import Derived, Part, Piece, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.fuels.figures import Figure, figures
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.kernel import drift, interchange
from fluewright.kernel.ops import Number, value_of
from fluewright.quantity import show
from fluewright.rules import load

AT = Reference("15", "15")
WORD = "another gas"
NOT_YET = ("do not let this gas burn here before the burner is set and tested for it",)
CAUTION = (
    "A change of gas is work for the licensed: orifice, pressure, air, pilot and labels belong together. Read carbon "
    "monoxide in the flue before and after.",
)
NO_FLOOR = "no air ratio was read, so only the change of the air needed can be told"


class Swing(NamedTuple):
    """A band of the Wobbe index that the supply may swing in, J/m3 gross at 15/15, and where it is printed."""

    low: float
    high: float
    words: str
    source: str


def swing_of(group: str, record: FuelRecord) -> Swing | None:
    """The band of a gas group by EN 437, or with an empty group the published band of the fuel; None for neither."""
    if group:
        low, high = (load.limit(f"en-437-{group}-wobbe-{end}") for end in ("least", "most"))
        source = f"{low.citation.document}, {low.citation.edition} ({low.known})"
        return Swing(low.limit * 1e6, high.limit * 1e6, f"gas group {group.upper()}", source)
    band = record.wobbe
    if band is None:
        return None
    return Swing(
        band.low, band.high, f"what is published for {record.name}", f"{record.source}, {band.source} ({band.known})"
    )


@dataclass(frozen=True, slots=True)
class GasChange:
    """A change of gas, or a swing of the network's, at the same orifice and pressure.

    to         the new gas, None for a swing alone
    swing      band of the Wobbe index, None for a change alone
    air_ratio  as the burner burns now, None to take it from the flame that was read last
    """

    to: FuelRecord | None = None
    swing: Swing | None = None
    air_ratio: Reading | None = None

    @property
    def late(self) -> bool:
        """Without an air ratio of its own it rests on the flame."""
        return self.air_ratio is None

    def worked(self, so_far: SoFar) -> Part:
        """What the new gas does."""
        account, reckoning = so_far.account, Reckoning(so_far.account)
        burns = self._burns(so_far, reckoning)
        results: dict[str, Result] = {}
        statements: list[Statement] = []
        if self.to is not None:
            statements += _changed(account.fuel, self.to, burns, reckoning, results)
        if self.swing is not None:
            statements += _swung(account.fuel, self.swing, burns, reckoning, results)
        missing = (f"How much air the flame has left: {NO_FLOOR}.",) if burns is None else ()
        return Part(
            word=WORD,
            title="Another gas",
            place="delivered" if so_far.told else "supply",
            statements=tuple(statements),
            results=results,
            findings=tuple(_findings(results, account)),
            cannot_tell=(*missing, "Whether pilot, ignition and flame sensing take the gas: only a test shows that."),
        )

    def _burns(self, so_far: SoFar, reckoning: Reckoning) -> Number | None:
        """The air ratio now, with its doubt; None where nobody knows."""
        if self.air_ratio is not None and self.air_ratio.figure is not None:
            return reckoning.read(self.air_ratio, spread=0.01 * self.air_ratio.figure)
        for stretch, worked in reversed(so_far.told):
            found = None if worked is None else worked.results.get("air_ratio")
            if found is not None and found.value is not None:
                return reckoning.assumed("air_ratio", found.value, found.spread, source=stretch.word)
        return None


def _known(record: FuelRecord) -> dict[str, Figure]:
    return figures(record, reference=AT)


def _value(known: dict[str, Figure], name: str) -> float:
    return known[name].value or 0.0


def _result(reckoning: Reckoning, quantity: str, number: Number, formula: str, said: str, source: str) -> Result:
    plain = float(value_of(number))
    return reckoning.result(
        quantity,
        number,
        formula=formula,
        substitution=f"{said} = {plain:.4f}",
        source=source,
        holds="same orifice, pressure and air; analyses as stated",
    )


def _changed(
    now: FuelRecord, new: FuelRecord, burns: Number | None, reckoning: Reckoning, results: dict[str, Result]
) -> Iterator[Statement]:
    """The new gas in the burner that was set for the old one."""
    old, other = _known(now), _known(new)
    heat, density, need = "heating_value_gross", "relative_density", "air_need"
    ratio = interchange.heat_rate_ratio(
        heating_value=_value(other, heat),
        relative_density=_value(other, density),
        set_heating_value=_value(old, heat),
        set_relative_density=_value(old, density),
    )
    wobbes = f"{_value(other, 'wobbe_gross') / 1e6:.2f} / {_value(old, 'wobbe_gross') / 1e6:.2f} MJ/m3"
    results["heat_rate_ratio"] = _result(
        reckoning, "heat_rate_ratio", ratio, "heat ratio = Wobbe index new / old", wobbes, "orifice flow"
    )
    air = interchange.primary_air_ratio(
        air_need=_value(other, need),
        relative_density=_value(other, density),
        set_air_need=_value(old, need),
        set_relative_density=_value(old, density),
    )
    needs = f"{_value(other, need):.3f} / {_value(old, need):.3f} x root of the densities"
    results["primary_air_ratio"] = _result(
        reckoning, "primary_air_ratio", air, "air asked for = air need new / old x root of densities old / new",
        needs, "orifice flow",
    )  # fmt: skip
    if burns is not None:
        later = drift.air_ratio_after_gas(
            air_ratio=burns,
            air_need=_value(old, need),
            relative_density=_value(old, density),
            new_air_need=_value(other, need),
            new_relative_density=_value(other, density),
        )
        said = f"{float(value_of(burns)):.3f} / {float(air):.4f}"
        results["air_ratio_later"] = _result(
            reckoning, "air_ratio_later", later, "air ratio later = air ratio / air asked for", said, "practice P9"
        )
    _indices(old, other, air, reckoning, results)
    yield from _told(now, new, burns, results)


def _indices(
    old: dict[str, Figure], other: dict[str, Figure], air: Number, reckoning: Reckoning, results: dict[str, Result]
) -> None:
    """Where the flame goes: lifting and flashing back."""
    weaver = "Weaver, NBS Research Paper 2193 (1951), equations from memory"
    speeds = other["flame_speed"].value, old["flame_speed"].value
    for name in ("lifting_index", "flash_back_index"):
        if speeds[0] is None or speeds[1] is None:
            results[name] = refused(name, other["flame_speed"].refused or old["flame_speed"].refused)
            continue
        index = getattr(interchange, name)(primary_air_ratio=air, flame_speed=speeds[0], set_flame_speed=speeds[1])
        said = f"flame speeds {speeds[0]:.1f} / {speeds[1]:.1f}"
        results[name] = _result(reckoning, name, index, "index of Weaver", said, weaver)


def _told(now: FuelRecord, new: FuelRecord, burns: Number | None, results: dict[str, Result]) -> Iterator[Statement]:
    heat, air = results["heat_rate_ratio"].value or 1.0, results["primary_air_ratio"].value or 1.0
    yield Statement(
        ("with ", Voiced(new.words, "plate"), " in place of ", Voiced(now.words, "plate"), " the burner gets ",
         Derived("heat_rate_ratio"), f" of its heat: {_percent(heat)}.")
    , mark="derived")  # fmt: skip
    pieces: tuple[Piece, ...] = ("it asks for ", Derived("primary_air_ratio"), " of the air")
    if burns is not None:
        pieces += (f", so its air ratio goes from {float(value_of(burns)):.2f} to ", Derived("air_ratio_later"))
    yield Statement((*pieces, f": {_direction(air)}."), mark="derived")
    lifting, back = results["lifting_index"].value, results["flash_back_index"].value
    if lifting is None or back is None:
        return
    flame = ("lifting index ", Derived("lifting_index"), ", where 1 sits as firmly as before; flash-back index ")
    end = f", where 0 is as before: {_flame(back)}. For burners that draw their own primary air."
    yield Statement((*flame, Derived("flash_back_index"), end), mark="derived")


def _flame(back: float) -> str:
    """Which way the flame moves, with its danger."""
    if back > 0.0:
        return "the flame runs faster against its gas, and the dangerous way is back into the burner"
    return "the flame runs slower against its gas, towards lifting off the ports"


def _percent(ratio: float) -> str:
    return f"{abs(ratio - 1.0) * 100.0:.1f} % {'more' if ratio > 1.0 else 'less'}"


def _direction(air: float) -> str:
    """What more or less air asked for means, with its danger."""
    if air > 1.0:
        return "richer, which is the dangerous way: towards carbon monoxide and soot"
    return "leaner, away from carbon monoxide, towards lifting flames and less heat"


def _swung(
    now: FuelRecord, swing: Swing, burns: Number | None, reckoning: Reckoning, results: dict[str, Result]
) -> Iterator[Statement]:
    """Both ends of the band that the network may deliver."""
    wobbe = _value(_known(now), "wobbe_gross")
    system = reckoning.account.system
    ends = (("richest", swing.high), ("leanest", swing.low))
    span = " to ".join(show.shown(end, quantity="wobbe_gross", system=system) for _, end in reversed(ends))
    yield Statement(
        ("the supply may swing within ", Voiced(span, "plate"), f" Wobbe, {swing.words}; {swing.source}."), mark="plate"
    )
    if not swing.low <= wobbe <= swing.high:
        here = show.shown(wobbe, quantity="wobbe_gross", system=system)
        yield Statement((f"the gas named has {here}, outside this band: one of the two is not what burns here.",))
    for end, index in ends:
        change = index / wobbe - 1.0
        key = f"heat_rate_ratio, {end}"
        said = f"{index / 1e6:.2f} / {wobbe / 1e6:.2f} MJ/m3"
        results[key] = _result(
            reckoning, "heat_rate_ratio", 1.0 + change, "heat ratio = Wobbe index there / here", said, swing.source
        )
        pieces: tuple[Piece, ...] = (f"at the {end} gas the burner gets ", Derived(key), " of the heat it gets now")
        if burns is not None:
            later = drift.air_ratio_after_wobbe(air_ratio=burns, wobbe_change=change)
            name = f"air_ratio_later, {end}"
            numbers = f"{float(value_of(burns)):.3f} / {1.0 + change:.4f}"
            results[name] = _result(
                reckoning, "air_ratio_later", later, "air ratio later = air ratio / heat ratio", numbers, "practice P9"
            )
            pieces += (" and the air ratio comes to ", Derived(name))
        danger = f": {_direction(1.0 + change)}." if abs(change) > 1e-4 else "."
        yield Statement((*pieces, danger), mark="derived")


def _findings(results: dict[str, Result], account: Account) -> Iterator[Finding]:
    """What passes a bound, or may: the rest says nothing, because no bound here can clear."""
    for key, result in results.items():
        if result.value is None or (result.name == "heat_rate_ratio" and "," in key):
            continue
        asked: Sequence[Finding | None] = [
            answered(Question(rule, result, WORD, account, key=key), over=rule.severity)
            for rule in rules_for(result.name, account)
        ]
        for finding in asked:
            if finding is None or (finding.grade == "open" and (finding.odds or 0.0) < HARDLY):
                continue
            if finding.grade == "act":
                yield replace(finding, do_now=NOT_YET, cautions=CAUTION)
            else:
                yield replace(finding, do_now=(), cautions=CAUTION if finding.grade == "advise" else ())
