"""A crossing is found where it is, whatever the curve's slope at its ends."""

from math import isclose

from hypothesis import given
from hypothesis import strategies as some

from fluewright.solve import root


@given(some.floats(0.001, 0.139), some.floats(0.1, 6.0), some.floats(1e-3, 1e3))
def test_the_crossing_of_a_rising_curve(at: float, bend: float, steep: float) -> None:
    found = root.between(lambda x: steep * (x**bend - at**bend), low=0.0002, high=0.14, within=1e-12)
    assert isclose(found, at, abs_tol=1e-8)


@given(some.floats(0.001, 0.139))
def test_a_falling_curve_is_crossed_too(at: float) -> None:
    assert isclose(root.between(lambda x: 1.0 / x - 1.0 / at, low=0.0002, high=0.14, within=1e-12), at, abs_tol=1e-8)
