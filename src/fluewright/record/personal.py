"""Fields about people: the chain holds a salted commitment, an erasable store holds value and salt.

A name alone could be guessed from its hash; with sixteen random bytes before it nobody can, once the salt is gone.
"""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fluewright.record.canonical import canonical, digest

KEY = "commitment"
"""The key under which a commitment stands in a body, in place of the value."""

ERASED = "(erased)"
"""What is shown where a person's field was erased."""


class Private(str):
    """A text about a person, anywhere in a body: it is kept as a commitment."""


@dataclass(frozen=True, slots=True)
class Secret:
    """One value that can be erased, with the salt that ties it to its commitment.

    commitment  SHA-256 of the canonical form of salt and value, hexadecimal
    salt        16 random bytes, hexadecimal
    value       the text itself
    """

    commitment: str
    salt: str
    value: str

    def holds(self) -> bool:
        """Whether the value is the one that was committed to."""
        return commitment(self.salt, self.value) == self.commitment


def commitment(salt: str, value: str) -> str:
    """The commitment to a value under a salt."""
    return digest(canonical({"salt": salt, "value": value}))


def hidden(value: str) -> Secret:
    """A value with a new salt and its commitment."""
    salt = secrets.token_hex(16)
    return Secret(commitment(salt, value), salt, value)


def commitments_in(body: Any) -> list[str]:
    """All commitments within a body, in reading order."""
    if type(body) is str:
        return []
    if isinstance(body, Mapping):
        if set(body) == {KEY}:
            return [str(body[KEY])]
        return [found for each in body.values() for found in commitments_in(each)]
    if isinstance(body, list | tuple):
        return [found for each in body for found in commitments_in(each)]
    return []


def erased_by(body: Mapping[str, Any]) -> list[str]:
    """The commitments that the body of an erasure names; none where it is not of its kind."""
    given = body.get("commitments")
    return [str(each) for each in given] if isinstance(given, list | tuple) else []


def opened(body: Any, values: Mapping[str, str]) -> Any:
    """A body with every commitment replaced by its value, or by the word for what was erased.

    body    as it stands in the chain
    values  values by commitment, of the erasable store
    -> the same with texts in place of commitments
    """
    if type(body) is str:
        return body
    if isinstance(body, Mapping):
        if set(body) == {KEY}:
            return values.get(str(body[KEY]), ERASED)
        return {key: opened(each, values) for key, each in body.items()}
    if isinstance(body, list | tuple):
        return [opened(each, values) for each in body]
    return body
