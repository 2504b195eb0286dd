"""The table of likelihoods is what its script makes of the appliances as they are."""

import importlib.util
import json
from pathlib import Path
from types import ModuleType

import pytest

from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults


@pytest.fixture(scope="module")
def script(root: Path) -> ModuleType:
    """The script, which is no part of the package."""
    spec = importlib.util.spec_from_file_location("likelihoods", root / "scripts" / "likelihoods.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(("design", "fault"), [("oil", "oil-cold"), ("premix-boiler", None), ("wood", "wood-wet")])
def test_a_row_is_made_again_to_the_last_figure(script: ModuleType, design: str, fault: str | None) -> None:
    kept = json.loads(script.FILE.read_text(encoding="utf-8"))[design]
    sick = faults()[fault] if fault else None
    assert script.entry(design=designs()[design], fault=sick, names=kept["clues"]) == kept["rows"][fault or "healthy"]
