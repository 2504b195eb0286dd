"""Laws of readings made to agree: weights, order, scale, what is found and what cannot be seen."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluewright.errors import PhysicsRefused
from fluewright.solve import chance
from fluewright.solve.reconcile import Read, Reconciled, Unknown, reconciled

SPREADS = st.floats(0.05, 20.0)
VALUES = st.floats(-50.0, 50.0)


def two(first: Read, second: Read) -> Reconciled:
    """Two readings of one thing."""
    return reconciled(readings=[first, second], equations=[lambda v: v[first.name] - v[second.name]])


@given(VALUES, SPREADS, VALUES, SPREADS)
def test_two_readings_of_one_thing_come_to_their_weighted_mean(a: float, ua: float, b: float, ub: float) -> None:
    found = two(Read("a", a, ua), Read("b", b, ub))
    mean = (a / ua**2 + b / ub**2) / (1.0 / ua**2 + 1.0 / ub**2)
    spread = 1.0 / math.sqrt(1.0 / ua**2 + 1.0 / ub**2)
    for one in found.readings:
        assert one.value == pytest.approx(mean, abs=1e-9 * (1.0 + abs(mean)))
        assert one.spread == pytest.approx(spread, rel=1e-9)
    assert found.chi_square == pytest.approx((a - b) ** 2 / (ua**2 + ub**2), rel=1e-9, abs=1e-12)
    assert found.freedom == 1


@given(VALUES, SPREADS, VALUES, SPREADS)
def test_two_contradicting_readings_cannot_be_told_apart(a: float, ua: float, b: float, ub: float) -> None:
    found = two(Read("a", a, ua), Read("b", b, ub))
    assert found.alike == (("a", "b"),)
    assert set(found.suspects) == (set() if found.agrees else {"a", "b"})


def loop(seed: int, *, wrong: int | None = None, size: float = 0.0) -> Reconciled:
    """Eight readings of four unknowns, each read and each pair summed; exact but for one planted error."""
    draw = random.Random(seed)
    truth = [draw.uniform(5.0, 20.0) for _ in range(4)]
    pairs = [(0,), (1,), (2,), (3,), (0, 1), (1, 2), (2, 3), (3, 0)]
    readings, equations = [], []
    for place, pair in enumerate(pairs):
        spread = draw.uniform(0.1, 0.5)
        off = size * spread if place == wrong else 0.0
        readings.append(Read(f"r{place}", sum(truth[k] for k in pair) + off, spread))
        equations.append(lambda v, n=f"r{place}", p=pair: v[n] - sum(v[f"z{k}"] for k in p))
    unknowns = [Unknown(f"z{k}", 1.0) for k in range(4)]
    return reconciled(readings=readings, unknowns=unknowns, equations=equations)


@given(st.integers(0, 10_000))
@settings(max_examples=30, deadline=None)
def test_an_exact_set_stays_as_it_is(seed: int) -> None:
    found = loop(seed)
    assert found.chi_square < 1e-18
    assert found.agrees
    assert found.freedom == 4
    for one in found.readings:
        assert one.value == pytest.approx(one.measured, abs=1e-9)
        assert one.spread < one.measured  # it is known no worse than before
    assert sum(one.redundancy for one in found.readings) == pytest.approx(4.0, abs=1e-9)


@given(st.integers(0, 10_000), st.integers(0, 7))
@settings(max_examples=30, deadline=None)
def test_a_planted_error_is_found_where_redundancy_allows(seed: int, wrong: int) -> None:
    clear = loop(seed, wrong=wrong, size=1.0)
    share = next(one.redundancy for one in clear.readings if one.name == f"r{wrong}")
    found = loop(seed, wrong=wrong, size=12.0 / math.sqrt(share))
    assert found.suspects
    assert found.suspects[0] == f"r{wrong}"
    assert max(found.readings, key=lambda one: abs(one.standardised)).name == f"r{wrong}"
    assert abs(found.readings[wrong].standardised) > found.critical


@given(st.integers(0, 10_000))
@settings(max_examples=20, deadline=None)
def test_order_does_not_matter(seed: int) -> None:
    draw = random.Random(seed)
    names = list("abcdef")
    reads = [Read(name, draw.uniform(1.0, 3.0), draw.uniform(0.1, 1.0)) for name in names]
    laws = [
        lambda v: v["a"] * v["b"] - v["z"],
        lambda v: v["c"] + v["d"] - v["z"],
        lambda v: v["e"] - v["f"] * v["c"],
    ]
    straight = reconciled(readings=reads, unknowns=[Unknown("z", 1.0)], equations=laws)
    turned = reconciled(readings=reads[::-1], unknowns=[Unknown("z", 1.0)], equations=laws[::-1])
    ours = {one.name: one.value for one in straight.readings}
    for one in turned.readings:
        assert one.value == pytest.approx(ours[one.name], rel=1e-8)
    assert turned.chi_square == pytest.approx(straight.chi_square, rel=1e-7, abs=1e-12)


@given(st.floats(1e-4, 1e4), st.floats(1e-4, 1e4))
def test_units_do_not_matter(scale: float, unknown: float) -> None:
    def found(by: float, start: float) -> Reconciled:
        reads = [Read("a", 10.0 * by, 1.0 * by), Read("b", 12.0 * by, 2.0 * by), Read("c", 5.0, 0.5)]
        laws = [lambda v: v["a"] - v["z"], lambda v: v["b"] - v["z"], lambda v: v["c"] * (2.0 * by) - v["z"]]
        return reconciled(readings=reads, unknowns=[Unknown("z", 9.0 * by, start)], equations=laws)

    plain, scaled = found(1.0, 1.0), found(scale, unknown * scale)
    assert scaled.chi_square == pytest.approx(plain.chi_square, rel=1e-8)
    for one, other in zip(plain.readings, scaled.readings, strict=True):
        assert other.residual == pytest.approx(one.residual, rel=1e-7, abs=1e-9)
        assert other.redundancy == pytest.approx(one.redundancy, rel=1e-7)


@given(st.floats(2.0, 5.0), st.floats(2.0, 5.0), st.floats(5.0, 20.0))
def test_adjusted_values_meet_every_equation(a: float, b: float, product: float) -> None:
    reads = [Read("a", a, 0.3), Read("b", b, 0.2), Read("p", product, 1.0), Read("q", a / b, 0.1)]
    laws = [lambda v: v["a"] * v["b"] - v["p"], lambda v: v["a"] / v["b"] - v["q"]]
    found = reconciled(readings=reads, equations=laws)
    values = {one.name: one.value for one in found.readings}
    for law in laws:
        assert abs(law(values)) < 1e-8


def test_an_unread_part_of_a_product_is_not_observable() -> None:
    found = reconciled(
        readings=[Read("a", 10.0, 1.0)],
        unknowns=[Unknown("x", 5.0), Unknown("y", 1.0)],
        equations=[lambda v: v["a"] - v["x"] * v["y"]],
    )
    assert set(found.not_observable) == {"x", "y"}
    assert found.freedom == 0
    assert found.odds == 1.0
    assert all(math.isinf(one.spread) for one in found.unknowns)


def test_a_reading_nobody_checks_is_named() -> None:
    found = reconciled(
        readings=[Read("a", 10.0, 1.0), Read("b", 10.5, 1.0), Read("alone", 3.0, 0.1)],
        unknowns=[Unknown("t", 10.0), Unknown("w", 1.0)],
        equations=[lambda v: v["a"] - v["t"], lambda v: v["b"] - v["t"], lambda v: v["alone"] - v["w"]],
    )
    assert found.unchecked == ("alone",)
    assert not found.seen("an error there", {"alone": 1.0}).visible
    shown = found.seen("an error in a", {"a": 1.0})
    assert shown.visible
    assert shown.share == pytest.approx(0.5)


def test_a_fault_along_the_equations_never_shows() -> None:
    found = two(Read("a", 10.0, 1.0), Read("b", 10.2, 2.0))
    assert not found.seen("both alike", {"a": 1.0, "b": 1.0}).visible
    assert found.seen("one alone", {"a": 1.0}).visible


@given(st.integers(1, 12), st.floats(0.01, 40.0))
def test_odds_of_a_disagreement_against_numerical_integration(freedom: int, chi_square: float) -> None:
    # density x^(k/2-1) e^(-x/2), by Simpson on the square root of x, which has no pole there
    top, steps = math.sqrt(chi_square), 2000
    width = top / steps
    half = freedom / 2.0

    def density(root: float) -> float:
        return 2.0 * root ** (freedom - 1) * math.exp(-root * root / 2.0) / (2.0**half * math.gamma(half))

    inner = sum((4.0 if i % 2 else 2.0) * density(i * width) for i in range(1, steps))
    below = (density(0.0) + inner + density(top)) * width / 3.0
    assert chance.beyond(chi_square, freedom=freedom) == pytest.approx(1.0 - below, abs=1e-8)


def test_readings_that_no_small_change_can_mend_are_refused() -> None:
    with pytest.raises(PhysicsRefused) as caught:
        reconciled(
            readings=[Read("a", 1.0, 0.1)],
            equations=[lambda v: v["a"] - 1.0, lambda v: v["a"] - 2.0],
        )
    assert caught.value.code == "FW-K-080"
