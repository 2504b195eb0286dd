"""What is here, due and open, which rules apply, one reading worked out, and whether the store is whole."""

from datetime import date
from importlib.metadata import PackageNotFoundError, version
from typing import Annotated, Any, Literal

from fastapi import Query

from fluewright.api import answers, shapes
from fluewright.api.route import Route
from fluewright.api.routes.visits import Behind, Most
from fluewright.errors import UseError
from fluewright.evidence.finding import finding_as_data
from fluewright.evidence.reading import Appliance, Instrument
from fluewright.quantity import parse
from fluewright.record.people import ACTIONS
from fluewright.rules import currency
from fluewright.visit import fuel_of, one_reading, place
from fluewright.visit.as_data import as_json
from fluewright.visit.rules_here import Asked, speaking

Day = Annotated[str, Query(pattern=r"^\d{4}-\d{2}-\d{2}$")]
Short = Annotated[str, Query(max_length=200)]
OF_DUE = ("customer", "site", "appliance", "instrument", "visit")


def find(shop: Behind, words: Annotated[str, Query(min_length=1, max_length=200)], most: Most = 40) -> Any:
    """Customers, sites, appliances, instruments and visits that hold all the words, also mistyped ones."""
    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.looking_up import found

    with looked_at(shop.journal.store) as connection:
        hits = found(connection, words, most)
    return [answers.Hit(kind=h.kind, id=h.id, title=h.title, place=h.place, day=h.day) for h in hits]


def things(
    shop: Behind, kind: Literal["customer", "site", "space", "appliance", "instrument"], most: Most = 40
) -> list[answers.Thing]:
    """Things of one kind that are in use, the newest first."""
    from fluewright.record.views import shop as view
    from fluewright.record.views.catching_up import looked_at

    with looked_at(shop.journal.store) as connection:
        return [answers.Thing(**dict(row)) for row in view.listed(connection, kind, most)]


def due(shop: Behind, until: Day = "9999-12-31", most: Most = 40) -> list[answers.Due]:
    """What has to be done by a day, the first day first."""
    from fluewright.record.views import due as view
    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.looking_up import whereabouts

    with looked_at(shop.journal.store) as connection:
        rows = view.until(connection, until, most)
        names = whereabouts(connection, {row[field] for row in rows for field in OF_DUE})
    found = []
    for row in rows:
        whose = ", ".join(dict.fromkeys(names[row[field]] for field in OF_DUE if row[field] in names))
        told = {field: row[field] for field in ("id", "kind", "day", "what", "visit")}
        found.append(answers.Due(**told, whose=whose))
    return found


def notices(shop: Behind) -> list[answers.Notice]:
    """Dangers that were told and that nobody has closed, the oldest first."""
    from fluewright.record.views import notices as view
    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.looking_up import whereabouts

    with looked_at(shop.journal.store) as connection:
        rows = view.still_open(connection)
        names = whereabouts(connection, {row["visit"] for row in rows})
    fields = ("id", "visit", "words", "consent", "told", "at", "struck")
    return [answers.Notice(**{f: row[f] for f in fields}, where=names.get(row["visit"], "")) for row in rows]


def _day(text: str, today: date) -> date:
    try:
        return date.fromisoformat(text) if text else today
    except ValueError as error:
        raise UseError(
            code="FW-U-193",
            read=f"{text!r} as a day",
            expected="a day of the calendar, such as 2026-11-25",
            matters="limits are dated, and another day may have others",
            do="write the day so",
        ) from error


def rules(
    shop: Behind,
    jurisdiction: Annotated[str, Query(max_length=12)] = "",
    day: Annotated[str, Query(max_length=10)] = "",
    appliance_class: Annotated[str, Query(alias="class", max_length=60)] = "",
    fuel: Short = "natural-gas",
    output: Annotated[str, Query(max_length=40)] = "",
    quantity: Annotated[str, Query(max_length=60)] = "",
) -> list[answers.Rule]:
    """The limits that speak at a place, to an appliance, on a day, the law first."""
    asked = Asked(
        place=jurisdiction.upper(),
        day=_day(day, shop.journal.now().date()),
        kind=appliance_class,
        fuel=fuel,
        output=parse.single(output, quantity="heat_output").value if output else None,
    )
    fields = ("id", "quantity", "sense", "limit", "unit", "layer", "severity", "known")
    return [
        answers.Rule(**{f: getattr(one.rule, f) for f in fields}, clears=one.clears,
                     document=one.rule.citation.document, clause=one.rule.citation.clause,
                     edition=one.rule.citation.edition, in_force=currency.in_words(one.rule.current))
        for one in speaking(asked, quantity)
    ]  # fmt: skip


def reckoned(shop: Behind, sent: shapes.Asked) -> answers.Worked:
    """Work out and judge one flue reading; nothing of it is kept."""
    typed = {one_reading.WET.get(n, n) if sent.basis == "wet" else n: text for n, text in sent.readings.items()}
    oxygen = parse.single(sent.reference_oxygen, quantity="reference_oxygen").value if sent.reference_oxygen else None
    answer = one_reading.answered(
        fuel=fuel_of.chosen(name=sent.fuel or None, inline=sent.composition or None, file=None),
        readings=one_reading.readings_of(typed),
        surroundings=place.surroundings_of(
            altitude=sent.altitude or None, barometer=sent.barometer or None, humidity=sent.humidity or None
        ),
        instrument=Instrument(accuracy=sent.instrument),
        appliance=Appliance("appliance not named"),
        point=sent.point,
        basis=sent.basis,
        steady=sent.steady,
        jurisdiction=sent.jurisdiction,
        reference_oxygen_fraction=oxygen,
        system=sent.units,
    )
    if answer.verdict.refused is not None:
        raise answer.verdict.refused
    system = answer.verdict.account.system
    return answers.Worked(
        results={name: as_json(result, system) for name, result in answer.results.items()},
        findings=[finding_as_data(each) for each in answer.verdict.judged.findings],
        cannot_tell=list(answer.verdict.judged.cannot_tell),
        uncertainty_kind="standard, one sigma",
    )


def health(shop: Behind) -> answers.Health:
    """Whether the journal is whole, and the last entry of each device, to be kept elsewhere."""
    try:
        program = version("fluewright")
    except PackageNotFoundError:  # inside a page nothing is installed
        program = ""
    amiss, anchors = shop.amiss(), shop.journal.anchors()
    return answers.Health(
        whole=not amiss,
        amiss=list(amiss),
        device=shop.journal.device,
        entries=sum(each.sequence for each in anchors),
        anchors=[each.printed() for each in anchors],
        seals=shop.key is not None,
        program=program,
    )


def me(shop: Behind) -> answers.Me:
    """Who asks, and what they may."""
    caller = shop.caller
    may: list[str] = [action for action in ACTIONS if caller.may(action)]
    return answers.Me(person=caller.person, name=caller.name, role=caller.role, recognised=caller.recognised, may=may)


ROUTES = (
    Route("GET", "/find", find, "read", list[answers.Hit]),
    Route("GET", "/things/{kind}", things, "read", list[answers.Thing]),
    Route("GET", "/due", due, "read", list[answers.Due]),
    Route("GET", "/notices", notices, "read", list[answers.Notice]),
    Route("GET", "/rules", rules, "read", list[answers.Rule]),
    Route("POST", "/flue", reckoned, "read", answers.Worked),
    Route("GET", "/health", health, "read", answers.Health),
    Route("GET", "/me", me, "read", answers.Me),
)
