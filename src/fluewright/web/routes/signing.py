"""Who sits here: a name chosen on this machine, or a password on a shop's; sessions, and signing out everywhere."""

from datetime import UTC, datetime
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError, NotAllowed
from fluewright.record.accounts import LONGEST_SESSION, Accounts
from fluewright.record.people import Person
from fluewright.web.rights import OPEN_TO_ALL
from fluewright.web.shop import Shop, caller_in, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

DAYS = int(LONGEST_SESSION) // 86400


def _accounts(shop: Shop) -> Accounts | None:
    return Accounts(shop.settings.doors) if shop.settings.doors is not None else None


def _to_choose(shop: Shop) -> list[Person]:
    """People who may say by their name alone that they sit here: on their own machine, and without a password."""
    if shop.settings.shared:
        return []
    accounts = _accounts(shop)
    locked = accounts.logins() if accounts is not None else {}
    return [each for each in shop.roles.people() if each.active and each.id not in locked]


def _asked(request: Request, errors: list[dict[str, str]], login: str = "", status: int = 200) -> Response:
    shop = shop_in(request)
    accounts = _accounts(shop)
    told: dict[str, Any] = {
        "people": _to_choose(shop),
        "by_password": shop.settings.shared or bool(accounts is not None and accounts.logins()),
        "caller": caller_in(request),
        "login": login,
        "errors": errors,
    }
    return page(request, "sign_in.html", status=status, **told, title="Who is here")


def sign_in(request: Request) -> Response:
    """The page on which somebody says who they are."""
    return _asked(request, [])


def signed_in(request: Request, typed: Typed) -> Response:
    """Somebody let in by their name on their own machine, or by their password."""
    shop = shop_in(request)
    answer = RedirectResponse("/", status_code=303)
    cookie = getattr(request.state, "cookie", "")
    try:
        if typed.text("person"):
            person = _chosen(shop, typed.text("person"))
            shop.marks.give(answer, shop.marks.who, shop.marks.of_person(cookie, person, "here"), days=DAYS)
            return answer
        token = _proven(shop, request, typed)
    except FluewrightError as error:
        return _asked(request, parts_of(error), typed.text("login"), 401 if status_of(error) == 409 else 422)
    if shop.settings.shared:
        shop.marks.give(answer, shop.marks.cookie, token, days=DAYS)
        return answer
    accounts = _accounts(shop)
    person = accounts.who(token) if accounts is not None else ""
    if accounts is not None:
        accounts.signed_out(token)  # this browser comes back with the cookie of its own machine
    shop.marks.give(answer, shop.marks.who, shop.marks.of_person(cookie, person, "known"), days=DAYS)
    return answer


def _chosen(shop: Shop, person: str) -> str:
    if any(each.id == person for each in _to_choose(shop)):
        return person
    raise NotAllowed(
        code="FW-N-154",
        read="a name chosen without its password",
        expected="a name of this page, or a name with its password",
        matters="what is kept and signed would be said to be by somebody else",
        do="sign in with the name and the password of the account",
    )


def _proven(shop: Shop, request: Request, typed: Typed) -> str:
    accounts = _accounts(shop)
    if accounts is None:
        raise NotAllowed(
            code="FW-N-155",
            read="a password on a machine that keeps no accounts",
            expected="a name of this page",
            matters="there is nothing to compare it with",
            do="choose a name, or go on as you are",
        )
    address = request.client.host if request.client is not None else ""
    return accounts.signed_in(typed.text("login"), typed.raw("password"), source=address)


def sign_out(request: Request, typed: Typed) -> Response:
    """The end of one session, or of all that this person has."""
    shop, caller = shop_in(request), caller_in(request)
    accounts = _accounts(shop)
    if accounts is not None and shop.settings.shared:
        if typed.text("where") == "everywhere":
            accounts.signed_out_everywhere(caller.person)
        else:
            accounts.signed_out(request.cookies.get(shop.marks.cookie, ""))
    answer = RedirectResponse("/sign-in", status_code=303)
    answer.delete_cookie(shop.marks.who, httponly=True, samesite="strict", secure=shop.settings.secure)
    if shop.settings.shared:
        answer.delete_cookie(shop.marks.cookie, httponly=True, samesite="strict", secure=shop.settings.secure)
    answer.headers["clear-site-data"] = '"cache"'
    return answer


def sessions(request: Request) -> Response:
    """Where this person is signed in, and what programs work for them."""
    shop, caller = shop_in(request), caller_in(request)
    accounts = _accounts(shop)
    found = accounts.sessions(caller.person) if accounts is not None and caller.person else []
    rows = [{"begun": _moment(each.begun), "seen": _moment(each.seen), "here": each.kept == caller.session}
            for each in found]  # fmt: skip
    return page(request, "sessions.html", rows=rows, caller=caller, title="Signed in")


def _moment(seconds: float) -> str:
    return datetime.fromtimestamp(seconds, UTC).strftime("%Y-%m-%d %H:%M")


ROUTES = (
    ("GET", "/sign-in", sign_in, OPEN_TO_ALL),
    ("POST", "/sign-in", signed_in, OPEN_TO_ALL),
    ("GET", "/sessions", sessions, "read"),
    ("POST", "/sign-out", sign_out, "read"),
)
