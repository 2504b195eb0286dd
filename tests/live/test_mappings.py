"""Mappings are read strictly, all mistakes at once; so is what comes, and nothing of it becomes zero."""

import hashlib
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from set_up import CHANNELS, mapping_of

from fluewright.errors import Problems, TraceError
from fluewright.live import payload
from fluewright.live.decode import Decoder
from fluewright.live.mapping import Channel, Mapping, Text, from_data, load
from fluewright.live.modbus import asked, text_of
from fluewright.live.row import Row

BROKEN = """
[sourse]
[source]
name = "meter"
kind = "telepathy"
instrument = 7
[text]
form = "columns"
columns = ["o2", 3]
decimal = ":"
checksum = "md5"
[[channel]]
from = "o2"
quantity = "oxygen_dry"
unit = "ppm of what"
[[channel]]
from = "co"
quantity = "carbon_monoxid"
[[channel]]
from = "flue"
quantity = "oxygen_wet"
unit = "%"
basis = "dry"
t90 = "soon"
step = "-0.1 %"
top = "a lot"
"""


def test_every_mistake_is_told_at_once() -> None:
    with pytest.raises(Problems) as error:
        mapping_of(BROKEN)
    said = error.value.sentence()
    for word in ("sourse", "telepathy", "instrument = 7", "columns = ['o2', 3]", "decimal", "md5", "ppm of what",
                 "carbon_monoxid'", 'which oxygen_wet is', "soon", "-0.1 %", "a lot"):  # fmt: skip
        assert word in said, word
    assert all(each.code == "FW-T-100" for each in error.value.errors)


PUSHED = '[source]\nname = "a"\nkind = "push"\ninstrument = "b"\n'


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ('[source]\nname = "a"\nkind = "serial"\ninstrument = "b"\n' + CHANNELS, "no device"),
        (PUSHED + '[text]\nform = "value"\n' + CHANNELS, "with 2 channels"),
        (PUSHED + '[connection]\nport = 70000\n[text]\nform = "json"\n' + CHANNELS, "port = 70000"),
        ('[source]\nname = "a"\nkind = "tail"\ninstrument = "b"\n[connection]\nfile = "f"\n[text]\n'
         'columns = ["o2", "co"]\n[trust]\nkey_file = "k"\n' + CHANNELS, "a key file for the kind tail"),
        ('[source]\nname = "a"\nkind = "modbus-rtu"\ninstrument = "b"\n[connection]\ndevice = "c"\nevery = "often"\n'
         '[[channel]]\nregister = 1\nquantity = "oxygen_dry"\nscale = "a tenth"\n', "every = 'often'"),
        (PUSHED + '[text]\nform = "json"\n', "no channel"),
        (PUSHED + '[text]\ncolumns = ["co"]\n' + CHANNELS, "does not list"),
        (PUSHED + '[text]\nform = "json"\n[trust]\nkey_file = "k"\n'
         + CHANNELS, "without a sequence"),
        ('[source]\nname = "a"\nkind = "modbus-tcp"\ninstrument = "b"\n[connection]\nhost = "c"\n[[channel]]\n'
         'quantity = "oxygen_dry"\nwords = "middle"\n', "no register"),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_told(text: str, word: str) -> None:
    with pytest.raises(Problems) as error:
        mapping_of(text)
    assert word in error.value.sentence()


def test_a_file_that_is_no_mapping(tmp_path: Path) -> None:
    (tmp_path / "m.toml").write_text("[source\n")
    for path in (tmp_path / "m.toml", tmp_path / "none.toml"):
        with pytest.raises(TraceError) as error:
            load(path)
        assert error.value.code == "FW-T-100"


def decoder(text: str = "") -> Decoder:
    return Decoder(mapping_of('[source]\nname = "a"\nkind = "push"\ninstrument = "b"\n[text]\nform = "json"\n'
                              f"{text}{CHANNELS}"))  # fmt: skip


@pytest.mark.parametrize(
    ("cells", "values"),
    [
        ({"o2": "4.3", "co": "38"}, [(0.043, ""), (38e-6, "")]),
        ({"o2": "", "co": "---"}, []),
        ({"o2": "n/a", "co": "ERR"}, []),
        ({}, []),
        ({"co": "0"}, [(0.0, "")]),  # a zero that was read is a reading
        ({"co": ">1500"}, [(1500e-6, "at least")]),
        ({"co": "2000"}, [(2000e-6, "at least")]),  # the end of the range
        ({"co": "OVER"}, [(2000e-6, "at least")]),  # its word
        ({"o2": "<0.1"}, [(0.001, "at most")]),
        ({"o2": "OVER"}, []),  # an edge that nobody knows
        ({"o2": "47"}, []),  # cannot be
        ({"o2": "nan", "co": "NaN"}, []),
        ({"o2": "43000 ppm"}, [(0.043, "")]),
    ],
)
def test_a_cell_is_a_value_a_bound_or_nothing(cells: dict[str, str], values: list[tuple[float, str]]) -> None:
    found = decoder().samples(Row("a", 0.0, cells), at=0.0, seq=1, late=False, trust="known")
    assert [(each.value, each.bound) for each in found] == [(pytest.approx(value), bound) for value, bound in values]


