"""Names and words: the project's own vocabulary, no machine's paths, no host's names."""

import ast
import re
from pathlib import Path

import pytest
from rooms import ROOT, Module, modules, strings, tracked, words

NAMELESS = {"utils", "util", "helpers", "helper", "manager", "base", "common", "misc", "stuff"}
HOLLOW = ("calc_", "get_", "compute_", "calculate_", "do_", "handle_", "process_")

NOT_OURS = {"process_request_thread", "handle_error"}
"""Methods of the standard library's server that one of ours takes the place of."""

ELSEWHERE = {
    "dashboard": "letter or index",
    "tile": "sentence",
    "widget": "drawing",
    "job sheet": "sheet",
    "worksheet": "sheet",
    "work order": "visit",
    "rule pack": "rule book",
    "rulepack": "rule book",
    "ruleset": "rule book",
    "event log": "journal",
    "audit log": "journal",
    "measurement point": "sampling point",
    "red tag": "notice",
    "traffic light": "say it in words",
}
"""Words for things that have a name of our own (left), and that name (right)."""

MACHINE_PATH = re.compile(r"(?<![\w./~*-])/(?:" + "|".join(("work", "home", "root", "Users", "tmp")) + r")/\w")
HOSTS = re.compile(r"pypi\." + r"org|pythonhosted\.|npmjs\.|registry\.[a-z]+\.[a-z]|localhost:[0-9]{4}/simple")
WORKPLACE = (
    " ".join(("seed", "document")),
    "language model",
    "the helper",
    "other helpers",
    "this session",
    " ".join(("transcript", "of")),
)


@pytest.mark.parametrize("module", modules(), ids=str)
def test_a_file_is_named_for_what_is_in_it(module: Module) -> None:
    assert not set(module.name.split(".")[1:]) & NAMELESS


@pytest.mark.parametrize("module", modules(), ids=str)
def test_a_function_is_named_for_what_comes_out(module: Module) -> None:
    named = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    found = [node for node in ast.walk(module.tree) if isinstance(node, named)]
    own = [node for node in found if node.name not in NOT_OURS]
    wrong = [node.name for node in own if node.name.lstrip("_").startswith(HOLLOW) or node.name.lower() in NAMELESS]
    wrong += [node.name for node in found if node.name.endswith(("Manager", "Helper", "Base", "Utils"))]
    assert not wrong


@pytest.mark.parametrize("module", modules(), ids=str)
def test_the_words_are_our_own(module: Module) -> None:
    wrong = []
    for line, text in strings(module):
        said = f" {' '.join(words(text))} "
        wrong += [f"line {line}: {word!r}, say {ours}" for word, ours in ELSEWHERE.items() if f" {word} " in said]
    assert not wrong


def locks() -> list[Path]:
    """What pins the versions of Python and web packages."""
    node = (path for path in ROOT.rglob("package-lock.json") if "node_modules" not in path.parts)
    return [ROOT / "requirements.lock", *sorted(path for path in node if ".venv" not in path.parts)]


@pytest.mark.parametrize("path", locks(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_a_lock_file_names_no_host(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert "://" not in text, "in package-lock.json strike the funding entries that npm writes"
    assert "sha256:" in text or "sha512-" in text
    assert not MACHINE_PATH.search(text)


def texts() -> list[tuple[Path, str]]:
    """Every committed file that is text."""
    found = []
    for path in tracked():
        try:
            found.append((path.relative_to(ROOT), path.read_text(encoding="utf-8")))
        except UnicodeDecodeError:
            continue
    return found


def test_no_committed_file_names_a_machine_a_registry_or_the_place_it_was_written() -> None:
    if not tracked():
        pytest.skip("not a checkout, so nobody can say what is committed")
    wrong = []
    for path, text in texts():
        if path == Path("tests/house/test_words.py"):
            continue
        for number, line in enumerate(text.splitlines(), 1):
            if MACHINE_PATH.search(line) or HOSTS.search(line) or any(word in line.lower() for word in WORKPLACE):
                wrong.append(f"{path}:{number}: {line.strip()[:100]}")
    assert not wrong, "\n".join(wrong)


def test_the_reference_data_is_never_committed() -> None:
    assert not [path for path in tracked() if path.name in {"boiler-2021-first-half.csv", "combustion-checks.json"}]
    assert not [path for path in tracked() if path.is_relative_to(ROOT / "src" / "fluewright" / "static")]
