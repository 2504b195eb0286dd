"""A recorded trace brought into a visit: its columns as understood, mapped by a person, tried, then kept at once."""

import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.errors import EntryError
from fluewright.evidence.reading import Instrument, TraceFile
from fluewright.evidence.trace import mapping as mappings
from fluewright.evidence.trace.mapping import ColumnSaid
from fluewright.evidence.trace.problems import Ledger, listed
from fluewright.evidence.trace.source import Column, Source, understand
from fluewright.quantity import names, show
from fluewright.record.draft import Draft
from fluewright.visit import kept, once, traces
from fluewright.visit.sent_in import Sent, refused

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

MAPPING = "mapping.toml"
LEFT_OUT = "left out"

WORDS = ("as found", "as left", "at high fire", "at low fire", "worst case")
"""What a stretch is usually called."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A trace as it is understood.

    columns  as the file has them
    sample   its first rows
    doubts   what is odd about it, sentences
    """

    columns: tuple[Column, ...]
    sample: tuple[tuple[str, ...], ...]
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tried:
    """What a trace comes to with a mapping: the readings of its last steady stretch, in words, and how steady."""

    readings: tuple[str, ...]
    steady: str


@contextmanager
def _laid_out(sent: Sent, text: str) -> Iterator[tuple[Path, Path]]:
    with tempfile.TemporaryDirectory() as place:
        path, mapping = Path(place) / sent.main, Path(place) / MAPPING
        path.write_bytes(sent.content)
        mapping.write_text(text, "utf-8")
        yield path, mapping


def mapping_of(source: Source, said: Mapping[str, tuple[str, str]]) -> str:
    """A mapping as TOML from what a person said of each column.

    source  the file as it was understood
    said    by the head of a column its quantity, or that it is left out, and its unit
    """
    columns = {}
    for column in source.columns:
        if column.role in ("time", "clock") or column.header not in said:
            continue
        quantity, unit = said[column.header]
        use = quantity not in ("", LEFT_OUT)
        columns[column.header] = ColumnSaid(quantity if use else "", unit if use else "", use)
    return mappings.text_of(replace(mappings.Mapping(), columns=columns))


def _understood(sent: Sent, text: str) -> tuple[Source, Ledger]:
    ledger = Ledger()
    with _laid_out(sent, text or "[columns]\n") as (path, mapping):
        source = understand(path, ledger, mapping=mappings.load(mapping))
    if source is None:
        ledger.refuse(subject=sent.main)
        raise refused(sent.main, "no trace")
    return source, ledger


def seen(sent: Sent) -> Seen:
    """A trace looked at and nothing taken; Problems when it is none."""
    source, ledger = _understood(sent, "")
    rows = tuple(row for _, row in source.sample[:4])
    return Seen(source.columns, rows, tuple(listed(ledger.groups())))


def mapped(sent: Sent, said: Mapping[str, tuple[str, str]]) -> str:
    """The mapping of a trace from what a person said of its columns; QuantityError where a quantity is none."""
    for quantity, _ in said.values():
        if quantity not in ("", LEFT_OUT):
            names.named(quantity)
    return mapping_of(_understood(sent, "")[0], said)


def tried(sent: Sent, text: str, *, system: show.System = "us") -> Tried:
    """A trace read with a mapping and nothing kept.

    -> the readings of its last steady stretch; TraceError or Problems when it has none
    """
    with _laid_out(sent, text) as (path, mapping):
        steady = traces.last_steady(TraceFile(str(path), str(mapping)), Instrument(), system=system)
    said = tuple(f"{names.of(each.quantity).words} {show.converted(each.typed, system=system)}"
                 for each in steady.readings.values())  # fmt: skip
    return Tried(said, steady.steady)


def brought(journal: "Journal", visit: str, sent: Sent, text: str, word: str, *, form: str) -> "list[Entry]":
    """A trace kept in a visit as one stretch, with its file and its mapping, all or nothing.

    word  of the stretch
    form  id under which it was sent: the same sent twice is kept once, and one undo takes it all out again
    -> its entries; Problems when the visit could not be judged with it
    """
    from fluewright.record.files import kept_in

    if journal.entry(once.derived(form, 0)) is not None:
        return []
    _need_free(journal, visit, word)
    folder = journal.store.settings.files_folder()
    name = f"{form[-6:]}-{sent.main}"
    drafts: list[Draft] = []
    for place, content, type in ((name, sent.content, "text/csv"), (f"{name}.{MAPPING}", text.encode(), "text/toml")):
        body = {"content": kept_in(folder, content), "type": type, "bytes": len(content), "visit": visit,
                "place": place}  # fmt: skip
        drafts.append(Draft("file", body, source="imported"))
    stretch = {"visit": visit, "word": word or WORDS[0], "trace": name, "mapping": f"{name}.{MAPPING}"}
    drafts.append(Draft("stretch", stretch, source="imported"))
    whole = [replace(draft, id=once.derived(form, place)) for place, draft in enumerate(drafts)]
    with _laid_out(sent, text) as (path, mapping):
        traces.last_steady(TraceFile(str(path), str(mapping)), Instrument(), system="us")
    return journal.add_all(whole)


def _need_free(journal: "Journal", visit: str, word: str) -> None:
    """Two stretches of one name could not be told apart on the sheet."""
    words = [each.body["word"] for each in kept.entries_of(journal, visit)
             if each.counts and each.read.entry.kind == "stretch"]  # fmt: skip
    if word in words:
        raise EntryError(
            code="FW-J-142",
            where="what it shows",
            read=f"{word!r}, and the visit has a stretch of that name",
            expected="another name than " + ", ".join(map(repr, words)),
            matters="findings name the stretch that they rest on",
            do="give it another name, such as 'as left' or 'at high fire'",
        )


def open_visits(journal: "Journal") -> list[dict[str, str]]:
    """Visits that a trace may be brought into, newest first."""
    return [each for each in kept.latest(journal, most=40) if each["state"] == "open"]