@given(
    st.binary(max_size=200), st.sampled_from(["columns", "json", "value"]), st.sampled_from(["none", *payload.CHECKS])
)
def test_no_message_of_any_bytes_breaks_anything(body: bytes, form: str, checksum: str) -> None:
    text = Text(form, columns=("o2", "co"), checksum=checksum)  # type: ignore[arg-type]
    try:
        found = payload.taken(payload.checked(body, checksum), text)
    except payload.NotTaken:
        return
    decoder().samples(Row("a", 0.0, found.cells), at=0.0, seq=1, late=False, trust="unknown")


@given(st.text(max_size=40))
def test_no_cell_of_any_text_breaks_anything(text: str) -> None:
    for sample in decoder().samples(Row("a", 0.0, {"o2": text, "co": text}), at=0.0, seq=1, late=False, trust="known"):
        assert sample.value == sample.value and abs(sample.value) <= 1.0


def test_checksums_of_other_hands() -> None:
    # 123456789 is the usual word for trying cyclic checks; 4B37 is its value for this one
    assert payload.crc16(b"123456789") == 0x4B37
    assert payload.sum8(b"123456789") == 0xDD
    assert payload.xor8(b"123456789") == 0x31
    assert payload.checked(b"a;b*0C", "none") == b"a;b*0C"
    for word in (b"a*1", b"a", b"a*GG", b"a*00"):
        with pytest.raises(payload.NotTaken):
            payload.checked(word, "sum8")


def test_a_signature_binds_key_name_and_message(tmp_path: Path) -> None:
    key, body = b"k" * 32, b'{"n": 1, "co": 0}'
    signed = body + b"\n" + payload.signature(key, "boiler/1", body).encode()
    assert payload.proven(signed, "boiler/1", key) == body
    assert len(payload.signature(key, "boiler/1", body)) == 2 * hashlib.sha256().digest_size
    for message, topic, with_key in (
        (signed.replace(b"0}", b"1}"), "boiler/1", key), (signed, "boiler/2", key), (signed, "boiler/1", b"l" * 32),
        (body, "boiler/1", key), (b"", "boiler/1", key),
    ):  # fmt: skip
        with pytest.raises(payload.NotTaken):
            payload.proven(message, topic, with_key)
    (tmp_path / "short").write_bytes(b"secret")
    for name in ("short", "none"):
        with pytest.raises(TraceError) as error:
            payload.key_in(tmp_path / name)
        assert error.value.code == "FW-T-101"


def test_json_keeps_how_a_figure_was_written() -> None:
    found = payload.cells_of(b'{"o2": 4.30, "deep": {"co": 1e2, "word": "x", "no": null, "yes": true}}', Text("json"))
    assert found == {"o2": "4.30", "deep.co": "1e2", "deep.word": "x"}


def test_a_sender_may_tell_its_time() -> None:
    assert payload.seconds_of("1764000000.5") == 1764000000.5
    assert payload.seconds_of("1764000000500") == 1764000000.5
    assert payload.seconds_of("2025-11-24T17:00:00+01:00") == 1764000000.0
    assert payload.seconds_of("2025-11-24T17:00:00") is None  # of no zone, so of no moment
    assert payload.seconds_of("soon") is None


def test_registers_are_asked_for_together_and_scaled_without_rounding() -> None:
    def channel(register: int, form: str = "uint16", scale: str = "1") -> Channel:
        return Channel("", "oxygen_dry", "%", register=register, type=form, scale=scale)

    assert asked((channel(10, "float32"), channel(12), channel(13), channel(900))) == [
        ("holding", 10, 4),
        ("holding", 900, 1),
    ]
    assert text_of(43, channel(0, scale="0.1")) == "4.3"
    assert text_of(-5, channel(0, scale="0.01")) == "-0.05"
    assert text_of(1200, channel(0)) == "1200"
    assert text_of(201.5, channel(0, "float32")) == "201.5"
    assert text_of(float("nan"), channel(0, "float32")) is None


def test_what_a_sender_writes_is_read_by_its_own_mapping() -> None:
    import tomllib

    from fluewright.cli.sending import mapping_text
    from fluewright.live.played import channels_of

    for connection in (dict[str, object](), {"kind": "serial", "device": "/dev/pts/9", "baud": 9600}):
        said = from_data(tomllib.loads(mapping_text(channels_of(("oxygen_dry", "draft"), {"draft": 2.0}), connection)))
        assert isinstance(said, Mapping) and said.practice
        assert [(each.quantity, each.t90) for each in said.channels] == [("oxygen_dry", 0.0), ("draft", 2.0)]


@pytest.mark.skipif(os.name != "posix", reason="other systems keep no rights in the mode of a file")
def test_a_key_that_others_may_read_proves_nothing(tmp_path: Path) -> None:
    path = tmp_path / "meter.key"
    path.write_text("0123456789abcdef0123456789abcdef\n")
    path.chmod(0o644)
    with pytest.raises(TraceError, match="others on this machine may read it"):
        payload.key_in(path)
    path.chmod(0o600)
    assert payload.key_in(path)
