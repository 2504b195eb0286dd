"""Every error in the tree: four parts, one code for one message, plain words."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator

import pytest
from rooms import Module, modules

from fluewright import errors

PARTS = ("code", "read", "expected", "matters", "do")
CODE = re.compile(r"FW-([A-Z])-(\d{3})")
FORBIDDEN = ("invalid", "please", "sorry", "forbidden", "illegal")
LETTERS = {
    "UseError": "U", "QuantityError": "Q", "FuelError": "F", "TraceError": "T", "VisitError": "V", "RuleError": "B",
    "EntryError": "J", "NotAllowed": "N",
    "Problems": "P", "PhysicsRefused": "K", "RecordDamaged": "R", "OurFault": "Z",
}  # fmt: skip
EXIT_CODES = {
    "UseError": 2, "InputError": 3, "QuantityError": 3, "FuelError": 3, "TraceError": 3, "VisitError": 3,
    "RuleError": 3, "EntryError": 3, "NotAllowed": 5, "Problems": 3, "RecordDamaged": 4, "PhysicsRefused": 5,
    "OurFault": 70, "FluewrightError": 70,
}  # fmt: skip


def classes() -> list[type[errors.FluewrightError]]:
    """The whole tree of errors."""
    found, waiting = [], [errors.FluewrightError]
    while waiting:
        kind = waiting.pop()
        found.append(kind)
        waiting += kind.__subclasses__()
    return found


def made_in(module: Module) -> Iterator[tuple[str, ast.Call]]:
    """Every place where an error is made: the name of its class and the call."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call):
            name = ast.unparse(node.func).rpartition(".")[2]
            if name in LETTERS and name != "Problems":
                yield name, node


def template(node: ast.expr) -> str:
    """A message with its holes left open."""
    if isinstance(node, ast.JoinedStr):
        return "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
    return str(node.value) if isinstance(node, ast.Constant) else ast.unparse(node)


def parts_of(call: ast.Call) -> dict[str, ast.expr]:
    """The keyword arguments by name."""
    return {keyword.arg: keyword.value for keyword in call.keywords if keyword.arg}


def spreads(call: ast.Call) -> bool:
    """Whether parts come in from a mapping (**parts), which is built elsewhere."""
    return any(keyword.arg is None for keyword in call.keywords)


@pytest.mark.parametrize("module", modules(), ids=str)
def test_every_error_has_its_four_parts_and_a_code(module: Module) -> None:
    wrong = []
    for name, call in made_in(module):
        given = parts_of(call)
        if not spreads(call) and (lacking := [part for part in PARTS if part not in given]):
            wrong.append(f"line {call.lineno}: {name} without {lacking}")
        code = given.get("code")
        if isinstance(code, ast.Constant):
            found = CODE.fullmatch(str(code.value))
            if not found or found[1] != LETTERS[name]:
                wrong.append(f"line {call.lineno}: {name} with code {code.value}, expected FW-{LETTERS[name]}-nnn")
    assert not wrong


@pytest.mark.parametrize("module", modules(), ids=str)
def test_errors_speak_plainly(module: Module) -> None:
    wrong = []
    for _, call in made_in(module):
        for part in ast.walk(call):
            if isinstance(part, ast.Constant) and isinstance(part.value, str):
                said = set(re.findall(r"[a-z]+", part.value.lower()))
                wrong += [f"line {part.lineno}: {word!r}" for word in FORBIDDEN if word in said]
    assert not wrong


def test_one_code_stands_for_one_message() -> None:
    messages: dict[str, dict[str, str]] = defaultdict(dict)
    for module in modules():
        for _, call in made_in(module):
            given = parts_of(call)
            code, read = given.get("code"), given.get("read")
            if isinstance(code, ast.Constant) and read is not None:
                messages[str(code.value)].setdefault(template(read), f"{module.name}:{call.lineno}")
    shared = {code: said for code, said in messages.items() if len(said) > 1}
    assert not shared, "\n".join(f"{code}: {said}" for code, said in sorted(shared.items()))


def test_each_kind_of_error_ends_the_program_with_its_own_code() -> None:
    assert {kind.__name__: kind.exit_code for kind in classes()} == EXIT_CODES


def test_the_drawing_at_the_top_shows_every_error_with_its_letter_and_exit_code() -> None:
    drawing = errors.__doc__ or ""
    for kind in classes():
        line = next((line for line in drawing.splitlines() if re.search(rf"\b{kind.__name__}\b", line)), None)
        assert line is not None, f"{kind.__name__} is not in the drawing"
        if kind.__name__ in LETTERS:
            assert line.rstrip().endswith(f"FW-{LETTERS[kind.__name__]}")
        if shown := re.search(r"exit (\d+)", line):
            assert int(shown[1]) == kind.exit_code
