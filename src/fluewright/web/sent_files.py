"""A form with files: its fields as in every form, and each file as bytes, counted and bounded."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import UploadFile

from fluewright.visit.uploads import LONGEST
from fluewright.web.typed import Form, form_from

MOST = 8
"""Files of one form."""


@dataclass(frozen=True, slots=True)
class Sent:
    """A form with its files.

    form   its fields
    files  content by the name of the field; the names that the files had elsewhere are not looked at
    """

    form: Form
    files: Mapping[str, bytes]


async def sent_in(request: Request) -> Sent:
    """The form and the files of a request; NotAllowed when this door did not make it for this browser."""
    async with request.form(max_files=MOST, max_fields=100) as came:
        form = form_from(request, came)
        files = {}
        for name, value in came.multi_items():
            if isinstance(value, UploadFile) and name not in files:
                files[name] = await value.read(LONGEST + 1)
    return Sent(form, {name: content for name, content in files.items() if content})


WithFiles = Annotated[Sent, Depends(sent_in)]
"""A form with files, for the handler that takes it; its path ends as `guard.UPLOADS` says."""
