"""An invented visit that uses every element of the sheet, and one that must stop. Nothing here was ever measured."""

from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from math import exp, sin

from fluewright.evidence.finding import Clause, Finding
from fluewright.evidence.result import Input, Result, Working
from fluewright.report.drawing import (
    Branch,
    Case,
    Channel,
    Drawing,
    Firing,
    House,
    Knot,
    LossCurve,
    Pin,
    Plane,
    PressureSection,
    Ribbon,
    Shed,
    Strip,
    Window,
    twin,
)
from fluewright.report.tree import Figure, Found, Line, Opened, Section, Sheet, Span, Stop

LAW = Clause("Made-up Rules", "12.3 (b)", "text of 2 May 2024", "Nowhere", "read", "law")
MEMORY = Clause("Made-up programme guide", "action levels", "2023", "Nowhere", "from memory", "programme")
PRACTICE = Clause("the shop's own book", "H-12", "2026-3", "this shop", "common practice, no source", "house")
PHYSICS = Clause("docs/method/dew-point.md", "", "this version", "", "computed", "physics")


def oxygen_at(excess: float) -> float:
    """Oxygen in percent dry for an excess air in percent, roughly as for natural gas (dry products / air = 0.905)."""
    return 20.95 * (excess / 100) / (0.905 + excess / 100)


def loss_curve(percent: float, start: float) -> LossCurve:
    """An invented curve of equal loss, bending left where carbon monoxide begins to cost heat."""
    levels = [5 * 400 ** (i / 40) for i in range(41)]
    return LossCurve(percent, tuple((start - 2.6 * (level / 2000) ** 1.1, level) for level in levels))


def plane() -> Plane:
    """Four steps on a gas burner."""
    knots = (
        Knot(7.8, 19, 0.1, 1.5, "as found", "damper 46°, 13:41"),
        Knot(6.1, 14, 0.1, 1.4, "1 · 42°", "13:52"),
        Knot(4.6, 18, 0.1, 1.5, "2 · 39°", "13:58"),
        Knot(3.4, 62, 0.1, 3.0, "3 · 37°", "on the knee"),
        Knot(3.9, 30, 0.1, 2.0, "as left, 38°", "14:07, steady 96 s"),
    )
    trail = []
    for one, two in pairwise(knots):
        for i in range(12):
            part = i / 12
            level = one.carbon_monoxide_air_free * (two.carbon_monoxide_air_free / one.carbon_monoxide_air_free) ** part
            trail.append((one.oxygen + (two.oxygen - one.oxygen) * part, level * (1 - 0.12 * sin(3.14 * part))))
    trail.append((knots[-1].oxygen, knots[-1].carbon_monoxide_air_free))
    return Plane(
        knots=knots,
        window=Window(3, 6, 100, "house window: 3 to 6 %, at most 100 ppm", "H-12, edition 2026-3, common practice"),
        losses=(loss_curve(18, 1.0), loss_curve(19, 3.8), loss_curve(20, 5.9), loss_curve(21, 8.2)),
        excess_air_ticks=tuple((e, oxygen_at(e)) for e in (5, 10, 20, 30, 40, 60, 80, 100)),
        trail=tuple(trail),
    )


def oil_plane() -> Plane:
    """An oil burner: smoke against oxygen, with the knee as a band."""
    return Plane(
        knots=(
            Knot(8.0, 0, 0.1, word="1", smoke=0),
            Knot(6.8, 0, 0.1, word="2", smoke=0),
            Knot(5.6, 0, 0.1, word="3, set here", note="0 to 1, three papers", smoke=0.5),
            Knot(4.8, 0, 0.1, word="4", smoke=1),
            Knot(4.2, 0, 0.1, word="5", smoke=3),
        ),
        window=Window(4, 10, 0, "light oil: 4 to 10 %, smoke at most 2", "Made-up Rules 14", smoke=2),
        excess_air_ticks=tuple((e, oxygen_at(e)) for e in (10, 20, 30, 40, 60, 80, 100)),
        smoke=True,
        knee=(4.2, 4.8),
    )


def edge_plane() -> Plane:
    """Beyond every edge: no carbon monoxide at all, a cell at its end, more oxygen than the paper holds."""
    return Plane(
        knots=(
            Knot(1.2, 4000, 0.1, 200, "as found", "", over_range=True),
            Knot(5.0, 0, 0.1, 1.0, "1 · more air"),
            Knot(15.0, 40, 0.2, 3.0, "door open", "", lingered=False),
        )
    )


