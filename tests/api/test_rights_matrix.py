"""Rights: every route of both doors declares one, and every cell of role and route is asked and answered by it."""

from collections.abc import Iterator
from typing import Any

import pytest
from api_kit import DOOR, PASSWORD, WHOLE, ShopDoor
from matrix import Cell, cells, table

from fluewright.record.people import ACTIONS, ROLES
from fluewright.visit import adding, kept
from fluewright.web.rights import OPEN_TO_ALL

REFUSED = (401, 403)


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """A shop's server, a visit with one entry in it, and one browser and one program of each role."""
    door = ShopDoor(tmp_path_factory.mktemp("matrix"))
    tables = {**DOOR, "visit": {**DOOR["visit"], "date": "2026-11-25"}}
    visit = kept.begun(door.journal, tables).id
    entry = adding.added(door.journal, visit, WHOLE).entries[-1].id
    browsers, programs = {}, {}
    for role in ROLES:
        browsers[role] = door.client()
        browsers[role].cookies.set(
            "__Host-fluewright-8766", door.accounts.signed_in(role, PASSWORD), domain="shop.example"
        )
        programs[role] = door.client(door.token[role])

    def answer(cell: Cell, role: str) -> int:
        client = programs[role] if cell.path.startswith("/api") else browsers[role]
        told: dict[str, Any] = {"json": {}} if cell.path.startswith("/api") else {"data": {"line": "o2 4"}}
        path = cell.address(visit, entry)
        body = told if cell.method == "POST" else {}
        return int(client.request(cell.method, path, follow_redirects=False, **body).status_code)

    yield answer
    door.close()


def test_every_route_declares_its_right() -> None:
    """Merging a page without one ends here: add the right as the fourth member of its line in ROUTES."""
    known = {*ACTIONS, OPEN_TO_ALL}
    assert [f"{cell.method} {cell.path}" for cell in cells() if cell.right not in known] == []


def test_what_changes_is_never_asked_with_the_right_to_read() -> None:
    harmless = {"/look", "/sign-in", "/sign-out", "/api/flue"}
    wrong = [
        cell.path for cell in cells() if cell.method == "POST" and cell.right == "read" and cell.path not in harmless
    ]
    assert wrong == []


@pytest.mark.parametrize("cell", list(cells()), ids=lambda cell: f"{cell.method} {cell.path}")
def test_asvs_8_2_1_each_role_gets_what_the_matrix_says(asked: Any, cell: Cell) -> None:
    for role in ROLES:
        status = asked(cell, role)
        assert (status not in REFUSED) == cell.allows(role) or (status, cell.path) == (403, "/sign-in"), (role, status)
        assert status < 500, (role, status)


def test_the_matrix_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    lines = table()
    with capsys.disabled():
        print("\n\nwho may ask what\n" + "\n".join(lines))
    assert len(lines) == len(list(cells())) + 1
