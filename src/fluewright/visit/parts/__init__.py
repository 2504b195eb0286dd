"""The tables of a visit file about everything beside the flame: a reader for each part of the job."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.evidence.part import Measured
from fluewright.visit.parts import (
    air_for_burning,
    cost,
    delivered,
    draft,
    flue,
    gas_change,
    gas_input,
    gas_pipes,
    gas_tightness,
    instrument,
    looks,
    oil,
    permit,
    proofs,
    room,
    tune,
)
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

Reader = Callable[[Source], tuple[Measured, ...]]

_PARTS: tuple[tuple[Form, Reader], ...] = (
    (instrument.FORM, instrument.read),
    (room.FORM, room.read),
    (air_for_burning.FORM, air_for_burning.read),
    (gas_input.FORM, gas_input.read),
    (gas_change.FORM, gas_change.read),
    (gas_pipes.FORM, gas_pipes.read),
    (gas_tightness.FORM, gas_tightness.read),
    (oil.FORM, oil.read),
    (draft.FORM, draft.read),
    (flue.FORM, flue.read),
    (delivered.FORM, delivered.read),
    (cost.FORM, cost.read),
    (tune.FORM, tune.read),
    (permit.FORM, permit.read),
    (proofs.FORM, proofs.read),
    (looks.FORM, looks.read),
)
"""Form and reader of each part; a reader gives nothing where its tables are not there."""

FORMS = tuple(form for form, _ in _PARTS)


def any_in(tree: Mapping[str, Any]) -> bool:
    """Whether a visit file holds any table of a part."""
    return any(name in tree for form in FORMS for name in form.tables if "." not in name)


def read(file: Source) -> tuple[Measured, ...]:
    """What was measured beside the flame, as the file tells it; problems are noted in the source."""
    return tuple(measured for _, reader in _PARTS for measured in reader(file))