def ribbons() -> tuple[Ribbon, ...]:
    """As found and as left, in thousand Btu an hour."""
    found = Ribbon(
        "As found",
        126.0,
        "thousand Btu an hour",
        (
            Shed("carbon monoxide", 0.11, 0.01),
            Shed("dry gas", 9.5, 0.4),
            Shed("water vapour", 14.5, 0.2, note="none of it condensed"),
            Shed("jacket", 1.9, 0.5, how="plate"),
        ),
        useful=100.0,
        useful_word="to the water",
        useful_spread=2.0,
        basis="higher heating value",
    )
    left = Ribbon(
        "As left",
        119.6,
        "thousand Btu an hour",
        (
            Shed("carbon monoxide", 0.01, 0.002),
            Shed("dry gas", 8.6, 0.4),
            Shed("water vapour", 13.4, 0.2, folded=4.1),
            Shed("jacket", 0.0, 0.0, how="unknown"),
        ),
        useful=98.4,
        useful_word="to the water",
        gap=3.3,
        gap_spread=4.0,
        useful_spread=4.0,
        useful_how="measured",
        basis="higher heating value",
    )
    return (found, left)


def strip() -> Strip:
    """Sixteen minutes at two samples a second, with a gap."""
    times = [0.5 * i for i in range(1920)]
    steps = ((300.0, "2"), (660.0, "3"), (840.0, "4"))

    def course(levels: tuple[float, ...], noise: float) -> list[float | None]:
        values: list[float | None] = []
        for time in times:
            value = levels[0]
            for (at, _), before, after in zip(steps, levels, levels[1:], strict=False):
                if time > at:
                    value += (after - before) * (1 - exp(-(time - at) / 18))
            values.append(None if 420 < time < 450 else value + noise * sin(time * 12.9898) * sin(time * 0.37))
        return values

    return Strip(
        channels=(
            Channel("oxygen", "% dry", times, course((6.1, 4.6, 3.4, 3.9), 0.05), 3.0, 7.0),
            Channel("CO", "ppm", times, course((12, 15, 52, 24), 2.0), 0.0, 60.0),
            Channel("stack", "°F", times, course((462, 452, 444, 441), 0.4), 440.0, 465.0),
        ),
        stretches=((150, 296, "steady"), (520, 656, "steady"), (905, 959, "steady 54 s")),
        steps=steps,
        zero=datetime(2026, 11, 25, 13, 53, 0),
    )


def figure(kind: str, data: Drawing, caption: str, section: int) -> Figure:
    """A figure with its twin."""
    return Figure(kind, data, caption, twin(data), section)  # type: ignore[arg-type]


def working(value: float, words: str) -> Working:
    """A working with five inputs."""
    return Working(
        formula="(dry gas x (h flue - h air) + water x (latent + sensible) + CO x its heat) / higher heating value",
        substitution=f"{words} = {value}",
        inputs=(
            Input("fuel", "what the gas is made of", 0.949, 0.01, 0.01, "network, Nov 2026", 0.44),
            Input("flue_temperature", "stack temperature", 503.7, 1.4, 1.4, "line 6", 0.28),
            Input("oxygen_dry", "oxygen", 0.078, 0.001, 0.001, "line 5", 0.213),
            Input("air_temperature", "cellar temperature", 291.0, 0.6, 0.6, "line 6", 0.063),
            Input("carbon_monoxide", "carbon monoxide", 12e-6, 1e-6, 1e-6, "line 5", 0.004),
        ),
        source="Enthalpies: NASA TM-4513 polynomials; balance in docs/method/losses.md.",
        holds="Holds for complete burning; heat stored in the brickwork is left out.",
        advice="A better thermometer would narrow this more than a better oxygen cell.",
    )


VALUES = ("94.9 % CH4, 3 % C2H6", "447 ± 5 °F", "7.8 ± 0.2 %", "64 ± 2 °F", "12 ± 2 ppm")


