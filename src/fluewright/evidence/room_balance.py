"""A room as a vessel: the source behind a rise, the air changes behind a decay, and where it is heading."""

from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.evidence import moving
from fluewright.evidence.doubt import Origin
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import CAUTION, CERTAIN, all_answered, canonical, in_words, rules_for, seen
from fluewright.evidence.monoxide import as_read, speaking
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.evidence.trust import beyond
from fluewright.kernel import ops, room
from fluewright.kernel.ops import Number
from fluewright.quantity import show

MIXED = "one room, well mixed; source, air changes and outdoor air stay as they were"
BALANCE = "mass balance of a well-mixed room"
PER_HOUR = 3600.0
SOURCE, AIR_CHANGES = "source in the room", "air changes"
"""By which evidence refers to the two parts."""
WHY_DOUBT = "These readings were taken to reckon with while the room changed, and nobody was asked how they feel"
"""Why they alarm and clear nothing."""
LEVELS = ("advise", "stop")
"""Grades of the room's limits whose levels are asked for a time."""


def _need(reading: Reading, words: str) -> float:
    """The figure of a reading that a formula cannot do without."""
    if reading.figure is not None:
        return reading.figure
    raise PhysicsRefused(
        code="FW-K-020",
        read=f"{words}: {reading.typed.text}",
        expected="a figure, a range or a bound",
        matters="a word alone gives a balance nothing to reckon with",
        do="read it again, and type what the display showed",
    )


def _need_time(duration: Reading) -> None:
    if (duration.figure or 0.0) > 0.0:
        return
    raise PhysicsRefused(
        code="FW-K-021",
        read=f"{duration.typed.text} between the two readings",
        expected="some minutes",
        matters="a change needs time; without it any source and any air change would fit",
        do="type the time between the readings, such as 30 min",
    )


@dataclass(frozen=True, slots=True)
class DecayGiven:
    """A room that cleared with everything off: two readings some time apart.

    first, later  of the room
    duration      between them
    outdoor       of the air that comes in, None when not read
    """

    first: Reading
    later: Reading
    duration: Reading
    outdoor: Reading | None = None

    def __post_init__(self) -> None:
        """Refuse what no clearing room can show."""
        _need_time(self.duration)
        first, later = _need(self.first, "first reading"), _need(self.later, "later reading")
        outdoor = 0.0 if self.outdoor is None else _need(self.outdoor, "outdoor reading")
        if first > later > outdoor:
            return
        raise PhysicsRefused(
            code="FW-K-022",
            read=f"{self.first.typed.text}, then {self.later.typed.text}, outdoors {outdoor * 1e6:g} ppm",
            expected="a room that falls and still stands above outdoors",
            matters="air changes are found from how fast the room nears the air outdoors",
            do="put the highest reading to fluewright room first, which says whether people may stay; then turn "
            "everything off that makes carbon monoxide, and read twice while the room still shows some",
        )

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    def air_changes(self, reckon: Reckoning) -> Number:
        """Air changes with their doubt, 1/s."""
        return room.air_changes_from_decay(
            fraction=reckon.read(self.first, words="first reading"),
            later_fraction=reckon.read(self.later, words="later reading"),
            duration=reckon.read(self.duration, words="time between", spread=0.0),
            outdoor_fraction=_outdoor(self.outdoor, reckon),
        )

    def result(self, reckon: Reckoning) -> Result:
        """Air changes as a result."""
        number = self.air_changes(reckon)
        found = float(ops.value_of(number)) * PER_HOUR
        hours = (self.duration.figure or 0.0) / PER_HOUR
        one, two = ((reading.figure or 0.0) * 1e6 for reading in (self.first, self.later))
        out = _plain(self.outdoor) * 1e6
        return reckon.result(
            "air_changes",
            number,
            formula="ln((first - outdoor) / (later - outdoor)) / time",
            substitution=f"ln(({one:.4g} - {out:.4g}) / ({two:.4g} - {out:.4g})) / {hours:.3g} h = {found:.3g} an hour",
            source=BALANCE,
            holds=f"{MIXED}; nothing made carbon monoxide between the readings",
        )

    def worked(self, so_far: SoFar) -> Part:
        """Air changes of the room, and what it held against the limits of a room."""
        reckon = Reckoning(so_far.account)
        pieces = _pieces(self.first, self.later, self.duration, self.outdoor)
        return Part(
            AIR_CHANGES,
            "How fast the room clears",
            "room",
            (Statement(pieces), Statement(("the room changes its air at ", Derived("air_changes"), "."), "derived")),
            {"air_changes": self.result(reckon)},
            tuple(_level({"first": self.first, "later": self.later}, AIR_CHANGES, so_far.account)),
            cannot_tell=("Air changes on another day: wind, cold and open doors move them severalfold.",),
        )


