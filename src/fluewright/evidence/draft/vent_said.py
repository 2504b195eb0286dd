"""What is said of a vent beside its heat: category, trap, test port, joints, end."""

from typing import TYPE_CHECKING

from fluewright.evidence.finding import PHYSICS, PRACTICE, Clause, Finding, Grade, clause_of
from fluewright.evidence.limits import CAUTION, LEAVE_OFF
from fluewright.evidence.part import Derived, Piece, Seen, Statement, Voiced
from fluewright.rules import vents

if TYPE_CHECKING:
    from fluewright.evidence.draft.vent import Vent

WORD = "vent"


def statements_of(given: "Vent", hottest: str) -> list[Statement]:
    """The vent as it was seen.

    given    what was seen
    hottest  key of the flue at the hottest water, empty when it was not worked out
    """
    plate: list[Piece] = ["category ", Voiced(given.category, "plate"), ", "] if given.category else []
    material: Piece = Voiced(given.material, "unknown" if given.material == "not said" else "hand")
    found = [
        Statement((*plate, "material ", material, ", pressure ", given.pressure, "."), mark="plate", time=given.time)
    ]
    if given.marked_limit is not None:
        found.append(
            Statement(("the pipe is marked for ", Seen("marked limit", given.marked_limit), "."), mark="plate")
        )
    if given.flue is not None:
        found.append(_flue(given, hottest))
    if given.wet or given.trap not in ("not looked at", "none needed"):
        found.append(_trap(given))
    if given.port != "none":
        found.append(_word("test port: ", given.port, unknown=given.port == "not said"))
    if given.drilled is not None:
        found.append(Statement((f"holes drilled in it: {'found' if given.drilled else 'none'}.",)))
    found.append(_word("joints: ", given.joints, unknown=given.joints == "not looked at"))
    found.append(_word("end outdoors: ", given.end, given.end_words, unknown=given.end == "not looked at"))
    if given.clearances:
        found.append(Statement(("clearances: ", Voiced(given.clearances), ".")))
    return found


def _word(head: str, word: str, more: str = "", *, unknown: bool) -> Statement:
    pieces: list[Piece] = [head, Voiced(word, "unknown" if unknown else "hand")]
    if more:
        pieces += [", ", Voiced(more)]
    return Statement((*pieces, "."), mark="unknown" if unknown else "measured")


def _flue(given: "Vent", hottest: str) -> Statement:
    pieces: list[Piece] = ["the gas enters it at "]
    pieces += [Seen("flue temperature", given.flue)] if given.flue is not None else []
    if given.water is not None:
        pieces += [" with the water at ", Seen("water temperature", given.water)]
    if given.hottest_water is not None:
        pieces += ["; the control allows ", Seen("hottest water", given.hottest_water)]
    if hottest:
        pieces += ["; at the hottest water ", Derived(hottest)]
    return Statement((*pieces, "."))


def _trap(given: "Vent") -> Statement:
    frost = {None: "frost not looked at", True: "it can freeze", False: "safe from frost"}[given.freezing]
    pieces: list[Piece] = ["condensate trap: ", Voiced(given.trap), f", {frost}"]
    if given.neutraliser != "not said":
        pieces.append(f", neutraliser {given.neutraliser}")
    return Statement((*pieces, "."), mark="unknown" if given.trap == "not looked at" else "measured")


def findings_of(given: "Vent") -> list[Finding]:
    """What is wrong with it, or open."""
    return [*_category(given), *_trap_found(given), *_leaks(given), *_port(given), *_end(given), *_frost(given)]


def _grave(code: str, grade: Grade, lead: str, body: str, *do_next: str, clause: Clause = PHYSICS) -> Finding:
    return Finding(code, grade, lead, body, (), clause, do_now=LEAVE_OFF, do_next=do_next, cautions=CAUTION)


def _category(given: "Vent") -> list[Finding]:
    """The plate against pressure and condensate as they are."""
    if not given.category or given.pressure == "not said" or given.condensing is None:
        return []
    seen = vents.category_of(positive=given.pressure == "positive", condensing=given.condensing)
    if seen.roman == given.category:
        return []
    clause = clause_of(seen)
    graver = given.pressure == "positive" and given.category in ("I", "II")
    return [
        Finding(
            "vent-category",
            "stop" if graver else "act",
            f"The vent behaves as category {seen.roman}, the plate says {given.category}.",
            f"Found: {given.pressure} pressure, condensate {'may form' if given.condensing else 'does not form'}. "
            f"{seen.text} A vent built for category {given.category} is not built for that"
            f"{', and its joints let gas out' if graver else ''}.",
            (),
            clause,
            do_now=LEAVE_OFF,
            do_next=("find why, and fit the vent that the maker lists for the appliance",),
            cautions=CAUTION,
        )
    ]


