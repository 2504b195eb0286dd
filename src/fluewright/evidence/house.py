"""The house around an appliance and the duties of its class: sound, bad because, or not reachable because."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, cast

from fluewright.appliance import load
from fluewright.appliance.record import HouseLine
from fluewright.evidence.finding import PRACTICE, Clause, Finding, Grade, Known
from fluewright.evidence.part import Part, SoFar, Statement, Voiced

WORD = "the house"
OLDEST_ALARM = 10
"""Years after which an alarm is no longer relied on (common practice, no source; its own date decides)."""
Answered = Literal["sound", "bad", "not reachable"]


@dataclass(frozen=True, slots=True)
class Answer:
    """One line as somebody looked at it.

    line     key of the list
    because  why it is bad or could not be reached
    seen     what was seen, in own words
    made     year of make, for alarms; None when not said
    tested   how it was tried
    """

    line: str
    answer: Answered
    because: str = ""
    place: str = ""
    seen: str = ""
    made: int | None = None
    tested: str = ""
    time: str = ""


def _clause(line: HouseLine) -> Clause:
    known = cast(Known, line.known)
    return replace(PRACTICE, document=line.source, known=known) if line.source != "common practice" else PRACTICE


def _statement(line: HouseLine, answer: Answer) -> Statement:
    """One line as a sentence."""
    about = [line.words, answer.place, f"made {answer.made}" if answer.made else "", answer.tested, answer.seen]
    head = f"{', '.join(each for each in about if each)}: "
    if answer.answer == "sound":
        return Statement((f"{head}found sound.",), time=answer.time)
    said = "bad, because " if answer.answer == "bad" else "not reachable, because "
    mark: Literal["measured", "unknown"] = "measured" if answer.answer == "bad" else "unknown"
    return Statement((f"{head}{said}", Voiced(answer.because), "."), mark=mark, time=answer.time)


def _bad(line: HouseLine, answer: Answer) -> Finding:
    """A line that was found bad."""
    where = f" ({answer.place})" if answer.place else ""
    return Finding(
        f"house-{line.key}",
        cast(Grade, line.grade),
        line.bad,
        f"{line.words[:1].upper()}{line.words[1:]}{where}: {answer.because}.",
        ((WORD, line.key),),
        _clause(line),
        do_now=(line.do_now,) if line.do_now else (),
        do_next=(line.do_next,),
        cautions=(line.caution,) if line.caution else (),
    )


def _old(line: HouseLine, answer: Answer, year: int) -> Finding | None:
    """An alarm past its years."""
    if answer.made is None or year - answer.made <= OLDEST_ALARM or answer.answer == "bad":
        return None
    return Finding(
        "house-alarm-old",
        "advise",
        f"A carbon monoxide alarm is {year - answer.made} years old.",
        f"Made {answer.made}, {answer.place or 'place not said'}. Its cell wears out, by common practice within "
        f"{OLDEST_ALARM} years; the date on it decides. A button tries the horn and not the cell.",
        ((WORD, line.key),),
        PRACTICE,
        do_next=("replace it",),
    )


def _open(code: str, lead: str, lines: Sequence[str], do: str) -> list[Finding]:
    if not lines:
        return []
    body = "; ".join(lines)
    return [Finding(code, "open", lead, f"{body[:1].upper()}{body[1:]}.", (), PRACTICE, do_next=(do,))]


@dataclass(frozen=True, slots=True)
class House:
    """The lines about the house that were answered."""

    answers: tuple[Answer, ...]

    @property
    def late(self) -> bool:
        """It waits, because a line that another part of the job asks is not missed here."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """Every line that belongs to the class with its answer, and what nobody looked at."""
        account = so_far.account
        of_class = account.appliance.of_class
        elsewhere = {part.place for part in so_far.parts.values()} | set(so_far.parts)
        asked = [each for each in (of_class.house if of_class else ()) if each.once_by not in elsewhere]
        known = load.house()
        told = [(known[answer.line], answer) for answer in self.answers]
        done = {answer.line for answer in self.answers}
        missing = [each for each in asked if each.key not in done]
        unreached = [f"{line.words}, because {a.because}" for line, a in told if a.answer == "not reachable"]
        findings = [_bad(line, answer) for line, answer in told if answer.answer == "bad"]
        findings += [old for line, answer in told if (old := _old(line, answer, account.day.year)) is not None]
        duties = [each.words for each in missing if each.group == "appliance"]
        rest = [each.words for each in missing if each.group == "house"]
        findings += _open("duties-open", "Before hand-over, this kind of appliance asks more.", duties,
                          "look at each, and write down what was seen")  # fmt: skip
        findings += _open("house-open", "Not every line about the house was looked at.", rest,
                          "look at each, or write down why it cannot be reached")  # fmt: skip
        findings += _open("house-unreached", "Some lines about the house could not be reached.", unreached,
                          "come back when they can be reached")  # fmt: skip
        statements = [_statement(line, answer) for line, answer in told]
        if missing:
            words = "; ".join(each.words for each in missing)
            statements.append(Statement((f"not looked at: {words}.",), mark="unknown"))
        return Part(WORD, "The house around it", "proofs", tuple(statements), {}, tuple(findings),
                    data={"open": [each.key for each in missing]})  # fmt: skip
