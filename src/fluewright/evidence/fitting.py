"""Findings made to fit the class of the appliance: what its class never advises is said in no sentence."""

from dataclasses import replace

from fluewright.appliance import load
from fluewright.appliance.record import Advice, ApplianceClass
from fluewright.evidence.finding import WRONG, Finding
from fluewright.evidence.reading import Account
from fluewright.words import english, spoken


def refused_in(sentence: str, of_class: ApplianceClass) -> Advice | None:
    """The advice that a sentence gives and the class never gives; None where it gives none."""
    said = english(sentence).lower()
    kinds = (load.advice()[key] for key in of_class.never)
    return next((advice for advice in kinds if any(phrase in said for phrase in advice.says)), None)


def _fit(sentences: tuple[str, ...], of_class: ApplianceClass, put: dict[str, Advice]) -> tuple[str, ...]:
    """Sentences with what is refused replaced; `put` gathers why."""
    fitted = []
    for sentence in sentences:
        advice = refused_in(sentence, of_class)
        if advice is not None:
            put[advice.key] = advice
        fitted.append(sentence if advice is None else spoken(advice.instead))
    return tuple(dict.fromkeys(fitted))


def fitted(finding: Finding, account: Account) -> Finding:
    """A finding as it may be said of this appliance.

    finding  of whatever part of the job
    account  for the class
    -> the same; steps that its class never advises replaced by what is said instead, with the reason, and where
       carbon monoxide climbs, what that points to in this class
    """
    of_class = account.appliance.of_class
    if of_class is None:
        return finding
    put: dict[str, Advice] = {}
    now, later = _fit(finding.do_now, of_class, put), _fit(finding.do_next, of_class, put)
    cautions = tuple(one for one in finding.cautions if refused_in(one, of_class) is None)
    code = next((advice.code[finding.code] for advice in put.values() if finding.code in advice.code), finding.code)
    if finding.code == "still-moving" and of_class.rising:
        later = (*later, of_class.rising)
    why = "".join(f" Not advised here, to {advice.words}: {of_class.never[key]}." for key, advice in put.items())
    body = f"{finding.body}{why}" if finding.grade in WRONG or why else finding.body
    return replace(finding, code=code, body=body, do_now=now, do_next=later, cautions=cautions)
