"""What a form brought: its fields, the id it was made with, and that it is one of ours."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import FormData, UploadFile
from starlette.formparsers import MultiPartException, MultiPartParser

from fluewright.errors import UseError
from fluewright.visit import once, pictures
from fluewright.web.guard import foreign_page
from fluewright.web.shop import shop_in

LONGEST = 4000
"""Letters of one field."""

OWN = frozenset({"mark", "form", "sent"})
"""Fields of every form that say nothing of the visit."""


@dataclass(frozen=True, slots=True)
class Form:
    """A form as it came.

    fields  texts by name, without spaces around them; the first of each
    form    the id it was made with
    """

    fields: Mapping[str, str]
    form: str
    content: bytes = b""
    """Of the file that came with it; empty without one."""

    def text(self, name: str) -> str:
        """One field; empty when it was left empty."""
        return self.fields.get(name, "")

    def once(self) -> str:
        """The id of this form with what stands in it: the same sent twice is one thing."""
        told = "\n".join(f"{name}={value}" for name, value in sorted(self.fields.items()) if name not in OWN)
        file = hashlib.sha256(self.content).hexdigest() if self.content else ""
        return once.of_form(self.form, told + file)


async def form_in(request: Request) -> Form:
    """The form of a request; NotAllowed when this door did not make it for this browser."""
    async with request.form(max_files=0, max_fields=100) as came:
        return _ours(request, came)


class _Held(MultiPartParser):
    """A form with a file, held in memory: a page's own Python has no other place, and its size is bounded before."""

    spool_max_size = pictures.LONGEST + 1


async def picture_in(request: Request) -> Form:
    """A form with one photograph."""
    try:
        came = await _Held(request.headers, request.stream(), max_files=1, max_fields=40).parse()
    except (MultiPartException, KeyError) as error:
        raise _no_picture() from error
    try:
        files = [value for _, value in came.multi_items() if isinstance(value, UploadFile)]
        content = await files[0].read(pictures.LONGEST + 1) if files else b""
        return replace(_ours(request, came), content=content)
    finally:
        await came.close()


def _no_picture() -> UseError:
    return UseError(
        code="FW-U-135",
        read="a form without a picture, or one that breaks off",
        expected="the form of the page of photographs",
        matters="half a picture proves nothing",
        do="choose the picture again; nothing was kept",
    )


def _ours(request: Request, came: FormData) -> Form:
    """The fields of a form that this door made for this browser."""
    fields = {name: value.strip() for name, value in reversed(came.multi_items()) if isinstance(value, str)}
    cookie = getattr(request.state, "cookie", "")
    if not shop_in(request).marks.form_is_ours(cookie, fields.get("mark", "")):
        raise foreign_page()
    long = next((name for name, value in fields.items() if len(value) > LONGEST), None)
    if long is not None:
        raise UseError(
            code="FW-U-131",
            read=f"{len(fields[long]):,} letters in {long}",
            expected=f"at most {LONGEST:,}",
            matters="a line that long is nothing that one reads again on a sheet",
            do="shorten it; nothing was kept",
        )
    return Form(fields, fields.get("form") or fields.get("sent", ""))


Typed = Annotated[Form, Depends(form_in)]
"""A form, for the handler that takes it."""

Pictured = Annotated[Form, Depends(picture_in)]
"""A form with a photograph."""
