"""fluewright room air: who feels unwell, what was read, against the limits of a room."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.evidence.reading import Reading
from fluewright.evidence.room import RoomGiven
from fluewright.evidence.room_people import Alarm, Said
from fluewright.visit import room_typed
from fluewright.visit.parts.room import PLACES, STANDARDS, SYMPTOMS, ZEROS
from fluewright.visit.parts.room import SAID as ANSWERS

ABOUT = "people first, then carbon monoxide of a room against its limits and the air outdoors"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    people = parser.add_argument_group("people and alarms, before any reading")
    people.add_argument("--symptoms", choices=SYMPTOMS, default=SYMPTOMS[0], help="whether anybody feels unwell")
    people.add_argument("--alarm", choices=("silent", "sounded", "none"), help="what the alarm of the house did")
    people.add_argument("--alarm-standard", choices=STANDARDS[1:], default="", help="on the label of the alarm")
    people.add_argument("--alarm-tested", choices=ANSWERS[1:], default="", help="whether it sounded at its button")
    air = parser.add_argument_group("readings, with units")
    air.add_argument("--entry", metavar="X", help="on coming in, such as 4ppm, 40..120 or '>500'")
    air.add_argument(
        "--readings", metavar="LIST", help="with times: '10:05 4 ppm; 10:20 12 ppm' or '0 min 4; 15 min 12'"
    )
    air.add_argument("--outdoor", metavar="X", help="outdoors, same instrument")
    air.add_argument("--worn", metavar="X", help="on a second meter that is worn")
    air.add_argument("--zero", choices=ZEROS[1:], default="", help="where the instrument was zeroed")
    air.add_argument("--worn-zero", choices=ZEROS[1:], default="", help="where the worn meter was zeroed")
    air.add_argument("--where", choices=PLACES, default=PLACES[0], help="whose limits speak")


def _alarms(args: argparse.Namespace) -> tuple[Alarm, ...]:
    if args.alarm in ("silent", "sounded"):
        sounded: Said = "yes" if args.alarm == "sounded" else "no"
        return (Alarm("in the house", args.alarm_standard, args.alarm_tested, sounded),)
    if args.alarm == "none" and (args.alarm_standard or args.alarm_tested):
        raise UseError(
            code="FW-U-221",
            read="no alarm, and something about an alarm",
            expected="one of them",
            matters="whether somebody is warned at night hangs on it",
            do="leave out --alarm none, or the other option",
        )
    if args.alarm_standard or args.alarm_tested:
        return (Alarm("in the house", args.alarm_standard, args.alarm_tested),)
    return ()


def asked(args: argparse.Namespace) -> Asked:
    """The room as it was given."""

    def one(text: str | None, quantity: str) -> Reading | None:
        return None if text is None else room_typed.reading(text, quantity)

    given = RoomGiven(
        symptoms=args.symptoms,
        entry=one(args.entry, room_typed.ROOM),
        readings=() if args.readings is None else room_typed.readings_of(args.readings),
        outdoor=one(args.outdoor, "carbon_monoxide_outdoor"),
        personal=one(args.worn, "carbon_monoxide_personal"),
        zero=args.zero,
        personal_zero=args.worn_zero,
        alarms=_alarms(args),
        without_alarm=args.alarm == "none",
        where=args.where,
    )
    return Asked((given,))
