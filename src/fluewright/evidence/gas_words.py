"""What is said and done where gas may escape or its pressure may be too high: the cautions of gas, not those of CO."""

from collections.abc import Iterable
from dataclasses import replace

from fluewright.evidence.finding import WRONG, Clause, Finding

GAS_LAW = Clause("law of nature", "ideal-gas law", "", "everywhere", "physics")
FRICTION = Clause("law of nature", "friction in pipes", "", "everywhere", "physics")

CAUTIONS = (
    "Gas can explode: light nothing, touch no switch, no bell, no plug, no telephone indoors. Windows and doors open, "
    "everybody out, warn the neighbours by knocking. Call the gas supplier or the emergency number from outside.",
)
SHUT = (
    "close the gas valve if it can be reached safely",
    "leave the gas off until the leak is mended and the line has been tested again",
)
LEAVE_OFF = (
    "close the appliance's gas valve and leave it off until the pressure is put right",
    "check the regulator before anything on this line is lit again",
)
LOW_CAUTIONS = (
    "A burner short of gas can go out and let gas pass unlit: shut its valve first, and air the room if it smells.",
)
PIPE_SHORT = ("do not run everything on this line together until it is put right",)
OTHER_TEST = ("do the test as the text asks for it",)
TEST_AGAIN = ("let the pipe take the temperature of the house, then test again, for longer or with a finer gauge",)


def telling(findings: Iterable[Finding]) -> list[Finding]:
    """All that is wrong, and of what is not wrong the nearest to each limit: ten readings need not say it ten times."""
    kept: list[Finding] = []
    nearest: dict[str, Finding] = {}
    for one in findings:
        if one.grade in WRONG:
            kept.append(one)
            continue
        before = nearest.get(one.code)
        if before is None or (before.odds is not None and (one.odds is None or one.odds > before.odds)):
            nearest[one.code] = one
    return [*kept, *nearest.values()]


def of_gas(finding: Finding, *, do: tuple[str, ...], cautions: tuple[str, ...] = CAUTIONS) -> Finding:
    """A finding about gas with its own cautions and first steps in place of those about flue gas."""
    if finding.grade in ("stop", "act"):
        return replace(finding, do_now=do, cautions=cautions)
    if finding.grade in WRONG:
        return replace(finding, do_now=(), cautions=())
    return finding
