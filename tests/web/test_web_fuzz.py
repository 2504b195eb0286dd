"""Every form of the pages with whatever can be typed: an answer in words, never a fault; twice sent is once kept."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pages_kit import WHOLE, Pages

from fluewright.record.guard import SAFE
from fluewright.web.app import ROUTES

FORMS = [route[1] for route in ROUTES if route[0] not in SAFE]
NOT_TRIED = {"/sign-in": "tried in tests/api/test_asvs.py", "/sign-out": "ends the browser that tries"}
TRIED = [path for path in FORMS if path not in NOT_TRIED]
FIELD = re.compile(r'name="([a-z_-]+)"')
EXAMPLES = 12

TEXT = st.one_of(
    st.sampled_from(["", " ", WHOLE, "o2 4.3", "yes", "no", "refused", "note a", "room: symptoms=yes", "=1+1", "<b>",
                     "\x00", "\ud800", "../../x", "room: trace=/etc/passwd", "o2 " + "9" * 400, "2026-02-31"]),
    st.text(max_size=80),
)  # fmt: skip


@pytest.fixture(scope="module")
def kept_open(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Pages, str, str]]:
    pages = Pages(tmp_path_factory.mktemp("fuzz")).come_in()
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    entry = next(each.entry.id for each in pages.journal.of_subject(visit) if each.entry.kind == "reading")
    yield pages, visit, entry
    pages.close()


def fields_of(pages: Pages, path: str, visit: str) -> list[str]:
    """Names of all fields that any page with this form has."""
    return FIELDS.get(path) or FIELDS.setdefault(path, _fields(pages, path, visit))


FIELDS: dict[str, list[str]] = {}


def _fields(pages: Pages, path: str, visit: str) -> list[str]:
    found: set[str] = set()
    for page in (path, f"/visit/{visit}", f"/visit/{visit}/entries", "/visit/new"):
        answer = pages.client.get(page)
        if f'action="{path}"' in answer.text:
            found |= set(FIELD.findall(answer.text)) - {"mark", "form", "viewport", "color-scheme"}
    return sorted(found)


@pytest.mark.parametrize("path", TRIED)
@settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck)
)
@given(data=st.data())
def test_a_form_with_anything_in_it_twice(path: str, kept_open: tuple[Pages, str, str], data: Any) -> None:
    pages, visit, entry = kept_open
    if path.endswith("/seal"):
        visit = data.draw(st.sampled_from(SEALED.setdefault(id(pages), [pages.begin()])))
    address = path.replace("{code}", visit).replace("{entry}", entry).replace("{number}", "1")
    pages.get("/look")
    hidden = pages.form()
    names = fields_of(pages, address, visit) or ["line", "because", "words"]
    told = {name: value for name in names if (value := data.draw(TEXT)) is not None}
    sent = {**hidden, **{name: value.encode("utf-8", "surrogatepass") for name, value in told.items()}}
    first = pages.client.post(address, data=sent, follow_redirects=False)
    assert first.status_code < 500, (told, first.text[-600:])
    count = pages.journal.arrived()
    second = pages.client.post(address, data=sent, follow_redirects=False)
    assert second.status_code < 500, told
    assert pages.journal.arrived() == count, ("kept twice", told)
    if first.status_code == 303 and not path.endswith("/undo"):
        assert second.status_code == 303 and second.headers["location"] == first.headers["location"], told
    elif first.status_code >= 400:
        assert "expected" in first.text and "because" in first.text


SEALED: dict[int, list[str]] = {}
"""A visit of its own for the form that seals."""


def test_every_form_is_tried_or_says_why_not() -> None:
    assert set(TRIED) | set(NOT_TRIED) == set(FORMS)
    assert len(TRIED) >= 9
