"""What the class of an appliance asks of a visit: where its limit lies, what is proposed, what is refused."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.appliance.record import ApplianceClass, Proposed
from fluewright.evidence.part import Part, SoFar, Statement, Voiced
from fluewright.quantity import names

WORD = "the class"
SAME = {
    "carbon_monoxide_dry": ("carbon_monoxide_wet", "carbon_monoxide_room"),
    "oxygen_dry": ("oxygen_wet", "carbon_dioxide_dry", "carbon_dioxide_wet"),
    "carbon_monoxide_room": ("carbon_monoxide_dry", "carbon_monoxide_wet"),
}
"""Readings that serve for a proposed line at the same point."""
ANYWHERE = ("carbon_monoxide_room", "draft", "air_temperature", "return_water_temperature")
"""Readings that are what they are, whatever point the rest of their stretch was read at."""


def not_read(of_class: ApplianceClass, so_far: SoFar) -> list[Proposed]:
    """The lines that the class proposes and nobody read."""
    at: dict[str, set[str]] = {}
    beside = {reading.quantity for part in so_far.parts.values() for reading in part.readings().values()}
    for stretch in so_far.account.stretches:
        at.setdefault(stretch.point.name.lower(), set()).update(stretch.readings)
        beside.update(name for name in stretch.readings if name in ANYWHERE)
    return [
        line
        for line in of_class.lines
        if line.quantity not in beside
        and not at.get(line.point.lower(), set()).intersection((line.quantity, *SAME.get(line.quantity, ())))
    ]


def _listed(lines: list[Proposed]) -> str:
    """Lines with those of one point and moment together."""
    groups: dict[tuple[str, str], list[str]] = {}
    for line in lines:
        groups.setdefault((line.point, line.when), []).append(names.of(line.quantity).words)
    return "; ".join(f"{point}, {when}: {', '.join(words)}" for (point, when), words in groups.items())


def _refused(of_class: ApplianceClass) -> Mapping[str, list[str]]:
    """What the class refuses, by reason."""
    reasons: dict[str, list[str]] = {}
    for one in of_class.refused:
        reasons.setdefault(one.why, []).append(names.of(one.quantity).words)
    return reasons


@dataclass(frozen=True, slots=True)
class Asked:
    """What the class asks; there is nothing to read for it."""

    @property
    def late(self) -> bool:
        """It waits, because other parts may have read what is proposed."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """Where the limit lies, what is proposed and was not read, what is refused."""
        of_class = so_far.account.appliance.of_class
        if of_class is None:
            return Part(WORD, "What this kind of appliance asks", "before", ())
        missing = not_read(of_class, so_far)
        said = [Statement((Voiced(of_class.words, "plate"), f": {of_class.limit_lies}"), mark="plate")]
        if missing:
            said.append(Statement((f"proposed and not read: {_listed(missing)}.",), mark="unknown"))
        said += [Statement((f"never worked out here: {'; '.join(words)}; {why}.",), mark="plate")
                 for why, words in _refused(of_class).items()]  # fmt: skip
        data = {"name": of_class.name, "not_read": [[line.point, line.when, line.quantity] for line in missing]}
        return Part(WORD, "What this kind of appliance asks", "before", tuple(said), data=data)
