"""How many verdicts of twenty golden domestic visits rest on a text that somebody read; run it to print them."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

from fluewright.evidence.finding import Clause
from fluewright.visit import file, work

CLASSES = Path(__file__).parent.parent / "visit" / "classes"
NOT_DOMESTIC = ("direct-fired-air-heater", "radiant-tube")
"""Golden visits of workshops: the other twenty are of houses, a plant room of flats among them."""


def visits() -> list[Path]:
    """Twenty golden domestic visits."""
    return [path for path in sorted(CLASSES.glob("*.toml")) if path.stem not in NOT_DOMESTIC]


def rests_on_read(clause: Clause) -> bool:
    """Whether a verdict rests on a text that was read, or on a law of nature, which needs none."""
    return clause.known in ("read", "computed", "physics")


def counted(place: str = "") -> tuple[Counter[str], Counter[str]]:
    """Verdicts by how their authority is known, and by code where it is not read.

    A verdict is a finding that puts a result to a limit: a text, a figure of practice or a law of nature.

    place  code of another place to judge them in, empty for their own
    """
    how: Counter[str] = Counter()
    rest: Counter[str] = Counter()
    for path in visits():
        account = file.read(path)
        for one in work.judged(replace(account, jurisdiction=place or account.jurisdiction)).judged.findings:
            if not one.limit:
                continue
            how[one.clause.known] += 1
            if not rests_on_read(one.clause):
                rest[f"{one.code} ({one.clause.known})"] += 1
    return how, rest


def told(place: str = "") -> str:
    """The share in lines."""
    how, rest = counted(place)
    total = sum(how.values())
    texts = total - how["physics"]
    lines = [f"{len(visits())} visits in {place or 'their own place, US-MN'}: {total} verdicts"]
    lines += [f"  {known:<28} {count:>4}  {count / total:.0%}" for known, count in how.most_common()]
    lines.append(f"  of {texts} by a text, {how['read']} by one that was read: {how['read'] / texts:.0%}; the rest:")
    lines += [f"  {count:>4}  {words}" for words, count in rest.most_common()]
    return "\n".join(lines)


if __name__ == "__main__":
    print("\n\n".join(told(place) for place in ("", "DE", "US-CA", "GB")))
