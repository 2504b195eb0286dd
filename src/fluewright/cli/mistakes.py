"""What is wrong with a command line, in our own words: what was read, and what was expected in its place."""

import argparse
import re
from collections.abc import Callable, Sequence

TWICE = " is given twice"
QUESTION = "QUESTION"
"""Stands for the question of a verb that has several."""

_OPTION = r"argument (?P<option>.+?): "
_CHOICE = re.compile(_OPTION + r"invalid choice: (?P<typed>.+?)(?:, maybe .+)? \(choose from (?P<choices>.+)\)", re.S)
_TYPE = re.compile(_OPTION + r"invalid (?P<kind>\w+) value: (?P<typed>.+)", re.S)
_BARE = re.compile(_OPTION + r"expected .*argument", re.S)
_BESIDE = re.compile(_OPTION + r"not allowed with argument (?P<other>.+)", re.S)
_VALUE = re.compile(_OPTION + r"ignored explicit argument (?P<typed>.+)", re.S)
_LACKING = re.compile(r"the following arguments are required: (?P<names>.+)", re.S)
_UNKNOWN = re.compile(r"unrecognized arguments: (?P<typed>.+)", re.S)
_KINDS = {"int": "a whole number", "float": "a number"}

Told = tuple[str, str]
"""What was read, and what was expected."""


def told(parser: argparse.ArgumentParser, message: str) -> Told:
    """What argparse noticed, in our words.

    parser   whose command line it was
    message  as argparse has it
    -> what was read, what was expected
    """
    if message.endswith(TWICE):
        return message, "each option once"
    for pattern, words in _WORDS:
        found = pattern.fullmatch(message)
        if found:
            return words(parser, found)
    return "something in this command line does not fit", "options and values as the help lists them"


def _actions(parser: argparse.ArgumentParser) -> Sequence[argparse.Action]:
    return [action for action in parser._actions if action.help is not argparse.SUPPRESS]


def _action(parser: argparse.ArgumentParser, name: str) -> argparse.Action | None:
    """The option or word that argparse calls by this name."""
    first = name.split("/")[0]
    for action in parser._actions:
        if first in (*action.option_strings, action.metavar, action.dest):
            return action
    return None


def _help(action: argparse.Action | None) -> str:
    """What an option stands for, as its help says it."""
    if action is None:
        return ""
    if action.choices:
        return "one of " + ", ".join(str(choice) for choice in action.choices if choice != "")
    return (action.help or "").replace("%%", "%")


def _name(text: str) -> str:
    """An option as it is typed; of two spellings the first, and a word without dashes by what it is."""
    first = text.split("/")[0]
    return first if first.startswith("-") else f"the {first.lower()}"


def _choice(_: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    choices = found["choices"].replace("'", "")
    return f"{_name(found['option'])} {found['typed']}", "one of " + choices.removeprefix(", ")


def _type(_: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    return f"{_name(found['option'])} {found['typed']}", _KINDS.get(found["kind"], "a value of another form")


def _bare(parser: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    words = _help(_action(parser, found["option"]))
    name = _name(found["option"])
    return f"{name} without a value", f"a value behind it: {words}" if words else "a value behind it"


def _beside(_: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    return f"{_name(found['option'])} beside {_name(found['other'])}", "one of them"


def _value(_: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    return f"{_name(found['option'])} with the value {found['typed']}", f"{_name(found['option'])} alone"


def _lacking(parser: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    names = found["names"].split(", ")
    lacking = [action for name in names if (action := _action(parser, name)) is not None and action.nargs != "*"]
    if len(lacking) == 1 and lacking[0].metavar == QUESTION:
        return "no question", _help(lacking[0])
    read = "no " + ", no ".join(_name(action.option_strings[0] if action.option_strings else str(action.metavar or
                                action.dest)).removeprefix("the ") for action in lacking)  # fmt: skip
    return read, "; ".join(_described(action) for action in lacking)


def _described(action: argparse.Action) -> str:
    words = _help(action)
    name = action.option_strings[0] if action.option_strings else str(action.metavar or action.dest).lower()
    return f"{name}, {words}" if words else name


def _unknown(parser: argparse.ArgumentParser, found: re.Match[str]) -> Told:
    word = found["typed"].split()[0]
    if not word.startswith("-"):
        return (
            f"{found['typed']}, which belongs to no option",
            "options with their values; a value with blanks in quotes",
        )
    import difflib  # the slowest part of a cold start, and only for a slip of the finger

    options = [text for action in _actions(parser) for text in action.option_strings if text[:2] == "--"]
    near = difflib.get_close_matches(word, options, 3, 0.5)
    expected = "near it are " + ", ".join(near) if near else "options of this verb, and values in quotes"
    return f"{found['typed']}, which it does not know", expected


_WORDS: tuple[tuple[re.Pattern[str], Callable[[argparse.ArgumentParser, re.Match[str]], Told]], ...] = (
    (_CHOICE, _choice),
    (_TYPE, _type),
    (_BARE, _bare),
    (_BESIDE, _beside),
    (_VALUE, _value),
    (_LACKING, _lacking),
    (_UNKNOWN, _unknown),
)
