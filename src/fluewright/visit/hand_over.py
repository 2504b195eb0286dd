"""Hands a judged visit over: terminal, HTML and PDF from one tree, written whole or not at all."""

import os
import tempfile
from pathlib import Path
from typing import Literal

from fluewright.errors import FluewrightError, UseError
from fluewright.evidence.reading import Account
from fluewright.report.tree import Sheet
from fluewright.visit import traces, work
from fluewright.visit.work import Verdict

__all__ = ["Verdict", "judged_file", "sheet_of", "write"]


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
    strips = tuple(traces.strip(file, word, system=account.system) for word, file in account.traces.items())
    return verdict.sheet(strips=strips)


def _refuse_to_replace(path: Path) -> None:
    if path.exists():
        raise UseError(
            code="FW-U-004",
            where=str(path),
            read="a file of that name is already there",
            expected="a new name, or leave to replace it",
            matters="it may be the only copy of another visit's report",
            do="choose another name, or add --force",
        )


def kept_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is there whole or not at all."""
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    except OSError as error:
        raise UseError(
            code="FW-U-005",
            where=str(path),
            read=f"the folder cannot be written to: {error.strerror or error}",
            expected="a folder that is there and may be written",
            matters="nothing was written",
            do="make the folder, or choose another",
        ) from error
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def write(
    verdict: Verdict,
    *,
    html: Path | None = None,
    pdf: Path | None = None,
    paper: Literal["letter", "a4"] | None = None,
    ink: Literal["paper", "lamp"] = "paper",
    replace: bool = False,
) -> dict[str, Path]:
    """Write the printings asked for.

    verdict  judged visit
    html     file for the screen, None to leave it out
    pdf      file for paper, None to leave it out
    paper    letter or a4; letter with US units when not said
    ink      ink of the HTML page
    replace  whether files of the same name may be replaced
    -> what was written, by kind; UseError before anything is written when a file is in the way
    """
    for path in (html, pdf):
        if path is not None and not replace:
            _refuse_to_replace(path)
    tree = sheet_of(verdict)
    contents: dict[str, tuple[Path, bytes]] = {}
    if html is not None:
        from fluewright.report.html import page

        contents["html"] = (html, page(tree, ink=ink).encode())
    if pdf is not None:
        from fluewright.report.pdf import document

        size = paper or ("letter" if tree.system == "us" else "a4")
        contents["pdf"] = (pdf, document(tree, paper=size))
    for path, content in contents.values():
        kept_whole(path, content)
    return {kind: path for kind, (path, _) in contents.items()}
