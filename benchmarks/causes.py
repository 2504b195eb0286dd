"""Invented visits whose truth is known, put to the weighing of causes.

`python -m benchmarks.causes [COUNT]` prints the tables.

The appliances that are visited are not the ones that the table was made with: constants of the model, spread of units
and severity lie further out, and with `alien` every reading is bent by a factor of the visit as well.
"""

import math
import random
import sys
import time
from collections.abc import Mapping
from dataclasses import dataclass, field

from fluewright.diagnose.asked import Asked
from fluewright.diagnose.diagnosis import LEFT, Diagnosis, diagnosed
from fluewright.diagnose.next_test import of_page
from fluewright.diagnose.table import HEALTHY, NONE, looks, page
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import Fault, faults, faults_of
from fluewright.simulate.visits import invented

SEED = 20261125
CORE = {"oxygen_dry", "carbon_monoxide_dry", "flue_temperature", "air_temperature", "carbon_dioxide_dry"}
STAGES = ("readings alone", "and ordinary looks", "after the round", "after two rounds")


@dataclass(frozen=True, slots=True)
class Visit:
    """An invented visit: what is wrong, everything that could be read, what was read and looked at."""

    design: str
    truth: tuple[str, ...]
    all: Mapping[str, float]
    read: Mapping[str, float]
    seen: Mapping[str, bool]


def _faults(noise: random.Random, possible: tuple[Fault, ...]) -> tuple[Fault, ...]:
    chance = noise.random()
    if chance < 0.30:
        return ()
    one = noise.choices(possible, weights=[fault.weight for fault in possible])[0]
    if chance < 0.92:
        return (one,)
    return (one, noise.choice([fault for fault in possible if fault is not one]))


def _bent(noise: random.Random, readings: Mapping[str, float]) -> dict[str, float]:
    """Readings of an appliance that follows other laws than ours: each bent a little, the same way all visit."""
    bent = dict(readings)
    for name in ("carbon_monoxide_dry", "carbon_monoxide_room", "draft", "draft_over_fire", "flame_current"):
        if name in bent:
            bent[name] *= math.exp(noise.gauss(0.0, 0.35))
    for name in ("air_rise", "water_rise", "fuel_input"):
        if name in bent:
            bent[name] *= math.exp(noise.gauss(0.0, 0.04))
    rise = bent["flue_temperature"] - bent["air_temperature"]
    bent["flue_temperature"] = bent["air_temperature"] + rise * math.exp(noise.gauss(0.0, 0.06))
    shift = noise.gauss(0.0, 0.004)
    for name in ("oxygen_dry", "oxygen_at_flame", "oxygen_low_fire"):
        if name in bent:
            bent[name] = max(0.0, bent[name] + shift)
    bent["carbon_dioxide_dry"] = max(0.0, bent["carbon_dioxide_dry"] - 0.56 * shift)
    return bent


def visit(*, noise: random.Random, alien: bool = False, least: float = 0.2) -> Visit:
    """One visit.

    noise  source of chance
    alien  whether readings are bent beyond what our model can do
    least  smallest severity
    """
    design = noise.choice(list(designs().values()))
    wrong = _faults(noise, faults_of(design))
    severities = [noise.uniform(least, 1.1) for _ in wrong]
    made = invented(noise=noise, design=design, faults=wrong, severities=severities, width=1.15, foreign=1.2)
    readings = _bent(noise, made.readings) if alien else made.readings
    care, eyes = noise.uniform(0.35, 0.9), noise.uniform(0.1, 0.5)
    read = {name: value for name, value in readings.items() if noise.random() < (0.92 if name in CORE else care)}
    read["oxygen_dry"] = readings["oxygen_dry"]
    truth = tuple(sorted(fault.name for fault in wrong))
    seen = {}
    for look in looks().values():
        if not look.reads and of_page(page(design.name), look) and noise.random() < eyes:
            seen[look.name] = noise.random() < look.odds(truth or (HEALTHY,))
    return Visit(design.name, truth, readings, read, seen)


