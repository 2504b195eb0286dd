"""What the drawings are made from: an honest scale, a band as a band, axes that end at a figure one can say."""

import visits

from fluewright.evidence.part import Part
from fluewright.evidence.reading import Appliance, Instrument
from fluewright.evidence.result import Result
from fluewright.report import pictures
from fluewright.report.drawing import Plane, Ribbon, svg, twin
from fluewright.report.text import text

WARM = {"o2": "5 %", "co": "20 ppm", "stack": "150 C", "air": "20 C"}
PLATE = Appliance("gas boiler", condensing=True, plate_input=24_500.0)


def ribbon(**typed: str) -> tuple[Ribbon, str]:
    """The one ribbon of a visit, and its caption."""
    account = visits.visit(visits.stretch("as found", **typed), appliance=PLATE, system="si")
    figure = pictures.ribbons(account, visits.told(account))
    assert figure is not None
    return figure.data[0], figure.caption


def test_a_plate_is_no_measurement() -> None:
    drawn, caption = ribbon(**WARM)
    assert (drawn.fuel, drawn.unit) == (100.0, "per 100 of fuel")
    assert "24.5\u202fkW" in caption
    assert "not measured" in caption


def test_an_input_metered_apart_is_not_called_unmeasured() -> None:
    account = visits.visit(visits.stretch("as found", **WARM), appliance=PLATE, system="si")
    metered = Result("fuel_input", 20_500.0, 200.0, 200.0, None)
    part = Part("gas input", "Gas input", "supply", (), {"fuel_input": metered})
    figure = pictures.ribbons(account, visits.told(account), (part,))
    assert figure is not None
    assert "not measured" not in figure.caption
    assert "20.50 ± 0.40\u202fkW" in figure.caption
    assert "24.5\u202fkW" in figure.caption


def test_a_measured_input_gives_the_scale() -> None:
    drawn, caption = ribbon(**WARM, input="20 kW")
    assert (round(drawn.fuel, 6), drawn.unit) == (20.0, "kW")
    assert "plate" not in caption


def test_a_band_is_drawn_between_its_ends() -> None:
    drawn, _ = ribbon(**{**WARM, "stack": "35 C"})
    vapour = next(shed for shed in drawn.strips if shed.name == "water vapour")
    assert vapour.how == "band"
    assert vapour.least is not None
    assert 0.0 < vapour.least < vapour.value
    assert vapour.words == f"{vapour.least:.1f} to {vapour.value:.1f}"
    assert " to " in drawn.useful_words
    assert vapour.words in str(twin(drawn).rows)
    assert "dashed" in svg(drawn)
    assert sum(shed.value for shed in drawn.strips) + drawn.useful <= 100.0 + 1e-9


def test_no_digit_finer_than_a_thousandth_of_the_heat() -> None:
    """The balance leaves out as much, so 10.147 of 100 would be false sharpness."""
    drawn, _ = ribbon(**WARM)
    for words in (drawn.useful_words, *(shed.words for shed in drawn.strips)):
        figure = words.removeprefix("under ").split(" ")[0]
        assert len(figure.partition(".")[2]) <= 2, words
    unburned = next(shed for shed in drawn.strips if shed.name == "unburned gas")
    assert unburned.words == "under 0.1"


def test_axes_end_at_one_two_or_five() -> None:
    for least, top in ((2000.0, 2000.0), (2000.1, 5000.0), (6364.63, 10000.0), (10000.0, 10000.0), (1.0, 1.0)):
        assert pictures.decade_top(least=least) == top
    made = visits.sheet(visits.visit(visits.stretch("as found", **{**WARM, "co": "3000 ppm"})))
    plane = made.figures[0].data
    assert isinstance(plane, Plane)
    assert plane.co_limit == 10000.0
    assert "   10000 │" in text(made)


def test_a_one_sided_doubt_is_one_sided_on_the_plane() -> None:
    """A cell that may count hydrogen reads too high only; the table beside the drawing says both sides."""
    rich = visits.stretch("as found", o2="2 %", co="2000 ppm", stack="150 C", air="20 C")
    account = visits.visit(rich, instrument=Instrument("analyser", zero="outdoors", hydrogen="no"))
    figure = pictures.plane(account, visits.told(account), None, 1)
    assert figure is not None
    knot = figure.data.knots[0]
    assert knot.spread_down is not None
    assert knot.spread_down > knot.spread_co
    assert "+" in figure.twin.rows[0][2]
    assert "\u2212" in figure.twin.rows[0][2]
