"""An invented shop of any size: customers, appliances, visits and readings, the same again for the same number.

Names are built of syllables that no register holds, every visit is marked as invented, and nothing is physics: the
figures are only likely. What it is for is size.
"""

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from fluewright.record.blocks import Block, Channel, fields_of, packed
from fluewright.record.draft import Draft

_FIRST = ("Zu", "Quo", "Vex", "Plim", "Ogro", "Thwi", "Bex", "Nuf", "Yab", "Skro", "Ilv", "Drop", "Wug", "Hesk", "Gron")
_MIDDLE = ("bba", "lli", "nto", "rku", "mme", "sta", "dde", "xxo", "ppi", "ffu", "rri", "kka", "zzo", "nni")
_LAST = ("wick", "quam", "dorf", "nix", "pobb", "lund", "trell", "gasp", "moor", "vant", "sley", "tock", "rix", "bury")
_WAYS = ("Lane", "Street", "Row", "Path", "Hill", "Court", "Weg", "Gasse")
_JOBS = ("yearly service", "no heat", "soot at the hood", "new burner looked over", "smell of fumes", "monoxide alarm",
         "second look", "nozzle and filter", "before the sale of the house", "noise at lighting")  # fmt: skip
_REMARKS = ("draft hood dented", "key under the third pot", "dog is friendly", "new filter", "ask at the side door",
            "sweep the flue before winter", "condensate trap cleaned", "gasket renewed", "cellar is damp")  # fmt: skip
_APPLIANCES = ("gas boiler", "oil boiler", "gas furnace", "water heater", "wall heater", "pellet boiler")
_READINGS = (("oxygen_dry", 430, 2, "%"), ("carbon_monoxide_dry", 38, 0, "ppm"), ("flue_temperature", 1962, 1, "C"),
             ("air_temperature", 194, 1, "C"), ("draft", -25, 3, "inwc"), ("gas_pressure", 35, 1, "inwc"))  # fmt: skip

START = datetime(2021, 1, 4, 8, 0, tzinfo=UTC)
DAYS = 5 * 365


@dataclass(frozen=True, slots=True)
class Size:
    """How much there is.

    lines    readings as entries in each visit
    traced   every so many visits one has a trace; none when 0
    samples  of each channel of a trace, a second apart
    """

    customers: int = 5_000
    appliances: int = 12_000
    visits: int = 120_000
    lines: int = 8
    traced: int = 60
    samples: int = 625

    def readings(self) -> int:
        """Readings in all, those in traces included."""
        traces = self.visits // self.traced if self.traced else 0
        return self.visits * self.lines + traces * self.samples * 4


SMALL = Size(customers=12, appliances=30, visits=60, lines=4, traced=20, samples=30)
"""For tests."""


