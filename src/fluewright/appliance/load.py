"""Finds a class of appliance by name and loads it with everything it refers to."""

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any, get_args

from fluewright.appliance import refusals
from fluewright.appliance.points import validity
from fluewright.appliance.record import (
    Advice,
    ApplianceClass,
    ClassFile,
    Condensing,
    Device,
    Grade,
    Group,
    HouseLine,
    Proposed,
    Refused,
    SamplingPoint,
    Sense,
)
from fluewright.appliance.rows import each_once, one_of, row, rows, whole
from fluewright.errors import FluewrightError
from fluewright.quantity import names, parse

FOLDER = Path(__file__).parent
CLASSES = FOLDER / "classes"


def _document(text: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise refusals.unusable(where=file, read=str(error), expected="TOML without a repeated key") from error


def _figure(text: str, quantity: str, where: str, found: list[FluewrightError]) -> None:
    """Note a problem where a figure of a device has no unit or no quantity."""
    if text and quantity:
        try:
            parse.single(text, quantity=quantity)
        except FluewrightError as error:
            error.where = where
            found.append(error)
    elif text:
        found.append(refusals.unusable(where=where, read=f"{text!r} without a quantity", expected="its quantity"))


def devices_of(*, text: str, file: str) -> dict[str, Device]:
    """Read the list of safety devices, strictly; VisitError or Problems with what is wrong."""
    found: list[FluewrightError] = []
    document = _document(text, file)
    listed = rows(Device, document, "device", file, found)
    each_once([each.key for each in listed], file, found)
    for each in listed:
        where = f"{file}: device {each.key}"
        one_of(each.group, get_args(Group), where, found)
        one_of(each.sense, get_args(Sense), where, found)
        if each.quantity:
            one_of(each.quantity, ("trip_time", "trip_temperature", "trip_pressure"), where, found)
        if (each.sense == "act") != (not each.quantity):
            found.append(refusals.unusable(where=where, read=each.sense, expected="a quantity where it has a figure"))
        _figure(each.allowed, each.quantity, where, found)
        _figure(each.early, each.early_quantity, where, found)
    whole(file, found)
    return {each.key: each for each in listed}


def house_of(*, text: str, file: str) -> dict[str, HouseLine]:
    """Read the lines about the house and the duties of classes, strictly."""
    found: list[FluewrightError] = []
    listed = rows(HouseLine, _document(text, file), "line", file, found)
    each_once([each.key for each in listed], file, found)
    for each in listed:
        one_of(each.grade, get_args(Grade), f"{file}: line {each.key}", found)
        one_of(each.group, ("house", "appliance"), f"{file}: line {each.key}", found)
    whole(file, found)
    return {each.key: each for each in listed}


def advice_of(*, text: str, file: str) -> dict[str, Advice]:
    """Read the kinds of advice that some class refuses, strictly."""
    found: list[FluewrightError] = []
    listed = rows(Advice, _document(text, file), "advice", file, found)
    each_once([each.key for each in listed], file, found)
    whole(file, found)
    return {each.key: each for each in listed}


@cache
def devices() -> Mapping[str, Device]:
    """Every safety device by key."""
    return devices_of(text=(FOLDER / "devices.toml").read_text(encoding="utf-8"), file="appliance/devices.toml")


@cache
def house() -> Mapping[str, HouseLine]:
    """Every line about the house by key."""
    return house_of(text=(FOLDER / "house.toml").read_text(encoding="utf-8"), file="appliance/house.toml")


@cache
def advice() -> Mapping[str, Advice]:
    """Every kind of advice that some class refuses, by key."""
    return advice_of(text=(FOLDER / "advice.toml").read_text(encoding="utf-8"), file="appliance/advice.toml")


def _known(words: Mapping[str, object], listed: list[str], where: str, found: list[FluewrightError]) -> None:
    for word in listed:
        one_of(word, tuple(words), where, found)


def _checked(document: Mapping[str, Any], file: str, found: list[FluewrightError]) -> dict[str, Any]:
    """The lists of a class file as records, with every reference checked."""
    points = rows(SamplingPoint, document, "points", file, found)
    lines = rows(Proposed, document, "lines", file, found)
    refused = rows(Refused, document, "refused", file, found)
    each_once([each.name.lower() for each in points], file, found)
    _known(validity().points, [each.point_class for each in points], f"{file}: points", found)
    _known({each.name: each for each in points}, [each.point for each in lines], f"{file}: lines", found)
    _known(names.REGISTRY, [each.quantity for each in lines], f"{file}: lines", found)
    _known(validity().words, [each.quantity for each in refused], f"{file}: refused", found)
    if not isinstance(document.get("never", {}), dict):
        found.append(refusals.unusable(where=file, read="never is no table", expected="[never] with a reason for each"))
    _known(advice(), list(document.get("never", {})), f"{file}: never", found)
    _known(devices(), list(document.get("devices", [])), f"{file}: devices", found)
    _known(house(), list(document.get("house", [])), f"{file}: house", found)
    return {"points": tuple(points), "lines": tuple(lines), "refused": tuple(refused)}


def class_of(*, text: str, name: str, file: str = "") -> ApplianceClass:
    """Read one class, strictly.

    text  TOML
    name  of the class
    file  where it came from, for messages
    -> class; VisitError for one problem, Problems for several
    """
    file = file or f"appliance/classes/{name}.toml"
    document = _document(text, file)
    found: list[FluewrightError] = []
    made = _checked(document, file, found)
    flat = {**{key: value for key, value in document.items() if key not in made}, "name": name}
    shaped = row(ClassFile, flat, file, found)
    if shaped is not None:
        one_of(shaped.condensing, get_args(Condensing), file, found)
        if not shaped.burners and not shaped.no_window:
            found.append(refusals.unusable(where=file, read="no burner and no no_window", expected="one of them"))
    whole(file, found)
    proved = tuple(devices()[key] for key in flat["devices"])
    asked = tuple(house()[key] for key in flat["house"])
    kept: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value
        for key, value in flat.items()
        if key not in ("devices", "house")
    }
    return ApplianceClass(**kept, **made, devices=proved, house=asked)


def names_of_classes() -> tuple[str, ...]:
    """All classes, in alphabetical order; only file names are read."""
    return tuple(sorted(path.stem for path in CLASSES.glob("*.toml")))


@cache
def load(name: str) -> ApplianceClass:
    """A class of appliance by name.

    name  as typed: condensing-boiler, Condensing boiler
    -> class; UseError FW-U-290 with the nearest names
    """
    key = "-".join(name.strip().lower().replace("_", " ").split())
    if key not in names_of_classes():
        raise refusals.unknown_class(name, names_of_classes())
    return class_of(text=(CLASSES / f"{key}.toml").read_text(encoding="utf-8"), name=key)
