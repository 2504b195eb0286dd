"""Gas pressures, regulator and pipe: what is found, what is refused, what stays open."""

import json

import gas_lines_made as made
import pytest

from fluewright.cli.main import main
from fluewright.evidence.gas_given import State
from fluewright.evidence.gas_lines import GasLine, Load, Segment
from fluewright.evidence.gas_survey import GasSurvey, Look
from fluewright.kernel.pipe_sizes import SERIES, STEEL_ROUGHNESS

INCH = 0.0254


def line(*, size: str = "3/4", length: str = "60 ft", load: str = "100 kBtu/h") -> GasLine:
    """One piece of pipe to one appliance."""
    inner = SERIES["steel"].diameters[size]
    piece = Segment("A", f"steel {size}", made.typed(length, "length"), inner, STEEL_ROUGHNESS, "made up", 0.0,
                    ("boiler",), size)  # fmt: skip
    return GasLine((piece,), (Load("boiler", made.typed(load, "fuel_input"), here=True),))


def test_droop_and_lock_up_are_shares_of_the_set_point() -> None:
    (part,) = made.parts(
        made.supply(
            ("meter", "everything on", "18 mbar"), ("meter", "shut off", "23 mbar"), set_point=made.typed("20 mbar")
        )
    )
    assert part.results["regulator_droop"].value == pytest.approx(0.10)
    assert part.results["regulator_lock_up"].value == pytest.approx(0.15)
    working = part.results["regulator_droop"].working
    assert working is not None
    assert "= 10.0" in working.substitution


def test_over_pressure_is_grave_and_far_over_stops() -> None:
    for text, grade in (("9.9 in w.c.", "fine"), ("12 in w.c.", "act"), ("25 in w.c.", "stop")):
        (part,) = made.parts(made.supply(("appliance", "standing", text), most=made.typed("10.5 in w.c.")))
        found = made.codes(part)["supply-over-plate"]
        assert found.grade == grade, text
        if grade != "fine":
            assert "switch" in " ".join(found.cautions)
            assert not any("carbon monoxide" in words.lower() for words in (*found.cautions, *found.do_now))


def test_an_edge_within_the_doubt_is_not_called() -> None:
    (part,) = made.parts(made.supply(("appliance", "standing", "10.45 in w.c."), most=made.typed("10.5 in w.c.")))
    found = made.codes(part)["supply-over-plate"]
    assert found.grade == "open"
    assert found.odds is not None
    assert 0.05 < found.odds < 0.5


def test_a_display_at_its_end_raises_and_never_clears() -> None:
    (over,) = made.parts(made.supply(("appliance", "standing", ">12 in w.c."), most=made.typed("10.5 in w.c.")))
    assert made.codes(over)["supply-over-plate"].grade == "act"
    (unknown,) = made.parts(made.supply(("appliance", "standing", ">8 in w.c."), most=made.typed("10.5 in w.c.")))
    assert made.codes(unknown)["supply-over-plate"].grade == "open"


def test_a_rising_pressure_clears_nothing() -> None:
    (part,) = made.parts(made.supply(("appliance", "standing", "8 in w.c. rising"), most=made.typed("10.5 in w.c.")))
    assert made.codes(part)["supply-over-plate"].grade == "open"


def test_too_little_counts_only_while_gas_flows() -> None:
    least = made.typed("5 in w.c.")
    (standing,) = made.parts(made.supply(("appliance", "standing", "4 in w.c."), least=least))
    assert "supply-under-plate" not in made.codes(standing)
    (working,) = made.parts(made.supply(("appliance", "everything on", "4 in w.c."), least=least))
    assert made.codes(working)["supply-under-plate"].grade == "act"


def test_a_limit_from_memory_warns_and_never_clears() -> None:
    (low,) = made.parts(made.supply(("appliance", "standing", "7 in w.c.")))
    assert made.codes(low)["us-supply-most"].grade == "open"
    (high,) = made.parts(made.supply(("appliance", "standing", "20 in w.c.")))
    assert made.codes(high)["us-supply-most"].grade == "act"


def test_the_law_of_a_manufactured_home_speaks_only_there() -> None:
    read = ("meter", "everything on", "6 in w.c.")
    (plain,) = made.parts(made.supply(read))
    assert "us-mh-supply-least" not in made.codes(plain)
    (home,) = made.parts(made.supply(read, dwelling="manufactured home"))
    assert made.codes(home)["us-mh-supply-least"].grade == "act"


def test_what_nobody_read_stays_open() -> None:
    (part,) = made.parts(made.supply(("appliance", "this appliance", "7 in w.c.")))
    said = " ".join(part.cannot_tell)
    for words in ("nothing on", "everything on", "shutting off", "set point", "plate", "tight"):
        assert words in said


def test_a_tightness_test_in_the_visit_settles_the_question_about_one() -> None:
    read = made.supply(("appliance", "this appliance", "7 in w.c."))
    tested = made.tightness(made.shut("20 mbar", "20 mbar"))
    assert not any("nobody tested" in words for words in made.parts(read, tested)[0].cannot_tell)


