"""Questions without a visit around them: the readers of a visit file, fed with the options of a command."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from fluewright.errors import FluewrightError, Problems
from fluewright.evidence.part import Measured
from fluewright.visit.shape import Form, Gathered, check_part
from fluewright.visit.source import Source

ASKED = Path("what was asked")


def of_tree(tree: Mapping[str, Any], read: Callable[[Source], tuple[Measured, ...]]) -> tuple[Measured, ...]:
    """What a reader makes of tables that came from options; its problems as one error."""
    file = Source(ASKED, tree)
    found = read(file)
    _raise(file.gathered.errors)
    return found


def need(form: Form, tree: Mapping[str, Any]) -> None:
    """Make sure that tables from options hold what their form requires; its problems as one error."""
    gathered = Gathered(str(ASKED))
    check_part(tree, gathered, form)
    _raise(gathered.errors)


def _raise(errors: Sequence[FluewrightError]) -> None:
    if len(errors) == 1:
        raise errors[0]
    if errors:
        raise Problems(subject=str(ASKED), errors=list(errors))