def _plain(reading: Reading | None) -> float:
    return 0.0 if reading is None else reading.figure or 0.0


def _outdoor(reading: Reading | None, reckon: Reckoning) -> Number:
    if reading is None:
        source = "assumed: clean air outdoors, 0 to 1 ppm (common practice, no source)"
        return reckon.assumed("carbon_monoxide_outdoor", 0.0, 0.5e-6, source=source)
    return reckon.read(reading, words="carbon monoxide outdoors")


def _pieces(first: Reading, later: Reading, duration: Reading, outdoor: Reading | None) -> tuple[Piece, ...]:
    out: tuple[Piece, ...] = () if outdoor is None else ("; outdoors ", Seen("outdoor", outdoor))
    return ("the room went from ", Seen("first", first), " to ", Seen("later", later), " in ",
            Seen("duration", duration), *out, ".")  # fmt: skip


@dataclass(frozen=True, slots=True)
class RiseGiven:
    """A room whose carbon monoxide rose while something ran.

    first, later  of the room
    duration      between them
    volume        of the room
    air_changes   when somebody has said them
    decay         when the room was read clearing, for its air changes
    outdoor       of the air that comes in, None when not read
    """

    first: Reading
    later: Reading
    duration: Reading
    volume: Reading
    air_changes: Reading | None = None
    decay: DecayGiven | None = None
    outdoor: Reading | None = None

    def __post_init__(self) -> None:
        """Refuse what no room is."""
        _need_time(self.duration)
        for reading, words in ((self.first, "first reading"), (self.later, "later reading")):
            _need(reading, words)
        if self.outdoor is not None:
            _need(self.outdoor, "outdoor reading")
        if (self.volume.figure or 0.0) > 0.0:
            return
        raise PhysicsRefused(
            code="FW-K-023",
            read=f"a room of {self.volume.typed.text}",
            expected="a volume above zero",
            matters="the same source fills a small room sooner",
            do="multiply length, width and height, and type it with its unit",
        )

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    def _changes(self, reckon: Reckoning) -> Number:
        """Air changes; unknown ones are at least none, and so is what follows."""
        if self.decay is not None:
            return self.decay.air_changes(reckon)
        if self.air_changes is not None:
            _need(self.air_changes, "air changes")
            return reckon.read(self.air_changes)
        unknown = Origin("air_changes", "air changes", 0.0, 0.0, 0.0, "nobody knows: at least none", "at least")
        return reckon.ledger.number(unknown)

    def worked(self, so_far: SoFar) -> Part:
        """The source, where the room is heading, and when it gets there."""
        reckon = Reckoning(so_far.account)
        known = self.decay is not None or self.air_changes is not None
        given = {
            "fraction": reckon.read(self.first, words="first reading"),
            "air_changes": self._changes(reckon),
            "room_volume": reckon.read(self.volume),
            "outdoor_fraction": _outdoor(self.outdoor, reckon),
        }
        source = room.source_from_rise(
            **given,
            later_fraction=reckon.read(self.later, words="later reading"),
            duration=reckon.read(self.duration, words="time between", spread=0.0),
        )
        results = {"carbon_monoxide_source": self._source(source, reckon)}
        if self.decay is not None:
            results["air_changes"] = self.decay.result(reckon)
        if results["carbon_monoxide_source"].value is not None:
            heading = _steady(source, given, reckon, known=known)
            results |= {"carbon_monoxide_steady": heading, **self._times(source, given, reckon, known=known)}
        said = tuple(Statement(_told(key), "derived") for key, result in results.items() if result.value is not None)
        return Part(
            SOURCE,
            "What is let into the room",
            "room",
            (Statement(_pieces(self.first, self.later, self.duration, self.outdoor)), *self._room(), *said),
            results,
            (*_level(self._levels_read(), SOURCE, so_far.account), *_heading(results, so_far.account)),
            _left_open(known=known),
        )

    def _levels_read(self) -> dict[str, Reading]:
        """All that was read of the room, by its key in the statements."""
        rose = {"first": self.first, "later": self.later}
        fell = {} if self.decay is None else {"decay first": self.decay.first, "decay later": self.decay.later}
        return {**rose, **fell}

    def _room(self) -> tuple[Statement, ...]:
        changes: tuple[Piece, ...] = ("; how much air it changes ", "nobody knows")
        if self.air_changes is not None:
            changes = ("; it changes its air at ", Seen("changes", self.air_changes))
        elif self.decay is not None:
            decay = self.decay
            changes = ("; it cleared from ", Seen("decay first", decay.first), " to ", Seen("decay later", decay.later),
                       " in ", Seen("decay duration", decay.duration))  # fmt: skip
        return (Statement(("the room holds ", Seen("volume", self.volume), *changes, ".")),)

    def _source(self, source: Number, reckon: Reckoning) -> Result:
        name, value = "carbon_monoxide_source", float(ops.value_of(source))
        if value < 0.0:
            return refused(name, "the room fell faster than its air changes explain, so no source shows")
        rise = ((self.later.figure or 0.0) - (self.first.figure or 0.0)) * 1e6
        hours, cubic = (self.duration.figure or 0.0) / PER_HOUR, self.volume.figure or 0.0
        return reckon.result(
            name,
            source,
            formula="volume x (rise / filling time + air changes x (first - outdoor)); "
            "filling time = (1 - exp(-air changes x time)) / air changes",
            substitution=f"{cubic:.4g} m3, {rise:.4g} ppm in {hours:.3g} h = {value * PER_HOUR * 1e3:.3g} L/h",
            source=BALANCE,
            holds=MIXED,
        )

    def _times(self, source: Number, given: dict[str, Number], reckon: Reckoning, *, known: bool) -> dict[str, Result]:
        """When the room reaches each level that a limit of rooms names, from the first reading on."""
        if not known:
            return {}
        found: dict[str, Result] = {}
        for grade, level in _levels(reckon.account).items():
            if level <= (self.first.figure or 0.0):
                continue
            key, shown = f"time_to_level {grade}", show.shown(level, quantity="carbon_monoxide_room")
            number = room.duration_to_fraction(**given, carbon_monoxide_source=source, later_fraction=level)
            if ops.value_of(number) == float("inf"):
                found[key] = refused("time_to_level", f"the room never comes to {shown} like this")
                continue
            minutes = float(ops.value_of(number)) / 60.0
            found[key] = reckon.result(
                "time_to_level",
                number,
                formula="-ln((steady - level) / (steady - first)) / air changes",
                substitution=f"to {shown}: {minutes:.3g} min",
                source=BALANCE,
                holds=MIXED,
            )
        return found


