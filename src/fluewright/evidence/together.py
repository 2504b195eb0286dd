"""Findings that together are worse than each: one finding more, graver than any of them, and none taken away."""

from collections.abc import Sequence

from fluewright.evidence.finding import ORDER, PRACTICE, WRONG, Finding
from fluewright.evidence.limits import CAUTION, LEAVE_OFF
from fluewright.rules.together import Together, rows


def together(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """What follows from findings that meet.

    findings  all of a visit
    -> one for each row of the rules whose sides are all wrong here, where it is graver than every one of them
    """
    wrong = [finding for finding in findings if finding.grade in WRONG]
    codes = {finding.code for finding in wrong}
    found = []
    for row in rows():
        sides = row.sides(codes)
        if sides is None:
            continue
        meeting = [finding for finding in wrong if any(finding.code in side for side in sides)]
        if min(ORDER.index(finding.grade) for finding in meeting) > ORDER.index(row.severity):
            found.append(_finding(row, meeting))
    return tuple(found)


def _finding(row: Together, meeting: Sequence[Finding]) -> Finding:
    """The finding of one row; what is usual where people could be hurt goes with it."""
    grave = row.severity in ("stop", "act")
    evidence = tuple(dict.fromkeys(pair for finding in meeting for pair in finding.evidence))
    said = dict.fromkeys(finding.lead.rstrip(".") for finding in meeting)
    return Finding(
        row.id,
        row.severity,
        row.lead,
        f"{row.text} Found here: {'; '.join(said)}.",
        evidence,
        PRACTICE,
        do_now=LEAVE_OFF if grave else (),
        do_next=row.next,
        cautions=CAUTION if grave else (),
    )
