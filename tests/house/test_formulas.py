"""A formula is written once for every kind of number: what such a text may not contain, and what it must say."""

import ast
import re
from collections.abc import Iterator

import pytest
from rooms import Function, Module, functions, kernel, public_functions

MACHINERY: dict[str, str] = {
    "fluewright.kernel.ops": "here the three kinds of number are told apart",
    "fluewright.kernel.dual": "the uncertain number itself",
    "fluewright.kernel.equilibrium": "an iteration on plain floats, which has to compare",
}
"""Files of the kernel that are no formulas, each with its reason."""

STRUCTURE = {
    "air", "amounts", "carriers", "combustion", "component", "diluted", "dry", "flue", "fuel", "group", "ideal",
    "losses", "mass_fractions", "metering", "mole_fractions", "name", "parts", "prepared", "species",
    "volume_fractions", "body", "samples", "window", "table",
}  # fmt: skip
"""Inputs that are no single quantity: things made of several, and choices."""

OF_ANY_KIND = {"value", "spread", "limit", "fraction", "dry_fraction", "duration", "pressure", "temperature"}
"""Inputs of formulas that hold for whatever quantity is put in, its unit said in the docstring."""

UNREAD = {
    "cross_share": "sensor cross-sensitivity", "hydrogen_to_carbon_monoxide": "cell physics",
    "response_time": "cell physics", "zero_pressure": "cell physics", "shift_constant": "equilibrium",
    "wobbe_change": "drift", "sulfur_trioxide_pressure": "acid dew point", "water_pressure": "acid dew point",
    "condensed_amount": "mol per unit of fuel", "recirculated_fraction": "intake",
    "water_ratio": "mol per mol dry air", "air_need": "per volume or mole of fuel",
    "heating_value": "per volume, mass or mole", "flame_speed": "Weaver", "base_variance": "bill fit",
    "slope_variance": "bill fit", "covariance": "bill fit", "freedom": "bill fit", "quantile": "bill fit",
    "other_heating_value": "per volume, mass or mole", "primary_air_ratio": "Weaver",
    "oxygen_fraction": "in the fuel gas", "diffusing_capacity": "lung", "ventilation": "lung",
    "uptake_resistance": "lung and breathing", "longest_gap": "between readings", "start": "of a window",
    "least_share": "of a window that must have been read", "fall": "altitude rule, per metre",
    "free_altitude": "altitude rule", "heat_capacity_ratio": "gas property", "gas_factor": "pipe, code equation",
    "code_compression": "pipe, code equation", "dynamic_viscosity": "pipe", "viscosity": "pipe", "warming": "pipe",
    "reynolds": "pipe", "relative_roughness": "pipe", "roughness": "pipe", "fittings_ratio": "pipe",
    "pressure_in": "pipe, absolute", "pressure_out": "pipe, absolute", "mass_flow": "pipe",
    "fittings_share": "tightness", "sureness": "tightness", "exponent": "tightness", "barometer_start": "tightness",
    "barometer_end": "tightness", "surrounding_temperature": "flue", "heat_flow_rate": "flue", "area": "flue",
    "gas_constant": "J/(kg K) of a chimney's gas", "leakage_coefficient": "m3/s at 1 Pa",
    "air_carbon_dioxide_fraction": "of room air",
}  # fmt: skip
"""Physical inputs that nobody types or reads off, so that the registry has no entry; with where they belong."""

STATES = ("set_", "new_", "later_", "tuned_", "reference_", "meter_", "diluted_", "cold_", "warm_", "low_", "high_")
"""Which of several gases, days or places a quantity belongs to: the gas a burner was set for, the one that came."""

PRINTED_FORMS = "fluewright.kernel.short_forms"
"""Legal and handbook formulas, kept as printed: their inputs are in printed units and carry them in their names."""

LAST_LINES = ("Holds", "Fails", "Source")


def formulas() -> list[Module]:
    """The files of the kernel that hold formulas."""
    return [module for module in kernel() if module.name not in MACHINERY]


def public() -> list[tuple[Module, Function]]:
    """Every formula that others may call."""
    return [(module, function) for module in formulas() for function in public_functions(module)]


def labels() -> list[str]:
    """How the formulas are called in the list of tests."""
    return [f"{module.name.rpartition('.')[2]}.{function.name}" for module, function in public()]


def inputs_of(function: Function) -> list[str]:
    """The names of all parameters."""
    parameters = function.args
    return [argument.arg for argument in [*parameters.posonlyargs, *parameters.args, *parameters.kwonlyargs]]


