"""Letters to customers whose verdict is in doubt since a calibration: drafted, one for each, and sent by nobody.

Care comes first, then what happened and what may no longer be so, then what we do. The words are those of a house, not
of a workshop; the limits stand behind them as they are on the sheet.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.evidence.corrected import Change
from fluewright.evidence.limits import CAUTION
from fluewright.evidence.reading import EMERGENCY, SUPPLIER
from fluewright.report.pen import day_words
from fluewright.visit import keep, kept
from fluewright.visit.reverse import Flip, Found, Traced

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

CELLS = {"carbon_monoxide": "carbon monoxide", "oxygen": "oxygen"}
DECIDES = (
    "The maker's instructions, the local code and the licensed person decide. This letter is no permission to operate."
)
OFF = "Turn {appliance} off and leave it off until one of us has been there."
ALARM = "A carbon monoxide alarm that works belongs near the beds, whatever burns in the house."
CALL = (
    "From outdoors call {emergency}, then {supplier}. Whoever feels ill needs medical care, even if it gets better "
    "outdoors."
)

STYLE = (
    "body{font:1.1rem/1.5 Georgia,serif;max-width:38em;margin:2em auto;padding:0 1em;color:#111;background:#fff}"
    ".care{border-left:.4em solid #111;padding-left:1em;font-weight:bold}.small{font-size:.9rem}"
)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph: its sentences, and whether it is about what could hurt somebody, or a list, or small print."""

    sentences: tuple[str, ...]
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Letter:
    """One draft.

    name        of its files, without their ending
    to          to whom: name and place, lines
    visits      ids that it is about, the worst first
    paragraphs  in order, care first
    """

    name: str
    to: tuple[str, ...]
    visits: tuple[str, ...]
    paragraphs: tuple[Paragraph, ...]

    def text(self) -> str:
        """As plain text, 78 columns."""
        from textwrap import wrap

        blocks = ["\n".join(self.to)] if self.to else []
        for one in self.paragraphs:
            bullet = ("  - ", "    ") if one.kind in ("care", "list") else ("", "")
            items = one.sentences if bullet[0] else (" ".join(one.sentences),)
            rows = [row for item in items for row in wrap(item, 78, initial_indent=bullet[0],
                                                          subsequent_indent=bullet[1])]  # fmt: skip
            blocks.append("\n".join(rows))
        return "\n\n".join(blocks) + "\n"

    def html(self) -> str:
        """As one page without script, network or picture."""
        head = f"<p>{'<br>'.join(escape(each) for each in self.to)}</p>" if self.to else ""
        body = "".join(_as_html(one) for one in self.paragraphs)
        title = escape(", ".join(self.to) or "A letter")
        return (
            f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
            f"<style>{STYLE}</style></head><body>{head}{body}</body></html>\n"
        )


def _as_html(one: Paragraph) -> str:
    if one.kind in ("care", "list"):
        items = "".join(f"<li>{escape(each)}</li>" for each in one.sentences)
        return f'<ul class="{one.kind}">{items}</ul>'
    mark = f' class="{one.kind}"' if one.kind else ""
    return f"<p{mark}>{escape(' '.join(one.sentences))}</p>"


@dataclass(frozen=True, slots=True)
class _Visit:
    """One visit in doubt with what its entries say of it."""

    flip: Flip
    body: Mapping[str, Any]
    appliance: str

    @property
    def whom(self) -> tuple[str, ...]:
        """Name and place, as far as they are known."""
        return tuple(str(self.body[key]) for key in ("customer_name", "site_words") if self.body.get(key))


def drafted(journal: "Journal", traced: Traced, *, revisit: str = "") -> tuple[Letter, ...]:
    """A letter for each customer whose visits are in doubt, the worst first.

    journal  where the visits are kept; nothing is entered
    traced   what the look back came to
    revisit  day by which somebody goes there again; empty where nobody has said
    -> letters
    """
    groups: dict[str, list[_Visit]] = {}
    for flip in traced.flips:
        one = _visit(journal, flip)
        groups.setdefault(str(one.body.get("customer", "")) or ", ".join(one.whom) or flip.visit, []).append(one)
    return tuple(_letter(number, each, traced.found, revisit) for number, each in enumerate(groups.values(), start=1))


def _visit(journal: "Journal", flip: Flip) -> _Visit:
    entries = [each for each in kept.entries_of(journal, flip.visit) if each.counts]
    body = next(each.body for each in entries if each.read.entry.id == flip.visit)
    tables = (each.body for each in entries if each.read.entry.kind == "line" and each.body["table"] == "appliance")
    words = next((str(each["typed"]["words"]) for each in tables if each["typed"].get("words")), "appliance")
    return _Visit(flip, body, words)


