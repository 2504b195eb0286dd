"""The tiny language in which a limit says to what it applies: fuel, kind, output, and what a person has to judge.

    always
    fuel gas | oil; kind natural draft | induced draft; output over 25 kW to 50 kW; only outdoors, where adopted

Clauses stand in this order, each once, parted by a semicolon; alternatives are parted by an upright line. `only` comes
last and takes the rest of the text, whatever signs are in it. Bounds of output: `over` and `below` leave the figure
itself out, `from` and `to` take it in; units are W, kW and MW.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields

ALWAYS = "always"
GRAMMAR = "always; or fuel A | B; kind A | B; output over|from X kW to|below Y kW; only WORDS, in this order"
"""What is expected, in one line, for messages."""

_BOUND = re.compile(r"(over|from|to|below) (\d+(?:\.\d+)?) (W|kW|MW)")
_WATTS = {"W": 1.0, "kW": 1e3, "MW": 1e6}
_FIELD_OF = {"over": "output_above", "from": "output_from", "to": "output_to", "below": "output_below"}
_CLAUSES = ("fuel", "kind", "output", "only")


@dataclass(frozen=True, slots=True)
class Applies:
    """To what a limit applies; an empty tuple or None means no restriction of that kind.

    fuels          groups such as "gas", "oil"
    appliances     kinds such as "boiler"
    output_above   W nominal heat output, exclusive
    output_from    W, inclusive
    output_to      W, inclusive
    output_below   W, exclusive: where a law for houses ends; alone it also fits an output that nobody has said
    only           conditions in words that a person has to judge
    """

    fuels: tuple[str, ...] = ()
    appliances: tuple[str, ...] = ()
    output_above: float | None = None
    output_from: float | None = None
    output_to: float | None = None
    output_below: float | None = None
    only: str = ""

    def covers(self, other: "Applies") -> bool:
        """Whether it applies wherever another does, as far as its fields tell; words for a person must be the same."""
        wide = (not self.fuels or (set(other.fuels) and set(other.fuels) <= set(self.fuels))) and (
            not self.appliances or (other.appliances and set(other.appliances) <= set(self.appliances))
        )
        return (
            bool(wide) and self.only in ("", other.only) and _low(self) <= _low(other) and _high(other) <= _high(self)
        )

    def meets(self, other: "Applies") -> bool:
        """Whether something may exist to which both apply; words for a person are taken to hold."""
        fuels = not self.fuels or not other.fuels or bool(set(self.fuels) & set(other.fuels))
        kinds = not self.appliances or not other.appliances or bool(set(self.appliances) & set(other.appliances))
        return fuels and kinds and max(_low(self), _low(other)) < min(_high(self), _high(other))


def _low(one: Applies) -> tuple[float, int]:
    """The lower end of the band of output; a figure that is left out lies above the same figure taken in."""
    ends = [(0.0, 0)]
    ends += [(one.output_above, 1)] if one.output_above is not None else []
    ends += [(one.output_from, 0)] if one.output_from is not None else []
    return max(ends)


def _high(one: Applies) -> tuple[float, int]:
    """The upper end, in the same order: taken in lies above left out."""
    ends = [(float("inf"), 0)]
    ends += [(one.output_to, 1)] if one.output_to is not None else []
    ends += [(one.output_below, 0)] if one.output_below is not None else []
    return min(ends)


def _parted(text: str) -> Iterator[tuple[str, str]]:
    """Clauses by their first word; `only` takes the rest."""
    rest = text.strip()
    while rest:
        if rest.startswith("only "):
            yield "only", rest[5:].strip()
            return
        clause, _, rest = rest.partition(";")
        word, _, said = clause.strip().partition(" ")
        yield word, said.strip()
        rest = rest.strip()


def _bounds(said: str) -> dict[str, float] | None:
    """The ends of a band of output; None where the words are none."""
    found = {_FIELD_OF[word]: float(figure) * _WATTS[unit] for word, figure, unit in _BOUND.findall(said)}
    whole = " ".join(match.group(0) for match in _BOUND.finditer(said)) == said
    return found if found and whole and len(found) == len(_BOUND.findall(said)) else None


def read(text: str) -> Applies | str:
    """What a text of this language says, or why it says nothing: the words that are none of it."""
    if text == ALWAYS:
        return Applies()
    clauses = list(_parted(text))
    words = [word for word, _ in clauses]
    unknown = next((word for word in words if word not in _CLAUSES), None)
    if unknown is not None or not clauses:
        return unknown or text
    if words != [word for word in _CLAUSES if word in words]:
        return f"{', '.join(words)} in this order"
    said = dict(clauses)
    lists = {name: tuple(part.strip() for part in said.get(name, "").split("|")) for name in ("fuel", "kind")}
    empty = next((name for name, words in said.items() if not words or "" in lists.get(name, ("-",))), None)
    if empty is not None:
        return f"{empty} without anything behind it"
    bounds = _bounds(said["output"]) if "output" in said else {}
    if bounds is None:
        return f"output {said['output']}"
    found = Applies(lists["fuel"] if "fuel" in said else (), lists["kind"] if "kind" in said else (), **bounds,
                    only=said.get("only", ""))  # fmt: skip
    return found if _low(found) < _high(found) else f"output {said['output']}, which no output can be"


def in_words(one: Applies) -> str:
    """The text of this language that says the same."""
    clauses = [f"{name} {' | '.join(said)}" for name, said in (("fuel", one.fuels), ("kind", one.appliances)) if said]
    bounds = [f"{word} {_power(end)}" for word, name in _FIELD_OF.items() if (end := getattr(one, name)) is not None]
    clauses += [f"output {' '.join(bounds)}"] if bounds else []
    clauses += [f"only {one.only}"] if one.only else []
    return "; ".join(clauses) or ALWAYS


def _power(watts: float) -> str:
    unit = "MW" if watts >= 1e6 and watts % 1e5 == 0.0 else "kW" if watts % 100.0 == 0.0 else "W"
    return f"{watts / _WATTS[unit]:g} {unit}"


NAMES = tuple(field.name for field in fields(Applies))
