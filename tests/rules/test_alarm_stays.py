"""An alarm stays when a reading that it does not rest on is taken away, and nothing becomes fine for lack of one.

Over every golden visit, the houses, and visits of virtual appliances with faults.
"""

import random
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from read_share import houses
from taken_away import VISITS, Taken, Way, taken_from

import fluewright
from fluewright.evidence.finding import WRONG, Finding
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Stretch, Surroundings
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults_of
from fluewright.simulate.visits import invented
from fluewright.visit import work

EACH = {"whole": 9, "common-flue": 6, "gas-line": 2}
"""Long visits, of which only every n-th reading is taken away."""
PARTS = {"safety": "safety devices", "house": "the house", "room": "room air", "oil_supply": "oil supply"}
"""Tables of a visit file whose part of the job is called otherwise than the table."""
RESTS_ON: Mapping[str, frozenset[str]] = {"gas input": frozenset({"gas supply"})}
"""Parts that are worked out from the readings of another."""
OF_HEAT = ("stack", "air", "flue_temperature", "air_temperature", "return_water_temperature", "draft", "smoke")
"""Keys of readings on which no alarm of a gas rests."""
OF_GAS = ("carbon_monoxide", "co_", "oxygen_intake", "recirculated")


def part_of(taken: Taken) -> str:
    """The part of the job in which something was taken away, as findings call it."""
    table, words = str(taken.way[0]), taken.words
    return words or PARTS.get(table, table.replace("_", " "))


def may_go(one: Finding, part: str, key: str) -> bool:
    """Whether an alarm rested on what was taken: it lies in the same part, and heat says nothing of gas."""
    if not one.evidence or part not in {word for word, _ in one.evidence} | RESTS_ON.get(
        one.evidence[0][0], frozenset()
    ):
        return False
    return not (key in OF_HEAT and one.evidence[0][1].startswith(OF_GAS))


def gone(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> list[Finding]:
    """Alarms to stop or to act that are said no more in any grade of wrong."""
    left = {(one.code, one.evidence[:1]) for one in after if one.grade in WRONG}
    return [one for one in before if one.grade in ("stop", "act") and (one.code, one.evidence[:1]) not in left]


def key_of(way: Way) -> str:
    """The key of the reading that was taken, empty for a whole row."""
    return str(way[-1]) if isinstance(way[-1], str) else ""


@pytest.mark.parametrize("path", (*VISITS, *houses()), ids=lambda path: path.stem)
def test_no_alarm_goes_with_a_reading_it_does_not_rest_on(path: Path) -> None:
    for taken in taken_from(path, each=EACH.get(path.stem, 1)):
        part, key = part_of(taken), key_of(taken.way)
        wrong = gone(taken.before.judged.findings, taken.after.judged.findings)
        lost = [one for one in wrong if not may_go(one, part, key)]
        answered = {one.evidence[:1] for one in taken.after.judged.findings if one.grade in WRONG}
        lost = [one for one in lost if one.evidence[:1] not in answered]
        assert not lost, f"without {taken.way}: {[(one.code, one.evidence) for one in lost]}"


@pytest.mark.parametrize("path", houses(), ids=lambda path: path.stem)
def test_no_house_becomes_fine_because_a_reading_is_missing(path: Path) -> None:
    for taken in taken_from(path):
        assert not taken.became_fine, f"without {taken.way}: {taken.became_fine}"


# ---------------------------------------------------------------------------------------- virtual appliances

KEYS = {
    "o2": ("oxygen_dry", 100.0, "%"), "co": ("carbon_monoxide_dry", 1e6, "ppm"),
    "stack": ("flue_temperature", 1.0, "K"), "air": ("air_temperature", 1.0, "K"),
}  # fmt: skip
BURNERS = {"atmospheric": "natural draft", "induced": "induced draft", "premix": "premix", "power": "power gas burner"}


def virtual(noise: random.Random, place: str) -> Account:
    """A visit of a virtual gas appliance with one fault."""
    design = noise.choice([each for each in designs().values() if each.family in BURNERS])
    fault = noise.choice(faults_of(design))
    read = invented(noise=noise, design=design, faults=(fault,), severities=(noise.uniform(0.3, 1.1),)).readings
    flue = {key: f"{read[name] * factor:.1f} {unit}" for key, (name, factor, unit) in KEYS.items()}
    room = {"carbon_monoxide_room": f"{read['carbon_monoxide_room'] * 1e6:.0f} ppm"}
    stretches = (
        Stretch("room", "09:50", Point("room, at head height"), fluewright.readings_of(room), steady="90 s"),
        Stretch("as found", "10:00", Point("the flue"), fluewright.readings_of(flue), steady="90 s"),
    )
    return Account(
        title="Invented", customer="", site="", day=date(2026, 11, 25), technician="",
        appliance=Appliance("appliance", burner=BURNERS[design.family], condensing=design.transfer > 4.0,
                            output=0.85 * design.input),
        fuel=fluewright.load_fuel("natural-gas"),
        instrument=Instrument("analyser NOT-REAL-1", "statutory", date(2027, 5, 1), "outdoors", "yes"),
        surroundings=Surroundings(), jurisdiction=place, stretches=stretches,
    )  # fmt: skip


def clean(findings: tuple[Finding, ...]) -> set[tuple[str, str]]:
    """Limits that are kept, by the stretch they were read in."""
    return {
        (one.code, one.evidence[0][0] if one.evidence else "") for one in findings if one.grade in ("fine", "cured")
    }


@pytest.mark.parametrize("place", ["DE", "US-MN", "GB", "AT-4"])
def test_a_virtual_visit_keeps_its_alarms_and_gains_no_fine(place: str) -> None:
    noise, alarms = random.Random(f"taken away in {place}"), 0
    for _ in range(60):
        account = virtual(noise, place)
        before = work.judged(account).judged.findings
        alarms += sum(one.grade in ("stop", "act") for one in before)
        for index, stretch in enumerate(account.stretches):
            for name in stretch.readings:
                kept = {key: value for key, value in stretch.readings.items() if key != name}
                stretches = list(account.stretches)
                stretches[index] = replace(stretch, readings=kept)
                try:
                    after = work.judged(replace(account, stretches=tuple(stretches))).judged.findings
                except fluewright.FluewrightError:
                    continue  # refused, with its reason: that clears nothing
                assert clean(after) <= clean(before), name
                lost = [one for one in gone(before, after) if not may_go(one, stretch.word, name)]
                assert not lost, (name, [(one.code, one.evidence) for one in lost])
    assert alarms >= 10, "visits without an alarm prove nothing here"
