"""A visit's tables from its entries: what is struck out is gone, what was amended stands as amended."""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from fluewright.record.fold import Current
from fluewright.record.personal import ERASED
from fluewright.visit import as_checks
from fluewright.visit.as_entries import PLAIN, SENTENCES, VISIT
from fluewright.visit.shape import Form

TABLE_KEY = {kept: key for key, kept in VISIT.items()}
"""Names in the journal by those of the visit's table, the other way round."""

NOT_IN_TABLES = ("visit", "site", "customer", "technician", "appliances", "referred")
"""Ids that an entry carries and a table does not."""


CHOSEN = frozenset({"symptoms"})
"""Answers in one of a few words: an erased one counts as not asked, where an erased sentence still stands as such."""

NAMING = ("trace", "mapping", "file", "curves", "curves_before")
"""Keys that name a file beside the visit."""

HOLDING = ("fuel", "room", "tune")
"""Tables that may hold such a key, beside the stretches."""


NOT_HELD = "not held"
"""Folder that no journal has: where the name of a file leads that a visit does not hold."""


def _plain(name: str) -> str:
    """The last part of a name, fit to be told and leading nowhere else."""
    return re.sub(r"[^\w.-]", "_", name.replace("\\", "/").rpartition("/")[2])[-80:].strip(".") or "_"


def _own(body: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in body.items() if key not in ("visit", "appliance", "trace_block")}


class Building:
    """The tables of one visit, growing entry by entry."""

    def __init__(self, form: Form) -> None:
        self.form = form
        self.tree: dict[str, Any] = {}
        self.rows: dict[str, dict[str, Any]] = {}
        self.files: dict[str, str] = {}
        self.blocks: dict[str, str] = {}

    def take(self, found: Current) -> None:
        """One entry more."""
        entry, body = found.read.entry, found.body
        kind = entry.kind
        if kind == "visit":
            self.tree["visit"] = {TABLE_KEY.get(k, k): v for k, v in body.items() if k not in NOT_IN_TABLES}
        elif kind == "not measured":
            word = f"{body['what']}: not measured, because {body['because']}"
            self.tree.setdefault("note", []).append({"time": entry.entered[11:16], "word": word})
        elif kind in SENTENCES:
            self.tree.setdefault(kind, []).append(body["word"])
        elif kind in PLAIN:
            row = _own(body)
            self.rows[entry.id] = row
            self.tree.setdefault(kind, []).append(row)
        elif kind == "reading":
            stretch = self.rows.get(body.get("stretch", ""))
            if stretch is not None:
                stretch.setdefault("readings", {})[body["name"]] = body["value"]["typed"]
        elif kind == "trace block" and body.get("stretch") in self.rows:
            self.rows[body["stretch"]]["stream"] = body.get("trust", "unknown")
            self.blocks[body["stretch"]] = body["file"]
        elif kind == "check":
            self.tree.setdefault("instrument", {}).setdefault("check", []).append(as_checks.row_of(body))
        elif kind == "line":
            self._line(entry.id, body)
        elif kind == "file" and "place" in body and body["content"] != ERASED:
            self.files[body["place"]] = body["content"]

    def _line(self, entry_id: str, body: Mapping[str, Any]) -> None:
        """A line in its table: a new row of a list, or more of a table that stands once."""
        path = body["table"].split(".")
        within = self.rows.get(body.get("under", ""))
        if within is None:
            within = self.tree
            for depth, part in enumerate(path[:-1], 1):
                found = within.setdefault(part, [{}] if ".".join(path[:depth]) in self.form.lists else {})
                within = found[-1] if isinstance(found, list) else found
        if body["table"] in self.form.lists:
            row: dict[str, Any] = {}
            within.setdefault(path[-1], []).append(row)
        else:
            row = within.setdefault(path[-1], {})
        row.update({key: value for key, value in body["typed"].items() if key not in CHOSEN or value != ERASED})
        self.rows[entry_id] = row

    def lead_to(self, folder: Path) -> None:
        """Let names of files lead to where the journal keeps them, and every other name to nothing.

        A name may come from another device, and would else read what lies under it on this machine's disk.
        """
        from fluewright.record.files import path_of

        tables = [*(self.tree.get(name, {}) for name in HOLDING), *self.tree.get("stretch", [])]
        for table in tables:
            for key in NAMING:
                if isinstance(name := table.get(key), str):
                    held = self.files.get(name)
                    table[key] = str(path_of(folder, held).resolve() if held else folder / NOT_HELD / _plain(name))
        for stretch, name in self.blocks.items():
            self.rows[stretch]["trace"] = str(path_of(folder, name).resolve())


def tree_of(found: Sequence[Current], form: Form, files: Path | None = None) -> dict[str, Any]:
    """The tables of a visit from its entries.

    found  entries of one visit as they stand now, in their order
    form   form of the whole file
    files  folder of the journal's files; names of files stay as they are without it
    -> nested tables such as a visit file holds; without what was struck out or is of a newer program
    """
    made = Building(form)
    for each in found:
        if each.counts and each.read.known:
            made.take(each)
    if files is not None:
        made.lead_to(files)
    return made.tree