def compares_numbers(test: ast.expr) -> bool:
    """Whether a condition orders values, or asks whether a value equals a number."""
    for node in ast.walk(test):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            if any(ast.unparse(side).startswith("len(") for side in sides):
                continue
            number = any(isinstance(side, ast.Constant) and isinstance(side.value, int | float) for side in sides)
            ordered = any(isinstance(operator, ast.Lt | ast.LtE | ast.Gt | ast.GtE) for operator in node.ops)
            if ordered or number:
                return True
    return False


def takes_any_number(function: Function) -> bool:
    """Whether arrays and uncertain numbers may come in: one that speaks of float alone takes floats alone."""
    return "Number" in ast.unparse(function.args) or "Number" in ast.unparse(function.returns or ast.Constant(None))


def forbidden(tree: ast.AST) -> Iterator[str]:
    """What passes wrong, or not at all, on an array or an uncertain number."""
    for node in (part for function in functions(tree) if takes_any_number(function) for part in ast.walk(function)):
        if isinstance(node, ast.If | ast.IfExp | ast.While) and compares_numbers(node.test):
            yield f"line {node.lineno}: decides by comparing numbers; use ops.where"
        elif isinstance(node, ast.Assert):
            yield f"line {node.lineno}: assert vanishes when Python runs optimised"
        elif isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            if called in {"max", "min", "round"} or called.split(".")[0] in {"math", "np", "numpy"}:
                yield f"line {node.lineno}: {called}() does not take every kind of number; see kernel.ops"


@pytest.mark.parametrize("module", formulas(), ids=str)
def test_a_formula_takes_every_kind_of_number(module: Module) -> None:
    assert list(forbidden(module.tree)) == []


def test_the_check_itself_sees_what_is_forbidden() -> None:
    wrong = (
        "def f(x: Number):\n if x > 0: return 1\n return math.exp(x)\n",
        "def f(x: Number):\n return max(x, 0)\n",
        "def f(x) -> Number:\n return 1 if x == 0 else 2\n",
        "def f(x: Number):\n assert x\n",
        "def f(x: Number):\n return np.where(x, 1, 2)\n",
    )
    assert [bool(list(forbidden(ast.parse(text)))) for text in wrong] == [True] * len(wrong)
    right = (
        "def f(*, fuel: Fuel, x: Number):\n return ops.maximum(x, 0.0) if fuel.unit == 'mol' else x / 2\n",
        "def f(x: float):\n return max(x, 0.0)\n",
    )
    assert [list(forbidden(ast.parse(text))) for text in right] == [[], []]


@pytest.mark.parametrize(("module", "function"), public(), ids=labels())
def test_numbers_are_named_when_a_formula_is_called(module: Module, function: Function) -> None:
    positional = [argument.arg for argument in [*function.args.posonlyargs, *function.args.args]]
    assert not positional, f"{module.name}.{function.name}: put * before {positional}"
    assert function.returns is not None


@pytest.mark.parametrize(("module", "function"), public(), ids=labels())
def test_a_formula_says_what_goes_in_what_comes_out_and_where_it_comes_from(module: Module, function: Function) -> None:
    text = ast.get_docstring(function)
    assert text, f"{module.name}.{function.name} says nothing"
    lines = text.splitlines()
    assert lines[0].endswith("."), f"one sentence first, not {lines[0]!r}"
    explained = [match[1] for line in lines if (match := re.match(r"([a-z]\w*(?:, [a-z]\w*)*) {2,}\S", line))]
    named = [name for group in explained for name in group.split(", ")]
    missing = [name for name in inputs_of(function) if name not in named]
    assert not missing, f"say unit and range of {missing}, as `name  unit, text`"
    strange = [name for name in named if name not in inputs_of(function)]
    assert not strange, f"{strange} is explained and is no input"
    result = [index for index, line in enumerate(lines) if line.startswith("-> ")]
    assert len(result) == 1, "say what comes out, as `-> what, unit`"
    found = [lines.index(line) for word in LAST_LINES for line in lines if re.match(rf"{word} +\S", line)]
    assert len(found) == len(LAST_LINES), f"say {LAST_LINES}, each once, each on a line that begins with it"
    assert found == sorted(found)
    assert result[0] < found[0]


def test_an_input_is_a_quantity_of_the_registry() -> None:
    from fluewright.quantity.names import REGISTRY

    known = {name for quantity in REGISTRY.values() for name in quantity.kernel}
    known |= STRUCTURE | OF_ANY_KIND | set(UNREAD)
    known |= {state + name for state in STATES for name in known}
    strange = {
        f"{module.name}.{function.name}": unknown
        for module, function in public()
        if module.name != PRINTED_FORMS and (unknown := [name for name in inputs_of(function) if name not in known])
    }
    assert not strange, "no quantity of quantity/names.py has these among its kernel names"
