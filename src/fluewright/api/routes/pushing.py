"""Messages of an instrument, pushed by HTTP: answered when they are on the disk, and not before."""

from fastapi import Request

from fluewright.api import answers
from fluewright.api.inside import inside
from fluewright.api.route import Route
from fluewright.errors import UseError
from fluewright.visit import while_live

SOURCE = 200
"""Letters of a name that are repeated in an error."""


async def pushed(request: Request, source: str) -> answers.Pushed:
    """Take one message of a source whose mapping is of the kind `push`, as its mapping says it is written.

    The token lets a program send; it proves no sample. Only a signature by the key of the mapping does: without one
    the source may raise an alarm, and clears nothing.
    """
    live = inside(request).live()
    if live is None:
        raise while_live.not_listening()
    try:
        taken = await live.pushed(source, await request.body())
    except KeyError as error:
        raise UseError(
            code="FW-U-209",
            where=source[:SOURCE],
            read="a source that nothing is pushed to",
            expected="the name of a mapping of the kind push that this server listens to",
            matters="samples of another name would be taken for those of another instrument",
            do="begin the server with --listen and that mapping; nothing was kept",
        ) from error
    if not taken:
        raise UseError(
            code="FW-U-217",
            where=source[:SOURCE],
            read="a message that is damaged, of another form, or not signed by the key of its mapping",
            expected="what the mapping says: columns or members, checksum, and the signature where it names a key",
            matters="part of a message, or one of somebody else, could be taken for a reading",
            do="look at the mapping with `fluewright listen MAPPING --dry`; nothing of it was kept",
        )
    return answers.Pushed(source=source)


ROUTES = (Route("POST", "/live/{source}", pushed, "work", answers.Pushed, 201),)
