"""Sentences of the listed rooms are templates, templates are in the catalogs, and catalogs say what they should."""

import ast
import importlib.util
import re
from collections.abc import Iterator
from string import Formatter
from types import ModuleType

import pytest
from babel.messages.catalog import Catalog, Message
from rooms import ROOT, Module, modules, strings

ROOMS = (
    "fluewright.diagnose",
    "fluewright.cli.diagnose",
    "fluewright.cli.visit_plan",
    "fluewright.report.cause_lines",
    "fluewright.report.notices",
    "fluewright.rules.consent",
    "fluewright.rules.decidable",
    "fluewright.rules.differences",
    "fluewright.tune.advise",
    "fluewright.tune.permit_told",
    "fluewright.tune.set_told",
    "fluewright.visit.causes",
    "fluewright.visit.plan",
)
"""Where every sentence is a template. docs/languages.md names the others."""

SAYING = {"say", "say_count", "marked", "pieces", "worded", "in_pieces"}
APART = {"add_argument", "UseError", "_split", "problem"}
"""Calls whose texts are options of the command line or parts of errors: in no catalog yet, see docs/languages.md."""

_WORD = "a word that code compares, or a key; never printed as it stands"
_HELP = "help of the command line, in no catalog yet"

EXCEPTIONS: dict[str, dict[str, tuple[str, ...]]] = {
    "cli.diagnose": {_HELP: (
        "class of appliance, such as oil-burner",
        "what was read, such as o2=2.8%% co=400ppm flue=520F air=68F",
        "what the plate says of a reading, such as gas_pressure=3.5inwc",
        "a look and whether it found what it looks for",
    )},
    "cli.visit_plan": {_HELP: ("which readings a visit still needs and why, in walking order",)},
    "diagnose.asked": {_WORD: ("at least", "at most")},
    "diagnose.table": {_WORD: ("none of these",)},
    "report.cause_lines": {_WORD: ("tested out", "inspect ")},
    "rules.decidable": {_WORD: ("not said",)},
    "tune.advise": {_WORD: (
        "air shutter", "fan speed", "draft damper", "gas pressure", "pump pressure", "premix offset",
    )},
    "tune.permit_told": {
        _WORD: ("permit run", "from memory", "of the permit", "run_", "oxygen_run_", "read_"),
        "a unit": (" ppm", ") ppm"),
        "the name of a document": (
            "New Mexico Environment Department, SOP for portable analyzers in performance tests",
        ),
    },
    "tune.set_told": {_WORD: ("curve set", "not monotone")},
    "visit.causes": {_WORD: (
        "over fire", "room air", "gas input", "gas supply", "everything on at appliance", "oil supply", "above hood",
        "heat delivered, water", "from the plate", "not reachable",
    )},
    "visit.plan": {_WORD: (
        "not asked", "safety devices", "the house", "danger ", "device ", "house ", "last ", "visit ",
    )},
}  # fmt: skip
"""Texts that are no sentences, by module and reason."""

SENTENCE = re.compile(r"[A-Za-z]{2,},? [A-Za-z]")
WORD = re.compile(r"[A-Za-z]{2,}")


