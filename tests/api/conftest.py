"""A shop's server, and a program of a technician before it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from api_kit import Program, ShopDoor


@pytest.fixture
def door(tmp_path: Path) -> Iterator[ShopDoor]:
    found = ShopDoor(tmp_path)
    yield found
    found.close()


@pytest.fixture
def program(door: ShopDoor) -> Program:
    return Program(door, door.token["technician"])