def asked(visit: Visit, *, read: Mapping[str, float], seen: Mapping[str, bool]) -> Asked:
    """A question about a visit."""
    return Asked(kind=visit.design, read=read, plate=page(visit.design).plate, seen=seen)


def after_round(
    noise: random.Random, visit: Visit, given: Asked, said: Diagnosis, most: int = 9
) -> tuple[dict[str, float], dict[str, bool]]:
    """Readings and looks when what was proposed has been done."""
    read, seen = dict(given.read), dict(given.seen)
    for look in said.next.tests[:most] if said.next else ():
        if not look.reads:
            seen[look.name] = noise.random() < look.odds(visit.truth or (HEALTHY,))
        for name in look.reads:
            for each in ("air_rise", "water_rise") if name == "rise" else (name,):
                if each in visit.all:
                    read[each] = visit.all[each]
    return read, seen


@dataclass(slots=True)
class Tally:
    """Counts of one stage."""

    sick: int = 0
    first: int = 0
    three: int = 0
    cause_first: int = 0
    cause_three: int = 0
    listed: int = 0
    dangers: int = 0
    in_view: int = 0
    healthy: int = 0
    false_stop: int = 0
    seconds: list[float] = field(default_factory=list)
    bins: list[list[float]] = field(default_factory=lambda: [[0.0, 0.0, 0.0] for _ in range(10)])

    def add(self, visit: Visit, said: Diagnosis) -> None:
        """Count one diagnosis."""
        ranked = said.inside.each()
        order = list(ranked)
        for cause, share in ranked.items():
            cell = self.bins[min(9, int(share * 10.0))]
            cell[0] += 1.0
            cell[1] += share
            cell[2] += cause in visit.truth or (cause == HEALTHY and not visit.truth)
        if not visit.truth:
            self.healthy += 1
            self.false_stop += said.stop
            return
        self.sick += 1
        self.first += order[0] in visit.truth
        self.three += any(cause in visit.truth for cause in order[:3])
        alone = [cause for cause in order if cause not in (HEALTHY, NONE)]
        self.cause_first += alone[0] in visit.truth
        self.cause_three += any(cause in visit.truth for cause in alone[:3])
        self.listed += any(cause.name in visit.truth for cause in said.causes[:3])
        view = {danger.name for danger in said.dangers}
        for cause in visit.truth:
            if faults()[cause].danger:
                self.dangers += 1
                self.in_view += cause in view

    def told(self) -> str:
        """The rates in a line: where a healthy appliance takes a place in the order, among causes alone, and listed."""
        sick, view = max(1, self.sick), self.in_view / max(1, self.dangers)
        stops = self.false_stop / max(1, self.healthy)
        strict = f"first {self.first / sick:.1%}, in three {self.three / sick:.1%}"
        alone = f"causes alone {self.cause_first / sick:.1%}, {self.cause_three / sick:.1%}"
        shown = f"listed {self.listed / sick:.1%}, in view {view:.2%}, stops {stops:.2%}, error {self.error():.1%}"
        return f"{strict}; {alone}; {shown}"

    def error(self) -> float:
        """Mean difference between what was said and what came, weighted by how often it was said, from 5 % up."""
        cells = [cell for cell in self.bins[1:] if cell[0]]
        return sum(abs(cell[1] - cell[2]) for cell in cells) / max(1.0, sum(cell[0] for cell in cells))


@dataclass(slots=True)
class Halves:
    """How often what was proposed took at least half of what was left."""

    count: int = 0
    open: int = 0
    wrong: int = 0
    number: int = 0
    minutes: float = 0.0
    tests: int = 0

    def add(self, visit: Visit, before: Diagnosis, after: Diagnosis) -> None:
        """Count one visit of which something was open."""
        if before.next is None or len(_left(before)) < 2:
            return
        self.count += 1
        self.minutes += before.next.minutes
        self.tests += len(before.next.tests)
        self.open += _open(after) <= 0.5 * _open(before)
        self.wrong += _wrong(visit, after) <= 0.5 * _wrong(visit, before)
        self.number += len(_left(after)) <= max(1.0, 0.5 * len(_left(before)))


