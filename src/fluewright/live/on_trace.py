"""A time of day that a person wrote down, in the seconds of a recorded trace."""

from datetime import UTC, datetime

from fluewright.evidence.lit import DAY, moment
from fluewright.evidence.trace.times import Form, zone_of


def on_trace(text: str, form: Form, start: float) -> float | None:
    """A time as the trace shows it, in its own seconds; None where it is no time.

    text   such as 14:03:20, 2026-11-25 14:03 or 125 s
    form   how the trace writes its times
    start  s, first row: a time of day without a day is the first one from there on
    """
    zone = zone_of(form.zone) or UTC
    if form.order == "elapsed seconds":
        plain = text.removesuffix(" s").removesuffix("s")
        return float(plain) if plain.replace(".", "", 1).isdigit() else moment(text)
    of_day = moment(text)
    if form.order == "clock":
        return of_day
    if of_day is not None:
        first = datetime.fromtimestamp(start, tz=zone)
        midnight = first.replace(hour=0, minute=0, second=0, microsecond=0).timestamp()
        return midnight + of_day + (DAY if midnight + of_day < start - 60.0 else 0.0)
    try:
        said = datetime.fromisoformat(text)
    except ValueError:
        return None
    return (said if said.tzinfo else said.replace(tzinfo=zone)).timestamp() if len(text) > 10 else None
