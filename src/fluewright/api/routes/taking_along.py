"""The complete copy of the records, or of a part, as one file that any Python can check."""

import shutil
import tempfile
from pathlib import Path
from typing import Annotated

from fastapi import Query
from starlette.background import BackgroundTask
from starlette.responses import FileResponse

from fluewright.api.route import Route
from fluewright.api.routes.visits import Behind
from fluewright.errors import UseError


def export(
    shop: Behind,
    visit: Annotated[str, Query(max_length=64)] = "",
    year: Annotated[int | None, Query(ge=1970, le=9999)] = None,
    people: bool = False,
) -> FileResponse:
    """The records as lines that any Python can check, in one archive; without texts about people unless asked for."""
    from fluewright.record.export import ALL, exported, of_visit, of_year

    if visit and year is not None:
        raise UseError(
            code="FW-U-194",
            read=f"the export of the visit {visit!r} and of the year {year}",
            expected="one of them, or neither for all",
            matters="whoever checks it has to know which part it is",
            do="ask for each by itself",
        )
    part = of_visit(shop.journal, shop.visit(visit)) if visit else of_year(year) if year is not None else ALL
    folder = Path(tempfile.mkdtemp(prefix="fluewright-export-"))
    try:
        exported(shop.journal, folder / "export", people=people, part=part)
        made = shutil.make_archive(str(folder / "fluewright-export"), "zip", folder, "export")
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    away = BackgroundTask(shutil.rmtree, folder, ignore_errors=True)
    return FileResponse(made, media_type="application/zip", filename="fluewright-export.zip", background=away)


ROUTES = (Route("GET", "/export", export, "export"),)