def test_the_pipe_accounts_for_its_drop_or_does_not() -> None:
    def drop(end: str) -> dict[str, object]:
        read = (("meter", "everything on", "7.0 in w.c."), ("appliance", "everything on", end))
        (part,) = made.parts(made.supply(*read, line=line()))  # type: ignore[arg-type]
        return dict(made.codes(part))

    assert not {"pipe-loses-more", "pipe-loses-less"} & drop("6.75 in w.c.").keys()
    assert "pipe-loses-more" in drop("5.9 in w.c.")
    assert "pipe-loses-less" in drop("7.0 in w.c.") or "pipe-loses-less" in drop("7.1 in w.c.")


def test_both_roads_are_shown_with_their_working() -> None:
    (part,) = made.parts(made.supply(("meter", "everything on", "7 in w.c."), line=line()))
    friction, code = part.results["worked-out drop, everything on"], part.results["by the code, everything on"]
    assert friction.value is not None
    assert code.value == pytest.approx(friction.value, rel=0.25)
    assert friction.working is not None
    assert sum(one.share for one in friction.working.inputs) == pytest.approx(1.0)
    assert friction.spread > 0.0


def test_a_line_at_two_psi_goes_by_the_other_equation() -> None:
    (part,) = made.parts(made.supply(("meter", "everything on", "2 psi"), line=line()))
    working = part.results["worked-out drop, everything on"].working
    assert working is not None
    assert "p1²" in working.formula


def test_a_pipe_that_cannot_carry_its_load_is_refused_with_the_reason() -> None:
    (part,) = made.parts(made.supply(("meter", "everything on", "7 in w.c."), line=line(size="1/4", load="400 kBtu/h")))
    found = part.results["worked-out drop, everything on"]
    assert found.value is None
    assert "more pressure than there is" in found.refused


def test_oil_in_a_gas_pipe_is_refused() -> None:
    (part,) = made.parts(made.supply(line=line()), fuel="oil-no-2")
    assert "not a gas" in part.results["pipe_pressure_drop"].refused


def test_the_code_equation_is_not_asked_about_hydrogen() -> None:
    (part,) = made.parts(made.supply(("meter", "everything on", "20 mbar"), line=line()), fuel="hydrogen")
    assert "natural gas and propane only" in part.results["by the code, everything on"].refused
    assert part.results["worked-out drop, everything on"].value is not None


def test_any_gas_stops_and_what_was_not_reached_is_said() -> None:
    looks = (Look("joint", "at the meter", "gas", "nose"), Look("shut-off", "", "not reachable", because="a wall"))
    (part,) = made.parts(GasSurvey(looks))
    found = made.codes(part)["gas-escapes"]
    assert found.grade == "stop"
    assert "touch no switch" in found.cautions[0]
    assert "outside" in found.cautions[0]
    said = " ".join(part.cannot_tell)
    assert "not reachable because a wall" in said
    assert "connector, drip leg" in said


def test_a_sound_look_clears_nothing() -> None:
    looks = tuple(Look(what, "", "sound", "soap water") for what in ("connector", "shut-off", "drip leg"))
    (part,) = made.parts(GasSurvey(looks))
    assert part.findings == ()
    assert any("no tightness test" in words for words in part.cannot_tell)


@pytest.mark.parametrize(
    ("state", "text", "grade"),
    [
        ("everything on", "falling", "act"),
        ("this appliance", "7.0 in w.c. falling", "act"),
        ("standing", "7.0 in w.c. falling", "act"),
        ("shut off", "8.0 in w.c. rising", "act"),
        ("standing", "rising", "act"),
        ("everything on", "6.5..7.5 in w.c. hunting", "advise"),
        ("everything on", "7.0 in w.c. rising", "open"),
    ],
)
def test_a_pressure_seen_to_move_is_told_and_clears_nothing(state: State, text: str, grade: str) -> None:
    plate = {"least": made.typed("4 in w.c."), "most": made.typed("14 in w.c.")}
    (part,) = made.parts(made.supply(("appliance", state, text), **plate))
    assert made.codes(part)["supply-still-moving"].grade == grade
    assert not any(one.grade == "fine" for one in part.findings)
    (calm,) = made.parts(made.supply(("appliance", "everything on", "7.0 in w.c. steady"), **plate))
    assert "supply-still-moving" not in made.codes(calm)


@pytest.mark.parametrize(
    "words",
    [
        ["supply", "pressure", "--standing=7inwc", "--everything-on=6.5inwc"],
        ["supply", "tightness", "--start=20.0mbar", "--end=20.0mbar", "--after=2min"],
    ],
)
def test_questions_that_hardly_need_a_gas_do_without_and_say_so(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*words, "--json"]) == 0
    assert any("nobody named it" in one for one in json.loads(capsys.readouterr().out)["cannot_tell"])
    assert main([*words, "--fuel", "propane", "--json"]) == 0
    assert not any("nobody named it" in one for one in json.loads(capsys.readouterr().out)["cannot_tell"])
