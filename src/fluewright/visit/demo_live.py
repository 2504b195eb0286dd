"""A live demonstration: a visit to an invented boiler that burns while it is adjusted, and what is turned at it."""

from typing import TYPE_CHECKING, Any

from fluewright.errors import NotAllowed
from fluewright.live.turned import BOILER, FAN, LEVERS
from fluewright.visit import kept, while_live

if TYPE_CHECKING:
    from fluewright.live.watching import Watching
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

TITLE = "A live boiler to adjust (invented)"

DOOR: dict[str, dict[str, Any]] = {
    "visit": {"title": TITLE, "jurisdiction": "US", "units": "us", "technician": "T. Placeholder (invented)",
              "invented": True},
    "appliance": {"words": BOILER, "class": "natural-draft-boiler"},
    "fuel": {"name": "natural-gas"},
    "instrument": {"words": "virtual instrument", "accuracy": "service"},
}  # fmt: skip

WORDS = {
    "shutter": ("air shutter closed a little", "air shutter opened a little"),
    "setting": ("gas pressure lowered a little", "gas pressure raised a little"),
    "exhaust": ("fan off", "fan on"),
}


def visit_of(journal: "Journal") -> str:
    """The visit of this day that the live boiler is adjusted on; begun where there is none that is still open.

    journal  for practice
    -> its id
    """
    day = journal.now().date().isoformat()
    for read in reversed(list(journal.of_kind("visit"))):
        same = read.body.get("title") == TITLE and read.body.get("day") == day
        if same and not while_live.sealed(journal, read.entry.id):
            return read.entry.id
    tables: dict[str, Any] = {**DOOR, "visit": {**DOOR["visit"], "date": day}}
    return kept.begun(journal, tables).id


def levers(watching: "Watching") -> list[dict[str, Any]]:
    """What can be turned, and how it stands."""
    if watching.house is None:
        return []
    stand = watching.house.settings()
    found = []
    for lever in LEVERS:
        on = stand[lever.name] > 0.0
        less, more = WORDS[lever.name]
        fan = lever.name == "exhaust"
        ways = [(0 if on else 1, f"{lever.words} {'off' if on else 'on'}")] if fan else [(-1, less), (1, more)]
        stands = ("on" if on else "off") if fan else f"{lever.words} at {100.0 * stand[lever.name]:.0f} % of right"
        found.append({"name": lever.name, "ways": ways, "stands": stands})
    return found


def turned(
    journal: "Journal", visit: str, watching: "Watching", turn: str, *, appliance: str, form: str
) -> "tuple[Entry, ...]":
    """One lever turned by one step, and kept as what a person does: a step of the visit, or a fan that was switched.

    turn  name and way, as the page sends it: shutter:-1
    -> the entries; NotAllowed where there is no such lever, as with real instruments
    """
    name, _, way = turn.partition(":")
    lever = next((each for each in LEVERS if each.name == name), None)
    if watching.house is None or lever is None or way not in ("-1", "0", "1"):
        raise NotAllowed(
            code="FW-N-114",
            read=f"{turn[:60]!r} to be turned from a page",
            expected="a lever of the invented boiler of a live demonstration",
            matters="what stands at a real appliance is turned by a hand, and the page only marks it",
            do="turn it there, and mark the step here; nothing was kept",
        )
    step = int(way)
    now = watching.house.settings()[name]
    to = FAN * max(step, 0) if name == "exhaust" else now + step * lever.step
    entries = while_live.mark(
        journal, visit, watching, appliance=appliance, word=WORDS[name][1 if step > 0 else 0], form=form
    )
    watching.house.turn({name: to})
    return entries
