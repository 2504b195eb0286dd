"""Hands a judged visit over: terminal, HTML and PDF from one tree, written whole or not at all."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Literal

from fluewright.errors import FluewrightError
from fluewright.evidence.reading import Account
from fluewright.report.tree import Sheet
from fluewright.visit import keep, traces, work
from fluewright.visit.work import Verdict

__all__ = ["Verdict", "judged_file", "printings", "sheet_of", "write"]


def judged_file(path: Path, account: Account) -> Verdict:
    """The verdict on a visit read from a file; `path` names it in errors."""
    try:
        return work.judged(account)
    except FluewrightError as error:
        error.where = error.where or path.name
        raise


def sheet_of(verdict: Verdict) -> Sheet:
    """The sheet with the strips of the traces it rests on."""
    account = verdict.account
    done = [*((one.time, str(one.word)) for one in account.events), *((one.time, one.word) for one in account.steps)]
    steps = [(time, word) for time, word in done if time]
    happened = {one.word: one.happened for one in account.stretches}
    strips = tuple(
        traces.strip(file, word, system=account.system, steps=steps, happened=happened.get(word, ()))
        for word, file in account.traces.items()
    )
    return verdict.sheet(strips=strips)


def printings(
    tree: Sheet,
    *,
    html: Path | None = None,
    pdf: Path | None = None,
    paper: Literal["letter", "a4"] | None = None,
    ink: Literal["paper", "lamp"] = "paper",
    workings: bool = False,
) -> Mapping[str, tuple[Path, bytes]]:
    """The printings asked for, by kind, with the files they belong in."""
    contents: dict[str, tuple[Path, bytes]] = {}
    if html is not None:
        from fluewright.report.html import page

        contents["html"] = (html, page(tree, ink=ink).encode())
    if pdf is not None:
        from fluewright.report.pdf import document

        size = paper or ("letter" if tree.system == "us" else "a4")
        contents["pdf"] = (pdf, document(tree, paper=size, workings=workings))
    return contents


def write(
    verdict: Verdict,
    *,
    html: Path | None = None,
    pdf: Path | None = None,
    paper: Literal["letter", "a4"] | None = None,
    ink: Literal["paper", "lamp"] = "paper",
    workings: bool = False,
    replace: bool = False,
    made_from: Sequence[Path] = (),
) -> dict[str, Path]:
    """Write the printings asked for.

    verdict    judged visit
    html       file for the screen, None to leave it out
    pdf        file for paper, None to leave it out
    paper      letter or a4; letter with US units when not said
    ink        ink of the HTML page
    workings   on paper too those of every number, not only of what asks for something
    replace    whether files of the same name may be replaced
    made_from  files that the verdict was read from, besides its traces; they are never written over
    -> what was written, by kind; UseError before anything is written when a file is in the way
    """
    named = verdict.account.traces.values()
    inputs = [*made_from, *(Path(file.path) for file in named), *(Path(f.mapping) for f in named if f.mapping)]
    keep.free([path for path in (html, pdf) if path is not None], inputs=inputs, replace=replace)
    contents = printings(sheet_of(verdict), html=html, pdf=pdf, paper=paper, ink=ink, workings=workings)
    keep.write_all(list(contents.values()))
    return {kind: path for kind, (path, _) in contents.items()}
