"""fluewright where: the folders this program uses."""

import argparse
import json
import os
from pathlib import Path

from fluewright.errors import printable

PLACES = {
    "config": ("XDG_CONFIG_HOME", ".config", "mapping files, settings"),
    "data": ("XDG_DATA_HOME", ".local/share", "records"),
    "state": ("XDG_STATE_HOME", ".local/state", "logs"),
    "cache": ("XDG_CACHE_HOME", ".cache", "what can be made again"),
}


def places() -> dict[str, Path]:
    """The four folders by the XDG base directory specification; relative values are ignored, as it demands."""
    found = {}
    for name, (variable, default, _) in PLACES.items():
        told = os.environ.get(variable, "")
        root = Path(told) if told and Path(told).is_absolute() else Path.home() / default
        found[name] = root / "fluewright"
    return found


def add(parser: argparse.ArgumentParser) -> None:
    """No options of its own."""


def run(args: argparse.Namespace) -> int:
    """Print the folders, and whether each is there."""
    found = places()
    if args.json:
        print(json.dumps({name: str(path) for name, path in found.items()}))
        return 0
    for name, path in found.items():
        there = "" if path.exists() else "   (not there yet)"
        print(f"{name:<7} {printable(str(path))}   {PLACES[name][2]}{there}")
    return 0
