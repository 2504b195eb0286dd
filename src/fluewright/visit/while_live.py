"""What is done with a live source while a visit is worked: a stretch kept, a step or a fan marked, a stop seen."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, get_args

from fluewright.errors import UseError
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Happening
from fluewright.live.event import Event
from fluewright.live.foretold import Got, beside
from fluewright.live.kept import Window
from fluewright.quantity import show
from fluewright.record.fold import Current
from fluewright.visit import adding, changing, kept, once, streaming
from fluewright.visit.shorthand import Said

if TYPE_CHECKING:
    from fluewright.live.watching import Watching
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

MARKS = ("fan on", "fan off", "blower on", "blower off", "door shut", "door open", "lit", "off", "other lit")
"""What is marked by one tap."""

THEN = ("oxygen_then", "made_then", "flue_then")
"""Results of a step worked out before it is made (tune/foreseen.py)."""

AROUND = 0.5
"""s around the rows of a window, each of which stands for one second of samples."""


@dataclass(frozen=True, slots=True)
class KeptNow:
    """A stretch that was kept while it was watched.

    entries  on the disk
    window   its means, each with its doubt, and the kinds of steady that it had
    """

    entries: "tuple[Entry, ...]"
    window: Window


def nothing_to_keep() -> UseError:
    """Keeping was asked for before anything had come."""
    return UseError(
        code="FW-U-205",
        read="a stretch to be kept, without two rows of readings in it",
        expected="an instrument that is heard, for some seconds at least",
        matters="a stretch without readings would stand for a condition that nobody saw",
        do="see below which channel is silent since when, and keep it once readings come; nothing was kept",
    )


def not_listening() -> UseError:
    """Something live was asked of a server that listens to nothing."""
    return UseError(
        code="FW-U-206",
        read="something live, asked of a server that listens to no source",
        expected="a server begun with --listen MAPPING, or --demo --live",
        matters="without a source there is nothing to keep, to mark or to turn",
        do="start the server of the shop's machine so, or type the readings on the sheet; nothing was kept",
    )


def keep(journal: "Journal", visit: str, watching: "Watching", *, appliance: str, word: str, form: str) -> KeptNow:
    """The window of an appliance, as it stands, taken into a visit; each of its sources becomes a stretch.

    journal    where both are kept
    visit      its id
    watching   what is watched
    appliance  word of the appliance
    word       of the stretch: as found, as left
    form       id under which it was sent: the same sent twice is kept once
    -> KeptNow; UseError where there is nothing to keep, VisitError or Problems when it cannot be
    """
    window = watching.keep(appliance)
    if window is None or not window.kept:
        raise nothing_to_keep()
    start, end = (
        datetime.fromtimestamp(at, UTC).astimezone() for at in (window.start - AROUND, window.end + 1.0 + AROUND)
    )
    sources = tuple(dict.fromkeys(one.channel.source for one in window.kept))
    entries: list[Entry] = []
    for number, source in enumerate(sources):
        said = word if number == 0 else f"{word}, {source}"
        asked = streaming.While(source, start, end, said)
        entries += streaming.taken(journal, visit, asked, form=once.derived(form, source))
    return KeptNow(tuple(entries), window)


def mark(
    journal: "Journal", visit: str, watching: "Watching", *, appliance: str, word: str, form: str
) -> "tuple[Entry, ...]":
    """Something that was done, kept in the visit and told to the watch, so that what follows is held against it."""
    what, _, note = word.partition(": ")
    step = what not in MARKS
    entries: tuple[Entry, ...]
    if step:
        entries = (changing.stepped(journal, visit, word, form=form),)
    elif what in get_args(Happening):
        now = journal.now().strftime("%H:%M")
        said = Said(kind="event", fields=(("word", what), ("time", now)))
        entries = adding.taken(journal, visit, said, form=form).entries
    else:
        entries = adding.taken(journal, visit, Said(kind="note", fields=(("word", word),)), form=form).entries
    watching.mark("step" if step else what, appliance=appliance if step else "", note=word if step else note)
    return tuple(entries)


def saw(journal: "Journal", visit: str, watching: "Watching", number: int) -> "tuple[Entry, ...]":
    """A stop that somebody has seen: that it was said, and when it was seen, stays on the sheet as a remark."""
    event = watching.stop(number)
    if event is None:
        return ()
    told = datetime.fromtimestamp(event.told, UTC).astimezone()
    lead = " ".join(event.lead.split())  # the thin spaces of units are no part of what is kept
    word = f"said while watching at {told:%H:%M:%S}, and seen: {lead}"
    form = once.derived(visit, f"stop {event.told:.3f} {event.lead}")
    entries = adding.taken(journal, visit, Said(kind="note", fields=(("word", word),)), form=form).entries
    watching.see(number)
    return tuple(entries)


def foreseen(parts: Sequence[Part]) -> dict[str, tuple[float, float]]:
    """What the step worked out last should come to: figure and standard uncertainty by registry name."""
    found: dict[str, tuple[float, float]] = {}
    for part in parts:
        own = [part.results[key] for key in THEN if key in part.results]
        if own:
            found = {one.name: (one.value, one.spread) for one in own if one.value is not None}
    return found


def after_step(
    watching: "Watching",
    frame: Mapping[str, Any],
    appliance: str,
    then: Mapping[str, tuple[float, float]],
    system: show.System,
) -> tuple[Sequence[Got], str]:
    """What came of the last step, beside what was foreseen for it.

    -> each quantity, and what is still waited for; nothing at all where no step was made or nothing was foreseen
    """
    steps = [each["at"] for each in frame["marks"] if each["word"] == "step"]
    if not then or not steps:
        return (), ""
    settled = next((each for each in frame["steady"].get(appliance, ()) if each["kind"] == "instrument settled"), None)
    if settled is None or not settled["holds"] or settled["since"] is None or settled["since"] < steps[-1]:
        missing = settled["missing"] if settled is not None and not settled["holds"] else ""
        return (), f"What came of the step is told when the instrument has settled{': ' + missing if missing else ''}."
    window = watching.keep(appliance)
    return (beside(then, window, system=system) if window is not None else ()), ""


def next_word(entries: Sequence[Current]) -> str:
    """What a stretch kept now would stand for: as found before any step, as left after one."""
    stepped = any(each.counts and each.read.entry.kind == "step" for each in entries)
    return adding.AFTER_STEP if stepped else adding.FIRST


def sealed(journal: "Journal", visit: str) -> bool:
    """Whether a visit takes nothing more."""
    return any(each.read.entry.kind == "seal" for each in kept.entries_of(journal, visit))


def order_of(event: Event) -> str:
    """The first words of a stop."""
    return "Stop. Everybody out now, you too." if event.people_out else "Stop."
