"""Blocks of samples: what comes out is what went in, to the last typed digit, and no changed byte passes."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record import blocks, columns
from fluewright.record.blocks import Block, Channel

NUMBERS = some.decimals(allow_nan=False, allow_infinity=False, places=3, min_value=-9999, max_value=9999).map(str)
ODD = some.sampled_from(["-0.0", "+4", ".5", "5.", "007", "1e-3", ">2000", "OVER", "", "4,3", "\u0664", "-", "∞", "-0"])
SAMPLES = some.one_of(NUMBERS, some.integers().map(str), some.none(), ODD, some.text(max_size=5))
START = "2026-11-25T10:20:00-06:00"


def block(*channels: Channel, step: str = "0.5") -> Block:
    return Block(START, step, channels)


@given(some.lists(SAMPLES, max_size=60))
def test_a_column_comes_back_as_it_was_typed(values: list[str | None]) -> None:
    assert columns.unpacked(columns.packed(values), len(values)) == values


@given(some.lists(some.tuples(some.lists(SAMPLES, max_size=20), some.booleans()), min_size=1, max_size=4))
def test_a_block_comes_back_whole(told: list[tuple[list[str | None], bool]]) -> None:
    made = [
        Channel(f"channel {n}", "ppm", tuple(values), tuple(f"{i * 2}.50" for i in range(len(values))) if own else None)
        for n, (values, own) in enumerate(told)
    ]
    given_block = block(*made)
    assert blocks.unpacked(blocks.packed(given_block)) == given_block


def test_no_sample_is_never_zero() -> None:
    back = blocks.unpacked(blocks.packed(block(Channel("o2", "%", ("0", None, "0.0", None)))))
    assert back.channels[0].values == ("0", None, "0.0", None)
    assert back.samples() == 2 and back.count == 4


def test_channels_with_the_same_times_keep_them_once() -> None:
    times = tuple(str(at * 7 % 1000) for at in range(2000))
    values = tuple(str(at % 7) for at in range(2000))
    one = len(blocks.packed(block(Channel("a", "", values, times))))
    two = len(blocks.packed(block(Channel("a", "", values, times), Channel("b", "", values, times))))
    assert two < one * 1.5


@settings(max_examples=300)
@given(some.integers(0, 10_000), some.integers(1, 255))
def test_no_changed_byte_passes(place: int, change: int) -> None:
    whole = block(Channel("co", "ppm", tuple(str(n * n % 97) for n in range(80))))
    data = bytearray(blocks.packed(whole))
    data[place % len(data)] ^= change
    with pytest.raises(RecordDamaged):
        blocks.unpacked(bytes(data), where="a block")


@given(some.binary(max_size=80))
def test_bytes_with_a_right_hash_and_a_wrong_inside_are_told(rest: bytes) -> None:
    with pytest.raises(RecordDamaged):
        blocks.unpacked(blocks.MAGIC + blocks._sum(rest) + rest)


@given(some.binary(max_size=60))
def test_any_bytes_are_a_column_or_are_told(data: bytes) -> None:
    try:
        values = columns.unpacked(data, 1000)
    except (columns.Cut, UnicodeDecodeError):
        return
    assert len(values) <= 1000


def test_a_small_file_cannot_fill_the_memory() -> None:
    import zlib

    from fluewright.record.canonical import canonical

    head = canonical({"start": START, "step": "1", "count": 9, "sizes": [10], "whole": 10,
                      "channels": [{"name": "a", "unit": "", "times": None}]}).encode()  # fmt: skip
    rest = len(head).to_bytes(4, "little") + head + zlib.compress(bytes(50_000_000), 9)
    with pytest.raises(RecordDamaged, match="more or fewer bytes"):
        blocks.unpacked(blocks.MAGIC + blocks._sum(rest) + rest)


def test_a_sample_without_its_time_is_refused() -> None:
    with pytest.raises(EntryError) as met:
        blocks.packed(block(Channel("o2", "%", ("1", "2"), ("0",))))
    assert met.value.code == "FW-J-090"
    with pytest.raises(EntryError):
        blocks.packed(block(Channel("o2", "%", ("1",)), step=""))


def test_a_newer_layout_is_named() -> None:
    data = blocks.packed(block(Channel("o2", "%", ("1",))))
    with pytest.raises(RecordDamaged, match="newer than this program"):
        blocks.unpacked(b"FWB2" + data[4:])


def test_an_hour_of_an_analyser_takes_little_room() -> None:
    chance, oxygen, monoxide, samples = random.Random(4), 430, 38, 3600
    made: list[tuple[str, str, str]] = []
    for _ in range(samples):
        oxygen += chance.choice((-1, 0, 0, 1))
        monoxide = max(0, monoxide + chance.choice((-1, 0, 0, 1)))
        made.append((f"{oxygen / 100:.2f}", str(monoxide), f"{19620 + chance.randrange(9)}"[:-2] + ".2"))
    names = (("o2", "%"), ("co", "ppm"), ("stack", "C"))
    channels = [Channel(n, u, tuple(row[at] for row in made)) for at, (n, u) in enumerate(names)]
    data = blocks.packed(block(*channels, step="1"))
    assert blocks.unpacked(data).channels == tuple(channels)
    assert len(data) < samples * 3 * 0.6, f"{len(data)} bytes"
