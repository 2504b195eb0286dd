"""Broken data about appliances and visits that name a class: every mistake gets its four parts and its place."""

import re
from pathlib import Path

import pytest

from fluewright.appliance import load
from fluewright.appliance.points import validity_of
from fluewright.errors import FluewrightError, Problems, VisitError
from fluewright.visit import file

DATA = Path(load.FOLDER)
GOOD = (DATA / "classes" / "condensing-boiler.toml").read_text(encoding="utf-8")
TABLE = (DATA / "validity.toml").read_text(encoding="utf-8")


def problems(error: FluewrightError) -> list[FluewrightError]:
    """One error or several as a list."""
    return list(error.errors) if isinstance(error, Problems) else [error]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("words = ", "word = ", "no words"),
        ('condensing = "yes"', 'condensing = "often"', "'often'"),
        ("warm = 10.0", 'warm = "soon"', "a number"),
        ("warm = 10.0", "warm = true", "a number"),
        ('burners = ["premix"]', "burners = []", "no_window"),
        ('burners = ["premix"]', 'burners = "premix"', "a list of texts"),
        ('point_class = "collar"', 'point_class = "chimney"', "'chimney'"),
        ('quantity = "oxygen_dry"', 'quantity = "oxygene"', "'oxygene'"),
        ('point = "test port, flue"', 'point = "the hole"', "'the hole'"),
        ('"flame-guard"', '"flame-thrower"', "'flame-thrower'"),
        ('"vent-end"', '"vent-start"', "'vent-start'"),
        ("raise-return = ", "raise-roof = ", "'raise-roof'"),
        ("[never]", "[never", "TOML"),
        ('name = "vent end"', 'name = "test port, intake"', "a second time"),
    ],
)
def test_a_class_file_that_does_not_hold(old: str, new: str, said: str) -> None:
    assert old in GOOD
    with pytest.raises((VisitError, Problems)) as caught:
        load.class_of(text=GOOD.replace(old, new, 1), name="condensing-boiler")
    told = problems(caught.value)
    assert any(said in f"{one.read} {one.expected}" for one in told)
    assert {one.code for one in told} == {"FW-V-095"}
    assert all("condensing-boiler.toml" in one.where for one in told)


@pytest.mark.parametrize(
    ("pattern", "new", "said"),
    [
        (r'valid\.fuel = \["undiluted", ', 'valid.fuel = ["undiluted", "undiluted", ', "2 times"),
        (r'valid\.fuel = \["undiluted", ', "valid.fuel = [", "0 times"),
        (r'valid\.fuel = \["undiluted"', 'valid.fuel = ["in the sky"', "in the sky"),
        (r'valid\.fuel = \["undiluted"', 'valid.luck = ["undiluted"', "'luck'"),
        (r"valid\.fuel", "true.fuel", "'true'"),
        (r"mixing = 0\.1\b", "mixing = 0.0", "a mixing above 0"),
        (r"\[quantity\.excess_air\]", "[quantity.excess_hair]", "no words"),
        (r'kind = "room"', 'kind = "cellar"', "'cellar'"),
        (r'known = "computed"', 'known = "guessed"', "'guessed'"),
        (r"\[\[reason\]\]", "[[cause]]", "the unknown table"),
    ],
)
def test_a_table_of_validity_that_does_not_hold(pattern: str, new: str, said: str) -> None:
    broken, count = re.subn(pattern, new, TABLE, count=1)
    assert count == 1
    with pytest.raises((VisitError, Problems)) as caught:
        validity_of(text=broken, file="validity.toml")
    assert any(said in f"{one.read} {one.expected}" for one in problems(caught.value))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[device]]\nkey = "a"', "no words"),
        ('device = "one"', "no list of tables"),
        ('[[device]]\nkey = "a"\nwords = "a"\nstimulus = "s"\nexpected = "e"\ngroup = "luck"\nsource = "s"\n'
         'known = "k"', "'luck'"),
        ('[[device]]\nkey = "a"\nwords = "a"\nstimulus = "s"\nexpected = "e"\ngroup = "flame"\nsource = "s"\n'
         'known = "k"\nsense = "at most"\nquantity = "trip_time"\nallowed = "often"', "often"),
        ('[[device]]\nkey = "a"\nwords = "a"\nstimulus = "s"\nexpected = "e"\ngroup = "flame"\nsource = "s"\n'
         'known = "k"\nsense = "at most"', "a quantity"),
    ],
)  # fmt: skip
def test_a_list_of_devices_that_does_not_hold(text: str, said: str) -> None:
    with pytest.raises((FluewrightError, Problems)) as caught:
        load.devices_of(text=text, file="devices.toml")
    assert any(said in f"{one.read} {one.expected}" for one in problems(caught.value))


