"""Which books a visit is judged by: to be carried by its seal, so that it can be judged again by the same."""

from fluewright.evidence.limits import places_of
from fluewright.evidence.reading import Account
from fluewright.rules import stamps


def books_of(account: Account) -> dict[str, str]:
    """Version and hash of every rule book that speaks at the place of a visit, those of its shop among them.

    account  the visit
    -> words such as "2026-11-25 sha256:..." by name of the book
    """
    return {**stamps.of_places(places_of(account.jurisdiction)), **account.shop.stamps}
