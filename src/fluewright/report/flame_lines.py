"""The readings of one stretch and what follows from them, as numbered sentences: no reading is left out."""

from collections.abc import Mapping

from fluewright.evidence.finding import Judged
from fluewright.evidence.flue import Worked
from fluewright.evidence.lit import burning
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import names
from fluewright.report.lines import ROOM, refused
from fluewright.report.pen import Pen, capital, joined, typed_words
from fluewright.report.tree import Line, Mark, Section, Span

GASES = {
    "oxygen_dry": "oxygen",
    "oxygen_wet": "oxygen, wet",
    "oxygen_intake": "oxygen at the intake",
    "oxygen_outdoor": "oxygen outdoors, by the same cell",
    "carbon_dioxide_dry": "carbon dioxide",
    "carbon_dioxide_wet": "carbon dioxide, wet",
    "carbon_monoxide_dry": "carbon monoxide",
    "carbon_monoxide_wet": "carbon monoxide, wet",
    "nitric_oxide_dry": "nitric oxide",
    "nitric_oxide_wet": "nitric oxide, wet",
    "nitrogen_dioxide_dry": "nitrogen dioxide",
    "nitrogen_dioxide_wet": "nitrogen dioxide, wet",
    "sulfur_dioxide_dry": "sulfur dioxide",
    "sulfur_dioxide_wet": "sulfur dioxide, wet",
}
TEMPERATURES = {
    "flue_temperature": "stack",
    "air_temperature": "combustion air",
    "room_temperature": "room",
    "return_water_temperature": "return water",
    "supply_water_temperature": "supply water",
}
PLACES = ("below", "above", "in", "at", "behind", "before", "after", "near", "on", "under", "over", "inside", "outside",
          "between", "beside", "upstream", "downstream")  # fmt: skip
"""Words that already say where, so that no "at" is put before them."""

GAS_AT = {
    "diluted": "room air mixed in",
    "intake": "air at the intake",
    "room": "air of the room",
    "supply": "supply air",
}
MIXED = "two boundaries mixed: see the findings"
WEIGHED = "condensate weighed"


def _had(results: Mapping[str, Result], name: str) -> Result | None:
    """A result that has a value."""
    found = results.get(name)
    return found if found is not None and found.value is not None else None


def _gas_line(pen: Pen, stretch: Stretch, results: Mapping[str, Result]) -> list[Line]:
    """The gases, the air-free form beside its own carbon monoxide."""
    chosen = [name for name in GASES if name in stretch.readings]
    parts = []
    free, ratio = _had(results, "carbon_monoxide_air_free"), _had(results, "co_co2_ratio")
    for name in chosen:
        part = [Span(f"{GASES[name]} "), pen.measured(stretch, name)]
        if name.startswith("carbon_monoxide") and free is not None:
            part += [Span(" ("), pen.derived(stretch, free), Span(" air-free)")]
            free = None
        parts.append(part)
    if parts and ratio is not None:
        parts[-1] += [Span("; carbon monoxide per carbon dioxide "), pen.derived(stretch, ratio)]
    return [pen.line(joined(parts), time=stretch.time, margin=typed_words(stretch, chosen))] if parts else []


def _temperature_line(pen: Pen, stretch: Stretch) -> list[Line]:
    chosen = [name for name in TEMPERATURES if name in stretch.readings]
    if not chosen:
        return []
    parts = [[Span(f"{TEMPERATURES[name]} "), pen.measured(stretch, name)] for name in chosen]
    return [pen.line(joined(parts), time=stretch.time, margin=typed_words(stretch, chosen))]


def _other_lines(pen: Pen, stretch: Stretch) -> list[Line]:
    """Every reading that no sentence has named yet, one line each."""
    rest = [name for name in stretch.readings if name not in {*GASES, *TEMPERATURES, ROOM}]
    return [
        pen.line(
            joined([[Span(f"{names.of(name).words} "), pen.measured(stretch, name)]]),
            time=stretch.time,
            margin=typed_words(stretch, [name]),
        )
        for name in rest
    ]


def _air_line(pen: Pen, stretch: Stretch, results: Mapping[str, Result]) -> list[Line]:
    """Excess air, carbon dioxide where it was not read, flue gas in the intake."""
    parts = [
        [pen.derived(stretch, found), Span(f" {words}")]
        for name, words in (("excess_air", "excess air"), ("carbon_dioxide_dry", "carbon dioxide"))
        if name not in stretch.readings and (found := _had(results, name)) is not None
    ]
    back = _had(results, "recirculated_fraction")
    if back is not None:
        parts.append([pen.derived(stretch, back), Span(" of the intake is flue gas")])
    return [pen.line(joined(parts), mark="derived")] if parts else []


