"""The page for the customer: what was found, what changed, who must act, in words of the house."""

from collections.abc import Sequence

from fluewright.evidence.finding import Judged
from fluewright.evidence.monoxide import read_in_room
from fluewright.evidence.part import Part, Topic
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.report import plain
from fluewright.report.plain import Told

PROMISE = "A promise for the year."
NO_YEAR = "One test says nothing about a year, so no yearly sum is printed."


def _listed(words: Sequence[str]) -> str:
    """Things in a row with "and" before the last."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _capital(text: str) -> str:
    ended = text if text.endswith((".", "!", "?")) else f"{text}."
    return f"{ended[:1].upper()}{ended[1:]}"


def carbon_monoxide_read(told: Told) -> bool:
    """Whether carbon monoxide was read in flue gas of the flame."""
    return any(plain.told_result(told, stretch.word, "carbon_monoxide_air_free") for stretch, _ in told)


def cleared(told: Told, judged: Judged) -> bool:
    """Whether the test may be called good: carbon monoxide read, something within its limit, nothing open or grave."""
    grades = {finding.grade for finding in judged.findings}
    return carbon_monoxide_read(told) and "fine" in grades and not grades & {"stop", "act", "advise", "open"}


def answered_by(parts: Sequence[Part]) -> frozenset[Topic]:
    """What the parts settle of all that the flue side leaves open."""
    return frozenset(topic for part in parts for topic in part.answers)


def not_tested(told: Told, answers: frozenset[Topic] = frozenset()) -> str:
    """What this visit did not test, as a sentence; answers: what was tested beside the flame."""
    read = {name for stretch, _ in told for name in stretch.readings}
    left = [] if carbon_monoxide_read(told) else ["the carbon monoxide that the flame makes"]
    in_room = "room air" in answers or any(read_in_room(stretch) for stretch, _ in told)
    left += [] if in_room else ["carbon monoxide in the air of your rooms"]
    left += [] if "venting" in answers or "draft" in read else ["whether the flue draws well with every fan running"]
    return f"Not tested: {_listed([*left, 'cracks inside the appliance'])}."


def _what_was_found(account: Account, told: Told, judged: Judged, parts: Sequence[Part]) -> list[str]:
    danger = any(finding.grade == "stop" for finding in judged.findings)
    told_of = ("stop", "act") if danger else ("stop", "act", "advise", "cured")
    chosen = plain.breathed_first([finding for finding in judged.findings if finding.grade in told_of])
    said = dict.fromkeys(plain.sentence(finding, told, account) for finding in chosen)
    if danger:
        return [" ".join(said)]
    if not told and not parts:
        return ["Nothing was measured."]
    answers = answered_by(parts)
    if said:
        return [" ".join(said), not_tested(told, answers)]
    if cleared(told, judged):
        tested = "The flame was tested in the flue. Nothing that was measured there has to be put right today."
        return [tested, not_tested(told, answers)]
    unsure = "Nothing that was measured asks for a repair, but this test does not show that all is well."
    return [unsure, not_tested(told, answers)]


def before_and_after(told: Told) -> tuple[Stretch, Stretch] | None:
    """The two moments that may be compared: as found and as left, never two rates."""
    words = {stretch.word.lower(): stretch for stretch, _ in told}
    pair = words.get("as found"), words.get("as left")
    return (pair[0], pair[1]) if pair[0] is not None and pair[1] is not None else None


def _monoxide_change(account: Account, told: Told) -> str:
    """From how much to how much carbon monoxide, when the difference is larger than its doubt."""
    pair = before_and_after(told)
    if pair is None:
        return ""
    name = "carbon_monoxide_air_free"
    one, two = (plain.told_result(told, stretch.word, name) for stretch in pair)
    if one is None or two is None or one.value is None or two.value is None or one.bound or two.bound:
        return ""
    if abs(one.value - two.value) < 2.0 * (one.spread**2 + two.spread**2) ** 0.5:
        return ""
    first, second = (plain.about(told, stretch.word, name, account) for stretch in pair)
    way = "fell" if two.value < one.value else "rose"
    return f"Carbon monoxide in the flue gas {way} from {first} to {second} parts in a million."


def _turned(parts: Sequence[Part]) -> str:
    """That a burner was set, where its turns stand on the sheet and not among the steps."""
    turns = sum(int(str(part.data.get("steps", 0))) for part in parts if part.place == "adjusting")
    return f"The burner was set in {turns} step{'' if turns == 1 else 's'}." if turns else ""


def _what_changed(account: Account, told: Told, judged: Judged, parts: Sequence[Part]) -> list[str]:
    words = [_capital(step.word) for step in account.steps] + [_capital(done) for done in account.done]
    words.append("" if account.steps else _turned(parts))
    cured = {f.evidence[0][1] for f in judged.findings if f.grade == "cured" and f.evidence}
    if not cured.intersection(plain.CARBON_MONOXIDE):
        words.append(_monoxide_change(account, told))
    said = [word for word in words if word]
    return [" ".join(said)] if said else ["Nothing was adjusted."]


OPEN_DANGER = "The danger at the head of this page is not over. Leave the appliance off until somebody says that it is."


def _what_is_left(account: Account, told: Told, judged: Judged) -> list[str]:
    we, you = plain.tasks(judged)
    paragraphs = [f"You: {'; '.join(you)}."] if you else []
    paragraphs += [f"We: {'; '.join(we)}."] if we else []
    paragraphs += [f"Noted for later: {' '.join(map(_capital, account.next))}"] if account.next else []
    if account.notices:
        return [OPEN_DANGER, *paragraphs]
    if we or you or plain.uncured(judged):
        return paragraphs
    if cleared(told, judged):
        return [*paragraphs, "Nobody has to act today."]
    return [*paragraphs, "We found nothing that somebody has to do today. What was not tested stays open."]


def _share(result: Result | None) -> str:
    """How much of each hundred parts of heat was used, as a band where only that is known."""
    if result is None or result.value is None:
        return ""
    low = result.value if result.low is None else result.low
    high = result.value if result.high is None else result.high
    small, large = round(low * 100.0), round(high * 100.0)
    if small != large:
        return f"between {small} and {large}"
    return f"{result.bound or 'about'} {small}"


def _what_it_did_not_buy(account: Account, told: Told) -> list[str]:
    shares = [
        (stretch.word, share)
        for stretch, worked in told
        if (share := _share(plain.told_result(told, stretch.word, "efficiency_gross")))
    ]
    promise = f"{PROMISE} {NO_YEAR}"
    if not shares:
        return [promise]
    where = f"of each 100 parts of the fuel's heat went into the {account.appliance.carrier}"
    pair = before_and_after(told)
    both = dict(shares)
    if pair is not None and pair[0].word in both and pair[1].word in both:
        first, second = both[pair[0].word], both[pair[1].word]
        if first == second:
            return [f"Much fuel. At the moment of testing {first} {where}, before and after. {NO_YEAR}"]
        return [f"{PROMISE} At the moment of testing {first} {where} before, and {second} after. {NO_YEAR}"]
    if len(shares) == 1:
        return [f"{PROMISE} At the moment of testing {shares[0][1]} {where}. {NO_YEAR}"]
    rates = ", ".join(f"{share} {plain.moment(word)}" for word, share in shares)
    return [
        f"{PROMISE} When it was tested, so much {where}: {rates}. These are different ways of running, not before and "
        f"after. {NO_YEAR}"
    ]


def customer(account: Account, told: Told, judged: Judged, parts: Sequence[Part] = ()) -> dict[str, list[str]]:
    """Headings in order with their paragraphs; on a day of danger it is short and has no word of efficiency."""
    danger = bool(account.notices) or any(finding.grade == "stop" for finding in judged.findings)
    page = {"What was found": _what_was_found(account, told, judged, parts)}
    if not danger or account.steps or account.done:
        page["What changed"] = _what_changed(account, told, judged, parts)
    page["What is left, and who must act"] = _what_is_left(account, told, judged)
    if not danger:
        page["What this did not buy"] = _what_it_did_not_buy(account, told)
    page["If an alarm sounds, or heads ache indoors and clear outdoors"] = [
        f"Everybody out, doors left open. From outside call {account.emergency}, then {account.supplier}. "
        "Tell the doctor “carbon monoxide”, even if you feel better."
    ]
    return page
