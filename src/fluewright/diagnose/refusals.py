"""What the weighing of causes refuses, each with its reason."""

from collections.abc import Collection

from fluewright.errors import PhysicsRefused, UseError


def no_virtual_appliance(kind: str, known: Collection[str]) -> UseError:
    """A class of appliance that no virtual appliance stands for."""
    return UseError(
        code="FW-U-310",
        read=f"causes asked for {kind or 'an appliance whose class nobody has said'}",
        expected="one of " + ", ".join(sorted(known)),
        matters="what a fault does to readings is worked out on a virtual appliance, and none stands for this class",
        do="say the class of the appliance; for one that is not listed, work from the findings alone",
    )


def unknown_look(name: str, known: Collection[str]) -> UseError:
    """A look that is not in the list."""
    return UseError(
        code="FW-U-311",
        read=f"an answer to the look {name!r}",
        expected="one of " + ", ".join(sorted(known)),
        matters="an answer counts by how often the look finds what is there, and that is known only for those listed",
        do="take the name from the list, or leave the answer out",
    )


def nothing_read() -> PhysicsRefused:
    """Neither a reading that can be weighed nor an answer."""
    return PhysicsRefused(
        code="FW-K-100",
        read="no reading that a cause could move, and no look answered",
        expected="at least one reading such as oxygen_dry, or one look answered",
        matters="without evidence only habit would speak, and habit has no place on a sheet",
        do="read oxygen and carbon monoxide in the flue first; ratios to the plate need the plate's value beside them",
    )