def _letter(number: int, visits: Sequence[_Visit], found: Found, revisit: str) -> Letter:
    first = visits[0]
    paragraphs = [
        Paragraph(_care(visits), "care"),
        Paragraph((*_happened(visits, found),)),
        *(each for one in visits for each in _of_visit(one)),
        Paragraph(_next(revisit)),
        Paragraph((_kept_as(visits), DECIDES), "small"),
    ]
    name = f"{number:02d}-{first.flip.visit[-8:]}"
    return Letter(name, first.whom, tuple(one.flip.visit for one in visits), tuple(paragraphs))


def _care(visits: Sequence[_Visit]) -> tuple[str, ...]:
    """What to mind until somebody has read it again; leaving it off where a verdict may be that grave."""
    off = [one.appliance for one in visits if any(each.grade in ("stop", "act") for each in one.flip.changes)]
    body = visits[0].body
    call = CALL.format(emergency=body.get("emergency") or EMERGENCY, supplier=body.get("supplier") or SUPPLIER)
    return (*(OFF.format(appliance=f"the {words}") for words in dict.fromkeys(off)), *CAUTION, call, ALARM)


def _happened(visits: Sequence[_Visit], found: Found) -> tuple[str, ...]:
    days = _and([day_words(date.fromisoformat(one.flip.day)) for one in visits])
    back = day_words(date.fromisoformat(found.day))
    since = f" Until {day_words(date.fromisoformat(found.since))} it was in order." if found.since else ""
    return (
        f"On {days} we read with an instrument that was tried on known gas on {back}: {_showed(found)}.{since} When "
        "that began nobody knows.",
        "So we judged our readings again as if it had been so the whole time. This may no longer be as we told you:",
    )


def _showed(found: Found) -> str:
    said = []
    for cell, share in found.errors.items():
        side = "too little" if share < 0.0 else "too much"
        said.append(f"it showed {abs(share) * 100:.0f} parts in 100 {side} {CELLS.get(cell, cell.replace('_', ' '))}")
    return _and(said)


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _of_visit(one: _Visit) -> tuple[Paragraph, ...]:
    day = day_words(date.fromisoformat(one.flip.day))
    said = tuple(dict.fromkeys(_house_words(each) for each in one.flip.changes))
    behind = tuple(dict.fromkeys(each.after or each.before for each in one.flip.changes))
    return (
        Paragraph((f"{one.appliance[:1].upper()}{one.appliance[1:]}, {day}:",)),
        Paragraph(said, "list"),
        Paragraph(("In the words of the trade:", *behind), "small"),
    )


AS_GRADED = {
    "stop": "may be so far beyond what it may be that nothing may run like this.",
    "act": "may be beyond what it may be. It has to be mended, or stay off.",
    "advise": "may not be what it should be, and should be put right soon.",
    "open": "may be inside its limit or beyond it. From what was read nobody can say which.",
}
BETTER = "was told to be beyond its limit, and may be inside it. Until it is read again nothing changes."


def _house_words(change: Change) -> str:
    """One change as somebody at home would say it."""
    words = f"{change.after} {change.before}".lower()
    subject = "What we told you"
    if "carbon monoxide" in words or "ppm" in words:
        room = "room" in change.word or "room" in change.code or "room" in words
        subject = f"The carbon monoxide {'in the air of your rooms' if room else 'that the flame makes'}"
    elif "oxygen" in words or "air" in words:
        subject = "The air that the flame gets"
    return f"{subject} {AS_GRADED.get(change.grade, BETTER) if change.after else BETTER}"


def _next(revisit: str) -> tuple[str, ...]:
    when = f"by {day_words(date.fromisoformat(revisit))}" if revisit else "as soon as you can let us in"
    return (
        f"We want to read it again {when}, with an instrument that is in order.",
        "What we wrote down and signed on that day stays as it was.",
    )


def _kept_as(visits: Sequence[_Visit]) -> str:
    ids = _and([one.flip.visit for one in visits])
    return f"Kept as visit{'s' if len(visits) > 1 else ''} {ids}."


def written(letters: Sequence[Letter], folder: Path) -> tuple[Path, ...]:
    """Letters as files, text and page of each; all of them or none, and none over a file that is there.

    folder  made if need be
    -> the files; UseError when one is in the way
    """
    folder.mkdir(parents=True, exist_ok=True)
    contents = [(folder / f"{one.name}.txt", one.text().encode()) for one in letters]
    contents += [(folder / f"{one.name}.html", one.html().encode()) for one in letters]
    keep.free([path for path, _ in contents])
    keep.write_all(contents)
    return tuple(path for path, _ in contents)
