"""Makes the door for programs: an ASGI app that stands below `/api` of the pages, behind the same guard."""

from typing import Any

from fastapi import Depends, FastAPI
from starlette.responses import JSONResponse, Response

from fluewright.api.inside import Inside
from fluewright.api.problems import DOCUMENTED, MEDIA, Part, Problem, add_problems
from fluewright.api.route import Route, needed
from fluewright.api.routes import changes, looking, pushing, taking_along, visits

PREFIX = "/api"
ROUTES: tuple[Route, ...] = (*visits.ROUTES, *changes.ROUTES, *looking.ROUTES, *pushing.ROUTES, *taking_along.ROUTES)
"""All that programs may ask."""

ABOUT = """\
The use cases of the pages for programs: visits, readings, judgement, seals, what is due, which rules apply.

A program sends its token as `Authorization: Bearer ...` (made by `fluewright journal tokens --make`); a page of this
door sends its cookie, and with a change the header `X-Fluewright-Mark`. Each operation names the right it asks for as
`x-right`. What is sent with an `id` is kept once, however often it is sent. Errors are problem details (RFC 9457).
"""

WAYS = {
    "token": {"type": "http", "scheme": "bearer", "description": "a token of a program"},
    "browser": {"type": "apiKey", "in": "cookie", "name": "fluewright-8766", "description": "a browser that came in"},
}


def create_api(inside: Inside | None = None) -> FastAPI:
    """The door for programs.

    inside  what stands behind it; None where only its description is wanted
    -> app, to be mounted at `PREFIX` behind a guard that says who asks
    """
    app = FastAPI(title="Fluewright", version="1", description=ABOUT, openapi_url=None, docs_url=None, redoc_url=None)
    app.state.inside = inside
    for route in ROUTES:
        _add(app, route)
    add_problems(app)
    app.add_api_route("/openapi.json", lambda: _described(app), methods=["GET"], include_in_schema=False,
                      dependencies=[Depends(needed("read"))])  # fmt: skip
    return app


def _add(app: FastAPI, route: Route) -> None:
    made = route.answer is not None
    app.add_api_route(
        route.path,
        route.handler,
        methods=[route.method],
        status_code=route.status,
        response_model=route.answer,
        response_class=JSONResponse if made else Response,
        responses={**DOCUMENTED, **({} if made else _ARCHIVE)},
        dependencies=[Depends(needed(route.right))],
        operation_id=route.handler.__name__,
        openapi_extra={"x-right": route.right},
    )


_ARCHIVE: dict[int | str, dict[str, Any]] = {
    200: {
        "description": "an archive",
        "content": {"application/zip": {"schema": {"type": "string", "format": "binary"}}},
    }
}


def _described(app: FastAPI) -> JSONResponse:
    return JSONResponse(described(app))


def described(app: FastAPI) -> dict[str, Any]:
    """The description of the door as OpenAPI 3.1."""
    from fastapi.openapi.utils import get_openapi

    made = get_openapi(
        title=app.title, version=app.version, description=app.description, routes=app.routes, openapi_version="3.1.0"
    )
    parts = made["components"]
    for model in (Part, Problem):
        parts["schemas"][model.__name__] = model.model_json_schema(ref_template="#/components/schemas/{model}")
        parts["schemas"][model.__name__].pop("$defs", None)
    for operation in (each for path in made["paths"].values() for each in path.values()):
        operation["responses"]["422"]["content"] = {MEDIA: {"schema": {"$ref": "#/components/schemas/Problem"}}}
    for name in ("HTTPValidationError", "ValidationError"):
        parts["schemas"].pop(name, None)
    parts["securitySchemes"] = WAYS
    return made | {"servers": [{"url": PREFIX}], "security": [{name: []} for name in WAYS]}