def sections() -> tuple[Section, ...]:
    """Lines in every mark and every voice."""
    return (
        Section(
            1,
            "Before lighting",
            (
                Line(
                    1,
                    "measured",
                    "13:20",
                    (
                        Span("Zero taken outdoors, in the driveway, "),
                        Span("14 min", "measured"),
                        Span(" after switching on; the cell saw "),
                        Span("20.9 %", "measured"),
                        Span(" oxygen and "),
                        Span("0 ppm", "measured"),
                        Span("."),
                    ),
                    (
                        Span("Analyser of 3 Mar 2026, hydrogen compensated. "),
                        Span("It can decide every limit here.", "strong"),
                    ),
                ),
                Line(
                    2,
                    "plate",
                    "13:22",
                    (
                        Span("The plate says "),
                        Span("1,500,000 Btu/h", "plate"),
                        Span(", number "),
                        Span("NOT-REAL-0001", "hand"),
                        Span("."),
                    ),
                ),
                Line(
                    3,
                    "unknown",
                    "13:25",
                    (
                        Span("The joint behind the freezer: "),
                        Span("not reachable, frozen to the floor", "unknown"),
                        Span("."),
                    ),
                ),
            ),
        ),
        Section(
            2,
            "Room air",
            (
                Line(
                    4,
                    "measured",
                    "13:26",
                    (
                        Span("CO outdoors "),
                        Span("0", "measured"),
                        Span(", beside the boiler "),
                        Span("1 ppm", "measured"),
                        Span(". It has not passed "),
                        Span("2 ppm", "measured"),
                        Span(" since."),
                    ),
                    (Span("last year 0, 0"),),
                ),
            ),
        ),
        Section(
            3,
            "Flame",
            (
                Line(
                    5,
                    "measured",
                    "13:41",
                    (
                        Span("Oxygen "),
                        Span("7.8 ± 0.2 %", "measured"),
                        Span(", carbon monoxide "),
                        Span("12 ± 2 ppm", "measured"),
                        Span(", that is "),
                        Span("19 ± 3 air-free", "derived", "co-found"),
                        Span("."),
                    ),
                    (Span("typed "), Span("o2 7.8 co 12", "hand")),
                ),
                Line(
                    6,
                    "measured",
                    "13:41",
                    (
                        Span("Stack "),
                        Span("447 °F", "measured"),
                        Span(", cellar "),
                        Span("64 °F", "measured"),
                        Span("."),
                    ),
                ),
                Line(
                    7,
                    "derived",
                    "",
                    (
                        Span("53 % excess air", "derived", "air-found"),
                        Span(", "),
                        Span("7.4 % CO2", "derived"),
                        Span("; "),
                        Span("20.9 ± 0.2 %", "derived", "loss-found"),
                        Span(" of the fuel's heat went up the stack, at that moment."),
                    ),
                    (Span("last year 18.4"),),
                ),
            ),
            note="As found, kept 13:41. Between the boiler sections; lit 21 min; stack within 2 °F for 4 min.",
        ),
        Section(
            4,
            "Adjusting",
            (
                Line(8, "measured", "13:52", (Span("1 · damper 46 to 42°", "hand"),), (Span("meant: less air"),)),
                Line(
                    9,
                    "measured",
                    "14:07",
                    (
                        Span("Oxygen "),
                        Span("3.9 ± 0.2 %", "measured"),
                        Span(", carbon monoxide "),
                        Span("24 ± 3 ppm", "measured"),
                        Span(", "),
                        Span("30 ± 4 air-free", "derived", "co-left"),
                        Span("; stack "),
                        Span("441 °F", "measured"),
                        Span(". O2 and CO2 agree with the gas of this month."),
                    ),
                    (Span("steady 96 s"),),
                ),
            ),
        ),
    )


def findings() -> tuple[Found, ...]:
    """One of each grade that is no danger."""
    return (
        Found(
            "A",
            Finding(
                "alarm-age",
                "act",
                "The CO alarm in the hall is five years past its own date.",
                "A silent alarm of this age proves nothing. Owner told 13:26.",
                (("as found", "alarm"),),
                MEMORY,
                limit="replace by 2021",
                do_now=("Hang a new alarm before leaving.",),
                do_next=("Note its date on the sheet.",),
                cautions=("If an alarm sounds: everybody out, doors open, call from outside.",),
            ),
            (4,),
        ),
        Found(
            "B",
            Finding(
                "co-air-free",
                "fine",
                "It burns clean and inside the law.",
                "CO 30 air-free of 400. Practically certain, 99 in 100.",
                (("as left", "carbon_monoxide_air_free"),),
                LAW,
                odds=0.01,
                limit="CO at most 400 air-free",
            ),
            (9,),
        ),
        Found(
            "C",
            Finding(
                "window",
                "advise",
                "On the hottest day oxygen would fall to 2.7 % and CO rise past the edge.",
                "Likely, 80 in 100: the fan moves the same volume of thinner air.",
                (("as left", "oxygen_dry"),),
                PRACTICE,
                odds=0.8,
                limit="3 to 6 % oxygen",
                do_next=("Come back on a hot day, or open one degree.",),
            ),
            (5, 8, 9),
        ),
        Found(
            "D",
            Finding(
                "dew-point",
                "open",
                "Whether the chimney stays dry cannot be said from here.",
                "The dew point is 127 °F; the wall temperature was not measured.",
                (("as left", "water_dew_point"),),
                PHYSICS,
            ),
            (6, 9),
        ),
    )


