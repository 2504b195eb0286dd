"""Every route of both doors with its right, and the table of who may ask it."""

from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.api.app import PREFIX
from fluewright.api.app import ROUTES as FOR_PROGRAMS
from fluewright.record import people
from fluewright.web.app import ROUTES as PAGES
from fluewright.web.rights import OPEN_TO_ALL


@dataclass(frozen=True)
class Cell:
    """One route, and the right that it declares; empty when it declares none."""

    method: str
    path: str
    right: str

    def allows(self, role: str) -> bool:
        return self.right == OPEN_TO_ALL or people.may(role, self.right)

    def address(self, visit: str, entry: str) -> str:
        """The path with ids in it."""
        return self.path.replace("{code}", visit).replace("{entry}", entry).replace("{kind}", "customer")


def cells() -> Iterator[Cell]:
    for route in PAGES:
        yield Cell(route[0], route[1], str(route[3]) if len(route) > 3 else "")
    for each in FOR_PROGRAMS:
        yield Cell(each.method, PREFIX + each.path, each.right)


def table() -> list[str]:
    """The matrix, one route a line."""
    rows = [("", "", "right", *people.ROLES)]
    for cell in cells():
        marks = ["yes" if cell.allows(role) else "-" for role in people.ROLES]
        rows.append((cell.method, cell.path, cell.right, *marks))
    wide = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    return ["  ".join(cell.ljust(wide[at]) for at, cell in enumerate(row)).rstrip() for row in rows]
