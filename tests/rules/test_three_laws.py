"""One visit under the books of three countries, today and ten years ago: other verdicts, each with its clause."""

import datetime
from dataclasses import replace

import fluewright
from fluewright.evidence.finding import Finding
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Stretch, Surroundings

TODAY = datetime.date(2026, 11, 25)
THEN = datetime.date(2016, 11, 25)
READ = {"o2": "5 %", "co": "350 ppm", "stack": "240 C", "air": "20 C", "carbon_monoxide_room": "4 ppm"}


def visit(jurisdiction: str, day: datetime.date = TODAY) -> Account:
    """The same gas boiler of 20 kW with the same readings, somewhere."""
    return Account(
        title="Invented", customer="", site="", day=day, technician="",
        appliance=Appliance("boiler", burner="natural draft", condensing=False, output=20_000.0),
        fuel=fluewright.load_fuel("natural-gas"),
        instrument=Instrument("analyser NOT-REAL-1", "statutory", datetime.date(2027, 5, 1), "outdoors", "yes"),
        surroundings=Surroundings(), jurisdiction=jurisdiction,
        stretches=(Stretch("as found", "10:00", Point("the flue"), fluewright.readings_of(READ), steady="90 s"),),
    )  # fmt: skip


def found(jurisdiction: str, day: datetime.date = TODAY) -> list[Finding]:
    """What a law, programme or standard of that place says; nothing of common practice."""
    verdict = fluewright.judged(visit(jurisdiction, day))
    return [one for one in verdict.judged.findings if one.clause.layer in ("law", "programme", "standard")]


def test_three_countries_say_three_things_of_one_visit() -> None:
    said = {place: {(one.code, one.grade) for one in found(place)} for place in ("US-MN", "DE", "GB")}
    assert said["US-MN"] != said["DE"] != said["GB"] != said["US-MN"]
    for place in said:
        for one in found(place):
            assert one.clause.document
            assert one.clause.clause
            assert one.clause.jurisdiction.split("-")[0] in (place.split("-")[0], "EU", "everywhere")


def test_germany_limits_the_loss_and_lets_carbon_monoxide_pass_where_minnesota_does_not() -> None:
    germany = {one.code: one for one in found("DE")}
    assert germany["de-kueo-co"].grade == "fine"
    assert germany["de-1bimschv-loss-25"].clause.clause.startswith("s. 10(1)")
    minnesota = {one.code: one for one in found("US-MN")}
    assert minnesota["us-mn-flue-co"].grade == "act"
    assert minnesota["us-mn-flue-co"].clause.clause == "905.1 (3.1)b, (3.2)b"
    assert not [one for one in found("GB") if one.code.startswith(("de-", "us-"))]


def test_what_has_no_rule_here_is_said_and_not_called_fine() -> None:
    britain = fluewright.judged(visit("GB")).judged
    assert not [one for one in britain.findings if one.grade == "fine" and not one.clause.clears]
    nowhere = fluewright.judged(visit("")).judged
    assert any("no place was said" in line for line in nowhere.cannot_tell)


def test_ten_years_ago_the_rows_of_that_day_judge() -> None:
    """The 44. BImSchV came on 20 June 2019; before it the loss of a 2 MW gas boiler met no row of ours."""

    def big(day: datetime.date) -> set[str]:
        account = visit("DE", day)
        made = replace(account, appliance=replace(account.appliance, output=2e6, burner="power gas burner"))
        return {one.code for one in fluewright.judged(made).judged.findings if one.clause.layer == "law"}

    assert "de-44bimschv-loss" in big(TODAY)
    assert "de-44bimschv-loss" not in big(THEN)
    assert "de-1bimschv-loss-25" in {one.code for one in found("DE", THEN)}
    assert "de-1bimschv-loss-25" not in {one.code for one in found("DE", datetime.date(2009, 11, 25))}
