"""What is said when a class, a point or a line of the data about appliances cannot be taken."""

from collections.abc import Iterable

from fluewright.errors import UseError, VisitError


def unusable(*, where: str, read: str, expected: str) -> VisitError:
    """A data file about appliances that cannot be taken, and why."""
    return VisitError(
        code="FW-V-095",
        where=where,
        read=read,
        expected=expected,
        matters="a class that is half known would hide a danger or give advice that belongs to another appliance",
        do="mend the entry; docs/method/appliances.md says what each file holds",
    )


def _near(typed: str, known: Iterable[str]) -> str:
    import difflib  # only for a slip of the finger; it slows a cold start

    words = tuple(known)
    close = difflib.get_close_matches(typed.lower(), words, 3, 0.5)
    return "near it are " + ", ".join(close) if close else "one of " + ", ".join(words)


def unknown_class(typed: str, known: Iterable[str]) -> UseError:
    """A class of appliance that there is none of."""
    return UseError(
        code="FW-U-290",
        read=f"the appliance class {typed!r}",
        expected=_near(typed, known),
        matters="points, limits and what is never advised hang on the class",
        do="see fluewright appliance list",
    )


def unknown_point_class(typed: str, known: Iterable[str]) -> UseError:
    """A class of sampling point that there is none of."""
    return UseError(
        code="FW-U-291",
        read=f"the sampling-point class {typed!r}",
        expected=_near(typed, known),
        matters="what a reading is worth hangs on where the probe stood",
        do="see fluewright appliance points",
    )


def unknown_row(typed: str, known: Iterable[str]) -> UseError:
    """A quantity that the table of validity has no row for."""
    return UseError(
        code="FW-U-292",
        read=f"the quantity {typed!r}",
        expected=_near(typed, known),
        matters="the table says nothing of it, and silence is not leave",
        do="see fluewright appliance points",
    )