def _left(said: Diagnosis) -> list[str]:
    return [cause for cause, share in said.inside.each().items() if share >= LEFT]


def _open(said: Diagnosis) -> float:
    """Number of hypotheses beyond one that are effectively left."""
    shares = [share for share in said.inside.share.values() if share > 1e-9]
    return float(2.0 ** -sum(share * math.log2(share) for share in shares) - 1.0)


def _wrong(visit: Visit, said: Diagnosis) -> float:
    right = visit.truth or (HEALTHY,)
    return sum(share for causes, share in said.inside.share.items() if not set(causes) & set(right))


def unobservable_statements(said: Diagnosis, could: frozenset[str]) -> int:
    """Statements about causes that the readings at hand could not show."""
    named = {cause.name for cause in said.causes if cause.because or cause.against} | {
        each.name for each in said.struck
    }
    return len(named - could - {HEALTHY, NONE})


def trial(
    count: int, *, alien: bool = False, least: float = 0.2, seed: int = SEED
) -> tuple[dict[str, Tally], dict[str, Halves]]:
    """Many visits.

    -> tally of each stage; halves for the first test alone and for the round
    """
    noise, answers = random.Random(seed), random.Random(f"answers {seed}")
    tallies, halves = {stage: Tally() for stage in STAGES}, {"first test": Halves(), "round": Halves()}
    for _ in range(count):
        made = visit(noise=noise, alien=alien, least=least)
        first = diagnosed(asked(made, read=made.read, seen={}))
        tallies[STAGES[0]].add(made, first)
        question = asked(made, read=made.read, seen=made.seen)
        start = time.perf_counter()
        before = diagnosed(question)
        tallies[STAGES[1]].seconds.append(time.perf_counter() - start)
        tallies[STAGES[1]].add(made, before)
        read, seen = after_round(answers, made, question, before, 1)
        halves["first test"].add(made, before, diagnosed(asked(made, read=read, seen=seen)))
        for stage in STAGES[2:]:
            read, seen = after_round(answers, made, question, before)
            question = asked(made, read=read, seen=seen)
            after = diagnosed(question)
            tallies[stage].add(made, after)
            if stage == STAGES[2]:
                halves["round"].add(made, before, after)
            before = after
    return tallies, halves


def _printed(count: int, alien: bool, least: float) -> None:
    tallies, halves = trial(count, alien=alien, least=least)
    print(f"\n{count} visits, severity from {least:g}{', readings bent' if alien else ''}")
    for stage, tally in tallies.items():
        print(f"{stage:22}{tally.told()}")
    for name, half in halves.items():
        shares = (half.open / half.count, half.wrong / half.count, half.number / half.count)
        print(f"{name:12} halves: open {shares[0]:.1%}, wrong {shares[1]:.1%}, causes {shares[2]:.1%}", end="")
        print(f"; {half.tests / half.count:.1f} tests, {half.minutes / half.count:.0f} min")
    seconds = sorted(tallies[STAGES[1]].seconds)
    print(f"one diagnosis: median {seconds[len(seconds) // 2] * 1e3:.0f} ms, longest {seconds[-1] * 1e3:.0f} ms")
    print("said / came (count): ", end="")
    cells = tallies[STAGES[1]].bins
    print(", ".join(f"{c[1] / c[0]:.0%} / {c[2] / c[0]:.0%} ({c[0]:.0f})" for c in cells if c[0]))


def main() -> None:
    """Print the tables."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    for alien, least in ((False, 0.2), (True, 0.2), (False, 0.0)):
        _printed(count, alien, least)


if __name__ == "__main__":
    main()