def _level(readings: dict[str, Reading], word: str, account: Account) -> list[Finding]:
    """The highest reading of the room against the limits of a room: a number to reckon with is air people breathe."""
    top = max(readings, key=lambda key: (readings[key].figure or 0.0, readings[key].bound == "at least"))
    result = as_read(readings[top], account, name="carbon_monoxide_room")
    found = [] if result is None else speaking(all_answered(result, word, account, doubt=WHY_DOUBT, key=top))
    last = {key: one for key, one in readings.items() if key.endswith("later")}
    return [*found, *moving.breathed(last, word, code="room-rising", where="The air of the room")]


def _levels(account: Account) -> dict[str, float]:
    """Lowest level of each grade among the limits of a room that speak here, mol/mol."""
    rules = [rule for rule in rules_for("carbon_monoxide_room", account) if rule.upper]
    return {
        grade: min(canonical(rule) for rule in rules if rule.severity == grade)
        for grade in LEVELS
        if any(rule.severity == grade for rule in rules)
    }


def _steady(source: Number, given: dict[str, Number], reckon: Reckoning, *, known: bool) -> Result:
    name, changes = "carbon_monoxide_steady", given["air_changes"]
    if not known or not ops.value_of(changes) > 0.0:
        return refused(name, "air changes are not known, and a sealed room never stops rising")
    number = room.steady_fraction(
        air_changes=changes,
        room_volume=given["room_volume"],
        carbon_monoxide_source=source,
        outdoor_fraction=given["outdoor_fraction"],
    )
    value, litres = float(ops.value_of(number)) * 1e6, float(ops.value_of(source)) * PER_HOUR * 1e3
    cubic, rate = float(ops.value_of(given["room_volume"])), float(ops.value_of(changes)) * PER_HOUR
    return reckon.result(
        name,
        number,
        formula="outdoor + source / (air changes x volume)",
        substitution=f"{litres:.3g} L/h / ({rate:.3g} an hour x {cubic:.4g} m3) = {value:.3g} ppm",
        source=BALANCE,
        holds=f"{MIXED}. A flame that breathes its own gas burns worse, so the source grows",
    )