def workings() -> tuple[Opened, ...]:
    """Three workings, one refused and one without inputs."""
    loss = Result(
        "loss_gross", 0.209, 0.001, 0.001, working(20.9, "8.9 + 11.9 + 0.1"), boundary="appliance in its room"
    )
    free = Working(
        "CO x 20.95 / (20.95 - O2)", "12 x 20.95 / 13.15 = 19", (), "16 CFR-like made-up text", "Holds below 15 % O2."
    )
    refused = Result(
        "efficiency_net", None, 0, 0, None, refused="Refused: the probe stood behind the draft hood, in mixed air."
    )
    return (
        Opened("loss-found", "20.9 % in line 7", 7, loss, VALUES),
        Opened("co-found", "19 air-free in line 5", 5, Result("carbon_monoxide_air_free", 19e-6, 1e-6, 2e-6, free)),
        Opened("air-found", "53 % excess air in line 7", 7, Result("excess_air", 0.53, 0.01, 0.01, working(53, "air"))),
        Opened("net", "net efficiency", 7, refused),
    )


def customer() -> dict[str, tuple[str, ...]]:
    """The customer's page."""
    return {
        "What was wrong": (
            "The boiler took more air than it needs, so more of the heat you pay for went up the chimney. "
            "The air in your cellar stayed at 1 part in a million.",
        ),
        "What changed": (
            "The air damper was set from 46 to 38 degrees. Carbon monoxide in the flue stayed inside the law.",
        ),
        "What is left, and who must act": (
            "Your hall alarm is five years too old; a new one is in the van.",
            "We come back on a hot day, because the fan then moves thinner air.",
        ),
        "What this did not buy": ("A sum for the year. One test says nothing about a year, so none is printed.",),
        "If the alarm sounds, or heads ache indoors and clear outdoors": (
            "Everybody out, doors left open. Call 911 from outside, then the gas supplier, 555-0100 (invented). "
            "Tell the doctor “carbon monoxide”, even if you feel better.",
        ),
    }


def calm() -> Sheet:
    """The whole sheet of an ordinary visit."""
    return Sheet(
        title="Forced-draft boiler in the laundry, annual visit",
        lede=(
            Span("Gas burner, plate "),
            Span("1,500,000 Btu/h", "plate"),
            Span(", number "),
            Span("NOT-REAL-0001", "hand"),
            Span(". Last here 12 November 2025; nothing was left open."),
        ),
        running_left="Pretend Laundry, Nowhere, Minnesota · boiler 2",
        running_right="annual · Wed 25 Nov 2026",
        disclaimer=(
            "The maker's instructions, the local code and the licensed person decide. This page is a calculation aid, "
            "not a permission to operate. Site, people, numbers and rules are invented."
        ),
        stops=(),
        sections=sections(),
        findings=findings(),
        cannot_tell=(
            "A leak in the breeching or the hose: oxygen and CO2 move together.",
            "A crack in a section. Inspect, because the flueways were sooted; nothing here gives odds.",
        ),
        done=("Air damper set from 46 to 38°, T. Placeholder, 14:07.",),
        next=("New CO alarm for the hall: owner, today.", "Hot-day check of the burner: shop, before 1 July 2027."),
        figures=(
            figure(
                "strip",
                strip(),
                "Sixteen minutes of adjusting. Hatched: steady; dotted: steps; the line breaks where nothing "
                "was received.",
                4,
            ),
            figure(
                "plane",
                plane(),
                "Each word is a step. Hatched: the shop's own window. Dotted: heat lost up the stack, "
                "if flue temperature stayed.",
                4,
            ),
            figure("ribbon", ribbons(), "Where the fuel's heat went, at the two moments of testing, on one scale.", 0),
        ),
        workings=workings(),
        closing=("Not sealed: no journal yet.", "Printed by T. Placeholder (invented), 25 November 2026, 14:20."),
        customer=customer(),
        readings={"invented": True, "as found": {"oxygen_dry": 0.078, "carbon_monoxide": 12e-6}},
        customer_title="Your boiler, looked after on 25 November 2026",
        customer_to="Ms. Madeup-Owner, Pretend Laundry, Nowhere. Forced-draft gas boiler in the cellar.",
        date="2026-11-25",
        invented=True,
    )


