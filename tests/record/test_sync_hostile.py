"""Trust test 22, sync messages: whatever comes, a line is taken whole or dropped with a reason; nothing is raised."""

import os
from random import Random

from histories import InMemory

from fluewright.record.draft import Draft
from fluewright.record.merge import taken_in
from fluewright.record.parcel import Parcel, Piece, said_in
from trust import told

TRIES = 200_000 if os.environ.get("FLUEWRIGHT_NIGHT") else 10_000
ODD = [
    *(
        b'"',
        b"{",
        b"}",
        b"[",
        b"]",
        b",",
        b":",
        b"\\",
        b"\\u0000",
        b"\\ud800",
        b"null",
        b"true",
        b"1e999",
        b"NaN",
        b"-1",
    ),
    *(b"9" * 30, b"\xff", b"\n", b"\r", b"\x00", b'"ends"', b'"entry"', b'"file"', b'"secrets"', b"[" * 2000),
]


def lines() -> list[bytes]:
    """A few lines of each kind."""
    source = InMemory()
    for number in range(3):
        source.write(Draft("customer", {"name": f"Invented {number}", "reference": "K"}))
    source.write(Draft("erasure", {"commitments": source.commitments()[:1], "because": "asked for"}))
    piece = Piece("0" * 64, 0, 5, b"bytes")
    return [*source.message(InMemory().ends()), source.ends().line(), piece.line()]


def bent(chance: Random, line: bytes) -> bytes:
    """A line with some of it changed."""
    for _ in range(chance.choice((1, 1, 1, 2, 5))):
        at, to = sorted(chance.choices(range(len(line) + 1), k=2))
        way = chance.random()
        put = chance.choice(ODD) if way < 0.5 else line[at : at + 3] if way < 0.7 else bytes([chance.randrange(256)])
        line = line[:at] + put + line[at if way < 0.8 else min(to, at + 40) :]
    return line


def test_whatever_comes_is_taken_whole_or_dropped() -> None:
    sound, chance = lines(), Random(22)
    whole = set(sound)
    for _ in range(TRIES):
        line = bent(chance, chance.choice(sound))
        said = said_in(line)
        if isinstance(said, Parcel):
            assert parcel_is_sound(said), line
        elif isinstance(said, str):
            assert said and line not in whole
    taken = taken_in(InMemory(), [bent(chance, line) for line in sound * 50])
    assert taken.new <= len(sound)
    told(22, "hostile sync messages", tried=TRIES, raised=0)


def parcel_is_sound(parcel: Parcel) -> bool:
    """Whether what was read of a bent line is nevertheless an entry under its own hash with values it committed to."""
    return parcel.entry.hash() == parcel.hash and all(secret.holds() for secret in parcel.secrets)