VISIT = """\
[visit]
title = "Invented"
date = 2026-11-25
[appliance]
words = "boiler"
class = "natural-draft-boiler"
[fuel]
name = "natural-gas"
[[stretch]]
word = "as found"
point = "above hood"
readings = { o2 = "5 %", co = "20 ppm" }
"""


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('class = "natural-draft-boiler"', 'class = "kettle"', "FW-U-290"),
        ('point = "above hood"', 'point = "above hood"\npoint_kind = "undiluted"', "FW-V-090"),
        ('point = "above hood"', 'point = "above hood"\npoint_class = "undiluted"', "FW-V-090"),
        ('point = "above hood"', 'point = "above hod"', "FW-V-091"),
        ('point = "above hood"', 'point = "above hood"\npoint_class = "hood"', "FW-V-009"),
        ("[fuel]", '[[event]]\ntime = "quarter to"\nword = "lit"\n[fuel]', "FW-V-092"),
        ("[fuel]", '[[event]]\ntime = "09:40"\nword = "burning"\n[fuel]', "FW-V-009"),
        ("[fuel]", '[[event]]\ntime = "09:40"\n[fuel]', "FW-V-004"),
        ("[fuel]", '[[safety]]\ndevice = "low-water"\n[fuel]', "FW-V-093"),
        ("[fuel]", '[[safety]]\ndevice = "low-water"\nseen = "acted"\nnot_tested_because = "x"\n[fuel]', "FW-V-093"),
        ("[fuel]", '[[safety]]\ndevice = "x"\nseen = "acted"\nseconds = "3 s"\nat = "90 F"\n[fuel]', "FW-V-094"),
        ("[fuel]", '[[safety]]\ndevice = "pilot-flame-guard"\nseen = "acted"\nseconds = "90 F"\n[fuel]', "FW-Q-004"),
        ("[fuel]", '[[house.line]]\nline = "co-alarms"\nanswer = "bad"\n[fuel]', "FW-V-097"),
        ("[fuel]", '[[house.line]]\nline = "co-alarms"\nanswer = "sound"\nmade = 19\n[fuel]', "FW-V-096"),
        ("[fuel]", '[[house.line]]\nline = "cellar door"\nanswer = "sound"\n[fuel]', "FW-V-009"),
        ("[fuel]", '[[house.line]]\nline = "co-alarms"\nanswer = "perhaps"\n[fuel]', "FW-V-009"),
        ("[fuel]", "[house]\nroof = 1\n[fuel]", "FW-V-003"),
    ],
)
def test_a_visit_that_names_what_is_not_there(old: str, new: str, code: str, tmp_path: Path) -> None:
    path = tmp_path / "visit.toml"
    path.write_text(VISIT.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FluewrightError) as caught:
        file.read(path)
    told = problems(caught.value)
    assert code in {one.code for one in told}
    for one in told:
        assert all((one.read, one.expected, one.matters, one.do))
        assert "visit.toml" in one.where


def test_a_free_point_says_what_its_gas_is(tmp_path: Path) -> None:
    path = tmp_path / "visit.toml"
    for line, kind, column in (
        ('point_kind = "diluted"', "diluted", "above hood"),
        ('point_class = "after damper"', "diluted", "after damper"),
        ('point_class = "terminal"', "undiluted", "terminal"),
    ):
        path.write_text(VISIT.replace('point = "above hood"', f'point = "a new hole"\n{line}'), encoding="utf-8")
        point = file.read(path).stretches[0].point
        assert (point.kind, point.point_class.name) == (kind, column)
    path.write_text(VISIT, encoding="utf-8")
    assert file.read(path).stretches[0].point.kind == "diluted"
