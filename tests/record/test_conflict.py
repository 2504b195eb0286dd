"""Two edits of one field apart: both shown on every device, settled by people, chosen by nobody."""

from on_store import whole_of

from fluewright.record.amend import amended, standing, struck
from fluewright.record.conflict import conflicts_in
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.sync import answered, synced
from postgres import NewPlace


def meet(one: Journal, other: Journal) -> None:
    """An exchange with nothing between the two."""
    synced(one, lambda request: answered(other, request))


def apart(new_place: NewPlace) -> tuple[Journal, Journal, str]:
    """Two journals that have one customer."""
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    customer = one.add(Draft("customer", {"name": "Invented Person", "reference": "K-1"})).id
    meet(one, other)
    return one, other, customer


def test_both_edits_are_shown_the_same_on_both_sides(new_place: NewPlace) -> None:
    one, other, customer = apart(new_place)
    amended(one, customer, {"name": "Invented Persson"}, because="misheard")
    amended(other, customer, {"name": "Invented Pearson"}, because="read on the door")
    assert not list(conflicts_in(one))
    meet(one, other)
    assert whole_of(one) == whole_of(other)
    said = [[conflict.sentences() for conflict in conflicts_in(each)] for each in (one, other)]
    assert said[0] == said[1] and len(said[0]) == 1
    text = "\n".join(said[0][0])
    assert all(word in text for word in ("Person", "Persson", "Pearson", "misheard", "read on the door", customer))
    current = standing(one, customer)
    assert current is not None and len(current.history) == 2


def test_an_edit_that_knew_of_both_settles_it(new_place: NewPlace) -> None:
    one, other, customer = apart(new_place)
    amended(one, customer, {"reference": "K-2"}, because="x")
    amended(other, customer, {"reference": "K-3"}, because="y")
    meet(one, other)
    assert [conflict.field for conflict in conflicts_in(other)] == ["reference"]
    amended(other, customer, {"reference": "K-3"}, because="asked the customer")
    assert not list(conflicts_in(other)) and list(conflicts_in(one))
    meet(one, other)
    assert not list(conflicts_in(one))


def test_one_after_the_other_is_no_conflict(new_place: NewPlace) -> None:
    one, other, customer = apart(new_place)
    amended(one, customer, {"reference": "K-2"}, because="x")
    meet(one, other)
    amended(other, customer, {"reference": "K-3"}, because="y")
    meet(one, other)
    assert not list(conflicts_in(one)) and standing(one, customer).body["reference"] == "K-3"  # type: ignore[union-attr]


def test_other_fields_and_equal_edits_are_no_conflict(new_place: NewPlace) -> None:
    one, other, customer = apart(new_place)
    amended(one, customer, {"reference": "K-2", "name": "Same Invented"}, because="x")
    amended(other, customer, {"email": "nobody@invented.example", "name": "Same Invented"}, because="y")
    meet(one, other)
    assert not list(conflicts_in(one))


def test_an_edit_that_was_struck_out_no_longer_stands_against_another(new_place: NewPlace) -> None:
    one, other, customer = apart(new_place)
    wrong = amended(one, customer, {"reference": "K-2"}, because="x").id
    amended(other, customer, {"reference": "K-3"}, because="y")
    meet(one, other)
    struck(one, wrong, because="wrong customer")
    assert not list(conflicts_in(one)) and list(conflicts_in(other))


def test_three_devices_apart(new_place: NewPlace) -> None:
    one, other, customer = apart(new_place)
    third = made(new_place(), device_name="c")
    meet(third, one)
    for number, journal in enumerate((one, other, third)):
        amended(journal, customer, {"reference": f"K-{number}"}, because="x")
        amended(journal, customer, {"reference": f"L-{number}"}, because="again")
    meet(one, third)
    meet(other, third)
    (conflict,) = conflicts_in(third)
    assert sorted(side.value for side in conflict.sides) == ["L-0", "L-1", "L-2"] and conflict.was == "K-1"
