"""What runs inside the Python of the web page: import every formula, answer the request, return JSON."""

import importlib
import json
import pkgutil
import sys
import time
from pathlib import Path

ROOMS = ("kernel", "quantity", "fuels")


def imported() -> list[str]:
    """Names of all modules of the rooms that a page needs, after importing them."""
    found = []
    for room in ROOMS:
        package = importlib.import_module(f"fluewright.{room}")
        found.append(package.__name__)
        for module in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
            importlib.import_module(module.name)
            found.append(module.name)
    return found


def answer(request: str) -> str:
    """Answers to the request: cases, flames, fuels of the library and typed texts."""
    asked = json.loads(Path(request).read_text(encoding="utf-8"))
    modules = imported()
    doorways = importlib.import_module("doorways")
    loaded = importlib.import_module("fluewright.fuels.load")
    parse = importlib.import_module("fluewright.quantity.parse")
    since = time.perf_counter()
    cases = [doorways.answers(case) for case in asked["cases"]]
    spent = time.perf_counter() - since
    return json.dumps(
        {
            "python": sys.version.split()[0],
            "platform": sys.platform,
            "modules": modules,
            "seconds": spent,
            "cases": cases,
            "flames": [doorways.settled(flame) for flame in asked["flames"]],
            "fuels": {name: loaded.load(name).fuel.heating_value_gross for name in asked["fuels"]},
            "typed": [parse.parse(text, quantity=quantity).value for text, quantity in asked["typed"]],
        }
    )
