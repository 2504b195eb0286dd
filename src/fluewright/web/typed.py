"""What a form brought: its fields, the id it was made with, and that it is one of ours."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import FormData
from starlette.formparsers import MultiPartException, MultiPartParser

from fluewright.errors import UseError
from fluewright.visit import once
from fluewright.visit.sent_in import MOST_BYTES
from fluewright.web.refusals import foreign_page
from fluewright.web.shop import shop_in

LONGEST = 4000
"""Letters of one field."""

MOST_FILES, LONGEST_TEXT = 8, 400_000
"""Files sent at once, and bytes of a text in a form that takes files."""

OWN = frozenset({"mark", "form", "sent"})
"""Fields of every form that say nothing of the visit."""


@dataclass(frozen=True, slots=True)
class Form:
    """A form as it came.

    fields  texts by name, without spaces around them; the first of each
    form    the id it was made with
    told    the same as they were typed, for a password
    """

    fields: Mapping[str, str]
    form: str
    told: Mapping[str, str] = field(default_factory=dict, repr=False)

    def raw(self, name: str) -> str:
        """One field with the spaces around it."""
        return self.told.get(name, "")

    def text(self, name: str) -> str:
        """One field; empty when it was left empty."""
        return self.fields.get(name, "")

    def once(self) -> str:
        """The id of this form with what stands in it: the same sent twice is one thing."""
        return once.of_form(self.form, "\n".join(self._told()))

    def _told(self) -> list[str]:
        return [f"{name}={value}" for name, value in sorted(self.fields.items()) if name not in OWN]


async def form_in(request: Request) -> Form:
    """The form of a request; NotAllowed when this door did not make it for this browser."""
    async with request.form(max_files=0, max_fields=100) as came:
        return form_from(request, came)


def form_from(request: Request, came: FormData, longest: int = LONGEST) -> Form:
    """What came as a form, once its mark was looked at; `longest` letters of one field."""
    told = {name: value for name, value in reversed(came.multi_items()) if isinstance(value, str)}
    fields = {name: value.strip() for name, value in told.items()}
    cookie = getattr(request.state, "cookie", "")
    if not shop_in(request).marks.form_is_ours(cookie, fields.get("mark", "")):
        raise foreign_page()
    long = next((name for name, value in fields.items() if len(value) > longest), None)
    if long is not None:
        raise UseError(
            code="FW-U-131",
            read=f"{len(fields[long]):,} letters in {long}",
            expected=f"at most {longest:,}",
            matters="a line that long is nothing that one reads again on a sheet",
            do="shorten it; nothing was kept",
        )
    return Form(fields, fields.get("form") or fields.get("sent", ""), told)


@dataclass(frozen=True, slots=True)
class FormWithFiles(Form):
    """A form with files.

    files  bytes by the name that the person gave them
    """

    files: Mapping[str, bytes] = field(default_factory=dict)

    def once(self) -> str:
        """The id of this form with what stands in it and in its files."""
        held = "\n".join(hashlib.sha256(content).hexdigest() for _, content in sorted(self.files.items()))
        return once.of_form(self.form, "\n".join([*self._told(), held]))


class _Held(MultiPartParser):
    """A form with files, held in memory: a page's own Python has no other place, and its size is bounded before."""

    spool_max_size = MOST_BYTES + 1


async def files_in(request: Request) -> FormWithFiles:
    """A form with files; what it may weigh is asked at the door."""
    if not request.headers.get("content-type", "").startswith("multipart/form-data"):
        form = await form_in(request)
        return FormWithFiles(form.fields, form.form, form.told)
    bounds = {"max_files": MOST_FILES, "max_fields": 100, "max_part_size": LONGEST_TEXT}
    try:
        came = await _Held(request.headers, request.stream(), **bounds).parse()
    except (MultiPartException, KeyError) as error:
        raise _broken_off() from error
    try:
        form = form_from(request, came, LONGEST_TEXT)
        files = {each.filename or "": each.file.read() for _, each in came.multi_items() if not isinstance(each, str)}
    finally:
        await came.close()
    return FormWithFiles(form.fields, form.form, form.told, files)


def _broken_off() -> UseError:
    return UseError(
        code="FW-U-135",
        read="a form with files that breaks off",
        expected="the form of the page that takes files",
        matters="half a file proves nothing",
        do="choose the file again; nothing was kept",
    )


Sent = Annotated[FormWithFiles, Depends(files_in)]
"""A form with files, for the handler that takes it."""

Typed = Annotated[Form, Depends(form_in)]
"""A form, for the handler that takes it."""
