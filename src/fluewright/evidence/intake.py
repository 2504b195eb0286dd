"""Air on its way to the flame: flue gas that comes back in it, and what can be no intake at all."""

from fluewright.evidence import refusals
from fluewright.evidence.finding import PHYSICS, Finding, unsettled
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Stretch


def intake_starved(stretch: Stretch) -> Finding | None:
    """An intake full of flue gas, or a probe in the wrong pipe: nothing is reckoned from it, and it alarms."""
    intake = stretch.readings.get("oxygen_intake")
    if intake is None or not refusals.starved(intake):
        return None
    return Finding(
        "intake-starved",
        "act",
        f"{stretch.word.capitalize()}: the air at the intake holds too little oxygen to burn or to breathe.",
        f"Read: {intake.typed.text}, where fresh air has 20.9 %. Either the intake is full of flue gas, or the probe "
        "stood in the flue. The first fills a house with carbon monoxide, so until the second is shown it counts as "
        "the first.",
        ((stretch.word, "oxygen_intake"),),
        PHYSICS,
        do_now=("shut the burner off, and check the room for carbon monoxide before anybody stays in it",),
        do_next=("see which pipe the probe stood in, then open the vent joints and look at the terminal",),
    )


def breathes_its_own(worked: Worked, stretch: Stretch) -> Finding | None:
    """Flue gas in the intake air, as far as the cell can tell."""
    share = worked.results.get("recirculated_fraction")
    if share is None or share.value is None:
        return None
    spread = max(share.below, share.above)
    if share.value <= 2.0 * spread:
        return unsettled(
            "intake-undecided",
            stretch,
            f"{stretch.word.capitalize()}: no flue gas in the intake that this cell could tell.",
            f"A share below {200.0 * spread:.1f} % cannot be told from damp air and the error of the cell. "
            f"Compare with "
            "outdoor air read minutes earlier by the same cell, or use carbon dioxide.",
            "oxygen_intake",
        )
    return Finding(
        "intake-smoke",
        "act",
        f"{stretch.word.capitalize()}: the burner breathes its own flue gas.",
        f"About {share.value * 100:.1f} % of the intake is flue gas, doubt ± {200.0 * spread:.1f}. The inner "
        f"pipe of the "
        "vent may leak, or the terminal blows back. The excess air stays right, the flame does not.",
        ((stretch.word, "oxygen_intake"), (stretch.word, "recirculated_fraction")),
        PHYSICS,
        do_next=("open the vent joints and the terminal, and look for the leak before tuning anything",),
    )
