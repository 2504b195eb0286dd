"""Steps, notices and strike-outs of a visit in a journal."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from fluewright.errors import EntryError
from fluewright.quantity import names, parse
from fluewright.record.draft import Draft
from fluewright.record.fold import Current
from fluewright.rules import consent
from fluewright.visit import kept, once
from fluewright.visit.as_entries import value_of
from fluewright.visit.held_files import need_held

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal


def entry_of(journal: "Journal", visit: str, code: str) -> Current:
    """One entry of a visit by its id or the end of it; EntryError when none or several are meant."""
    typed = code.strip().lower()
    matching = [each for each in kept.entries_of(journal, visit) if each.read.entry.id.endswith(typed)]
    if len(typed) >= kept.SHORTEST and len(matching) == 1:
        return matching[0]
    raise EntryError(
        code="FW-J-121",
        read=f"the entry {code!r}" + (f", by which {len(matching)} may be meant" if len(matching) > 1 else ""),
        expected="the id of an entry of this visit, or so many of its last digits that only one ends so",
        matters="striking out another would take a good reading off the sheet",
        do="see `fluewright visit show VISIT --entries`; nothing was kept",
    )


def struck_out(journal: "Journal", visit: str, code: str, *, because: str, form: str = "") -> "Entry":
    """An entry struck out, as in a paper logbook: it stays to be seen and counts no more.

    code     id of the entry or the end of it
    because  why; never empty
    form     id under which it was sent: the same sent twice is kept once
    -> the entry that says so; EntryError without a reason
    """
    from fluewright.record import amend

    target = entry_of(journal, visit, code).read.entry.id
    return journal.add(amend.strike(journal, target, because=because, chosen=_first(form)))


def _first(form: str) -> str:
    """Id of the one entry that a form makes."""
    return once.derived(form, 0) if form else ""


def undone(journal: "Journal", visit: str, line: str) -> "tuple[Entry, ...]":
    """All that one typed line made, struck out again in one: a slip of the finger that stays to be seen.

    line  id under which the line was sent
    -> the strike-outs; none when nothing of it counts any more
    """
    from fluewright.record import amend

    still = [each.read.entry.id for each in once.under(kept.entries_of(journal, visit), line) if each.counts]
    drafts = [
        amend.strike(journal, each, because="a slip, undone at once", chosen=once.derived(each, "undone"))
        for each in reversed(still)
    ]
    return tuple(journal.add_all(drafts))


def amended(
    journal: "Journal", visit: str, code: str, fields: Mapping[str, str], *, because: str, form: str = ""
) -> "Entry":
    """Other words or figures for an entry; the old stay to be seen.

    code     id of the entry or the end of it
    fields   new values by field; of a line or a reading by the key that was typed
    because  why; never empty
    form     id under which it was sent: the same sent twice is kept once
    -> the entry that says so; Problems when the visit could not be judged with it
    """
    from fluewright.record import amend

    already = journal.entry(_first(form)) if form else None
    if already is not None:
        return already.entry
    entry = entry_of(journal, visit, code)
    new = _with(entry, fields)
    entries = kept.entries_of(journal, visit)
    need_held(entries, [new])
    after = [replace(each, body={**each.body, **new}) if each is entry or each == entry else each for each in entries]
    kept.need_no_worse(entries, after, f"visit {visit[-8:]}")
    return amend.amended(journal, entry.read.entry.id, new, because=because, chosen=_first(form))


def _with(entry: Current, fields: Mapping[str, str]) -> dict[str, Any]:
    """Fields of an entry as they would be amended: what was typed inside a line or a reading lies one level down."""
    kind = entry.read.entry.kind
    if kind == "reading" and set(fields) == {"value"}:
        quantity = names.named(entry.body["name"])
        typed = parse.parse(fields["value"], quantity=quantity)
        return {"value": value_of(fields["value"], typed, quantity.name)}
    if kind == "line":
        typed_now = {**entry.body["typed"], **fields}
        known = {key: value for key, value in entry.body.get("understood", {}).items() if key not in fields}
        return {"typed": typed_now} | ({"understood": known} if known else {})
    return dict(fields)


def stepped(journal: "Journal", visit: str, word: str, *, meant: str = "", time: str = "", form: str = "") -> "Entry":
    """One adjustment made; readings after it belong to a new stretch.

    word   what was done
    meant  what it was meant to do
    time   when, such as 10:20; now when not said
    form   id under which it was sent: the same sent twice is kept once
    -> the entry
    """
    body = {"visit": visit, "word": word, "time": time or journal.now().strftime("%H:%M")}
    drafts = [Draft("step", body | ({"meant": meant} if meant else {}), id=_first(form))]
    kept.need_sound(kept.entries_of(journal, visit), drafts, f"visit {visit[-8:]}")
    return journal.add_all(drafts)[0]


def not_measured(
    journal: "Journal", visit: str, what: str, *, because: str, point: str = "", form: str = ""
) -> "Entry":
    """A reading that could not be had, with the reason; it stands on the sheet as a remark, and never as a value.

    what     in words, as it was proposed
    because  why; never empty
    point    where it would have been read
    form     id under which it was sent: the same sent twice is kept once
    -> the entry; EntryError without a reason
    """
    if not because.strip():
        raise EntryError(
            code="FW-J-128",
            read=f"{what[:120]!r} as not measured, without a reason",
            expected="why it was not",
            matters="whoever reads this later has to know whether it could not be had or was forgotten",
            do="choose a reason or write one; nothing was kept",
        )
    body = {"visit": visit, "what": what, "because": because} | ({"point": point} if point else {})
    drafts = [Draft("not measured", body, id=_first(form))]
    kept.need_sound(kept.entries_of(journal, visit), drafts, f"visit {visit[-8:]}")
    return journal.add_all(drafts)[0]


def noticed(
    journal: "Journal",
    visit: str,
    words: str,
    *,
    consent: str | None,
    told: str = "",
    done: Sequence[str] = (),
    calls: Sequence[str] = (),
    witness: str = "",
    form: str = "",
) -> "Entry":
    """A danger found, kept until an entry closes it.

    words    what was found
    consent  to shutting down: yes, refused or absent
    told     who was told
    done     what was done
    calls    whom one rang, when, what they said
    witness  who saw the refusal
    form     id under which it was sent: the same sent twice is kept once
    -> the entry; EntryError when nothing is said of consent
    """
    if consent is None:
        raise EntryError(
            code="FW-J-123",
            read="a notice that does not say whether anybody consented to shutting down",
            expected="yes, refused, or absent when nobody was there to ask",
            matters="in many places an appliance may be shut off only with consent, and a refusal has steps of its own",
            do="add --consent yes, --consent refused or --consent absent",
        )
    body: dict[str, Any] = {"visit": visit, "words": words, "consent": consent}
    given = {"told": told, "done": list(done), "calls": list(calls), "witness": witness}
    return journal.add(Draft("notice", body | {key: value for key, value in given.items() if value}, id=_first(form)))


def notice_closed(journal: "Journal", visit: str, code: str, *, because: str, form: str = "") -> "Entry":
    """A danger that is no more, with the reason."""
    found = entry_of(journal, visit, code)
    if found.read.entry.kind != "notice":
        raise EntryError(
            code="FW-J-124",
            read=f"closing a {found.read.entry.kind}",
            expected="a notice",
            matters="only a danger that was noticed can be said to be over",
            do="see `fluewright visit show VISIT --entries` for the notice",
        )
    body = {"visit": visit, "of": found.read.entry.id, "because": because}
    return journal.add(Draft("notice closed", body, id=_first(form)))


def steps_about(journal: "Journal", visit: str, answer: consent.Consent) -> tuple[consent.ConsentStep, ...]:
    """What the answer about shutting down asks for, where and when the visit is.

    -> steps, those of the place first
    """
    opened = next(each.body for each in kept.entries_of(journal, visit) if each.read.entry.id == visit)
    day = date.fromisoformat(str(opened["day"]))
    return consent.speaking(answer=answer, jurisdiction=str(opened.get("jurisdiction", "")), day=day)
