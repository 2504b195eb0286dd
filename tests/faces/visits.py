"""Small invented visits made of typed readings, worked out as the program does; findings are given by the test."""

from dataclasses import replace
from datetime import date

from fluewright.evidence.finding import Clause, Finding, Grade, Judged
from fluewright.evidence.flue import Worked, work
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Stretch, Surroundings
from fluewright.fuels import load
from fluewright.report import sheet as sheets
from fluewright.report.tree import Sheet
from fluewright.visit.one_reading import readings_of

LAW = Clause("Made-up Rules", "12", "2026", "Nowhere", "read", "law")
PRACTICE = Clause("common practice of the trade", "", "2026", "everywhere", "common practice, no source", "house")
FREE = "carbon_monoxide_air_free"
Told = tuple[tuple[Stretch, Worked | None], ...]


def stretch(word: str, **typed: str) -> Stretch:
    """One stretch of typed readings."""
    return Stretch(word, "10:00", Point("flue collar"), readings_of(typed), steady="steady for 60 s")


def visit(*stretches: Stretch, **changed: object) -> Account:
    """An invented visit of one gas boiler."""
    account = Account(
        title="Invented visit",
        customer="Ms. Madeup",
        site="Nowhere",
        day=date(2026, 11, 25),
        technician="T. Placeholder",
        appliance=Appliance("gas boiler", condensing=True),
        fuel=load.load("natural-gas"),
        instrument=Instrument("analyser NOT-REAL-1", due=date(2027, 5, 1), zero="outdoors", hydrogen="yes"),
        surroundings=Surroundings(),
        stretches=stretches,
        emergency="911",
        supplier="the gas supplier",
        invented=True,
    )
    return replace(account, **changed)  # type: ignore[arg-type]


def told(account: Account) -> Told:
    """Each stretch worked out."""
    return tuple(
        (
            one,
            work(
                record=account.fuel,
                stretch=one,
                instrument=account.instrument,
                surroundings=account.surroundings,
            ),
        )
        for one in account.stretches
    )


def finding(
    grade: Grade, word: str, name: str = FREE, *, code: str = "made-up", lead: str = "", **more: str
) -> Finding:
    """A finding of a grade about one result."""
    lead = lead or f"{word.capitalize()}: {name} is over 100 ppm."
    return Finding(code, grade, lead, "Body of it.", ((word, name),), LAW, limit=more.get("limit", "at most 100 ppm"))


def sheet(account: Account, *findings: Finding, **more: object) -> Sheet:
    """The sheet of a visit with these findings."""
    return sheets.build(account, told(account), Judged(findings), **more)  # type: ignore[arg-type]


def words(made: Sheet) -> str:
    """Every line of the evidence, one below the other."""
    return "\n".join(
        "".join(span.text for span in line.spans) for section in made.sections for line in section.lines
    ).replace("\u202f", " ")


def customer(made: Sheet) -> str:
    """The customer's page as one text."""
    return "\n".join(f"{head}\n" + "\n".join(texts) for head, texts in made.customer.items())