def script() -> ModuleType:
    """The module scripts/words.py, which is no part of any package."""
    spec = importlib.util.spec_from_file_location("gathered_words", ROOT / "scripts" / "words.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def rooms() -> list[Module]:
    """The modules of the listed rooms."""
    return [each for each in modules() if any(each.name == room or each.name.startswith(f"{room}.") for room in ROOMS)]


def _name(call: ast.Call) -> str:
    return ast.unparse(call.func).rpartition(".")[2]


def _is_error(call: ast.Call) -> bool:
    return any(keyword.arg == "matters" for keyword in call.keywords)


def _short(module: Module) -> str:
    return module.name.removeprefix("fluewright.")


def unsaid(module: Module) -> Iterator[str]:
    """Texts of a module that read like sentences and are no templates."""
    aside: set[int] = set()
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            aside.add(id(node.value))
        elif isinstance(node, ast.Call) and (_name(node) in SAYING | APART or _is_error(node)):
            aside |= {id(part) for part in ast.walk(node) if isinstance(part, (ast.Constant, ast.JoinedStr))}
    held = {text for texts in EXCEPTIONS.get(_short(module), {}).values() for text in texts}
    for node in ast.walk(module.tree):
        if id(node) in aside:
            continue
        if isinstance(node, ast.JoinedStr):
            words = [part.value for part in node.values if isinstance(part, ast.Constant) and WORD.search(part.value)]
            yield from (f"line {node.lineno}: {each!r}" for each in words if each not in held)
            aside |= {id(part) for part in node.values}
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value not in held:
            yield from [f"line {node.lineno}: {node.value!r}"] if SENTENCE.search(node.value) else []


@pytest.mark.parametrize("module", rooms(), ids=str)
def test_a_sentence_of_these_rooms_is_a_template(module: Module) -> None:
    assert not list(unsaid(module))


def test_every_exception_is_still_needed() -> None:
    texts = {_short(module): {text for _, text in strings(module)} for module in rooms()}
    held = [(name, text) for name, reasons in EXCEPTIONS.items() for each in reasons.values() for text in each]
    assert not [(name, text) for name, text in held if text not in texts[name]]


def test_a_sentence_that_is_no_template_is_found() -> None:
    text = 'def f(x: int) -> str:\n    return f"moved by {x}"\n\n\nA = "a whole sentence"\n'
    assert len(list(unsaid(Module("fluewright.made_up", ROOT, text, ast.parse(text))))) == 2


@pytest.mark.parametrize("module", [each for each in modules() if each.name != "fluewright.words"], ids=str)
def test_a_template_is_a_literal(module: Module) -> None:
    gather = script()
    imports = [node for node in module.tree.body if isinstance(node, ast.ImportFrom) and node.module in gather.OURS]
    ours = {"say", "say_count", "marked"} & {name.name for node in imports for name in node.names}
    calls = [node for node in ast.walk(module.tree) if isinstance(node, ast.Call) and _name(node) in ours]
    loose = [each for each in calls if isinstance(each.func, ast.Name) and not isinstance(each.args[0], ast.Constant)]
    assert not [ast.unparse(each) for each in loose]


def test_the_template_file_is_what_the_program_says() -> None:
    gather = script()
    assert gather.TEMPLATE.read_text(encoding="utf-8") == gather.written(gather.extracted()), "make words"


def catalogs() -> list[tuple[str, Catalog]]:
    """Every language."""
    return [(name, catalog) for name, _, catalog in script().catalogs()]


def fields(text: str) -> set[str]:
    """Names of the fields of a template; plain names only."""
    return {str(name) for _, name, _, _ in Formatter().parse(text) if name is not None}


def sides(message: Message) -> Iterator[tuple[str, str]]:
    """Each English form with its translation."""
    english = message.id if isinstance(message.id, tuple) else (message.id,)
    said = message.string if isinstance(message.string, tuple) else (message.string,)
    yield from ((english[min(place, len(english) - 1)], text) for place, text in enumerate(said) if text)


@pytest.mark.parametrize(("name", "catalog"), catalogs(), ids=lambda each: each if isinstance(each, str) else "")
def test_a_catalog_fits_the_template_file(name: str, catalog: Catalog) -> None:
    template = script().extracted()
    assert {each.id for each in catalog} == {each.id for each in template}, "make words"
    assert not catalog.obsolete
    assert not [each.id for each in catalog if each.id and each.fuzzy]
    for message in catalog:
        for english, said in sides(message) if message.id else ():
            assert fields(english) == fields(said), f"{name}: {said}"
            assert all(field.isidentifier() for field in fields(said)), f"{name}: {said}"
            assert (english[0] == " ", english[-1] == " ") == (said[0] == " ", said[-1] == " "), f"{name}: {said}"
            assert english.endswith(".") == said.endswith("."), f"{name}: {said}"


WHOLE = (
    "cli/diagnose.py", "cli/visit_notice.py", "cli/visit_plan.py", "diagnose/", "report/cause_lines.py",
    "report/notices.py", "visit/plan.py", "appliance/", "rules/consent", "rules/visits", "rules/together",
    "rules/schema.py", "evidence/reading.py", "simulate/",
)  # fmt: skip
"""What German says wholly."""


def test_german_is_whole_where_it_says_so() -> None:
    german = dict(catalogs())["de"]
    asked = [each for each in german if each.id and any(path.startswith(WHOLE) for path, _ in each.locations)]
    missing = [each.id for each in asked if not list(sides(each))]
    assert len(asked) > 600
    assert not missing


def test_the_readings_of_a_diagnosis_have_german_names() -> None:
    from fluewright.diagnose.clues import KINDS
    from fluewright.quantity.names import of

    german = dict(catalogs())["de"]
    names = {of(kind.reading).words for kind in KINDS.values()}
    assert not [name for name in names if not german[name].string]
