"""Duties of the law: by when something is due again, counted from the day it was last done."""

import datetime
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fluewright.evidence.finding import Finding, clause_of
from fluewright.evidence.part import Statement, Voiced
from fluewright.evidence.reading import Account
from fluewright.rules import duties
from fluewright.rules.duties import Duty

if TYPE_CHECKING:
    from fluewright.evidence.cost import Written


FUELS = {"gas": "gas", "liquid": "oil", "solid": "solid"}
"""Groups of fuel in the words of the rules, by kind of record."""


@dataclass(frozen=True, slots=True)
class DutyAsked:
    """One duty with the day it is counted from."""

    duty: Duty
    day: datetime.date


def _said(day: datetime.date) -> str:
    return f"{day.day} {day:%B %Y}"


def _cited(duty: Duty) -> str:
    clause = clause_of(duty)
    return f"{clause.document}, {clause.clause}, {clause.text_of}; {clause.known}"


def _left_out(duty: Duty, account: Account, *, of_fuel: bool) -> bool:
    return of_fuel and FUELS.get(account.fuel.kind) in duty.not_for


def _does_not_speak(duty: Duty, account: Account) -> Statement:
    """That the law leaves this appliance out, plainly."""
    group, law = FUELS[account.fuel.kind], duty.citation.document
    said = f"duty {duty.id} does not speak of this appliance: {law} leaves out boilers that burn {group}. "
    also = "One that also burns another fuel is for a person to judge."
    return Statement((said, also), mark="plate", margin=_cited(duty))


def write(asked: tuple[DutyAsked, ...], account: Account, written: "Written", *, of_fuel: bool = True) -> None:
    """Each duty with its last day, and a finding where that has gone by."""
    due_days: list[dict[str, str]] = []
    for one in asked:
        duty = one.duty
        if _left_out(duty, account, of_fuel=of_fuel):
            written.statements.append(_does_not_speak(duty, account))
            continue
        if duty.counted_from == "installed" and not duties.speaks_to(duty, one.day):
            said = f"{duty.what} does not speak of a system installed on {_said(one.day)}."
            written.statements.append(Statement((said,), mark="plate"))
            continue
        due = duties.last_day(duty, one.day)
        keep = duty.counted_from == "record made"
        pieces = (
            f"{duty.what}, {'kept' if keep else 'due'} {'until' if keep else 'by'} ",
            Voiced(_said(due), "strong"),
            f": {duty.counted_from} on ",
            Voiced(_said(one.day)),
            ".",
        )
        written.statements.append(Statement(pieces, mark="derived", margin=_cited(duty)))
        if duty.not_for and not of_fuel:
            said = f"nobody said whether it burns {' or '.join(duty.not_for)}: a boiler that does is exempt."
            written.statements.append(Statement((said,), mark="unknown"))
        due_days.append({"duty": duty.id, "from": one.day.isoformat(), "last_day": due.isoformat()})
        if due < account.day and not keep:
            written.findings.append(_overdue(duty, due, account))
    if due_days:
        written.data["duties"] = due_days


def write_list(listed: tuple[Duty, ...], account: Account, written: "Written", *, of_fuel: bool = True) -> None:
    """Duties without a day: name, what they ask, whom they speak of."""
    for duty in listed:
        if _left_out(duty, account, of_fuel=of_fuel):
            written.statements.append(_does_not_speak(duty, account))
            continue
        pieces = ("duty ", Voiced(duty.id, "strong"), f": {duty.text} For: {duty.only}.")
        written.statements.append(Statement(pieces, mark="plate", margin=_cited(duty)))


def _overdue(duty: Duty, due: datetime.date, account: Account) -> Finding:
    late = (account.day - due).days
    return Finding(
        "duty-overdue",
        "advise",
        f"{duty.what[:1].upper()}{duty.what[1:]}: the last day, {_said(due)}, has gone by.",
        f"{duty.text} That was {late} day{'' if late == 1 else 's'} ago. For: {duty.only}.",
        (),
        clause_of(duty),
        do_next=("do it, and tell whoever answers for the plant that it is late",),
    )
