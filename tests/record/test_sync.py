"""Two journals made one, on both stores: what is sent, what is refused, what travels with it."""

from datetime import datetime, timedelta

from histories import WHEN
from on_store import whole_of as whole
from sqlalchemy import select, text

from fluewright.record.chain import Anchor
from fluewright.record.erase import erased, held, lifted
from fluewright.record.erased import obeyed
from fluewright.record.files import added, content_of, path_of
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made, opened
from fluewright.record.parcel import Parcel, Piece, lines_in
from fluewright.record.personal import hidden
from fluewright.record.retention import laws
from fluewright.record.sync import answered, ends_of, message, synced, taken_from
from fluewright.record.tables import ANCHOR, SECRET
from postgres import NewPlace

VISIT = {"title": "Invented boiler house", "day": "2026-03-01", "customer_name": "Invented Person"}


def meet(one: Journal, other: Journal) -> None:
    """An exchange with nothing between the two."""
    synced(one, lambda request: answered(other, request))


def note(journal: Journal, visit: str, word: str) -> str:
    """A remark kept; its id."""
    return journal.add(Draft("note", {"visit": visit, "word": word})).id


def test_a_week_apart_and_met_through_a_third_in_any_order(new_place: NewPlace) -> None:
    wholes = []
    moment = [datetime.fromisoformat(WHEN)]
    for order in ((0, 1), (1, 0), (0, 1, 0, 1), (1, 0, 0, 1)):
        first, second, office = (made(new_place(), device_name=f"d{n}", now=lambda: moment[0]) for n in range(3))
        visit = first.add(Draft("visit", VISIT)).id
        meet(first, office)
        meet(second, office)
        for day in range(7):
            moment[0] += timedelta(days=1)
            note(first, visit, f"first, day {day}")
            note(second, visit, f"second, day {day}")
        for turn in [*order, 0, 1]:
            meet((first, second)[turn], office)
        assert whole(first) == whole(second) == whole(office)
        words = {read.body["word"] for read in second.of_subject(visit) if read.entry.kind == "note"}
        assert words == {f"{who}, day {day}" for who in ("first", "second") for day in range(7)}
        assert all(not opened(journal.store.settings).wrong for journal in (first, second, office))
        wholes.append(whole(office).count(b"\n"))
    assert len(set(wholes)) == 1


def test_a_visit_goes_on_on_another_device(new_place: NewPlace) -> None:
    phone, tablet = made(new_place(), device_name="phone"), made(new_place(), device_name="tablet")
    visit = phone.add(Draft("visit", VISIT)).id
    note(phone, visit, "begun on the phone")
    meet(phone, tablet)
    tablet.add(Draft("sitting", {"visit": visit, "because": "battery empty"}))
    note(tablet, visit, "went on on the tablet")
    meet(tablet, phone)
    kinds = [read.entry.kind for read in phone.of_subject(visit)]
    assert kinds == ["visit", "note", "sitting", "note"]
    assert phone.of_subject(visit) == tablet.of_subject(visit)
    assert {read.entry.device for read in phone.of_subject(visit)} == {phone.device, tablet.device}


