"""Errors as problem details (RFC 9457): the four parts and the code as members, the class of the error as the title."""

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from fluewright.errors import FluewrightError, OurFault, UseError
from fluewright.record.statuses import parts_of, status_of

MEDIA = "application/problem+json"
WHERE = "docs/errors.md"
"""Page on which every code is explained; `type` is this page with the code as its mark."""

TOLD = {
    400: "Used in a way it does not offer.",
    401: "Nobody who is known: no token, one that ended, or no session.",
    403: "Somebody who may not do this: the role or the token has not this right, or another page than ours asks.",
    404: "Nothing of this name is here.",
    405: "Another method than this path has.",
    409: "Refused by physics, by a rule, or by the state of the record: such as a visit that is sealed.",
    413: "More than is taken at once.",
    421: "Asked for under a name that is not this door's.",
    422: "What came in cannot be used; nothing of it was kept.",
    429: "Faster than is answered; `Retry-After` says when.",
    500: "A fault of the program, or a record that is damaged.",
}
"""Statuses of every operation, since what stands before the door answers for all of them."""


class Part(BaseModel):
    """One error in its four parts."""

    model_config = ConfigDict(json_schema_extra={"description": "One error in its four parts."})

    code: str = Field(pattern=r"^FW-[A-Z]-\d{3}$", description="stable; see docs/errors.md")
    where: str = Field(description="file, line or field; empty when it is clear")
    read: str = Field(description="what came in")
    expected: str
    matters: str = Field(description="why")
    do: str = Field(description="what to do")


class Problem(Part):
    """An error as a program reads it."""

    model_config = ConfigDict(json_schema_extra={"description": "An error as a program reads it (RFC 9457)."})

    type: str = Field(description="the code as an address below docs/errors.md")
    title: str = Field(description="what kind of error it is, the same for all of a kind")
    status: int
    detail: str = Field(description="what was read, and what to do")
    instance: str = Field(description="the path that was asked for")
    errors: list[Part] = Field(description="all that were found in one pass; this one alone where there is one")


DOCUMENTED: dict[int | str, dict[str, Any]] = {
    status: {"description": words, "content": {MEDIA: {"schema": {"$ref": "#/components/schemas/Problem"}}}}
    for status, words in TOLD.items()
}
"""The errors of an operation, for its description."""


def problem(error: FluewrightError, status: int, path: str, headers: Mapping[str, str] | None = None) -> Response:
    """An error as an answer.

    error    in its four parts
    status   of the answer
    path     that was asked for
    headers  of the answer besides
    """
    found = parts_of(error)
    first = {**(found[0] if len(found) == 1 else error.parts())}
    told = {
        "type": f"{WHERE}#{first['code']}",
        "title": (type(error).__doc__ or "").partition("\n")[0],
        "status": status,
        "detail": f"{first['read']}; {first['do']}",
        "instance": path,
        **first,
        "errors": found,
    }
    return JSONResponse(told, status_code=status, headers=dict(headers or {}), media_type=MEDIA)


def add_problems(app: FastAPI) -> None:
    """Every error of an app as a problem."""

    def told(request: Request, error: Exception) -> Response:
        known = error if isinstance(error, FluewrightError) else _of_ours(error)
        return problem(known, status_of(known), request.url.path)

    def misfit(request: Request, error: Exception) -> Response:
        several = error.errors() if isinstance(error, RequestValidationError) else []
        return problem(_misfit(several), 422, request.url.path)

    def other(request: Request, error: Exception) -> Response:
        status = error.status_code if isinstance(error, HTTPException) else 500
        headers = error.headers if isinstance(error, HTTPException) else None
        return problem(_other(request, status), status, request.url.path, headers)

    app.add_exception_handler(FluewrightError, told)
    app.add_exception_handler(RequestValidationError, misfit)
    app.add_exception_handler(HTTPException, other)
    app.add_exception_handler(Exception, told)


def _misfit(several: Any) -> UseError:
    found = [f"{'.'.join(map(str, each['loc']))}: {each['msg']}" for each in several]
    return UseError(
        code="FW-U-190",
        where=", ".join(dict.fromkeys(".".join(map(str, each["loc"])) for each in several))[:300],
        read="; ".join(found)[:1000] or "something that does not fit",
        expected="what the description of this path says, each field of its own type and no other",
        matters="a field that is read as another would be kept as something that nobody sent",
        do="see /api/openapi.json; nothing was kept",
    )


def _other(request: Request, status: int) -> UseError:
    return UseError(
        code="FW-U-191",
        read=f"{request.method} {request.url.path[:100]}: {HTTPStatus(status).phrase.lower()}",
        expected="a path and a method of this door, and a body of JSON in UTF-8",
        matters="nothing was read or kept",
        do="see /api/openapi.json",
    )


def _of_ours(error: Exception) -> OurFault:
    return OurFault(
        code="FW-Z-132",
        read=f"{type(error).__name__}",
        expected="an answer, or an error that says what to mend",
        matters="this is a fault of the program; what was said to be kept is kept",
        do="read back what was kept before sending anything again under another id",
    )
