"""Entries as they are understood today: in the newest form, texts about people in the open where they still are."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fluewright import clock
from fluewright.record.draft import Draft, chained
from fluewright.record.entry import Entry
from fluewright.record.kinds import KINDS
from fluewright.record.personal import opened
from fluewright.record.shape import is_of
from fluewright.record.upcast import upcast


@dataclass(frozen=True, slots=True)
class Read:
    """An entry as it is understood today.

    entry  the entry as it is kept
    body   fields in the newest form; erased texts stand as the word for it
    known  whether this version knows the kind and its form
    """

    entry: Entry
    body: Mapping[str, Any]
    known: bool = True


def as_today(entry: Entry, values: Mapping[str, str]) -> Read:
    """An entry with its body in today's form.

    One of a newer program, or whose body is not of its kind, as only another program would write it, is left as it is
    and marked unknown: it is kept and counted, and nothing trips over it.
    """
    kind = KINDS.get(entry.kind)
    if kind is None or entry.version > kind.version:
        return Read(entry, entry.body, known=False)
    body = upcast(entry.kind, entry.version, entry.body)
    return Read(entry, opened(body, values)) if is_of(kind, body) else Read(entry, entry.body, known=False)


def not_kept(drafts: Sequence[Draft]) -> list[Read]:
    """Drafts read as a journal would give them back, for a visit that is only looked at.

    drafts  in their order
    -> the same through the same forms and checks as in a journal; nothing is kept
    """
    made = chained(drafts, clock.new_id(), clock.now().isoformat())
    values = {secret.commitment: secret.value for _, secrets in made for secret in secrets}
    return [as_today(entry, values) for entry, _ in made]