def test_a_second_exchange_moves_nothing(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    note(one, one.device, "x")
    meet(one, other)
    again = synced(one, lambda request: answered(other, request))
    assert (again.sent, again.taken.new, again.rounds) == (0, 0, 1)


def test_both_sides_keep_what_the_other_has_as_a_witness(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    for number in range(5):
        note(one, one.device, f"{number}")
    meet(one, other)
    for here, there in ((one, other), (other, one)):
        with here.store.reading() as connection:
            rows = connection.execute(select(ANCHOR).where(ANCHOR.c.by == there.device)).all()
        last = {row.device: Anchor(row.device, row.sequence, row.hash) for row in rows}
        assert sorted(last.values(), key=str) == sorted(here.anchors(), key=str)
    meet(one, other)
    with one.store.reading() as connection:
        assert len(connection.execute(select(ANCHOR)).all()) == len(rows)


def test_a_cut_tail_is_told_by_the_witness_and_healed_by_the_other(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    for number in range(5):
        note(one, one.device, f"{number}")
    meet(one, other)
    with one.store.writing() as connection:
        guard = "DROP TRIGGER entry_DELETE" if one.store.settings.is_sqlite() else "DROP TRIGGER entry_guard ON entry"
        connection.execute(text(guard))
        connection.execute(text("DELETE FROM entry WHERE sequence > 3"))
    assert any("short of the anchor" in sentence for sentence in opened(one.store.settings).wrong)
    came = taken_from(one, lines_in(message(other, ends_of(one))[0]))
    assert came.new == 3 and came.own == 3
    assert not opened(one.store.settings).wrong and whole(one) == whole(other)


def test_a_fork_is_told_with_both_hashes_and_nothing_is_overwritten(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    note(one, one.device, "before")
    meet(one, other)
    copy = Journal(other.store, one.device)  # somebody writes on a copy of the first device
    ours = one.add(Draft("note", {"visit": one.device, "word": "ours"}))
    theirs = copy.add(Draft("note", {"visit": one.device, "word": "theirs"}))
    note(one, one.device, "ours goes on")
    note(other, one.device, "by the second device itself")
    before = whole(one), whole(other)
    met = synced(one, lambda request: answered(other, request))
    (fork,) = met.taken.forks
    assert (fork.device, fork.sequence) == (one.device, ours.sequence)
    assert ours.hash() in fork.sentence() and theirs.hash() in fork.sentence()
    assert met.taken.new == 1, "what the other device wrote itself still comes in"
    assert before[0] in whole(one) or set(before[0].splitlines()) < set(whole(one).splitlines())
    assert whole(other) == before[1]
    back = synced(other, lambda request: answered(one, request))
    assert [each.device for each in back.taken.forks] == [one.device]


def test_unknown_kinds_are_kept_and_counted(new_place: NewPlace) -> None:
    from fluewright.record.entry import Entry

    one = made(new_place(), device_name="a")
    other = made(new_place(), device_name="b")
    end = one.anchors()[0]
    newer = Entry(
        one.device[:-12] + "0" * 12, "kind of tomorrow", 3, one.device, 2, end.hash, WHEN, "", one.device, "typed",
        {"visit": one.device, "future": {"x": [1, "2"]}},
    )  # fmt: skip
    taken = taken_from(one, [Parcel(newer, newer.text(), newer.hash()).line()])
    assert (taken.new, taken.unknown) == (1, 1)
    meet(one, other)
    found = other.entry(newer.id)
    assert found is not None and not found.known and found.entry == newer


def secrets_in(journal: Journal) -> set[str]:
    """The values about people that a journal still has."""
    with journal.store.reading() as connection:
        return set(connection.scalars(select(SECRET.c.value)))


def erase(journal: Journal, entry_id: str) -> None:
    """Erase what is about a customer."""
    assert erased(journal, entry_id, because="asked for").values


def test_an_erasure_travels_and_an_older_peer_does_not_undo_it(new_place: NewPlace) -> None:
    one, old, late = (made(new_place(), device_name=name) for name in "abc")
    person = one.add(Draft("customer", {"name": "Invented Person"})).id
    meet(one, old)
    erase(one, person)
    meet(one, late)
    assert "Invented Person" not in secrets_in(late)
    meet(late, old)
    assert "Invented Person" not in secrets_in(old)
    meet(one, old)
    assert b"Invented" not in whole(one) and whole(one) == whole(old)


def test_a_stale_message_does_not_bring_an_erased_value_back(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    person = one.add(Draft("customer", {"name": "Invented Person"})).id
    stale = message(one, ends_of(other))[0]
    erase(one, person)
    meet(one, other)
    taken_from(other, lines_in(stale))
    assert "Invented Person" not in secrets_in(other)
    third = made(new_place(), device_name="c")
    taken_from(third, lines_in(stale))
    assert "Invented Person" in secrets_in(third)
    meet(third, other)
    assert "Invented Person" not in secrets_in(third)


def test_a_hold_keeps_what_another_device_erased(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    person = one.add(Draft("customer", {"name": "Invented Person"})).id
    meet(one, other)
    hold = held(other, person, because="a claim").id
    erase(one, person)
    taken = taken_from(other, lines_in(message(one, ends_of(other))[0]))
    assert len(taken.demanded) == 1 and taken.gone == 0 and "Invented Person" in secrets_in(other)
    lifted(other, hold, because="settled")
    assert obeyed(other) == 0 and "Invented Person" not in secrets_in(other)  # lifting has obeyed already


def test_lines_that_do_not_hold_are_dropped_and_told(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    note(one, one.device, "said")
    line = message(one, ends_of(other))[0].splitlines(keepends=True)[1]
    spoilt: list[bytes] = [
        line.replace(b'"device"', b'"devise"', 1),
        line.replace(b'"source":"program"', b'"source":"typed"'),
        line[:-1],
        line[: len(line) // 2] + b"\n",
        b"[]\n", b"{}\n", b"\n", b"\xff\xfe\n", b'{"entry":{}}\n', b'{"entry":null,"hash":1}\n', b"[" * 5000 + b"\n",
        b'{"ends":[["x",1,"y"]],"by":"z"}\n', b'{"ends":5,"by":null}\n', b'{"file":1}\n', b'{"a":NaN}\n',
    ]  # fmt: skip
    taken = taken_from(other, spoilt)
    assert (taken.new, taken.spoilt) == (0, len(spoilt)) and 0 < len(taken.why) <= 5


def test_a_chain_that_does_not_introduce_its_device_is_refused(new_place: NewPlace) -> None:
    from fluewright.record.draft import numbered
    from fluewright.record.entry import NOTHING_BEFORE

    stranger = "00000000-0000-7000-8000-000000000001"
    entry, secrets = numbered(Draft("note", {"visit": stranger, "word": "x"}), stranger, 1, NOTHING_BEFORE, WHEN)
    taken = taken_from(
        made(new_place(), device_name="a"), [Parcel(entry, entry.text(), entry.hash(), tuple(secrets)).line()]
    )
    assert taken.new == 0 and taken.strangers == {stranger}


def test_one_of_each_store_ends_equal(on_sqlite: NewPlace, on_postgres: NewPlace) -> None:
    van, office = made(on_sqlite(), device_name="van"), made(on_postgres(), device_name="office")
    for number in range(30):
        van.add(Draft("customer", {"name": f"Ünvented {number} \u20ac", "reference": "\\\"'; --"}))
        office.add(Draft("note", {"visit": office.device, "word": "\t\n\u2028 \U0001f525"}))
    meet(van, office)
    assert whole(van) == whole(office)


def test_small_messages_bring_the_same(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    for number in range(20):
        note(one, one.device, f"{number}")
        note(other, other.device, f"{number}")
    met = synced(one, lambda request: answered(other, request, most=500), most=500)
    assert whole(one) == whole(other) and met.rounds > 5 and met.sent == 21


def test_photos_travel_in_pieces_and_go_when_they_are_erased(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    visit = one.add(Draft("visit", VISIT)).id
    photo = bytes(range(256)) * 3000
    entry = added(one, photo, type="image/png", visit=visit)
    name = one.entry(entry.id).body["content"]  # type: ignore[union-attr]
    first = message(one, ends_of(other))[0]
    taken_from(other, lines_in(first))
    half = message(one, ends_of(other), most=1)[0]
    assert 0 < taken_from(other, lines_in(half)).bytes < len(photo)
    assert ends_of(other).lacks[0][1] > 0
    meet(other, one)
    assert content_of(other.store.settings.files_folder(), name) == photo and ends_of(other).lacks == ()
    again = synced(one, lambda request: answered(other, request))
    assert (again.pieces, again.rounds) == (0, 1)
    erased(one, visit, because="asked for", not_under=[law.id for law in laws()])
    meet(one, other)
    assert not path_of(other.store.settings.files_folder(), name).exists()
    assert ends_of(other).lacks == ends_of(one).lacks == ()


def test_a_file_that_is_not_the_one_asked_for_is_left(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    entry = added(one, b"the photo", type="image/png")
    name = str(one.entry(entry.id).body["content"])  # type: ignore[union-attr]
    taken_from(other, lines_in(message(one, ends_of(other))[0]))
    for piece in (Piece(name, 0, 9, b"the ph0t0"), Piece(name, 3, 9, b"photo!"), Piece("0" * 64, 0, 1, b"x")):
        assert taken_from(other, [piece.line()]).files == 0
    assert ends_of(other).lacks == ((name, 0),)
    meet(other, one)
    assert content_of(other.store.settings.files_folder(), name) == b"the photo"


def test_what_two_devices_were_told_under_one_id_is_read_once(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    draft = Draft("note", {"visit": one.device, "word": "sent twice"}, id="01980000-0000-7000-8000-00000000aaaa")
    one.add(draft)
    other.add(draft)
    meet(one, other)
    assert whole(one) == whole(other) and whole(one).count(draft.id.encode()) == 2
    found = [[read.entry for read in each.of_subject(one.device) if read.entry.kind == "note"] for each in (one, other)]
    assert found[0] == found[1] and len(found[0]) == 1
    assert one.entry(draft.id) == other.entry(draft.id)


def test_another_entry_under_a_number_that_is_here_is_told_as_a_fork(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    meet(one, other)
    copy = Journal(other.store, one.device)
    ours = one.add(Draft("settings", {"name": "x", "value": "ours"}))
    theirs = copy.add(Draft("settings", {"name": "x", "value": "theirs"}))
    before = whole(other)
    taken = taken_from(other, [Parcel(ours, ours.text(), ours.hash()).line()])
    assert taken.new == 0 and whole(other) == before
    assert [(fork.ours, fork.theirs) for fork in taken.forks] == [(theirs.hash(), ours.hash())]


def test_a_value_that_no_entry_committed_to_is_left(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    note(one, one.device, "said")
    entry = one.of_subject(one.device)[-1].entry
    first = one.of_subject(one.device)[0].entry
    foreign = hidden("slipped in")
    lines = [Parcel(each, each.text(), each.hash(), (foreign,)).line() for each in (first, entry)]
    assert taken_from(other, lines).new == 2
    assert secrets_in(other) == set()


def test_an_end_that_never_came_here_is_no_witness(new_place: NewPlace) -> None:
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    meet(one, other)
    for number in range(3):
        note(one, one.device, f"{number}")
    taken_from(other, [ends_of(one).line()])
    assert opened(other.store.settings).wrong == ()
    taken_from(other, lines_in(message(one, ends_of(other))[0])[:2])
    assert opened(other.store.settings).wrong == ()


def test_an_erasure_that_comes_before_what_it_erases(new_place: NewPlace) -> None:
    one, other, third = (made(new_place(), device_name=name) for name in "abc")
    person = one.add(Draft("customer", {"name": "Invented Person"})).id
    stale = message(one, ends_of(third))[0]
    meet(one, other)
    erase(other, person)
    own = f'"device":"{other.device}"'.encode()
    theirs = [line for line in lines_in(message(other, ends_of(third))[0]) if own in line]
    assert taken_from(third, theirs).new == 2
    assert taken_from(third, lines_in(stale)).erased == 1
    assert "Invented Person" not in secrets_in(third)
