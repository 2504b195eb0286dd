"""Random histories of several devices that meet in any order: the cases of trust test 13.

The store in memory here is a store as `record.merge` sees it and nothing more; what takes messages in is the program's
own `taken_in`, and what numbers entries is its own `numbered`. The same histories run on SQLite and on PostgreSQL too.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Protocol

from fluewright import clock
from fluewright.record.chain import Anchor
from fluewright.record.draft import Draft, numbered
from fluewright.record.entry import NOTHING_BEFORE
from fluewright.record.merge import Taken, lacking, taken_in
from fluewright.record.parcel import Ends, Parcel
from fluewright.record.personal import Secret, commitments_in

WHEN = "2026-03-01T08:00:00+00:00"


class Device(Protocol):
    """One device with its store, as a history drives it."""

    name: str

    def write(self, draft: Draft) -> str:
        """Keep an entry; -> its id."""

    def ends(self) -> Ends:
        """What it has."""

    def message(self, theirs: Ends) -> list[bytes]:
        """The lines that another lacks."""

    def take(self, lines: Sequence[bytes]) -> Taken:
        """Take a message in."""

    def whole(self) -> bytes:
        """All of it in one byte form: entries by device and number, then the values about people."""

    def commitments(self) -> list[str]:
        """Commitments whose value it still has."""


@dataclass
class InMemory:
    """A device whose store is three tables in memory."""

    name: str = field(default_factory=clock.new_id)
    chains: dict[str, list[Parcel]] = field(default_factory=dict)
    arrived: list[Parcel] = field(default_factory=list)
    secrets: dict[str, Secret] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.write(Draft("device", {"name": "invented"}, source="program", id=self.name))

    def write(self, draft: Draft) -> str:
        """Keep an entry as this device's next."""
        end = self.end(self.name) or Anchor(self.name, 0, NOTHING_BEFORE)
        entry, secrets = numbered(draft, self.name, end.sequence + 1, end.hash, WHEN)
        self.keep([Parcel(entry, entry.text(), entry.hash(), tuple(secrets))], set())
        if draft.kind == "erasure":
            self.forget(set(draft.body["commitments"]))
        return entry.id

    def end(self, device: str) -> Anchor | None:
        chain = self.chains.get(device)
        return Anchor(device, len(chain), chain[-1].hash) if chain else None

    def hash_of(self, device: str, sequence: int) -> str:
        return self.chains[device][sequence - 1].hash

    def keep(self, parcels: Sequence[Parcel], erased: set[str]) -> None:
        for each in parcels:
            self.chains.setdefault(each.entry.device, []).append(each)
            self.secrets |= {s.commitment: s for s in each.secrets if s.commitment not in erased}
        self.arrived += parcels

    def erased(self) -> set[str]:
        return {c for each in self.arrived if each.entry.kind == "erasure" for c in each.entry.body["commitments"]}

    def forget(self, commitments: set[str]) -> None:
        for each in commitments:
            self.secrets.pop(each, None)

    def ends(self) -> Ends:
        ends = [self.end(device) for device in self.chains]
        return Ends(self.name, tuple(end for end in ends if end))

    def message(self, theirs: Ends) -> list[bytes]:
        after = lacking(self.ends().ends, theirs)
        return [
            Parcel(each.entry, each.text, each.hash, self._values(each)).line()
            for each in self.arrived
            if each.entry.sequence > after.get(each.entry.device, len(self.arrived))
        ]

    def _values(self, parcel: Parcel) -> tuple[Secret, ...]:
        return tuple(self.secrets[c] for c in commitments_in(parcel.entry.body) if c in self.secrets)

    def take(self, lines: Sequence[bytes]) -> Taken:
        taken = taken_in(self, lines, own=self.name)
        self.forget(taken.demanded)
        return taken

    def whole(self) -> bytes:
        texts = [each.text + each.hash for _, chain in sorted(self.chains.items()) for each in chain]
        values = [f"{s.commitment} {s.salt} {s.value}" for _, s in sorted(self.secrets.items())]
        return "\n".join([*texts, *values]).encode()

    def commitments(self) -> list[str]:
        return list(self.secrets)


@dataclass
class Count:
    """What happened in some cases."""

    cases: int = 0
    written: int = 0
    messages: int = 0
    again: int = 0
    lost: int = 0
    erased: int = 0


def _draft(chance: Random, device: Device, visit: str) -> Draft:
    """One more entry of the usual kinds."""
    what = chance.random()
    if what < 0.2:
        return Draft("customer", {"name": f"Invented {chance.randrange(99)}", "reference": "K"})
    if what < 0.3 and (held := device.commitments()):
        return Draft("erasure", {"commitments": [chance.choice(held)], "because": "asked for"}, source="program")
    if what < 0.6:
        return Draft("note", {"visit": visit, "word": f"note {chance.randrange(99)}"})
    return Draft("reading", {"visit": visit, "name": "o2", "value": {"typed": "4.3", "quantity": "o2"}})


def _exchange(chance: Random, devices: Sequence[Device], count: Count, kept: list[list[bytes]]) -> None:
    """One device sends to another: whole, cut, shuffled, twice, or an old message once more."""
    source, target = chance.sample(devices, 2)
    lines = source.message(target.ends())
    kept.append(lines)
    way = chance.random()
    if way < 0.2 and lines:
        whole = b"".join(lines)
        lines = whole[: chance.randrange(len(whole))].splitlines(keepends=True)
    elif way < 0.4:
        lines = chance.sample(lines, len(lines))
    elif way < 0.6:
        lines = [*lines, *chance.choice(kept), *lines]
        count.again += 1
    target.take(lines)
    count.messages += 1


def settle(chance: Random, devices: Sequence[Device], count: Count) -> None:
    """Everybody meets everybody in some order until nobody has anything new: by pairs, as on the road."""
    for _ in range(len(devices) + 1):
        pairs = [(a, b) for a in devices for b in devices if a is not b]
        moved = 0
        for source, target in chance.sample(pairs, len(pairs)):
            taken = target.take(source.message(target.ends()))
            count.messages += 1
            moved += taken.new
            assert not taken.forks and not taken.spoilt and not taken.early and not taken.strangers
        if not moved:
            return
    raise AssertionError("they never agree")


def tried(chance: Random, devices: Sequence[Device], count: Count, *, steps: int) -> None:
    """One history: entries and messages in any order, then all meet; afterwards all have the same, and all of it."""
    ids, kept, erased = {device.name for device in devices}, list[list[bytes]](), set[str]()
    visit = clock.new_id()
    for _ in range(steps):
        if chance.random() < 0.6:
            device = chance.choice(devices)
            draft = _draft(chance, device, visit)
            ids.add(device.write(draft))
            erased |= set(draft.body.get("commitments", ()))
        else:
            _exchange(chance, devices, count, kept)
    settle(chance, devices, count)
    wholes = {device.whole() for device in devices}
    assert len(wholes) == 1, "the stores are not the same, byte for byte"
    whole = wholes.pop().decode()
    count.lost += sum(f'"id":"{each}"' not in whole for each in ids)
    assert not erased & set(devices[0].commitments()), "an erased value came back"
    count.cases += 1
    count.written += len(ids)
    count.erased += len(erased)
