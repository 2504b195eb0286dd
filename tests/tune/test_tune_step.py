"""The next turn: what comes first, which way, how far, what it should come to, and what is never turned."""

import json
from pathlib import Path
from typing import Any

import pytest

from fluewright.appliance import load
from fluewright.cli.main import main
from fluewright.tune import advise
from fluewright.tune.advise import Aim, Moved, Signs
from fluewright.visit import file, work

HERE = Path(__file__).parents[1] / "visit" / "adjusting.toml"
GAS = ("--lever", "air shutter", "--fuel", "natural-gas", "--air", "70F")


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    main(["tune", "step", *words, "--json"])
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    main(["tune", "step", *words, "--plain"])
    return " ".join(capsys.readouterr().out.replace("|", " ").split())


@pytest.mark.parametrize(
    ("signs", "words"),
    [
        (Signs(spills=True, sooty=True), ["venting", "cleaning"]),
        (Signs(rising=True), ["what climbs"]),
        (Signs(sooty=True, over_fire=0.05, breech=0.07, draft_off=True, input_share=1.2),
         ["cleaning", "sealing", "draft", "input"]),
        (Signs(over_fire=0.05, breech=0.054), []),
        (Signs(input_share=1.04), []),
        (Signs(), []),
    ],
)  # fmt: skip
def test_what_comes_first_in_its_order(signs: Signs, words: list[str]) -> None:
    assert [one.word for one in advise.firsts(signs, lever="air shutter")] == words


def test_the_input_is_not_kept_from_the_lever_that_sets_it() -> None:
    assert not list(advise.firsts(Signs(input_share=1.2), lever="gas pressure"))


def test_cutting_goes_in_small_steps_and_giving_all_the_way() -> None:
    aim = Aim(0.035, 0.045, "the curve", least=0.03)
    far, near = advise.next_turn(oxygen=0.075, aim=aim), advise.next_turn(oxygen=0.047, aim=Aim(0.032, 0.04, "", 0.035))
    assert (far.way, far.oxygen, far.last) == ("cut", pytest.approx(0.065), False)
    assert 0.047 - near.oxygen <= 0.005 + 1e-9
    give = advise.next_turn(oxygen=0.01, aim=aim)
    assert (give.way, give.oxygen, give.last) == ("give", pytest.approx(0.04), True)
    assert advise.next_turn(oxygen=0.04, aim=aim).way == "stay"


def test_no_step_goes_below_the_aim() -> None:
    aim, oxygen = Aim(0.035, 0.055, "the curve", least=0.03), 0.09
    for _ in range(20):
        turn = advise.next_turn(oxygen=oxygen, aim=aim)
        if turn.way == "stay":
            break
        assert turn.oxygen >= aim.low
        oxygen = turn.oxygen
    assert aim.low <= oxygen <= aim.high


def test_the_last_step_shows_how_far_the_next_goes() -> None:
    assert advise.lever_size([], wanted=-0.005) is None
    moved = [Moved(-0.5, 0.08, 0.078), Moved(-0.25, 0.078, 0.068)]
    assert advise.lever_size(moved, wanted=-0.005) == pytest.approx(-0.125)


def test_less_gas_leaves_a_clean_exchanger_no_hotter_than_its_doubt_says() -> None:
    found = advise.flue_temperature_then(flue=490.0, air=294.0, sink=344.0, loss=0.09, flow=0.92)
    assert found is not None
    then, doubt = found
    assert abs(then - 490.0) < doubt + 2.0
    assert then - doubt < 490.0 < then + doubt + 5.0
    assert advise.flue_temperature_then(flue=340.0, air=294.0, sink=344.0, loss=0.09, flow=0.92) is None


def test_a_step_is_foreseen_with_its_doubt_and_the_caveat_of_the_stack(capsys: pytest.CaptureFixture[str]) -> None:
    words = (*GAS, "--o2", "7.5%", "--co", "20ppm", "--stack", "420F", "--target", "4.5%", "--water", "160F")
    found = asked(capsys, *words)["parts"][0]["results"]
    assert found["oxygen_then"]["value"] == pytest.approx(6.5)
    assert found["air_wanted"]["value"] == pytest.approx(-6.5, abs=0.3)
    assert found["loss_then"]["value"] < found["loss_if_stayed"]["value"]
    text = said(capsys, *words)
    assert "If the flue temperature stayed, which it does not" in text
    assert "stop and give the air back when carbon monoxide climbs" in text
    assert "no curve reaches there" in text


