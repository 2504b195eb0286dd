"""What the pump meets at the end of its line: oil that pushes by its weight, or a vacuum deep enough to draw gas."""

from fluewright.evidence import limits
from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.limits import seen
from fluewright.evidence.oil_given import PART, OilGiven
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Derived
from fluewright.evidence.result import Result
from fluewright.evidence.trust import beyond
from fluewright.kernel.ops import Number
from fluewright.quantity import show

MOST_PUSH = 20_684.0
"""Pa, 3 psi: the most that oil may push at the inlet of a burner's pump (NFPA 31, from memory)."""
ONE_PIPE, TWO_PIPES = "practice-oil-vacuum-one-pipe", "practice-oil-vacuum-two-pipe"
EVEN = 0.5


def pushes(noted: Noted, head: Number, *, substitution: str, source: str, holds: str) -> None:
    """A tank above the pump: the pressure that its oil brings to the inlet.

    head  Pa above the room, more than nothing
    """
    found = noted.keep(
        "pressure_worked_out",
        noted.reckoning.result(
            "oil_vacuum",
            head,
            formula="pressure at the inlet = weight of the oil column − friction in the line",
            substitution=substitution,
            source=source,
            holds=holds,
        ),
    )
    lead = "the tank stands above the pump, and its oil pushes with "
    noted.say(lead, Derived("pressure_worked_out"), " at the inlet.", mark="derived")
    noted.cannot_tell.append(
        "Whether the oil stays in the tank if the line breaks: it runs by its own weight, and nobody wrote of a valve "
        "against siphoning."
    )
    odds = beyond(found, MOST_PUSH)
    if odds is None or odds < EVEN:
        return
    most = show.shown(MOST_PUSH, quantity="oil_vacuum", system=noted.account.system)
    noted.findings.append(
        Finding(
            "oil-pushes-too-hard",
            "advise",
            "The oil pushes harder at the pump than its seals are made for.",
            f"{seen(found, noted.account)} against {most} (3 psi); over it: {limits.in_words(odds)}. Shaft seals weep, "
            "and oil can get into the burner while it stands still.",
            ((PART, "pressure_worked_out"),),
            PRACTICE,
            odds=odds,
            limit=f"at most {most}",
            do_next=("fit a valve that takes the pressure off before the pump, and look for oil under the burner",),
        )
    )


def degasses(noted: Noted, given: OilGiven) -> None:
    """A vacuum in which oil gives off gas, where no limit of the books has spoken of it yet."""
    found, key, expected = _deepest(noted)
    if found is None or found.value is None or (given.pipes and not expected):
        return
    one, two = (limits.canonical(noted.account.shop.limit(id)) for id in (ONE_PIPE, TWO_PIPES))
    most = one if given.pipes == "one" else two
    odds = beyond(found, most)
    may = odds is not None and odds < EVEN and not given.pipes and (beyond(found, one) or 0.0) >= EVEN
    if odds is None or (odds < EVEN and not may):
        return
    edge = show.shown(one if may else most, quantity="suction_vacuum", system=noted.account.system)
    pipes = {"one": "with one pipe", "two": "with two pipes"}.get(given.pipes, "with one pipe" if may else "at all")
    noted.findings.append(
        Finding(
            "oil-line-degasses",
            "open" if may else "advise",
            "Whether the oil gives off gas on its way depends on the pipes." if may
            else "In so deep a vacuum the oil gives off gas on its way.",
            f"{'Expected' if expected else 'Read'} {seen(found, noted.account)}; more than {edge} is too deep {pipes}. "
            "Gas in the oil makes the flame flutter and go out, and the nozzle drip after each run.",
            ((PART, key),),
            PRACTICE,
            odds=odds,
            limit=f"at most {edge}",
            do_next=("say whether one pipe or two leads to the pump",) if may
            else ("shorten or widen the line, raise the tank or fit a transfer pump; read the vacuum at the pump",),
        )
    )  # fmt: skip


def _deepest(noted: Noted) -> tuple[Result | None, str, bool]:
    """The vacuum read, else the deeper of those to expect, with its key and whether it is only expected."""
    read = noted.results.get("suction_vacuum")
    if read is not None and read.value is not None:
        return read, "vacuum", False
    known = [key for key in ("vacuum_worked_out", "vacuum_by_rule") if key in noted.results]
    known = [key for key in known if noted.results[key].value is not None]
    if not known:
        return None, "", True
    key = max(known, key=lambda one: noted.results[one].value or 0.0)
    return noted.results[key], key, True
