"""What is said to those whom the door does not let in."""

from fluewright.errors import NotAllowed


def foreign_host(host: str) -> NotAllowed:
    """A request under a name that is not ours."""
    return NotAllowed(
        code="FW-N-101",
        read=f"a page asked for under the name {host[:100]!r}",
        expected="the address that the program printed",
        matters="a name of somebody else's may be made to point here, and their page would read the records",
        do="open the address that `fluewright serve` printed",
    )


def foreign_page() -> NotAllowed:
    """A change asked for by a page of somebody else."""
    return NotAllowed(
        code="FW-N-102",
        read="a form sent by another page than ours",
        expected="a form of this page",
        matters="a page of somebody else, open in the same browser, could write into the records",
        do="go back to the sheet and send it from there; nothing was kept",
    )


def not_in(*, shared: bool = False) -> NotAllowed:
    """A browser or a program that has not come in."""
    if shared:
        return _not_signed_in()
    return NotAllowed(
        code="FW-N-103",
        read="a browser that this door does not know",
        expected="the address with its token, which opens once",
        matters="other people and programs on this machine must not read or write the records",
        do="open the address that `fluewright serve` printed; when it was used already, start it again for a new one",
    )


def too_long(most: int) -> NotAllowed:
    """A form that is longer than anybody types.

    most  bytes that it may have
    """
    return NotAllowed(
        code="FW-N-104",
        read="a form that is too long, or does not say how long it is",
        expected=f"at most {most // 1024} kB",
        matters="a door that takes in everything can be filled up",
        do="shorten it; nothing was kept",
    )


def _not_signed_in() -> NotAllowed:
    return NotAllowed(
        code="FW-N-151",
        read="somebody who has not signed in, or whose session or token has ended",
        expected="a name and a password, or a program's token",
        matters="the records are open to the people of the shop only",
        do="sign in at /sign-in; a program sends its token as `Authorization: Bearer`",
    )


def no_role(name: str) -> NotAllowed:
    """Somebody who is known but has no role here.

    name  as it is kept; empty when they have not said who they are
    """
    return NotAllowed(
        code="FW-N-152",
        read=f"{name or 'somebody who has not said who they are'}, without a role here",
        expected="one of the people of the shop who are active",
        matters="from the first administrator on, only people who were entered have rights",
        do="say who you are at /sign-in, or have an administrator enter you",
    )


def too_soon(wait: float) -> NotAllowed:
    """Somebody who asks faster than a person does.

    wait  seconds until the next is answered
    """
    return NotAllowed(
        code="FW-N-153",
        read="requests faster than any person sends them",
        expected=f"{wait:.1f} seconds of waiting",
        matters="one who asks without end keeps all others from their work",
        do="wait that long and send it again; nothing was kept of it",
    )
