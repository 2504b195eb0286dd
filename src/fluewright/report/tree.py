"""The sheet as a tree: what is said, in what order, with no layout. Every printing reads this and nothing else."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from fluewright.evidence.finding import Finding
from fluewright.evidence.result import Result

Mark = Literal["measured", "derived", "plate", "unknown", "danger"]
Voice = Literal["page", "measured", "derived", "plate", "unknown", "hand", "strong", "struck"]


@dataclass(frozen=True, slots=True)
class Span:
    """A run of words in one voice. page: the page speaks. hand: as typed by a person. struck: excluded, and
    still to be read. Others: kinds of knowledge.

    ref  key of the working that a derived value opens, empty otherwise
    """

    text: str
    voice: Voice = "page"
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One numbered sentence of evidence."""

    number: int
    mark: Mark
    time: str
    spans: tuple[Span, ...]
    margin: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """A step of the job with its lines. note: one italic sentence below the head."""

    number: int
    title: str
    lines: tuple[Line, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Stop:
    """A stop sentence: get out; what; what to do; medical care; why, with the limit's standing."""

    order: str
    what: str
    do: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Found:
    """A finding on the page: its letter and the line numbers it rests on."""

    letter: str
    finding: Finding
    lines: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Opened:
    """A working printed in the appendix: key, heading, and the result that carries it.

    values  the inputs' values as text with unit, in the order of the working's inputs; empty: bare numbers are shown
    """

    key: str
    heading: str
    line: int
    result: Result
    values: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """The honest twin of a drawing: heads and rows, already as text."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing to be made: its kind, what it is drawn from, its caption and its table twin.

    kind  "ribbon", "plane", "strip", "section" or "history"
    data  the drawing's own dataclass from report.drawing
    section  number of the section whose lines it stands beside; 0: after all sections
    """

    kind: Literal["ribbon", "plane", "strip", "section", "history"]
    data: Any
    caption: str
    twin: Table
    section: int = 0


@dataclass(frozen=True, slots=True)
class Sheet:
    """One visit, top to bottom."""

    title: str
    lede: tuple[Span, ...]
    running_left: str
    running_right: str
    disclaimer: str
    stops: tuple[Stop, ...]
    sections: tuple[Section, ...]
    findings: tuple[Found, ...]
    cannot_tell: tuple[str, ...]
    done: tuple[str, ...]
    next: tuple[str, ...]
    figures: tuple[Figure, ...]
    workings: tuple[Opened, ...]
    closing: tuple[str, ...]
    customer: Mapping[str, Sequence[str]] = field(default_factory=dict)
    """Customer page: headings in order with their paragraphs. A heading that begins with "If " is set as a caution."""
    readings: Mapping[str, Any] = field(default_factory=dict)
    """All readings and results as plain data, attached to the PDF."""
    customer_title: str = ""
    """Heading of the customer page; empty: the sheet's own title."""
    customer_to: str = ""
    """One line below it: who, where, which appliance."""
    date: str = ""
    """Day of the visit, year-month-day, put into the document's properties; empty: left out."""
    invented: bool = False
    system: Literal["us", "si"] = "us"
    unjudged: str = ""
    """Why there are no findings, as a sentence; empty where there are some."""
    where: Mapping[tuple[str, str], int] = field(default_factory=dict)
    """The line in which a reading or a result stands, by stretch or part and by name."""