def _trap_found(given: "Vent") -> list[Finding]:
    if given.trap == "dry":
        way = (
            f"{given.may} above the pressure of the room and then blows flue gas through it"
            if given.pushes
            else "is open to the room through it"
        )
        return [
            _grave("vent-trap-dry" if given.pushes else "vent-trap-empty", "stop" if given.pushes else "act",
                   "The condensate trap is dry.", f"A trap without water closes nothing: the vent {way}.",
                   "fill the trap, see it drain, and read carbon monoxide in the room again")
        ]  # fmt: skip
    if given.wet and given.trap == "not looked at":
        return [_open("vent-trap-open", "The condensate trap was not looked at.",
                      "Nobody knows whether water closes it. A dry trap is an open flue into the room.",
                      "see that it holds water and that condensate flows")]  # fmt: skip
    return []


def _open(code: str, lead: str, body: str, *do_next: str) -> Finding:
    return Finding(code, "open", lead, body, (), PRACTICE, do_next=do_next)


def _leaks(given: "Vent") -> list[Finding]:
    """Joints that leak, and holes drilled where none may be."""
    found = []
    if given.joints == "leaking in the house":
        grade: Grade = "stop" if given.pushes else "act"
        code = "vent-joint-pushes" if given.pushes else "vent-joint"
        body = (
            f"The vent {given.may} above the pressure of the room: then what leaks comes into the house while it burns."
            if given.pushes
            else "A vent that pulls draws room air in there, until it stops pulling: then it lets gas out."
        )
        found.append(_grave(code, grade, "A joint of the vent leaks in the house.", body,
                            "take the joint apart and make it anew as its maker says; no sealant over it"))  # fmt: skip
    elif given.joints == "leaking outdoors":
        found.append(Finding("vent-joint-outdoors", "advise", "A joint of the vent leaks outdoors.",
                             "Condensate there rots the wall, and gas can come back in by a window.", (), PRACTICE,
                             do_next=("make the joint anew",)))  # fmt: skip
    if given.drilled and given.material == "plastic":
        found.append(
            _grave("vent-drilled-pushes" if given.pushes else "vent-drilled", "stop" if given.pushes else "act",
                   "Holes were drilled in a plastic vent.",
                   "A drilled hole in plastic cracks and cannot be closed for good; such a vent is sampled by its test "
                   "port alone.", "replace the drilled piece", clause=PRACTICE)
        )  # fmt: skip
    if given.pushes and given.joints == "not looked at":
        found.append(_open("vent-joints-open", "The joints of a vent that may be under pressure were not looked at.",
                           "Any leak of it in the house is a danger to life.",
                           "go along the whole vent with a leak fluid or a meter"))  # fmt: skip
    return found


def _port(given: "Vent") -> list[Finding]:
    """The test port: closed and checked before anybody leaves."""
    if given.port == "open":
        return [_grave("vent-port-pushes" if given.pushes else "vent-port", "stop" if given.pushes else "act",
                       "The test port stands open.",
                       "Gas comes out of it into the room." if given.pushes else "The vent draws room air in by it.",
                       "close it and check it for leaks while the burner runs")]  # fmt: skip
    if given.port in ("closed", "not said"):
        return [_open("vent-port-open", "The test port is not yet closed and checked.",
                      "Nobody has said that it was closed and tried for leaks.",
                      "close it, try it for leaks while the burner runs, and write that down")]  # fmt: skip
    return []


def _end(given: "Vent") -> list[Finding]:
    said = f": {given.end_words}" if given.end_words else ""
    if given.end == "blocked":
        return [_grave("vent-end-blocked", "stop", "The end of the vent is blocked.",
                       f"Flue gas has no way out{said}.", "free it and see that it stays free")]  # fmt: skip
    if given.end == "too near":
        return [Finding("vent-end-near", "act", "The end of the vent is too near an opening, a corner or the ground.",
                        f"Flue gas can come back into the house or into the burner's own air{said}.", (), PRACTICE,
                        do_now=("keep windows near it shut while the burner runs",),
                        do_next=("measure it against maker's and code distances, and move it",),
                        cautions=CAUTION)]  # fmt: skip
    return []


def _frost(given: "Vent") -> list[Finding]:
    found = []
    if given.freezing:
        found.append(Finding("vent-drain-frost", "advise", "The condensate drain can freeze.",
                             "Ice in it backs water up into the appliance and can close the vent.", (), PRACTICE,
                             do_next=("lead the drain indoors or insulate and heat it",)))  # fmt: skip
    if given.neutraliser == "used up":
        body = "Sour condensate eats pipes and drains."
        lead = "The neutraliser is used up."
        found.append(Finding("vent-neutraliser", "advise", lead, body, (), PRACTICE, do_next=("refill it",)))
    return found


def cannot_tell(given: "Vent") -> list[str]:
    """What stays open about the vent."""
    found = []
    if given.material == "plastic" and given.marked_limit is None:
        found.append("Whether the plastic vent stands the heat: no temperature was typed from its marking.")
    if given.marked_limit is not None and given.flue is None:
        found.append("Whether the vent stands the heat: the flue was not read.")
    if given.end == "not looked at":
        found.append("Whether the end of the vent is free: nobody looked at it.")
    if not given.clearances:
        found.append("Whether the vent keeps clear of what can burn: nobody said.")
    if given.category and (given.pressure == "not said" or given.condensing is None):
        found.append("Whether the vent behaves as its category: pressure or condensate was not seen.")
    return found
