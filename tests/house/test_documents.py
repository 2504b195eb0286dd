"""What is exported is what is documented, and the generated pages are those of this program."""

import importlib.util
import re
from types import ModuleType

import pytest
from rooms import ROOT

import fluewright


@pytest.fixture(scope="module")
def generator() -> ModuleType:
    """The script that writes the generated pages."""
    spec = importlib.util.spec_from_file_location("generate", ROOT / "docs" / "generate.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("name", ["reference.md", "errors.md", "rights.md"])
def test_a_generated_page_is_up_to_date(generator: ModuleType, name: str) -> None:
    written = (ROOT / "docs" / name).read_text(encoding="utf-8")
    assert written == generator.pages()[name], "run `make docs` and look at what it changes"


def test_what_is_exported_is_what_is_documented() -> None:
    text = (ROOT / "docs" / "reference.md").read_text(encoding="utf-8")
    offered = getattr(fluewright, "__all__", ())
    assert set(re.findall(r"^### `fluewright\.(\w+)`$", text, re.MULTILINE)) == set(offered)
    for name in offered:
        assert getattr(fluewright, name) is not None


def test_every_room_is_on_the_map() -> None:
    text = (ROOT / "docs" / "house.md").read_text(encoding="utf-8")
    rooms = [folder.parent.name for folder in (ROOT / "src" / "fluewright").glob("*/__init__.py")]
    assert not [room for room in rooms if f"`{room}/`" not in text]


def test_links_between_our_pages_lead_somewhere() -> None:
    wrong = []
    for page in [*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")]:
        for link in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
            if ":" not in link and not (page.parent / link).exists():
                wrong.append(f"{page.relative_to(ROOT)}: {link}")
    assert not wrong


def test_every_exit_code_of_an_error_is_explained(generator: ModuleType) -> None:
    from fluewright import errors

    kinds = [
        kind for kind in vars(errors).values() if isinstance(kind, type) and issubclass(kind, errors.FluewrightError)
    ]
    assert {kind.exit_code for kind in kinds} | {0, 1} == set(generator.EXITS)


def test_every_code_of_an_error_is_listed() -> None:
    listed = (ROOT / "docs" / "errors.md").read_text(encoding="utf-8")
    used: set[str] = set()
    for path in (ROOT / "src" / "fluewright").rglob("*.py"):
        used |= set(re.findall(r"\bFW-[A-Z]-\d{3}\b", path.read_text(encoding="utf-8")))
    assert len(used) > 50
    assert not {code for code in used if code not in listed}
