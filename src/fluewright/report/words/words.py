"""One kind of finding in words of the house, and phrases that several kinds share."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Words:
    """One kind of finding for the house: what it is now, what it was before it was cured, what each side has to do."""

    now: str
    before: str
    we: str = ""
    you: tuple[str, ...] = ()


OFF = "leave the appliance off until we have mended it and tested it again"
LEAVE_OFF = (OFF,)
CLEAR_AIR = (OFF, "keep air openings and vents free")
READ_AGAIN = "test again what this test could not tell"