@dataclass(slots=True)
class Invented:
    """One invented shop.

    size    how much there is
    number  another number gives another shop
    files   blocks of samples by hash, of the portion that was given last
    """

    size: Size = SMALL
    number: int = 4
    files: dict[str, bytes] = field(default_factory=dict)
    _chance: random.Random = field(init=False)
    _at: datetime = START

    def __post_init__(self) -> None:
        self._chance = random.Random(self.number)

    def _id(self) -> str:
        """An id as a device would have given it at the invented time."""
        bits = self._chance.getrandbits
        stamp = int(self._at.timestamp() * 1000) + bits(12)
        return str(UUID(int=stamp << 80 | 7 << 76 | bits(12) << 64 | 2 << 62 | bits(62)))

    def _name(self) -> str:
        pick = self._chance.choice
        given = pick(_FIRST) + pick(_MIDDLE)
        return f"{given} {pick(_FIRST)}{pick(_MIDDLE)}{pick(_LAST)}"

    def _draft(self, kind: str, body: Mapping[str, Any]) -> Draft:
        return Draft(kind, body, observed=self._at, source="program", id=self._id())

    def portions(self) -> Iterator[list[Draft]]:
        """Drafts to be kept one portion after the other; `files` holds what belongs to the portion."""
        shop, places = self._shop()
        yield shop
        portion: list[Draft] = []
        for number in range(self.size.visits):
            self._at = START + timedelta(days=number * DAYS // self.size.visits, hours=number % 8, minutes=number % 60)
            portion += self._visit(number, self._chance.choice(places))
            if len(portion) > 20_000:
                yield portion
                portion = []
                self.files.clear()
        yield portion

    def _shop(self) -> tuple[list[Draft], list[tuple[str, str, str]]]:
        """Customers with a site each, appliances, two instruments; and (customer, site, appliance) of each of these."""
        drafts: list[Draft] = []
        sites: list[tuple[str, str]] = []
        for number in range(self.size.customers):
            street = f"{self._chance.randrange(1, 200)} {self._chance.choice(_FIRST)}{self._chance.choice(_LAST)} "
            street += self._chance.choice(_WAYS)
            reference = f"invented {number:05}"
            customer = self._draft("customer", {"name": self._name(), "street": street, "reference": reference,
                                                "phone": f"555 01{number % 100:02}"})  # fmt: skip
            site = self._draft("site", {"address": street, "customer": customer.id, "reference": reference})
            drafts += [customer, site]
            sites.append((customer.id, site.id))
        places = []
        for number in range(self.size.appliances):
            customer_id, site_id = sites[number] if number < len(sites) else self._chance.choice(sites)
            serial = f"{self._chance.choice(_FIRST).upper()}-{self._chance.randrange(10_000):04}-{number:05}"
            words = f"invented {self._chance.choice(_APPLIANCES)}"
            drafts.append(self._draft("appliance", {"words": words, "site": site_id, "serial": serial}))
            places.append((customer_id, site_id, drafts[-1].id))
        for words in ("invented analyser one", "invented analyser two"):
            drafts.append(self._draft("instrument", {"words": words, "accuracy": "service"}))
            body = {"instrument": drafts[-1].id, "day": "2025-06-02", "due": "2026-06-02"}
            drafts.append(self._draft("calibration", body))
        return drafts, places

    def _visit(self, number: int, place: tuple[str, str, str]) -> list[Draft]:
        customer, site, appliance = place
        day = self._at.date().isoformat()
        title = f"{self._chance.choice(_JOBS)}, {self._chance.choice(_REMARKS)}"
        visit = self._draft("visit", {"title": title, "day": day, "customer": customer, "site": site,
                                      "appliances": [appliance], "invented": True})  # fmt: skip
        stretch = self._draft("stretch", {"visit": visit.id, "word": "as found", "appliance": appliance})
        drafts = [visit, stretch]
        for line in range(self.size.lines):
            name, middle, places, unit = _READINGS[line % len(_READINGS)]
            figure = middle + self._chance.randrange(-5, 6)
            typed = f"{figure / 10**places:.{places}f} {unit}"
            drafts.append(self._draft("reading", {"visit": visit.id, "name": name, "stretch": stretch.id,
                                                  "value": {"typed": typed, "quantity": name}}))  # fmt: skip
        drafts.append(self._draft("note", {"visit": visit.id, "word": self._chance.choice(_REMARKS)}))
        if number % 10 == 0:
            due = (self._at + timedelta(days=365)).date().isoformat()
            drafts.append(self._draft("next", {"visit": visit.id, "word": "yearly service", "due": due}))
        if number % 200 == 0:
            drafts.append(self._draft("notice", {"visit": visit.id, "words": "monoxide in the room", "consent": "yes",
                                                 "appliance": appliance, "told": self._name()}))  # fmt: skip
        if self.size.traced and number % self.size.traced == 0:
            drafts.append(self._trace(visit.id))
        return drafts

    def _trace(self, visit: str) -> Draft:
        channels = []
        for name, middle, places, unit in _READINGS[:4]:
            figure, values = middle, []
            for _ in range(self.size.samples):
                figure += self._chance.choice((-1, 0, 0, 0, 1))
                values.append(f"{figure / 10**places:.{places}f}")
            channels.append(Channel(name, unit, tuple(values)))
        block = Block(self._at.isoformat(), "1", tuple(channels))
        data = packed(block)
        body = fields_of(block, data)
        self.files[body["file"]] = data
        return self._draft("trace block", {"visit": visit, **body})
