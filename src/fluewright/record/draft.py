"""Entries before they are kept: what a person or the program hands to the journal."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from fluewright import clock
from fluewright.errors import EntryError
from fluewright.record.entry import NOTHING_BEFORE, Entry, Source
from fluewright.record.kinds import KINDS
from fluewright.record.personal import KEY, Private, Secret, hidden
from fluewright.record.shape import EXPECTED, Kind, is_moment, need_fit


@dataclass(frozen=True, slots=True)
class Draft:
    """An entry before it has a number.

    kind      one of `kinds.KINDS`
    body      its fields; texts about people in the open, they are committed to when the entry is written
    observed  when it was seen; now when not given
    author    id of the person; the device when nobody is known
    source    where it came from
    id        chosen beforehand, so that the same thing sent twice is kept once
    """

    kind: str
    body: Mapping[str, Any]
    observed: datetime | None = None
    author: str = ""
    source: Source = "typed"
    id: str = ""


def kind_of(draft: Draft) -> Kind:
    """The kind of a draft; EntryError when there is none of its name."""
    if draft.kind in KINDS:
        return KINDS[draft.kind]
    raise EntryError(
        code="FW-J-006",
        read=f"an entry of the kind {draft.kind!r}",
        expected="one of " + ", ".join(KINDS),
        matters="a kind that nobody reads would be a record lost",
        do="write it as one of these",
    )


def need_whole(drafts: Sequence[Draft]) -> None:
    """Refuse drafts of which one does not fit its kind, before any is written."""
    for draft in drafts:
        need_fit(kind_of(draft), draft.body)
        if draft.observed is not None and not is_moment(draft.observed.isoformat()):
            raise EntryError(
                code="FW-J-151",
                where=draft.kind,
                read=f"seen at {draft.observed.isoformat()}",
                expected=EXPECTED["moment"],
                matters="a time without its offset is another moment on another machine",
                do="give the time with its offset",
            )


def marked_private(kind: Kind, body: Mapping[str, Any]) -> dict[str, Any]:
    """A body whose texts about people are marked as such."""
    marked = dict(body)
    for field in kind.fields:
        value = marked.get(field.name)
        if field.type == "person" and value:
            marked[field.name] = value if isinstance(value, Secret) else Private(value)
        elif field.type == "persons" and value is not None:
            marked[field.name] = [Private(each) for each in value]
    return marked


def _committed(value: Any, secrets: list[Secret]) -> Any:
    """A value with every private text turned into its commitment; the secrets are gathered."""
    if type(value) is str:
        return value
    if isinstance(value, Secret):
        secrets.append(value)
        return {KEY: value.commitment}
    if isinstance(value, Private):
        secret = hidden(str(value))
        secrets.append(secret)
        return {KEY: secret.commitment}
    if isinstance(value, Mapping):
        return {key: _committed(each, secrets) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_committed(each, secrets) for each in value]
    return value


def numbered(draft: Draft, device: str, sequence: int, previous: str, entered: str) -> tuple[Entry, list[Secret]]:
    """A draft as the next entry of a device, with the secrets behind its commitments."""
    kind, secrets = kind_of(draft), list[Secret]()
    entry = Entry(
        id=draft.id or clock.new_id(),
        kind=kind.name,
        version=kind.version,
        device=device,
        sequence=sequence,
        previous=previous,
        entered=entered,
        observed=draft.observed.isoformat() if draft.observed is not None else "",
        author=draft.author or device,
        source=draft.source,
        body=_committed(marked_private(kind, draft.body), secrets),
    )
    return entry, secrets


def chained(drafts: Sequence[Draft], device: str, entered: str) -> list[tuple[Entry, list[Secret]]]:
    """Drafts as the entries of a device that has none yet: what a journal would keep, without keeping it."""
    need_whole(drafts)
    found, previous = [], NOTHING_BEFORE
    for sequence, draft in enumerate(drafts, 1):
        entry, secrets = numbered(draft, device, sequence, previous, entered)
        found.append((entry, secrets))
        previous = entry.hash()
    return found
