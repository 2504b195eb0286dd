"""The page for the customer: four questions answered in plain words, and what to do if an alarm sounds."""

from collections.abc import Sequence

from fluewright.evidence.finding import Judged
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Account, Stretch

Told = Sequence[tuple[Stretch, Worked | None]]


def _carbon_monoxide(told: Told) -> list[float]:
    found = [w.results["carbon_monoxide_air_free"].value for _, w in told if w is not None]
    return [value * 1e6 for value in found if value is not None]


def _what_was_found(told: Told, judged: Judged) -> list[str]:
    grave = [f for f in judged.findings if f.grade in ("stop", "act", "advise", "cured")]
    if not told:
        return ["Nothing was measured."]
    first = told[0][0].word
    early = [f.lead for f in grave if f.evidence and f.evidence[0][0] == first]
    if early:
        return [" ".join(early)]
    if not grave:
        return ["The flame was tested in the flue. Nothing that was measured there has to be put right today."]
    return [" ".join(f.lead for f in grave)]


def _what_changed(account: Account, told: Told) -> list[str]:
    words = [f"{step.word[:1].upper()}{step.word[1:]}." for step in account.steps]
    words += [f"{done[:1].upper()}{done[1:]}{'' if done.endswith('.') else '.'}" for done in account.done]
    monoxide = _carbon_monoxide(told)
    if len(monoxide) > 1 and monoxide[0] > 0.0:
        ratio = monoxide[-1] / monoxide[0]
        if ratio < 0.7:
            words.append(
                f"Carbon monoxide in the flue, free of air, went from {monoxide[0]:.0f} to {monoxide[-1]:.0f} "
                f"parts in a million."
            )
        elif ratio > 1.3:
            words.append(
                f"Carbon monoxide in the flue, free of air, rose from {monoxide[0]:.0f} to {monoxide[-1]:.0f} "
                f"parts in a million."
            )
    return [" ".join(words)] if words else ["Nothing was adjusted."]


def _what_is_left(account: Account, told: Told, judged: Judged) -> list[str]:
    last = told[-1][0].word if told else ""
    left = [
        f"{f.lead} {' '.join(f'{w[:1].upper()}{w[1:]}.' for w in (*f.do_now, *f.do_next))}".strip()
        for f in judged.findings
        if f.grade in ("stop", "act", "advise") and (not f.evidence or f.evidence[0][0] == last)
    ]
    left += [f"{word[:1].upper()}{word[1:]}{'' if word.endswith('.') else '.'}" for word in account.next]
    return left or ["Nobody has to act today."]


def _what_it_did_not_buy(told: Told) -> list[str]:
    gains = [w.results["efficiency_gross"].value for _, w in told if w is not None]
    values = [value * 100.0 for value in gains if value is not None]
    closing = "One test says nothing about a year, so no yearly sum is printed."
    if len(values) < 2:
        return [f"A promise for the year. {closing}"]
    change = values[-1] - values[0]
    if abs(change) < 0.5:
        return [
            f"Much fuel. About {values[-1]:.0f} in a hundred of the fuel's heat stayed in the house before and "
            f"after. {closing}"
        ]
    return [
        f"A promise for the year. At the moment of testing {values[0]:.1f} of each hundred parts of heat stayed "
        f"before, "
        f"and {values[-1]:.1f} after. {closing}"
    ]


def customer(account: Account, told: Told, judged: Judged) -> dict[str, list[str]]:
    """Headings in order with their paragraphs; on a day of danger there is no word of efficiency."""
    page = {"What was found": _what_was_found(told, judged)}
    danger = any(f.grade == "stop" for f in judged.findings)
    page["What changed"] = _what_changed(account, told)
    page["What is left, and who must act"] = _what_is_left(account, told, judged)
    if not danger:
        page["What this did not buy"] = _what_it_did_not_buy(told)
    page["If an alarm sounds, or heads ache indoors and clear outdoors"] = [
        f"Everybody out, doors left open. From outside call {account.emergency}, then {account.supplier}. "
        "Tell the doctor “carbon monoxide”, even if you feel better."
    ]
    return page
