"""Air on its way to the flame: what can be no intake and no outdoor air is refused, and alarms first."""

import pytest

from fluewright.errors import PhysicsRefused
from fluewright.evidence.finding import Finding
from fluewright.evidence.reading import Reading
from fluewright.fuels import load
from fluewright.quantity import parse
from fluewright.visit import one_reading
from fluewright.visit.one_reading import Answer

FLUE = {"oxygen_dry": "5 %", "carbon_monoxide_dry": "50 ppm"}


def answer(**more: str) -> Answer:
    """One flue reading with what was read of the air."""
    texts = {**FLUE, **more}
    readings = {name: Reading(name, parse.parse(text, quantity=name)) for name, text in texts.items()}
    return one_reading.answered(readings=readings, fuel=load.load("natural-gas"))


def found(said: Answer) -> dict[str, Finding]:
    return {finding.code: finding for finding in said.verdict.judged.findings}


@pytest.mark.parametrize("intake", ["0 %", "5.1 %", "12 %"])
def test_an_intake_that_feeds_no_flame_alarms_and_is_not_reckoned_with(intake: str) -> None:
    said = answer(oxygen_intake=intake)
    assert found(said)["intake-starved"].grade == "act"
    assert "intake-smoke" not in found(said)
    assert said.results["recirculated_fraction"].value is None
    assert said.results["recirculated_fraction"].refused


def test_an_intake_with_some_flue_gas_is_still_reckoned() -> None:
    said = answer(oxygen_intake="18 %")
    assert "intake-starved" not in found(said)
    assert said.results["recirculated_fraction"].value == pytest.approx((20.95 - 18.0) / (20.95 - 5.0), abs=0.002)


@pytest.mark.parametrize("outdoor", ["0 %", "17.9 %", "30 %", "10..20.9 %"])
def test_outdoor_air_that_is_none_is_refused(outdoor: str) -> None:
    with pytest.raises(PhysicsRefused) as caught:
        answer(oxygen_intake="20.5 %", oxygen_outdoor=outdoor)
    assert caught.value.code == "FW-K-029"


def test_the_refusal_hides_no_carbon_monoxide() -> None:
    said = answer(oxygen_intake="20.5 %", oxygen_outdoor="0 %", carbon_monoxide_dry="3000 ppm")
    assert said.verdict.refused is not None
    assert found(said)["practice-co-stop"].grade == "stop"
