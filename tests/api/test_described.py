"""The description of the door: it is the one in docs, every error stands in it, and what it promises holds when it is
tried with whatever fits it and whatever does not (Schemathesis, with a seed)."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from api_kit import HERE, WHOLE, ShopDoor
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.generation import GenerationMode
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from fluewright.api.app import ROUTES, create_api, described
from fluewright.api.problems import MEDIA, TOLD
from fluewright.visit import adding, kept

DOCS = Path(__file__).resolve().parents[2] / "docs"
EXAMPLES = 20
DOOR = {"visit": {"title": "Made-up visit", "date": "2026-11-25"}, "appliance": {"words": "boiler"},
        "fuel": {"name": "natural-gas"}}  # fmt: skip


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Any, str, str]]:
    door = ShopDoor(tmp_path_factory.mktemp("described"))
    visit = kept.begun(door.journal, DOOR).id
    entry = adding.added(door.journal, visit, WHOLE).entries[-1].id
    yield door.client(door.token["administrator"]), visit, entry
    door.close()


def test_the_description_in_docs_is_this_one() -> None:
    written = json.loads((DOCS / "openapi.json").read_text(encoding="utf-8"))
    assert written == json.loads(json.dumps(described(create_api()))), "run `make docs`"


def test_every_operation_tells_every_error_and_its_right() -> None:
    made = described(create_api())
    assert made["openapi"].startswith("3.1")
    operations = [(path, each) for path in made["paths"] for each in made["paths"][path].values()]
    assert len(operations) == len(ROUTES)
    for path, operation in operations:
        assert operation["x-right"] and operation["summary"] and operation["description"], path
        for status in TOLD:
            assert list(operation["responses"][str(status)]["content"]) == [MEDIA], path


CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    response_headers_conformance,
]
schema = schemathesis.openapi.from_dict(described(create_api()))
schema.config.generation.update(modes=[GenerationMode.POSITIVE, GenerationMode.NEGATIVE])
schema.config.seed = 20261125


@schema.parametrize()
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    database=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
def test_what_the_description_promises_holds(case: Any, asked: tuple[Any, str, str]) -> None:
    """Half of the cases are about a visit that is there: ids that fit by chance are never met otherwise."""
    client, visit, entry = asked
    for name, known in (("code", visit), ("entry", entry)):
        if name in (case.path_parameters or {}) and len(str(case.path_parameters[name])) % 2 == 0:
            case.path_parameters[name] = known
    told = case.as_transport_kwargs(base_url=f"{HERE}/api")
    told["headers"] = {
        name: value for name, value in told["headers"].items() if name.lower() in ("content-type", "accept")
    }
    told.pop("cookies", None)
    told["content"] = told.pop("data", None)
    answer = client.request(**{name: value for name, value in told.items() if value is not None})
    assert answer.status_code < 500, answer.text
    case.validate_response(answer, checks=CHECKS)
    if answer.status_code >= 400:
        assert set(answer.json()) >= {"type", "title", "status", "detail", "instance", "code", "errors"}
