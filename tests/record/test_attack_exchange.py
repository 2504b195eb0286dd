"""An exchange with somebody whose files are spoilt, whose key signs anything, or who says to be the shop."""

import json
import runpy
from pathlib import Path

import pytest
from made import new_journal
from shop import shop_in

from fluewright.record import along
from fluewright.record.door import HELLO, PAIR, Door
from fluewright.record.doors import Doors
from fluewright.record.files import added, named_in, names_in, path_of
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import P, holds, key_of
from fluewright.record.pairing import Sides
from fluewright.record.stick import carried
from fluewright.record.sync import answered, synced

MOST_ROUNDS = 40


def flipped(journal: Journal, name: str) -> None:
    """One bit of a file changed, as an old card does."""
    path = path_of(journal.store.settings.files_folder(), name)
    content = bytearray(path.read_bytes())
    content[5] ^= 1
    path.write_bytes(content)


@pytest.mark.parametrize("who", ["asks", "answers"])
@pytest.mark.parametrize("size", [2_000, 300_000])
def test_a_spoilt_photo_does_not_go_over_for_ever(tmp_path: Path, who: str, size: int) -> None:
    phone, key = new_journal(tmp_path, "phone")
    office, _ = new_journal(tmp_path, "office")
    shop_in(phone, key)
    added(phone, b"sound" * size, type="image/jpeg")
    added(phone, b"spoilt" * size, type="image/jpeg")
    *_, sound, spoilt = [each.name for each in named_in(phone) if each.private]
    flipped(phone, spoilt)
    one, other = (phone, office) if who == "answers" else (office, phone)
    rounds = 0

    def send(request: bytes) -> bytes:
        nonlocal rounds
        rounds += 1
        assert rounds < MOST_ROUNDS
        return answered(other, request, most=200_000)

    met = synced(one, send, most=200_000)
    here = set(names_in(office.store.settings.files_folder()))
    assert sound in here and spoilt not in here
    assert who == "answers" or met.taken.others == {spoilt}


def test_photos_go_to_the_shop_in_the_exchange_that_the_device_begins(tmp_path: Path) -> None:
    phone, key = new_journal(tmp_path, "phone")
    office, _ = new_journal(tmp_path, "office")
    shop_in(phone, key)
    for _ in range(2):
        met = synced(phone, lambda request: answered(office, request))
        assert set(names_in(office.store.settings.files_folder())) == {each.name for each in named_in(phone)}
    assert (met.rounds, met.pieces) == (1, 0)


def test_a_spoilt_photo_hinders_no_other_on_a_stick(tmp_path: Path) -> None:
    phone, key = new_journal(tmp_path, "phone")
    office, _ = new_journal(tmp_path, "office")
    shop_in(phone, key)
    names = {each.name for each in named_in(phone)}
    spoilt = min(names)
    flipped(phone, spoilt)
    assert "not the one that was kept" in carried(phone, tmp_path / "stick").taken.why[0]
    carried(office, tmp_path / "stick")
    assert set(names_in(office.store.settings.files_folder())) == names - {spoilt}


OF_ORDER_8 = (
    "26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05",
    "c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a",
)
WEAK = [0, 1, P - 1, P, P + 1, *(int.from_bytes(bytes.fromhex(each), "little") for each in OF_ORDER_8)]


def test_a_key_under_which_anything_is_signed_signs_nothing() -> None:
    plain = runpy.run_path(str(Path(along.__file__).with_name("verify_seals.py")))
    for y in WEAK:
        for sign in (0, 1 << 255):
            public = (y | sign).to_bytes(32, "little")
            for first in (public, (1).to_bytes(32, "little")):
                signature = first + bytes(32)
                for content in (b"anything", b"and anything else", b"all of it", b"one more", b"x", b"y", b"z"):
                    assert not holds(public.hex(), content, signature.hex())
                    assert not plain["holds"](public, content, signature)


def test_nobody_pairs_as_the_shop_itself(tmp_path: Path) -> None:
    shop, key = new_journal(tmp_path, "shop")
    phone, _ = new_journal(tmp_path, "phone")
    door = Door(shop, Doors(shop.store.settings), key, port=8765)
    for device, status in ((shop.device, 403), (phone.device, 200)):
        code, head = door.code_out(), {"host": "127.0.0.1:8765"}
        nonce = json.loads(door.answer("POST", HELLO, head, b"").body)["nonce"]
        public = key_of(phone.store.settings).public
        proof = Sides(nonce, shop.device, "", device, public).proof(code, "device")
        asked = {"nonce": nonce, "device": device, "key": public, "proof": proof}
        assert door.answer("POST", PAIR, head, json.dumps(asked).encode()).status == status
