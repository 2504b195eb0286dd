"""What a class of appliance is: points, lines proposed and refused, devices to prove, lines of the house, advice."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Condensing = Literal["yes", "no", "unknown"]
Group = Literal["flame", "limit", "pressure", "venting", "water"]
"""What a device guards. A failed one of the flame means unburned gas."""
Sense = Literal["at most", "at least", "act"]
"""at most: it must act no later than that. at least: no sooner. act: there is no figure, it has to act."""
Grade = Literal["stop", "act", "advise"]


@dataclass(frozen=True, slots=True)
class SamplingPoint:
    """A named place on an appliance with its class in the table of validity."""

    name: str
    point_class: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Proposed:
    """A line that a visit should have: quantity, point, when."""

    quantity: str
    point: str
    when: str


@dataclass(frozen=True, slots=True)
class Refused:
    """A line that this class never has, with the reason."""

    quantity: str
    why: str


@dataclass(frozen=True, slots=True)
class Device:
    """A safety device.

    key, words  how it is called
    stimulus    what is done to it
    expected    what must follow
    quantity    what it is timed or set by: trip_time, trip_temperature, trip_pressure; empty when it has no figure
    sense       how the figure is compared with plate or allowance
    allowed     figure with unit where the plate says none, empty when only the plate can
    early       how far before its plate it may act, figure with unit; empty where sooner is better
    group       what it guards
    source      document and edition of the allowance
    known       how that is known
    """

    key: str
    words: str
    stimulus: str
    expected: str
    group: str
    source: str
    known: str
    quantity: str = ""
    sense: str = "act"
    allowed: str = ""
    early: str = ""

    @property
    def early_quantity(self) -> str:
        """What the figure of acting early is a figure of."""
        return "temperature_difference" if self.quantity == "trip_temperature" else self.quantity


@dataclass(frozen=True, slots=True)
class HouseLine:
    """One line about the house around an appliance, or a duty of its class.

    ask      what is looked at
    bad      what a bad answer means, a sentence
    grade    of a bad answer
    do_now   what to do at once, empty for none
    do_next  what to do next
    group    house, or appliance for a duty of the class
    once_by  place of the job or part that asks it too, such as supply or room air; not missed where that is there
    caution  shown first where the line is bad
    """

    key: str
    words: str
    ask: str
    bad: str
    grade: str
    do_next: str
    source: str
    known: str
    group: str = "house"
    do_now: str = ""
    once_by: str = ""
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Advice:
    """Something that is right for one appliance and harmful at another.

    says     phrases by which a sentence is known to give it
    instead  what is said in its place
    code     finding code by finding code: the one whose words of the house do not give it either
    """

    key: str
    words: str
    says: tuple[str, ...]
    instead: str
    code: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ApplianceClass:
    """One class of appliance.

    name        its file, such as condensing-boiler
    burners     kinds of burner it may have, keys of the windows of oxygen; empty where no window is meant for it
    no_window   why there is none
    kinds       kinds by which limits of the rule books speak to it
    condensing  whether it is made to condense
    limit_lies  where the limit lies, a sentence
    warm        minutes after lighting from which its lines are read
    rising      what carbon monoxide that climbs through the run points to here, empty for nothing special
    never       advice never given, by key, with the reason
    """

    name: str
    words: str
    burners: tuple[str, ...]
    kinds: tuple[str, ...]
    condensing: str
    limit_lies: str
    warm: float
    points: tuple[SamplingPoint, ...]
    lines: tuple[Proposed, ...]
    refused: tuple[Refused, ...]
    never: Mapping[str, str]
    devices: tuple[Device, ...]
    house: tuple[HouseLine, ...]
    no_window: str = ""
    rising: str = ""

    def point(self, name: str) -> SamplingPoint | None:
        """A named point, whatever the case of its letters; None where the class has none of that name."""
        return next((each for each in self.points if each.name.lower() == name.strip().lower()), None)

    def withheld(self) -> dict[str, str]:
        """Results that this class refuses, with the reason."""
        return {each.quantity: each.why for each in self.refused}


@dataclass(frozen=True, slots=True)
class ClassFile:
    """The keys of a class file that are no lists of tables; fields as in the class, devices and house by key."""

    name: str
    words: str
    burners: tuple[str, ...]
    kinds: tuple[str, ...]
    condensing: str
    limit_lies: str
    warm: float
    devices: tuple[str, ...]
    house: tuple[str, ...]
    never: Mapping[str, str]
    no_window: str = ""
    rising: str = ""
