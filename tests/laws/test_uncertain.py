"""What an uncertain number must refuse, because it would pass silently wrong, and what it must take."""

import copy

import numpy as np
import pytest

from fluewright.kernel import dual, ops
from fluewright.kernel.dual import Dual, uncertain


@pytest.fixture
def number() -> Dual:
    """3.0 with a standard uncertainty of 0.5."""
    return uncertain(3.0, spread=0.5, name="number")


def test_it_is_neither_true_nor_false(number: Dual) -> None:
    with pytest.raises(TypeError, match="neither true nor false"):
        bool(number)
    with pytest.raises(TypeError):
        _ = 1 if number else 2
    with pytest.raises(TypeError):
        _ = not number


def test_it_has_no_order(number: Dual) -> None:
    for question in (
        lambda: number > 0,
        lambda: number < 0,
        lambda: number >= 0.0,
        lambda: number <= number,
        lambda: number > 0,
        lambda: max(number, 0.0),
        lambda: min(number, number),
        lambda: sorted([number, number]),
        lambda: np.array([1.0, 2.0]) > number,
    ):
        with pytest.raises(TypeError, match="no order"):
            question()


def test_it_is_no_plain_number_by_accident(number: Dual) -> None:
    import math

    for use in (float, int, math.sqrt, math.exp, round):
        with pytest.raises(TypeError):
            use(number)


def test_an_uncertain_power_is_refused(number: Dual) -> None:
    with pytest.raises(TypeError, match="must be certain"):
        number**number


def test_an_array_asks_the_uncertain_number(number: Dual) -> None:
    array = np.array([1.0, 2.0, 4.0])
    for done, value, slope in (
        (array * number, [3.0, 6.0, 12.0], [1.0, 2.0, 4.0]),
        (number * array, [3.0, 6.0, 12.0], [1.0, 2.0, 4.0]),
        (array - number, [-2.0, -1.0, 1.0], -1.0),
        (array + number, [4.0, 5.0, 7.0], 1.0),
        (array / number, [1 / 3, 2 / 3, 4 / 3], [-1 / 9, -2 / 9, -4 / 9]),
        (number / array, [3.0, 1.5, 0.75], [1.0, 0.5, 0.25]),
    ):
        assert isinstance(done, Dual), "an array of objects would be slow and would lose its sources"
        assert done.value == pytest.approx(np.array(value))
        (partial,) = done.partials.values()
        assert np.broadcast_to(partial, 3) == pytest.approx(np.broadcast_to(slope, 3))


def test_a_numpy_scalar_asks_it_too(number: Dual) -> None:
    done = np.float64(2.0) * number
    assert isinstance(done, Dual)
    assert done.value == 6.0


def test_arithmetic_never_changes_an_old_number(number: Dual) -> None:
    before = copy.copy(number.partials)
    other = number * 2.0 + number * number - 1.0 / number
    _ = other + number
    assert number.partials == before
    assert number.value == 3.0


def test_a_number_less_itself_is_certain(number: Dual) -> None:
    assert dual.spread(number - number) == 0.0
    assert dual.spread(number / number) == pytest.approx(0.0, abs=1e-17)
    assert dual.spread(number + number) == pytest.approx(1.0)
    other = uncertain(3.0, spread=0.5, name="number")
    assert dual.spread(number - other) == pytest.approx(0.5 * 2**0.5), "the same name is not the same source"


def test_choices_are_made_by_value_and_keep_the_doubt(number: Dual) -> None:
    assert ops.less(number, 4.0) is True
    assert ops.minimum(number, 4.0) is number
    assert ops.maximum(number, 4.0) == 4.0
    both = ops.where(np.array([True, False]), number, 7.0)
    assert both.value == pytest.approx([3.0, 7.0])
    assert dual.spread(both) == pytest.approx([0.5, 0.0])
    assert abs(-number).value == 3.0
    assert dual.spread(abs(-number)) == 0.5


@pytest.mark.parametrize("law", ["sqrt", "exp", "log", "sin", "cos"])
def test_smooth_functions_carry_their_slope(law: str, number: Dual) -> None:
    function = getattr(ops, law)
    step = 1e-5
    slope = (function(3.0 + step) - function(3.0 - step)) / (2 * step)
    assert dual.spread(function(number)) == pytest.approx(abs(slope) * 0.5, rel=1e-9)
    assert function(number).value == pytest.approx(function(3.0), rel=1e-15)
