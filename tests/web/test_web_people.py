"""Who is here, on one's own machine: alone nobody is asked; in a shop a name is chosen, or proven by a password."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pages_kit import PORT, WHOLE, Pages, visible

from fluewright.record.accounts import Accounts
from fluewright.record.doors import Doors
from fluewright.record.draft import Draft
from fluewright.record.settings import Settings as Place

PASSWORD = "copper kettle on a hill"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Pages]:
    """Pages of a shop with an administrator, who has an account on this machine, and a technician, who has none."""
    doors = Doors(Place(str(tmp_path / "journal.db")))
    pages = Pages(tmp_path, doors=doors)
    for role in ("administrator", "technician", "auditor"):
        name = f"{role.title()} Placeholder (invented)"
        entry = pages.journal.add(Draft("person", {"name": name, "role": role}))
        setattr(pages, role, entry.id)
    Accounts(doors).add(pages.administrator, "ada", PASSWORD)  # type: ignore[attr-defined]
    yield pages.come_in()
    pages.close()
    doors.close()


def choose(pages: Pages, person: str, *, status: int = 200) -> str:
    pages.get("/sign-in")
    return pages.post("/sign-in", {"person": person}, status=status)


def test_alone_nobody_is_asked(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    assert {read.entry.author for read in pages.journal.of_subject(visit)} == {pages.journal.device}
    assert "Nobody is entered" in visible(pages.get("/sign-in"))


def test_in_a_shop_the_first_page_asks_who_is_here(shop: Pages) -> None:
    for path in ("/", "/find", "/visit/new"):
        assert shop.client.get(path, follow_redirects=False).headers["location"] == "/sign-in"
    told = visible(shop.get("/sign-in"))
    assert "Technician Placeholder" in told and "Administrator Placeholder" not in told, "who has a password proves it"


def test_what_is_kept_is_kept_by_who_is_here(shop: Pages) -> None:
    choose(shop, shop.technician)  # type: ignore[attr-defined]
    visit = shop.begin()
    shop.keep(visit, WHOLE)
    assert {read.entry.author for read in shop.journal.of_subject(visit)} == {shop.technician}  # type: ignore[attr-defined]
    shop.get(f"/visit/{visit}/seal")
    shop.post(f"/visit/{visit}/seal", {"name": "Somebody Else", "recognised": "by face", "meaning": "mine"})
    seal = next(read for read in shop.journal.of_subject(visit) if read.entry.kind == "seal")
    assert seal.body["name"] == "Technician Placeholder (invented)"
    assert seal.body["recognised"] == "sat before this machine"


def test_a_name_with_a_password_is_not_chosen_without_it(shop: Pages) -> None:
    assert "a name chosen without its password" in visible(choose(shop, shop.administrator, status=401))  # type: ignore[attr-defined]
    for person in ("", "nobody", shop.journal.device):
        shop.get("/sign-in")
        shop.client.post("/sign-in", data={**shop.form(), "person": person, "login": "", "password": ""})
        assert shop.client.get("/", follow_redirects=False).status_code == 303
    shop.get("/sign-in")
    shop.post("/sign-in", {"login": "ada", "password": PASSWORD})
    assert "signed in with a password" in visible(shop.get("/sessions"))


def test_who_is_here_cannot_be_made_up(shop: Pages) -> None:
    choose(shop, shop.auditor)  # type: ignore[attr-defined]
    shop.client.get("/visit/new", follow_redirects=False)
    assert shop.client.get("/visit/new").status_code == 403, "an auditor reads"
    name = f"fluewright-who-{PORT}"
    given = shop.client.cookies[name]
    person, how, signature = given.split(".")
    for forged in (f"{shop.technician}.{how}.{signature}", f"{person}.known.{signature}", person, "", "é.x.y"):  # type: ignore[attr-defined]
        shop.carry(name, forged.encode("ascii", "ignore").decode())
        assert shop.client.get("/", follow_redirects=False).status_code == 303
    shop.carry(name, given)
    assert shop.client.get("/").status_code == 200
    other = shop.app.state.shop.marks
    shop.carry(f"fluewright-{PORT}", other.new())
    assert shop.client.get("/", follow_redirects=False).status_code == 303, "of another browser"
