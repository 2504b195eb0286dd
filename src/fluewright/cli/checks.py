"""fluewright checks: our numbers against published ones, source by source."""

import argparse
import json
import sys

from fluewright.checks import run as published
from fluewright.checks.run import Outcome, Standing
from fluewright.errors import UseError


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("--source", metavar="WORDS", help="only sources whose name or document holds these words")
    parser.add_argument("--worst", metavar="N", type=int, default=0, help="also list the N values nearest their edge")


def _chosen(words: str | None) -> tuple[published.Row, ...]:
    rows = published.rows()
    if words is None:
        return rows
    sought = words.casefold()
    chosen = tuple(r for r in rows if sought in r.source.key.casefold() or sought in r.source.document.casefold())
    if not chosen:
        raise UseError(
            code="FW-U-060",
            read=f"the source {words!r}",
            expected="words of " + ", ".join(dict.fromkeys(row.source.key for row in rows)),
            matters="a run over no values proves nothing",
            do="run it without --source to see every source",
        )
    return chosen


def _share(value: float) -> str:
    """A share of the tolerance as people say it."""
    if value > 1.0:
        return f"{value:.2f} times"
    return "exact" if value < 0.0005 else f"{value:.0%}"


def _line(standing: Standing) -> str:
    missed = f"   missed: {', '.join(standing.missed)}" if standing.missed else ""
    name = f"{standing.source:<24} {standing.document[:46]:<46}"
    return f"{name} {standing.count:>5}  {_share(standing.worst):>10}  {standing.known}{missed}"


def _near(outcome: Outcome) -> str:
    row = outcome.row
    found = ", ".join(f"{value:.6g}" for value in outcome.found)
    printed = ", ".join(f"{value:.6g}" for value in row.expected)
    return (
        f"  {row.id:<12} {_share(outcome.share_of_tolerance):>8} of ±{row.tolerance:g}: printed {printed}, "
        f"found {found} {row.unit}\n  {'':<12} {row.topic}; {row.source.document}, {row.source.place}"
    )


def _as_json(found: tuple[Outcome, ...], standings: tuple[Standing, ...]) -> str:
    explained = published.not_met()
    return json.dumps(
        {
            "total": len(found),
            "missed": [one.row.id for one in found if one.missed],
            "explained": {one.row.id: explained[one.row.id] for one in found if one.row.id in explained},
            "sources": [
                {
                    "source": each.source,
                    "document": each.document,
                    "count": each.count,
                    "worst": each.worst,
                    "worst_id": each.worst_id,
                    "known": each.known,
                    "missed": list(each.missed),
                }
                for each in standings
            ],
        },
        ensure_ascii=False,
    )


def _say(found: tuple[Outcome, ...], standings: tuple[Standing, ...], worst: int) -> None:
    print(f"{'source':<24} {'document':<46} {'count':>5}  {'worst':>10}  known")
    for standing in standings:
        print(_line(standing))
    print("\nworst: the largest deviation as a share of the tolerance that goes with the printed value.")
    if worst > 0:
        print(f"\nnearest their edge, {min(worst, len(found))} of {len(found)}:")
        for outcome in sorted(found, key=lambda one: -one.share_of_tolerance)[:worst]:
            print(_near(outcome))
    met = sum(not one.missed for one in found)
    print(f"\n{met} of {len(found)} published values met, {len(found) - met} missed.")
    explained = published.not_met()
    for one in (one for one in found if one.missed):
        print(f"missed {one.row.id}: {explained.get(one.row.id, 'not explained')}")
        print(_near(one))


def run(args: argparse.Namespace) -> int:
    """Run the published values; 0 when every one is met or its miss is explained, else 1."""
    found = published.outcomes(_chosen(args.source))
    standings = published.standings(found)
    if args.json:
        print(_as_json(found, standings))
    else:
        _say(found, standings, args.worst)
    unexplained = [one.row.id for one in found if one.missed and one.row.id not in published.not_met()]
    if unexplained:
        print(f"{len(unexplained)} published values missed without a written reason", file=sys.stderr)
    return 1 if unexplained else 0