def _heat_lines(pen: Pen, stretch: Stretch, results: Mapping[str, Result], mixed: bool) -> list[Line]:
    """What left by the flue and what stayed; marked where its two temperatures belong to different boundaries."""
    loss = _had(results, "loss_gross")
    if loss is None:
        return []
    shed = [
        [Span(f"{words} "), pen.derived(stretch, found)]
        for name, words in (
            ("loss_dry_gas", "dry gas"),
            ("loss_vapour", "water vapour"),
            ("loss_carbon_monoxide", "unburned gas"),
        )
        if (found := _had(results, name)) is not None
    ]
    spans = [pen.derived(stretch, loss), Span(" of the fuel's gross heat left by the flue at that moment")]
    for index, part in enumerate(shed):
        spans += [Span(", " if index else ": "), *part]
    mark: Mark = "unknown" if mixed else "derived"
    edge = [Span(MIXED, "strong")] if mixed else [Span(loss.boundary)]
    lines = [pen.line(capital([*spans, Span(".")]), mark=mark, margin=edge)]
    efficiency = [
        [pen.derived(stretch, found), Span(f" of the {words}")]
        for name, words in (("efficiency_gross", "gross heat"), ("efficiency_net", "net"))
        if (found := _had(results, name)) is not None
    ]
    if efficiency:
        told = joined([[Span("combustion efficiency at this moment "), *efficiency[0]], *efficiency[1:]])
        note = [Span(MIXED, "strong")] if mixed else [Span("a moment, not a season")]
        lines.append(pen.line(told, mark=mark, margin=note))
    return lines


def _dew_line(pen: Pen, stretch: Stretch, results: Mapping[str, Result]) -> list[Line]:
    """Dew points, and how much of the water condensed or can have."""
    dew = _had(results, "water_dew_point")
    if dew is None:
        return []
    spans = [Span("Water dew point "), pen.derived(stretch, dew)]
    acid = _had(results, "acid_dew_point")
    if acid is not None:
        spans += [Span(", acid dew point "), pen.derived(stretch, acid)]
    condensed = _had(results, "condensed_fraction")
    if condensed is not None and (condensed.high or condensed.value):
        weighed = condensed.basis == WEIGHED
        words = " of the water condensed (weighed)" if weighed else " of the water can have condensed"
        spans += [Span("; "), pen.derived(stretch, condensed), Span(words)]
    return [pen.line([*spans, Span(".")], mark="derived")]


def _judged_lines(pen: Pen, stretch: Stretch, results: Mapping[str, Result], judged: Judged) -> list[Line]:
    """Results that a finding rests on and no sentence has named yet."""
    wanted = {name for finding in judged.findings for word, name in finding.evidence if word == stretch.word}
    rest = [
        result
        for name, result in results.items()
        if name in wanted and result.value is not None and (stretch.word, name) not in pen.where
    ]
    return [
        pen.line(joined([[Span(f"{names.of(one.name).words} "), pen.derived(stretch, one)]]), mark="derived")
        for one in rest
    ]


def _read_where(stretch: Stretch, account: Account) -> str:
    """Where the gas was drawn and what it was, as a sentence."""
    name = stretch.point.name
    place = name if name.split(" ", 1)[0].lower() in PLACES else f"at {name}"
    about = [f"Read {place}"]
    if stretch.point.kind != "undiluted":
        shared = stretch.point.point_class.name == "common flue"
        about.append("gas of several appliances" if shared else GAS_AT[stretch.point.kind])
    if stretch.basis == "wet":
        about.append("in gas that was not dried")
    lit = burning(stretch, account).words
    if lit:
        about.append(lit)
    if stretch.steady:
        about.append(stretch.steady)
    return ", ".join(about).rstrip(".") + "." + (f" {stretch.note}" if stretch.note else "")


def flame(pen: Pen, number: int, stretch: Stretch, worked: Worked | None, judged: Judged) -> Section:
    """The readings of one stretch and what follows from them."""
    results = worked.results if worked else {}
    mixed = any(
        f.code == "mixed-boundary" and (stretch.word, "flue_temperature") in f.evidence for f in judged.findings
    )
    lines = [
        *_gas_line(pen, stretch, results),
        *_temperature_line(pen, stretch),
        *_other_lines(pen, stretch),
        *_air_line(pen, stretch, results),
        *_heat_lines(pen, stretch, results, mixed),
        *_dew_line(pen, stretch, results),
        *_judged_lines(pen, stretch, results, judged),
        *refused(pen, results.values()),
    ]
    what = "Air" if stretch.point.kind in ("room", "supply") else "Flame"
    return Section(number, f"{what}, {stretch.word}", tuple(lines), _read_where(stretch, pen.account))
