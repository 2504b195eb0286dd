"""The same thing sent twice is kept once: the ids of entries follow from the id of the form and what stood in it."""

from collections.abc import Sequence

from fluewright import clock
from fluewright.errors import EntryError
from fluewright.record.fold import Current
from fluewright.record.shape import ID


def of_form(form: str, text: str) -> str:
    """The id under which a form is sent with what stands in it: other words in the same form are another thing.

    form  id that the form was made with
    text  what was typed into it
    -> id; EntryError when the form has none
    """
    if ID.fullmatch(form) is None:
        raise EntryError(
            code="FW-J-130",
            read="a form without the id that it was made with",
            expected="a form of the page, sent as it stands",
            matters="without it the same reading sent twice would be kept twice",
            do="load the page again and send it from there; nothing was kept",
        )
    return derived(form, text)


def derived(form: str, what: int | str) -> str:
    """An id that follows from another one: UUID version 7 of the same moment, the rest a digest of both."""
    return clock.derived_id(form, what)


def under(entries: Sequence[Current], form: str) -> tuple[Current, ...]:
    """The entries of a visit that were kept under an id, in their order; none when it was not sent yet."""
    by_id = {each.read.entry.id: each for each in entries}
    found: list[Current] = []
    while (each := by_id.get(derived(form, len(found)))) is not None:
        found.append(each)
    return tuple(found)
