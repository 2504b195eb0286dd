"""Drawings: lengths are true, states differ in shape, nothing is lost or invented between samples."""

import itertools
import re
import xml.etree.ElementTree as ET
from math import isclose

import example
import pytest

from fluewright.errors import UseError
from fluewright.report.drawing import Channel, Knot, Plane, Ribbon, Shed, Strip, plane, section, strip, svg, twin
from fluewright.report.drawing.inks import TOKENS
from fluewright.report.drawing.place import overlap
from fluewright.report.drawing.svg import hatched, polyline, rectangle
from fluewright.report.phrase import said

DRAWINGS = {
    "plane": example.plane(),
    "oil": example.oil_plane(),
    "edges": example.edge_plane(),
    "empty": Plane(knots=()),
    "ribbons": example.ribbons(),
    "ribbon": example.ribbons()[1],
    "strip": example.strip(),
    "section": example.pressure_section(),
    "spilling section": example.pressure_section(spills=True),
    "sealed section": example.sealed_section(),
    "nothing seen": Strip(channels=(Channel("oxygen", "% dry", [], [], 0.0, 10.0),)),
}
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", DRAWINGS)
@pytest.mark.parametrize("width", [300, 328, 436, 772])
def test_every_drawing_is_one_labelled_element(name: str, width: int) -> None:
    drawing = DRAWINGS[name]
    for (ink, weight), alone in itertools.product(TOKENS, (True, False)):
        root = ET.fromstring(svg(drawing, ink=ink, weight=weight, width=width, alone=alone))
        assert root.get("role") == "img"
        assert root.get("aria-label") == root.findtext(f"{SVG}title") != ""
        assert (root.find(f"{SVG}style") is not None) == alone
        assert not [each for each in root.iter() if each.get("id")], "an id would clash when two stand on one page"
    assert twin(drawing).heads


@pytest.mark.parametrize("name", DRAWINGS)
def test_every_word_of_a_drawing_stays_inside_it(name: str) -> None:
    for width in (328, 700):
        root = ET.fromstring(svg(DRAWINGS[name], width=width))
        height = float(root.get("height", "0"))
        for each in root.iter(f"{SVG}text"):
            assert 0 <= float(each.get("x", "-1")) <= width
            assert 0 < float(each.get("y", "-1")) <= height


def test_what_is_typed_is_shown_and_never_interpreted() -> None:
    knot = Knot(5.0, 50.0, word='<script>alert("x")</script> & \x1b[2J')
    made = svg(Plane(knots=(knot,)))
    assert "<script" not in made
    assert "\x1b" not in made
    ET.fromstring(made)


def test_the_upper_edge_is_the_lower_edge_in_other_words() -> None:
    drawing = example.plane()
    frame = plane.Frame(drawing, 700)
    for excess, oxygen in drawing.excess_air_ticks:
        # dry products over air of the example's gas is 0.905, see example.oxygen_at
        back = 100 * 0.905 * oxygen / (20.95 - oxygen)
        assert isclose(back, excess)
        assert isclose((frame.x(oxygen) - frame.left) / (frame.right - frame.left), oxygen / drawing.oxygen_limit)


def test_decades_are_equally_high() -> None:
    frame = plane.Frame(Plane(knots=(), cell_floor_ppm=5), 700)
    heights = [frame.y(10) - frame.y(100), frame.y(100) - frame.y(1000)]
    assert isclose(*heights)


def test_no_carbon_monoxide_lies_in_the_foot_band() -> None:
    frame = plane.Frame(Plane(knots=()), 700)
    assert frame.y(0.0) == frame.y(5.0) > frame.floor_y
    assert frame.y(5.01) < frame.floor_y + 1


def test_beyond_the_edges_there_are_marks_and_words() -> None:
    made = svg(example.edge_plane())
    assert made.count('class="spot"') == 2
    assert "over range" in made
    table = twin(example.edge_plane())
    assert table.rows[0][2] == "over 4,000"
    assert "below what this cell can tell" in table.rows[1][2]


def test_loss_curves_say_what_they_assume() -> None:
    caption = example.calm().figures[1].caption
    assert "if flue temperature stayed" in caption


def test_labels_of_a_crowded_plane_do_not_hide_each_other() -> None:
    places = plane.Places((0, 0, 700, 500))
    wanted = [((300.0 + 12 * i, 250.0 + 5 * i), [f"{i} · step"], 14.0) for i in range(5)]
    places.labels(wanted)
    assert len(places.taken) == 5
    assert not any(overlap(one, two) for one, two in itertools.combinations(places.taken, 2))


