"""What an appliance showed over the years: compared only at equal load, a drift only beyond the doubt."""

from collections.abc import Sequence
from datetime import date

from fluewright.report.drawing import History, Past, Seen, Value, svg, twin
from fluewright.report.drawing.history import columns_of, ticks
from fluewright.visit.history import Side, Told, alike, drift_of, years_of

RATE = "full"


def told(year: int, loss: float | None, *, rate: str = RATE, heat: float | None = None, spread: float = 0.001) -> Told:
    values = {"loss_gross": Value(loss, spread)} if loss is not None else {}
    values |= {"fuel_input": Value(heat, 200.0)} if heat is not None else {}
    return Told(f"visit {year}", date(year, 11, 1), Side(values, rate), Side())


def drifting(*visits: Told) -> Sequence[str]:
    return [each.sentence for each in years_of(visits, words="boiler", system="us").drifts]


def test_a_rise_beyond_its_doubt_is_told_with_its_years() -> None:
    said = drifting(told(2024, 0.17), told(2025, 0.18), told(2026, 0.19))
    assert len(said) == 1
    assert "risen three visits running at equal load" in said[0]
    assert "in 2024" in said[0]
    assert "in 2026" in said[0]


def test_what_lies_within_the_doubt_is_no_drift() -> None:
    assert drifting(told(2024, 0.170), told(2025, 0.171), told(2026, 0.172)) == []


def test_what_goes_up_and_down_is_no_drift() -> None:
    assert drifting(told(2024, 0.17), told(2025, 0.20), told(2026, 0.19)) == []


def test_two_visits_are_too_few() -> None:
    assert drifting(told(2025, 0.17), told(2026, 0.19)) == []


def test_without_a_load_nothing_is_compared_and_it_says_so() -> None:
    visits = [told(year, loss, rate="") for year, loss in ((2024, 0.17), (2025, 0.18), (2026, 0.19))]
    years = years_of(visits, words="boiler", system="us")
    assert years.drifts == ()
    assert "Not compared, since the load was another or nobody told it: 2024, 2025, 2026." in years.aside


def test_another_load_is_left_out_of_the_comparison() -> None:
    same = [told(2023, 0.17, rate="", heat=20_000.0), told(2025, 0.18, rate="", heat=20_900.0)]
    other = told(2024, 0.30, rate="", heat=30_000.0)
    newest = told(2026, 0.19, rate="", heat=20_400.0)
    years = years_of([same[0], other, same[1], newest], words="boiler", system="us")
    assert any("stack loss" in each.sentence.lower() for each in years.drifts)
    assert "2024" in years.aside
    assert years.figure is not None
    drawn = next(past for past in years.figure.data.pasts if past.name == "stack loss")
    assert [one.compared for one in drawn.seen] == [True, False, True, True]


def test_a_load_is_equal_by_input_or_by_word_never_by_silence() -> None:
    def side(rate: str, heat: float | None) -> Side:
        return Side({"fuel_input": Value(heat)} if heat else {}, rate)

    assert alike(side("", 10_000.0), side("", 10_900.0))
    assert not alike(side("", 10_000.0), side("", 11_500.0))
    assert not alike(side("full", 10_000.0), side("full", 20_000.0)), "a count says more than a word"
    assert alike(side("full", None), side("full", 10_000.0))
    assert not alike(side("full", None), side("low", None))
    assert not alike(side("", None), side("", None))


def test_nothing_that_is_followed_is_no_history() -> None:
    assert years_of([told(2026, None, rate="")], words="boiler", system="us").figure is None


def test_a_drift_is_sought_in_the_last_visits_only() -> None:
    seen = [(date(year, 1, 1), Value(value, 0.001)) for year, value in
            ((2021, 0.30), (2022, 0.10), (2024, 0.17), (2025, 0.18), (2026, 0.19))]  # fmt: skip
    found = drift_of("loss_gross", "stack loss", seen, "us")
    assert found is not None
    assert "in 2024" in found.sentence


SEEN = (
    Seen(date(2021, 5, 1), Value(18.0, 0.2), Value(17.0, 0.2)),
    Seen(date(2024, 5, 1), Value(19.0, 0.2), compared=False),
)
DRAWN = History("boiler", (Past("stack loss", "%", SEEN),), (date(2021, 5, 1), date(2024, 5, 1)))


def test_the_drawing_shows_missing_years_and_what_was_not_compared() -> None:
    drawn = svg(DRAWN, width=328, alone=False)
    assert drawn.count('class="dotted"') == 2, "2022 and 2023 had no reading"
    assert drawn.count("<circle") == 2, "found and left of the compared visit"
    assert drawn.count('class="open"') == 2, "one of them a square"
    assert "History of boiler: stack loss" in drawn


def test_the_table_says_what_the_drawing_shows() -> None:
    rows = twin(DRAWN).rows
    assert rows[0] == ("2021-05-01", "18.00 ± 0.40 → 17.00 ± 0.40 (found and left)")
    assert rows[1] == ("2024-05-01", "19.00 ± 0.40 (found; load not equal or not told)")


def test_scales_are_round_and_hold_every_value() -> None:
    for low, high in ((17.3, 18.9), (-0.06, 0.01), (0.0, 0.0), (83.0, 83.5)):
        scale = ticks(low, high, logarithmic=False)
        assert scale[0] <= low
        assert scale[-1] >= high
        assert len(scale) <= 6
    assert ticks(30.0, 480.0, logarithmic=True) == [10.0, 100.0, 1000.0]


def test_a_phone_has_one_column_and_four_fields_stand_two_by_two() -> None:
    assert columns_of(328, fields=4) == 1
    assert columns_of(772, fields=4) == 2
    assert columns_of(772, fields=3) == 3
