"""The look over the gas lines: what was tried for gas and how, and what could not be reached."""

from dataclasses import dataclass, field
from typing import Literal

from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.gas_words import CAUTIONS, SHUT
from fluewright.evidence.part import Part, SoFar, Statement, Voiced
from fluewright.evidence.tightness import tested

WORD = "gas survey"
Answer = Literal["sound", "gas", "faulty", "missing", "not reachable"]
How = Literal["", "soap water", "gas sniffer", "nose", "eyes"]

USUAL = ("connector", "shut-off", "drip leg")
"""What a look over a gas line never leaves out."""
MISSED = {
    "shut-off": "an appliance without a valve of its own cannot be taken off the gas in a hurry",
    "drip leg": "dirt and water then end in the gas valve",
    "connector": "an appliance has to be joined to the pipe by a connector made for gas",
}
HOW_WORDS = {
    "soap water": "tried with soap water",
    "gas sniffer": "tried with a gas sniffer",
    "nose": "by nose",
    "eyes": "by eye",
}
NOT_FOR_GAS = ("nose", "eyes", "")
"""Ways of looking that miss small leaks."""


@dataclass(frozen=True, slots=True)
class Look:
    """One place on the gas line.

    what     joint, connector, shut-off, drip leg, ...
    where    place, as typed
    answer   what was found
    how      with what it was tried
    because  why it was not reachable, or what is wrong
    """

    what: str
    where: str
    answer: Answer
    how: How = ""
    because: str = ""
    time: str = ""

    @property
    def words(self) -> str:
        """The place as a person says it."""
        return f"{self.what}, {self.where}" if self.where else self.what


@dataclass(frozen=True, slots=True)
class GasSurvey:
    """Every place that was looked at, in order."""

    looks: tuple[Look, ...]
    late: bool = field(default=False, init=False)

    def worked(self, so_far: SoFar) -> Part:
        """The lines of the survey and what follows from them."""
        findings = [found for look in self.looks if (found := _found(look)) is not None]
        return Part(
            word=WORD,
            title="Gas lines looked over",
            place="supply",
            statements=tuple(_statement(look) for look in self.looks),
            findings=tuple(findings),
            cannot_tell=tuple(_open(self.looks, tight=tested(so_far.account))),
            data={
                "looks": [
                    {"what": one.what, "where": one.where, "answer": one.answer, "how": one.how, "because": one.because}
                    for one in self.looks
                ]
            },
        )


def _statement(look: Look) -> Statement:
    said = {
        "sound": "sound",
        "gas": "gas comes out",
        "faulty": "not in order",
        "missing": "there is none",
        "not reachable": "not reachable",
    }[look.answer]
    how = f", {HOW_WORDS[look.how]}" if look.how and look.answer in ("sound", "gas") else ""
    because = f"{', because ' if look.answer == 'not reachable' else ': '}" if look.because else ""
    pieces: tuple[str | Voiced, ...] = (f"{look.words}: {said}{how}{because}",)
    pieces += (Voiced(look.because),) if look.because else ()
    mark: Literal["unknown", "measured"] = "unknown" if look.answer == "not reachable" else "measured"
    return Statement((*pieces, "."), mark=mark, time=look.time)


def _found(look: Look) -> Finding | None:
    if look.answer == "gas":
        noticed = HOW_WORDS.get(look.how) or "noticed by somebody"
        return Finding(
            "gas-escapes",
            "stop",
            f"Gas comes out at the {look.words}.",
            f"{noticed.capitalize()}. Any smell and any bubble counts: how much it is was not asked.",
            ((WORD, look.words),),
            PRACTICE,
            do_now=SHUT,
            cautions=CAUTIONS,
            people_out=True,
        )
    if look.answer == "faulty":
        return Finding(
            "gas-part-faulty",
            "act",
            f"The {look.words} is not in order.",
            f"{look.because[:1].upper()}{look.because[1:]}." if look.because else "Nobody wrote down what is wrong.",
            ((WORD, look.words),),
            PRACTICE,
            do_now=("mend or renew it, then try it for gas", "leave the appliance off until then"),
            cautions=CAUTIONS,
        )
    if look.answer == "missing":
        why = MISSED.get(look.what, "it belongs to a gas line")
        return Finding(
            f"gas-{look.what.replace(' ', '-')}-missing" if look.what in MISSED else "gas-part-missing",
            "advise",
            f"There is no {look.words}.",
            f"{why[:1].upper()}{why[1:]}; the local code says where it may be left out.",
            ((WORD, look.words),),
            PRACTICE,
            do_next=(f"fit a {look.what}, or look up whether this appliance may do without",),
        )
    return None


def _open(looks: tuple[Look, ...], *, tight: bool) -> list[str]:
    """What the survey leaves open."""
    said = [
        f"The {one.words}: not reachable because {one.because or 'nobody wrote down why'}."
        for one in looks
        if one.answer == "not reachable"
    ]
    weak = [one.words for one in looks if one.answer == "sound" and one.how in NOT_FOR_GAS]
    if weak:
        said.append(f"Small leaks at: {'; '.join(weak)}. A nose or an eye misses them.")
    seen = {one.what for one in looks}
    left = [what for what in USUAL if what not in seen]
    if left:
        said.append(f"The state of: {', '.join(left)}. Nobody wrote it down.")
    if not tight:
        said.append("Whether the gas pipes as a whole are tight: a look at single places is no tightness test.")
    return said
