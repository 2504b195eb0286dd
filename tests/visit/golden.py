"""What an invented visit of each class comes to, in a few lines that a person can review; run it to write them anew."""

from pathlib import Path

from fluewright.quantity import names
from fluewright.report.text import text
from fluewright.visit import file, work
from fluewright.visit.work import Verdict

FOLDER = Path(__file__).parent / "classes"


def visits() -> list[Path]:
    """The visit files, one for each class."""
    return sorted(FOLDER.glob("*.toml"))


def verdict_on(path: Path) -> Verdict:
    """A visit read and judged."""
    return work.judged(file.read(path))


def printed(path: Path) -> str:
    """The sheet with its customer page as one line of words, without the rule beside the sentences."""
    lines = text(verdict_on(path).sheet(), plain=False, workings=True).replace("\u202f", " ").replace("│", " ")
    return " ".join(lines.split())


def told(path: Path) -> str:
    """Findings, refusals with their reasons, lines not read, and what is open."""
    verdict = verdict_on(path)
    said = [f"class {verdict.account.appliance.kind}, burner {verdict.account.appliance.burner}"]
    for stretch, worked in verdict.told:
        point = stretch.point
        said.append(f"stretch {stretch.word}: {point.name} = {point.point_class.name}, {point.kind}")
        reasons: dict[str, list[str]] = {}
        for result in (worked.results if worked else {}).values():
            if result.refused:
                reasons.setdefault(result.refused, []).append(result.name)
        said += [f"  refused {', '.join(sorted(listed))}: {reason}" for reason, listed in sorted(reasons.items())]
        said += [] if worked else ["  not worked out"]
    said += [f"{one.grade} {one.code}: {one.lead}" for one in verdict.judged.findings]
    said += [f"  next of {one.code}: {step}" for one in verdict.judged.findings for step in one.do_next
             if one.code in ("still-moving", "air-generous", "air-not-set-by-hand", "air-short")]  # fmt: skip
    data = {part.word: part.data for part in verdict.parts}
    for point, when, quantity in data["the class"]["not_read"]:  # type: ignore[attr-defined]
        said.append(f"not read {names.of(quantity).words}: {point}, {when}")
    said.append(f"not proved {data['safety devices']['open']}")
    said.append(f"not looked at {data['the house']['open']}")
    return "\n".join(said) + "\n"


if __name__ == "__main__":
    for each in visits():
        each.with_suffix(".golden").write_text(told(each), encoding="utf-8")
