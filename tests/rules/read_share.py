"""How many verdicts of twenty golden domestic visits rest on a text that somebody read; run it to print them."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from fluewright.evidence.finding import Clause
from fluewright.visit import file, work

HOUSES = Path(__file__).parent / "houses"
"""Twenty houses: six in Germany, three in Austria, four in Britain, seven in the United States, each read as its place
and the trade read on an ordinary day. Where nobody has read a text of the place, practice speaks alone."""
CLASSES = Path(__file__).parent.parent / "visit" / "classes"
NOT_DOMESTIC = ("direct-fired-air-heater", "radiant-tube")
"""Golden visits of workshops: the other twenty are of houses, a plant room of flats among them."""


def visits() -> list[Path]:
    """Twenty golden domestic visits, one for each class, all in Minnesota: each shows what its class can have wrong."""
    return [path for path in sorted(CLASSES.glob("*.toml")) if path.stem not in NOT_DOMESTIC]


def houses() -> list[Path]:
    """Twenty golden domestic visits where people live, in several places."""
    return sorted(HOUSES.glob("*.toml"))


def rests_on_read(clause: Clause) -> bool:
    """Whether a verdict rests on a text that was read, or on a law of nature, which needs none."""
    return clause.known in ("read", "computed", "physics")


def counted(place: str = "", paths: Sequence[Path] = ()) -> tuple[Counter[str], Counter[str]]:
    """Verdicts by how their authority is known, and by code where it is not read.

    A verdict is a finding that puts a result to a limit: a text, a figure of practice or a law of nature.

    place  code of another place to judge them in, empty for their own
    paths  which visits, one of each class when empty
    """
    how: Counter[str] = Counter()
    rest: Counter[str] = Counter()
    for path in paths or visits():
        account = file.read(path)
        for one in work.judged(replace(account, jurisdiction=place or account.jurisdiction)).judged.findings:
            if not one.limit:
                continue
            how[one.clause.known] += 1
            if not rests_on_read(one.clause):
                rest[f"{one.code} ({one.clause.known})"] += 1
    return how, rest


def decided(paths: Sequence[Path]) -> tuple[int, int]:
    """Of the verdicts that decide something (stop, act, advise, fine): how many rest on a text read, and all of them.

    The others are open: too close to call, or inside a limit that may warn and cannot clear.
    """
    found = [one for path in paths for one in work.judged(file.read(path)).judged.findings if one.limit]
    deciding = [one for one in found if one.grade != "open"]
    return sum(rests_on_read(one.clause) for one in deciding), len(deciding)


def told(place: str = "", paths: Sequence[Path] = ()) -> str:
    """The share in lines."""
    how, rest = counted(place, paths)
    total = sum(how.values())
    texts = total - how["physics"]
    where = place or ("their own places" if paths else "their own place, US-MN")
    lines = [f"{len(paths or visits())} visits in {where}: {total} verdicts"]
    lines += [f"  {known:<28} {count:>4}  {count / total:.0%}" for known, count in how.most_common()]
    lines.append(f"  of {texts} by a text, {how['read']} by one that was read: {how['read'] / texts:.0%}; the rest:")
    lines += [f"  {count:>4}  {words}" for words, count in rest.most_common()]
    return "\n".join(lines)


if __name__ == "__main__":
    read, deciding = decided(houses())
    print(f"of {deciding} verdicts that decide something, {read} rest on a text that was read: {read / deciding:.0%}\n")
    print("\n\n".join([told("", houses()), *(told(place) for place in ("", "DE", "US-CA", "GB"))]))
    for country in ("de", "at", "gb", "us"):
        print("\n" + told("", [path for path in houses() if path.stem[3:5] == country]))