def places_of(path: str) -> list[tuple[float, float]]:
    """The corners of a path that is told by its ways."""
    start, _, ways = path.removesuffix("Z").partition("l")
    x, y = map(float, start.removeprefix("M").split())
    told = [float(each) for each in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", ways)]
    found = [(x, y)]
    for right, down in zip(told[::2], told[1::2], strict=True):
        x, y = x + right, y + down
        found.append((x, y))
    return found


def test_a_path_told_by_its_ways_comes_back() -> None:
    points = [(10.04, 20.0), (10.5, 19.2), (10.5, 19.2), (-3.0, 400.0), (12.0, 399.97)]
    for wanted, found in zip([p for i, p in enumerate(points) if i != 2], places_of(polyline(points)), strict=True):
        assert isclose(wanted[0], found[0], abs_tol=0.051) and isclose(wanted[1], found[1], abs_tol=0.051)


def test_two_ribbons_share_one_absolute_scale() -> None:
    found, left = example.ribbons()
    bodies = [places_of(path) for path in re.findall(r'class="body" d="(M[^"]+)"', svg((found, left), width=700))]
    widths = [body[1][0] - body[0][0] for body in bodies]
    assert isclose(widths[1] / widths[0], left.fuel / found.fuel, rel_tol=2e-3)  # coordinates carry one decimal


def test_a_strip_is_as_wide_as_its_heat() -> None:
    """The body narrows at each strip by the strip's share of the fuel; what folds back widens it again."""
    ribbon = Ribbon(
        "now", 100.0, "kW", (Shed("dry gas", 20.0), Shed("vapour", 10.0, folded=10.0)), 80.0, "to the water"
    )
    body = re.search(r'class="body" d="(M[^"]+)Z"', svg(ribbon, width=600))
    assert body
    points = places_of(body.group(1))
    full = points[1][0] - points[0][0]
    foot = max(points, key=lambda point: point[1])
    arrived = [point[0] for point in points if point[1] > foot[1] - 25 and point != foot]
    assert isclose((max(arrived) - min(arrived)) / full, 0.8, rel_tol=5e-3)


def test_kinds_of_knowledge_differ_in_shape_and_not_in_tint() -> None:
    shapes = set()
    for how in ("derived", "plate", "band", "unknown"):
        made = svg(Ribbon("now", 100.0, "kW", (Shed("loss", 20.0, how=how),), 80.0, "to the water"))  # type: ignore[arg-type]
        shapes.add(tuple(sorted(re.findall(r'<path class="([^"]+)"', made))))
    assert len(shapes) == 4


def test_too_thin_says_so() -> None:
    ribbon = Ribbon("now", 100.0, "kW", (Shed("carbon monoxide", 0.05),), 99.95, "to the water")
    assert "too thin to draw true" in svg(ribbon, width=600)


def test_what_does_not_close_is_torn_and_said() -> None:
    assert "does not close: 3 ± 8" in svg(example.ribbons()[1])
    assert "does not close" not in svg(example.ribbons()[0])


def test_a_gap_in_a_channel_is_a_gap_in_its_line() -> None:
    channel = Channel("oxygen", "% dry", [0, 1, 2, 3, 4, 5], [4, 4, None, 5, 5, 5], 0, 10)
    assert svg(Strip(channels=(channel,))).count('class="trace"') == 2
    assert twin(Strip(channels=(channel,))).rows[0][-1] == "1"


def test_decimation_keeps_every_peak_and_stays_small() -> None:
    times = [float(i) for i in range(200_000)]
    values: list[float | None] = [5.0] * len(times)
    values[123_456] = 9.5
    drawing = Strip(channels=(Channel("oxygen", "% dry", times, values, 0, 10),))
    made = svg(drawing, width=700)
    heights = [y for path in re.findall(r'class="trace" d="(M[^"]+)"', made) for _, y in places_of(path)]
    assert len(heights) < 2 * 700
    assert max(heights) - min(heights) > 10
    assert len(made) < 25_000


def test_a_value_beyond_the_scale_is_told_apart() -> None:
    channel = Channel("CO", "ppm", [0, 1, 2, 3], [10.0, 10.0, 500.0, 500.0], 0, 20)
    made = svg(Strip(channels=(channel,)))
    assert made.count('class="trace"') == made.count('class="curve"') == 1
    assert twin(Strip(channels=(channel,))).rows[0][5] == "500"


def test_four_scales_are_refused() -> None:
    channel = Channel("oxygen", "% dry", [0], [1], 0, 10)
    with pytest.raises(UseError) as refused:
        Strip(channels=(channel,) * 4)
    assert refused.value.code == "FW-U-301"


def test_time_is_the_local_clock() -> None:
    """The strip begins at 13:53, so 13:55 stands 120 of its 959.5 seconds from the left."""
    frame = strip.Frame(example.strip(), 700)
    found = re.search(
        r'<text x="([\d.]+)" y="[\d.]+" text-anchor="middle">13:55</text>', svg(example.strip(), width=700)
    )
    assert found
    share = (float(found.group(1)) - frame.left) / (frame.right - frame.left)
    assert isclose(share, 120 / 959.5, abs_tol=1e-3)


def test_hatch_stays_inside_its_area() -> None:
    for numbers in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", hatched(rectangle(10, 20, 90, 60), gap=7, angle=-55)):
        x, y = map(float, numbers)
        assert 9.9 <= x <= 90.1
        assert 19.9 <= y <= 60.1


@pytest.mark.parametrize(
    ("value", "spread", "text"),
    [
        (3.14, 0.1, "3.1 ± 0.2"),
        (308.2, 8.4, "308 ± 17"),
        (0.0104, 0.002, "0.010 ± 0.004"),
        (119600.0, 1800.0, "120,000 ± 4,000"),
        (-4.71, 0.3, "−4.7 ± 0.6"),
        (5.0, 0.0, "5"),
        (0.0, 0.0, "0"),
        (99.9, 5.0, "100 ± 10"),
    ],
)
def test_digits_follow_the_doubt(value: float, spread: float, text: str) -> None:
    assert said(value, spread) == text


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("key", TOKENS)
def test_contrast_of_every_ink(key: tuple[str, str]) -> None:
    """WCAG 2.2: 1.4.6 asks 7 : 1 for text, 1.4.11 asks 3 : 1 for strokes that carry meaning."""
    tokens = TOKENS[key]  # type: ignore[index]
    for name in ("ink", "quiet", "pen"):
        assert contrast(tokens[name], tokens["paper"]) >= 7, name
    assert contrast(tokens["rule"], tokens["paper"]) >= 3
    mixed = "#" + "".join(
        f"{round(int(tokens['ink'][at : at + 2], 16) * 0.62 + int(tokens['paper'][at : at + 2], 16) * 0.38):02x}"
        for at in (1, 3, 5)
    )
    assert contrast(mixed, tokens["paper"]) >= 3, "hatch, drawn at 62 %"


@pytest.mark.parametrize("width", [328, 700])
def test_a_measured_pressure_stands_where_its_axis_says(width: int) -> None:
    drawn = example.pressure_section()
    root = ET.fromstring(svg(drawn, width=width))
    discs = list(root.iter(f"{SVG}circle"))
    frame = section.Frame(drawn, width)
    assert [each.get("class") for each in discs] == ["knot", "knot", "open"]
    for disc, pin in zip(discs, drawn.pins, strict=True):
        assert isclose(float(disc.get("cx", "0")), frame.x(pin.pressure), abs_tol=0.06)
        assert isclose(float(disc.get("cy", "0")), frame.y(pin.height), abs_tol=0.06)
    ticks = section.ticks(frame.low, frame.high, room=frame.right - frame.left)
    assert 0.0 in ticks
    assert all(
        isclose(frame.x(one) - frame.x(other), (one - other) * (frame.x(1.0) - frame.x(0.0)))
        for one, other in itertools.pairwise(ticks)
    )


def test_the_elevation_and_the_pressures_share_one_scale_of_heights() -> None:
    drawn = example.pressure_section()
    root = ET.fromstring(svg(drawn, width=700))
    frame = section.Frame(drawn, 700)
    flue = [places_of(each.get("d", "")) for each in root.iter(f"{SVG}path") if each.get("class") == "path"]
    tops = {min(y for _, y in points) for points in flue}
    assert any(isclose(top, frame.y(drawn.house.top), abs_tol=0.06) for top in tops)
    assert isclose(min(tops), frame.y(drawn.house.top), abs_tol=0.06)


def test_only_what_spills_is_said_to_spill() -> None:
    calm, spilling = (svg(example.pressure_section(spills=each), width=700) for each in (False, True))
    assert "spills" not in calm
    assert "hatch bold" not in calm
    assert "water heater spills" in spilling
    assert "hatch bold" in spilling
    assert "boiler spills" not in spilling
    rows = twin(example.pressure_section(spills=True)).rows
    assert [row[1] for row in rows if "spills" in row[4]] == ["water heater, at its opening"]
