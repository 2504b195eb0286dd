"""What programs send, strictly: each field of its own type, none that is not named here, texts of bounded length."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from fluewright.record.shape import ID

Id = Annotated[str, StringConstraints(pattern=f"^{ID.pattern}$", min_length=36, max_length=36)]
"""A UUID of version 7 that the program makes: the same thing sent twice under it is kept once."""

Words = Annotated[str, StringConstraints(max_length=4000)]
Short = Annotated[str, StringConstraints(max_length=400)]
Time = Annotated[str, StringConstraints(pattern=r"^([01]\d|2[0-3]):[0-5]\d$")]
Day = Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")]
Name = Annotated[str, StringConstraints(min_length=1, max_length=60, pattern=r"^[a-z][a-z0-9_.]*$")]
Table = Annotated[dict[Name, Words | bool], Field(max_length=60)]
Consent = Literal["yes", "refused", "absent"]

UUID_7 = "0199a3c0-7a10-7000-8000-0000000000a1"


class Sent(BaseModel):
    """What every sending has."""

    model_config = ConfigDict(strict=True, extra="forbid")

    id: Id = Field(description="made by the program (UUID version 7); twice sent is once kept", examples=[UUID_7])


class NewVisit(Sent):
    """A visit opened, with what is known at the door: the tables of a visit file."""

    visit: Table = Field(examples=[{"title": "Made-up visit", "date": "2026-11-25", "jurisdiction": "US"}])
    appliance: Table = Field(examples=[{"words": "boiler that does not exist"}])
    fuel: Table = Field(examples=[{"name": "natural-gas"}])
    instrument: Table | None = None
    place: Table | None = None


class Reading(BaseModel):
    """One reading by its parts."""

    model_config = ConfigDict(strict=True, extra="forbid")

    name: Short = Field(description="any name or trade name of docs/names.md", examples=["o2"])
    value: Short = Field(description="as typed, with its unit", examples=["4.3 %"])
    point: Short = ""
    because: Words = ""


class Row(BaseModel):
    """One line of a table of the visit, such as room.reading."""

    model_config = ConfigDict(strict=True, extra="forbid")

    table: Name = Field(examples=["room"])
    fields: dict[Name, Words] = Field(min_length=1, max_length=60, examples=[{"symptoms": "no"}])


class NewLine(Sent):
    """Readings or a remark, in one of three ways: as shorthand, as readings, or as a line of a table."""

    line: Words = Field("", description="trade shorthand", examples=["o2 4.3 co 38 stack 385F air 66F"])
    readings: list[Reading] = Field(default_factory=list, max_length=60)
    steady: Short = Field("", description="how the readings were known to be steady, such as: steady for 90 s")
    row: Row | None = None
    source: Literal["typed", "paper", "imported"] = "typed"
    stretch: Short = ""
    time: Time | Literal[""] = ""


class Undone(BaseModel):
    """A line taken back."""

    model_config = ConfigDict(strict=True, extra="forbid")

    line: Id = Field(description="`line` of the answer when it was kept")


class Struck(Sent):
    """An entry struck out."""

    because: Words = Field(min_length=1, examples=["misread"])


class Amended(Sent):
    """Other words or figures for an entry."""

    fields: dict[Name, Words] = Field(min_length=1, max_length=60, examples=[{"value": "4.3 %"}])
    because: Words = Field(min_length=1)


class NewStep(Sent):
    """One adjustment."""

    word: Words = Field(min_length=1, examples=["air band closed a quarter turn"])
    meant: Words = ""
    time: Time | Literal[""] = ""


class NewNotice(Sent):
    """A danger found."""

    words: Words = Field(min_length=1, examples=["flue gas spills into the cellar"])
    consent: Consent = Field(description="to shutting down")
    told: Words = ""
    done: list[Words] = Field(default_factory=list, max_length=20)
    calls: list[Words] = Field(default_factory=list, max_length=20)
    witness: Words = ""


class Closed(Sent):
    """A danger that is over."""

    because: Words = Field(min_length=1)


class NewSeal(Sent):
    """A signature; of a caller who is known, name and manner are theirs and not what is sent."""

    name: Short = ""
    recognised: Short = "sat before this machine"
    meaning: Words | None = None


class Asked(BaseModel):
    """One flue reading to be worked out; nothing of it is kept."""

    model_config = ConfigDict(strict=True, extra="forbid")

    fuel: Short = Field("", description="name in the library, or a blend", examples=["natural-gas"])
    composition: Words = ""
    readings: dict[Name, Short] = Field(min_length=1, max_length=30, examples=[{"o2": "5 %", "stack": "400 F"}])
    altitude: Short = ""
    barometer: Short = ""
    humidity: Short = ""
    basis: Literal["dry", "wet"] = "dry"
    point: Literal["undiluted", "diluted"] = "undiluted"
    steady: Short = ""
    jurisdiction: Annotated[str, StringConstraints(max_length=12)] = ""
    instrument: Short = "service"
    reference_oxygen: Short = ""
    units: Literal["us", "si"] | None = None
