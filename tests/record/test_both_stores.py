"""The record core on SQLite and on PostgreSQL alike."""

import pytest
from postgres import NewPlace

from fluewright.errors import NotAllowed
from fluewright.record.journal import Draft
from fluewright.record.opening import made, opened


def test_what_was_kept_is_read_again(new_place: NewPlace) -> None:
    settings = new_place()
    journal = made(settings, device_name="van")
    kept = journal.add(Draft("customer", {"name": "Invented Person", "reference": "K-7"}))
    again = opened(settings)
    assert again.wrong == ()
    found = again.journal.entry(kept.id)
    assert found is not None and found.entry == kept and found.body["name"] == "Invented Person"
    with pytest.raises(NotAllowed):
        made(settings, device_name="other")
