"""Sets of curves: a table of 44 points there and back, gaps, actuators that turn round, no carrying over fuels."""

from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import PhysicsRefused
from fluewright.tune import curve_set
from fluewright.tune.curve_set import Key

HEAD = (
    "fuel,rate_percent,way,mode,oxygen_dry_percent,carbon_monoxide_dry_ppm,flue_temperature_fahrenheit,"
    "position_air_percent,position_fuel_percent,blower_speed_share_percent,flue_gas_returned_percent,remark"
)


def table(rates: list[int] | None = None) -> str:
    """Two fuels, two ways, eleven rates: 44 points, with quotes and blanks as people leave them."""
    rows = [HEAD]
    for fuel, base in (("natural-gas", 3.0), ("oil-no-2", 4.0)):
        for way, apart in (("up", 0.4), ("down", 0.0)):
            for rate in rates or range(10, 101, 9):
                oxygen = base + apart * (1.0 if rate == 55 else 0.25) + (100 - rate) / 40.0
                air, gas = 8 + 0.8 * rate, 5 + 0.9 * rate
                note = '"low fire, ""as found"""' if rate == 10 else ""
                rows.append(f"{fuel},{rate},{way},modulating,{oxygen:.2f},{10 + rate // 9},{300 + rate},"
                            f"{air:.1f},{gas:.1f},{rate},{8 if rate > 40 else 12},{note}")  # fmt: skip
    return "\n".join(rows) + "\n"


def test_forty_four_points_there_and_back() -> None:
    text = table()
    found = curve_set.curve_set_of(text=text)
    assert len(found.spots) == 44
    assert curve_set.text_of(found) == text
    again = curve_set.curve_set_of(text=curve_set.text_of(found))
    assert again == found


def test_further_columns_stand_behind_what_was_read() -> None:
    found = curve_set.curve_set_of(text=table())
    more = curve_set.text_of(found, more={"air_ratio": [str(i) for i in range(44)]})
    assert [line.rpartition(",")[0] for line in more.splitlines()] == table().splitlines()


def test_cells_are_taken_in_their_units() -> None:
    spot = curve_set.curve_set_of(text=table()).spots[0]
    assert spot.values["oxygen_dry_percent"] == pytest.approx(0.0535)
    assert spot.values["flue_temperature_fahrenheit"] == pytest.approx((310 - 32) / 1.8 + 273.15)
    assert spot.values["position_air_percent"] == pytest.approx(0.16)
    assert "remark" not in spot.values


@pytest.mark.parametrize("mark", [";", "\t"])
def test_other_signs_between_cells(mark: str) -> None:
    text = f"fuel{mark}rate_percent{mark}oxygen_dry_percent\ngas{mark}50{mark}4.5\n"
    found = curve_set.curve_set_of(text=text)
    assert found.delimiter == mark
    assert curve_set.text_of(found) == text


def test_a_gap_of_more_than_a_fifth_is_named() -> None:
    found = curve_set.curve_set_of(text=table([10, 30, 50, 71, 91, 100]))
    noticed = list(curve_set.gaps(found))
    assert len(noticed) == 4
    assert {one.words for one in noticed} == {"nothing between 50 % and 71 % of full rate"}
    assert not list(curve_set.gaps(curve_set.curve_set_of(text=table([20, 40, 60, 80, 100]))))


def test_an_actuator_that_turns_round_is_named_with_its_lines() -> None:
    lines = table().splitlines()
    cells = lines[5].split(",")
    cells[7] = "90.0"
    found = curve_set.curve_set_of(text="\n".join([*lines[:5], ",".join(cells), *lines[6:]]))
    (noticed,) = curve_set.not_monotone(found)
    assert noticed.lines == (6, 7)
    assert "position_air_percent turns round" in noticed.words
    assert not list(curve_set.not_monotone(curve_set.curve_set_of(text=table())))


def test_an_actuator_may_close_all_the_way_and_recirculation_may_turn() -> None:
    rows = [f"gas,{rate},{100 - rate},{abs(50 - rate)}" for rate in (20, 40, 60, 80)]
    head = "fuel,rate_percent,position_damper_percent,flue_gas_returned_percent"
    assert not list(curve_set.not_monotone(curve_set.curve_set_of(text="\n".join([head, *rows]))))


def test_the_ways_play_most_where_they_are_made_to() -> None:
    found = curve_set.play(curve_set.curve_set_of(text=table()))
    assert len(found) == 2
    for apart in found.values():
        worst = max(apart, key=lambda one: one.difference)
        assert (worst.rate, worst.difference) == (pytest.approx(0.55), pytest.approx(0.004, abs=2e-4))


def test_before_and_after_are_compared_curve_by_curve() -> None:
    before = curve_set.curve_set_of(text=table())
    after = curve_set.curve_set_of(
        text=table().replace("natural-gas,55,down,modulating,4.12", "natural-gas,55,down,modulating,5.12")
    )
    moved = curve_set.changed(before, after)
    assert {key.words: max(one.difference for one in each) for key, each in moved.items()} == pytest.approx(
        {"natural-gas, modulating, going down": 0.01, "natural-gas, modulating, going up": 0.0,
         "oil-no-2, modulating, going down": 0.0, "oil-no-2, modulating, going up": 0.0}
    )  # fmt: skip


def test_nothing_is_carried_over_between_fuels_nor_across_a_gap() -> None:
    found = curve_set.curve_set_of(text=table([10, 30, 50, 71, 91, 100]))
    gas = Key("natural-gas", "modulating", "down")
    assert curve_set.value_at(found, key=gas, rate=0.2, column="oxygen_dry_percent") == pytest.approx(0.05)
    for key, rate, code in (
        (Key("propane", "modulating", "down"), 0.5, "FW-K-122"),
        (Key("natural-gas", "modulating", ""), 0.5, "FW-K-122"),
        (gas, 0.6, "FW-K-123"),
        (gas, 0.05, "FW-K-123"),
    ):
        with pytest.raises(PhysicsRefused) as caught:
            curve_set.value_at(found, key=key, rate=rate, column="oxygen_dry_percent")
        assert caught.value.code == code


def test_the_command_names_what_it_noticed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / "curves.csv", tmp_path / "again.csv"
    text = table([10, 30, 50, 80, 100]).replace(",13,", ",950,")
    path.write_text(text, encoding="utf-8")
    assert main(["tune", "set", str(path), "--out", str(out), "--before", str(path)]) == 1
    said = " ".join(capsys.readouterr().out.replace("│", " ").split())
    assert "nothing between 50 % and 80 % of full rate (lines 4 and 5)" in said
    assert "More than 400 ppm in line 3, 8, 13, 18" in said
    assert out.read_text(encoding="utf-8") == text
    assert main(["tune", "set", str(path), "--out", str(out)]) == 2
    assert "FW-U-326" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == text