def _told(key: str) -> tuple[Piece, ...]:
    heads: dict[str, str] = {
        "carbon_monoxide_source": "carbon monoxide let into the room: ",
        "carbon_monoxide_steady": "left like this, the room comes to ",
        "air_changes": "the room changes its air at ",
        "time_to_level advise": "from the first reading to the level where its source must be found: ",
        "time_to_level stop": "from the first reading to the level where everybody leaves: ",
    }
    return (heads[key], Derived(key), ".")


def _heading(results: dict[str, Result], account: Account) -> list[Finding]:
    """What is wrong with where the room is heading, by the lowest level at which everybody leaves."""
    steady, source = results.get("carbon_monoxide_steady"), results["carbon_monoxide_source"]
    level = _levels(account).get("stop")
    odds = None if level is None or steady is None else beyond(steady, level)
    if level is None or steady is None or odds is None or odds < 0.5:
        return []
    shown = show.shown(level, quantity="carbon_monoxide_room", system=account.system)
    goes = "goes" if odds >= CERTAIN else "may go"
    evidence = tuple((SOURCE, key) for key in ("carbon_monoxide_steady", "carbon_monoxide_source"))
    return [
        Finding(
            "room-heads-for",
            "act",
            f"Left like this, the room {goes} past {shown}.",
            f"It comes to {seen(steady, account)}, if nothing changes; a flame that breathes its own gas makes more. "
            f"What is let in: {seen(source, account)}. Past {shown}: {in_words(odds)}.",
            evidence,
            PHYSICS,
            odds=odds,
            do_now=("turn off what ran while the room rose, and air the room",),
            do_next=("find the way into the room: spillage, a joint, an appliance without a flue",),
            cautions=CAUTION,
        )
    ]


def _left_open(*, known: bool) -> tuple[str, ...]:
    source = "Which appliance it comes from: the balance counts what is let in, not by whom. Run them one by one."
    if known:
        return (source,)
    return (
        source,
        "How much more is let in than shown: every air change carries some away unseen. Read the room clearing too.",
    )
