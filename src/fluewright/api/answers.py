"""What programs are answered."""

from typing import Any

from pydantic import BaseModel, Field


class Kept(BaseModel):
    """What a sending came to; the same each time it is sent."""

    visit: str
    line: str = Field(description="under which it was kept; by it a line is undone")
    entries: list[str] = Field(description="ids of the entries")
    at: str = Field(description="when the first of them was entered")
    understood: list[str] = Field(description="how each was understood, in words")


class VisitRow(BaseModel):
    """A visit in a list."""

    id: str
    day: str
    title: str
    site: str
    state: str


class Visit(BaseModel):
    """A visit in short."""

    id: str
    title: str
    day: str
    sealed: bool
    entries: int
    open_notices: list[str] = Field(description="ids of the entries of dangers that nobody has closed")
    tables: dict[str, Any] = Field(description="as a visit file")


class Entry(BaseModel):
    """One entry, with what became of it."""

    id: str
    kind: str
    device: str
    sequence: int
    entered: str
    author: str
    source: str
    counts: bool
    words: str
    body: dict[str, Any]
    amended: list[dict[str, Any]]
    struck_out: list[str]


class PlanLine(BaseModel):
    """One line of the plan."""

    key: str
    at: str
    what: str
    why: list[str]
    done: bool


class Plan(BaseModel):
    """What a visit still needs, in walking order."""

    route: str
    lines: list[PlanLine]
    held: int = Field(description="lines that wait until people were asked")


class Stop(BaseModel):
    """What stops, before anything else is read."""

    order: str
    what: str
    do: list[str]
    why: str


class Judgement(BaseModel):
    """A visit judged: what stops first."""

    stops: list[Stop]
    unjudged: str = Field(description="why there is no verdict; empty when there is one")
    findings: list[dict[str, Any]]
    cannot_tell: list[str]
    results: dict[str, dict[str, Any]] = Field(description="by stretch and name: value, unit, uncertainty, working")
    parts: dict[str, dict[str, Any]] = Field(description="what was measured beside the flame")


class Sheet(BaseModel):
    """The sheet in plain letters."""

    title: str
    text: str


class Worked(BaseModel):
    """One reading worked out and judged."""

    results: dict[str, dict[str, Any]]
    findings: list[dict[str, Any]]
    cannot_tell: list[str]
    uncertainty_kind: str


class Hit(BaseModel):
    """Something that was found."""

    kind: str
    id: str
    title: str
    place: str
    day: str


class Thing(BaseModel):
    """A customer, site, appliance or instrument as it stands now."""

    model_config = {"extra": "allow"}

    id: str


class Due(BaseModel):
    """Something that has to be done by a day."""

    id: str
    kind: str
    day: str
    what: str
    whose: str
    visit: str


class Notice(BaseModel):
    """A danger that nobody has closed."""

    id: str
    visit: str
    words: str
    consent: str
    told: str
    at: str
    struck: bool
    where: str


class Rule(BaseModel):
    """A limit that speaks."""

    id: str
    quantity: str
    sense: str
    limit: float
    unit: str
    layer: str
    severity: str
    clears: bool = Field(description="whether being inside it may be called fine")
    known: str
    document: str
    clause: str
    edition: str
    in_force: str


class Health(BaseModel):
    """The store and the end of its chains."""

    whole: bool
    amiss: list[str]
    device: str
    entries: int
    anchors: list[str] = Field(description="device, number and hash of each last entry, to be kept elsewhere")
    seals: bool = Field(description="whether this device can sign")
    program: str


class Me(BaseModel):
    """Who asks, and what they may."""

    person: str
    name: str
    role: str
    recognised: str
    may: list[str]


class Pushed(BaseModel):
    """A message of a source that is on the disk now."""

    source: str