@pytest.mark.parametrize(
    ("flag", "first"),
    [(["--spills"], "venting"), (["--sooty"], "cleaning"), (["--draft-off"], "draft"),
     (["--over-fire-oxygen", "5%", "--breech-oxygen", "7%"], "sealing"), (["--input-share", "112%"], "input")],
)  # fmt: skip
def test_nothing_is_turned_before(flag: list[str], first: str, capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, *GAS, "--o2", "7.5%", "--target", "4.5%", *flag)
    (finding,) = answer["findings"]
    assert finding["code"] == ("not-set-but-off" if first == "venting" else "not-yet-to-be-set")
    assert finding["grade"] == ("act" if first == "venting" else "advise")
    assert first in finding["lead"]
    assert "oxygen_then" not in answer["parts"][0]["results"]


def test_a_climbing_reading_stops_as_the_flag_does(capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, *GAS, "--o2", "7.5%", "--co", "40ppm rising", "--target", "4.5%")
    assert [finding["grade"] for finding in answer["findings"]] == ["act"]


def test_below_the_least_safe_oxygen_air_is_given_whatever_else_waits(capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, *GAS, "--o2", "1.5%", "--target", "4.5%", "--least", "2.5%", "--sooty")
    assert "below-least-oxygen" in {finding["code"] for finding in answer["findings"]}
    assert answer["parts"][0]["results"]["oxygen_then"]["value"] == pytest.approx(4.5, abs=0.3)


@pytest.mark.parametrize(
    ("lever", "option", "value", "quantity", "expected"),
    [
        ("gas pressure", "--gas-pressure", "3.5inwc", "gas_pressure", 3.5 / 0.934**2),
        ("pump pressure", "--pump-pressure", "140psi", "oil_pressure", 140 / 0.934**2),
        ("draft damper", "--draft", "-0.04inwc", "draft", -0.04 * 0.934**2),
    ],
)
def test_a_pressure_follows_the_root_law(
    lever: str, option: str, value: str, quantity: str, expected: float, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ("--lever", lever, "--fuel", "natural-gas", "--o2", "7.5%", "--target", "4.5%", option, value)
    found = asked(capsys, *words)["parts"][0]["results"]["lever_then"]
    assert found["quantity"] == quantity
    assert found["value"] == pytest.approx(expected, rel=0.01)


def test_condensing_flue_temperature_is_not_foreseen(capsys: pytest.CaptureFixture[str]) -> None:
    words = (*GAS, "--o2", "7.5%", "--target", "4.5%", "--stack", "110F")
    assert asked(capsys, *words)["parts"][0]["results"]["flue_then"]["value"] is None


@pytest.mark.parametrize("name", load.names_of_classes())
@pytest.mark.parametrize("lever", advise.WITHHELD)
def test_what_a_class_never_advises_is_not_advised(
    name: str, lever: advise.Lever, capsys: pytest.CaptureFixture[str]
) -> None:
    of_class = load.load(name)
    never = any(key in of_class.never for key in advise.WITHHELD[lever])
    assert (advise.withheld(lever, of_class) is not None) == never
    if lever == "air shutter":
        text = said(capsys, *GAS, "--o2", "9%", "--target", "5%", "--class", name)
        assert ("close the air shutter" in text) != never


def test_a_visit_shows_adjusting_between_as_found_and_as_left() -> None:
    verdict = work.judged(file.read(HERE))
    titles = [section.title for section in verdict.sheet().sections]
    parts = ["the curve", "the margin of the year", "the next turn", "the permit run"]
    wanted = ["Flame, as found", *(f"Adjusting: {part}" for part in parts), "Flame, as left"]
    start = titles.index("Flame, as found")
    assert titles[start : start + len(wanted)] == wanted
    year = next(part for part in verdict.parts if part.word == "margin of the year")
    least = next(part for part in verdict.parts if part.word == "tuning curve").results["least_safe"].value
    assert least is not None
    assert (year.results["to_set"].value or 0.0) > least + 0.02


def test_what_was_foreseen_is_set_against_what_came() -> None:
    verdict = work.judged(file.read(HERE))
    turn = next(part for part in verdict.parts if part.word == "next turn")
    text = " ".join(piece for statement in turn.statements for piece in statement.pieces if isinstance(piece, str))
    assert "got 6.9 %: 70% of what was foreseen" in text.replace("70 %", "70%")


def test_the_customer_is_told_that_the_burner_was_set() -> None:
    sheet = work.judged(file.read(HERE)).sheet()
    assert sheet.customer["What changed"] == ["The burner was set in 2 steps."]