def danger() -> Sheet:
    """The same house on a day when people must leave."""
    stop = Stop(
        order="Stop. Everybody out now, you too.",
        what="Carbon monoxide in the cellar: 84 to 112 ppm, rising.",
        do=(
            "Leave the doors open behind you.",
            "From outside: call 911. Say carbon monoxide, three people, two with headaches.",
            "Then the gas supplier, 555-0100 (invented). Do not go back in to switch anything off.",
            "All three need medical care, even if they feel better outdoors.",
        ),
        why="Why this stops you: at and above 70 ppm people leave (programme action level, from memory: "
        "it may stop you, it can never clear).",
    )
    line = Line(
        4,
        "danger",
        "14:08",
        (Span("CO in the cellar, two steps in: "), Span("84..112 ppm, rising", "measured"), Span(".")),
        (Span("typed "), Span("room 84..112 rising", "hand")),
    )
    found = Found(
        "A",
        Finding(
            "room-co",
            "stop",
            "The cellar fills with carbon monoxide.",
            "Practically certain, 99 in 100.",
            (("entry", "room_co"),),
            MEMORY,
            odds=0.99,
            limit="70 ppm, people leave",
            do_now=("Nobody goes back in.",),
        ),
        (4,),
    )
    calm_sheet = calm()
    return replace(
        calm_sheet,
        title="CO alarm at Made-up Street 3",
        stops=(stop,),
        sections=(*calm_sheet.sections[:1], Section(2, "What was seen", (line,))),
        findings=(found,),
        figures=(calm_sheet.figures[2],),
        customer_title="Do not use the boiler. Its gas is shut off.",
        customer={
            "What was found": (
                "The cellar filled with carbon monoxide, which has no smell and can kill in your sleep.",
            ),
            "Until then": ("Do not open the gas. Do not let anybody light it “just to try”.",),
            "If heads ache, tonight or tomorrow": (
                "Outdoors, then 911. Say “carbon monoxide”. It can come back after you feel well.",
            ),
        },
    )


def pressure_section(*, spills: bool = False) -> PressureSection:
    """Two appliances on one flue; with every fan on the second may spill."""
    room, fans = ((0.0, -3.1), (2.4, -1.0)), ((0.0, -11.0 if spills else -5.6), (2.4, -9.0 if spills else -3.5))
    calm = Case(
        "predicted",
        room,
        (
            Branch("boiler", ((1.25, -7.9), (1.95, -6.3), (1.95, -14.2))),
            Branch("water heater", ((1.5, -4.9), (2.3, -5.6), (2.3, -13.6))),
        ),
        ((1.95, -14.2), (2.3, -13.6), (9.3, 0.0)),
    )
    blown = Case(
        "every fan on",
        fans,
        (
            Branch("boiler", ((1.25, -10.4), (1.95, -7.6), (1.95, -14.8))),
            Branch("water heater", ((1.5, -8.0), (2.3, -6.6), (2.3, -14.1)), spills),
        ),
        ((1.95, -14.8), (2.3, -14.1), (9.3, 0.0)),
    )
    return PressureSection(
        House(ground=1.7, floors=(2.4, 4.9), eaves=5.0, ridge=8.0, foot=0.3, top=9.3),
        (Firing("boiler", 0.95, 1.25, 1.95), Firing("water heater", 1.3, 1.5, 2.3, lit=False)),
        (calm, blown),
        (
            Pin(1.95, -6.1, 0.3, "above the boiler's hood"),
            Pin(2.6, -13.1, 0.4, "in the flue"),
            Pin(1.95, -7.3, 0.3, "above the boiler's hood", 1),
        ),
    )


def sealed_section() -> PressureSection:
    """One appliance without a hood, nothing measured."""
    case = Case(
        "predicted",
        ((0.0, -2.0), (2.4, -0.5)),
        (Branch("boiler", ((1.0, 12.0), (1.4, 9.0))),),
        ((1.4, 9.0), (4.0, 0.0)),
    )
    house = House(ground=0.0, floors=(2.5,), eaves=2.6, ridge=5.0, foot=0.3, top=4.0)
    return PressureSection(house, (Firing("boiler", 1.0, 1.0, 1.4, hood=False),), (case,))
