"""Oil supply and smoke from typed words, by the same reader as a visit file's tables."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fluewright.errors import Problems, UseError
from fluewright.evidence.part import Measured
from fluewright.visit.parts import oil
from fluewright.visit.source import Source

WHERE = "command line"


def measured_from(tables: Mapping[str, Mapping[str, Any]]) -> tuple[Measured, ...]:
    """What was measured, from the tables that a visit file would hold.

    tables  "oil_supply" and "smoke", values as typed; empty values are left out
    -> parts of the job; the error when there is one, Problems when there are several
    """
    told = {
        name: {key: value for key, value in table.items() if value not in (None, "", [], ())}
        for name, table in tables.items()
    }
    if not any(told.values()):
        raise UseError(
            code="FW-U-261",
            read="a question about oil without any reading",
            expected="at least one of its options, such as --lift 6ft or --pressure 140psi",
            matters="nothing can be said about nothing",
            do="see the help of the question for what it takes",
        )
    file = Source(Path(WHERE), told)
    found = oil.read(file)
    errors = file.gathered.errors
    if len(errors) == 1:
        raise errors[0]
    if errors:
        raise Problems(subject=WHERE, errors=errors)
    return found
