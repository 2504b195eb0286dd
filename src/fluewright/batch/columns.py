"""Whole columns of readings through the kernel."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from fluewright.batch.tape import Program, Tape, program
from fluewright.errors import UseError
from fluewright.kernel import analysis, dual
from fluewright.kernel.analysis import Analysis, Prepared
from fluewright.kernel.constants import REFERENCE_TEMPERATURE

if TYPE_CHECKING:
    from numpy import ndarray

    Column = ndarray[Any, Any]
else:
    Column = Any

OUTPUTS = ("air_ratio", "carbon_monoxide_air_free", "loss_dry_gas", "loss_vapour", "efficiency_gross", "efficiency_net")
"""What is worked out when nothing else is asked for."""

OFFERED = (*(name for name in Analysis._fields if name != "flue"), "water_dew_point")
"""Every result that can be asked for, as fractions and kelvins."""

BLOCK = 24_576
"""Rows at a time in one thread: the arrays in between stay in the cache (measured, docs/speed.md)."""

BLOCK_OF_SEVERAL = 49_152
"""Rows at a time when several threads take turns at the interpreter: fewer and longer turns (measured, same page)."""


class UncertainColumn(NamedTuple):
    """A result with its doubt, row by row.

    value   the result
    spread  combined standard uncertainty, unit of the value
    slopes  derivative to each uncertain reading, by the reading's name
    """

    value: Column
    spread: Column
    slopes: Mapping[str, Column]


def blocks(*, rows: int, block: int, part: int = 0, parts: int = 1) -> Iterator[slice]:
    """Stretches of rows, in order, that one of several workers has to do.

    rows   number of rows
    block  rows at a time
    part   which worker, 0 .. parts - 1
    parts  number of workers
    -> slices; those of all workers together cover each row once
    """
    count = -(-rows // block)
    for number in range(part * count // parts, (part + 1) * count // parts):
        yield slice(number * block, min(rows, (number + 1) * block))


def analyse_columns(
    prepared: Prepared,
    *,
    oxygen_dry_fraction: Any,
    flue_temperature: Any,
    air_temperature: Any,
    carbon_monoxide_dry_fraction: Any = 0.0,
    fuel_temperature: Any = REFERENCE_TEMPERATURE,
    pressure: Any = 101_325.0,
    outputs: Sequence[str] = OUTPUTS,
    block: int | None = None,
    threads: int = 1,
) -> dict[str, Column]:
    """Analyse every row of some columns.

    The formulas are those of `kernel.analysis`; only the order of the work is made for long columns.

    prepared                      fuel and air
    oxygen_dry_fraction           mol/mol dry, a column or one number for all rows
    flue_temperature              K, a column or one number
    air_temperature               K, a column or one number
    carbon_monoxide_dry_fraction  mol/mol dry, a column or one number
    fuel_temperature              K, of the fuel as it arrives; 25 C when nobody has read it
    pressure                      Pa, for the water dew point only, a column or one number
    outputs                       names out of OFFERED
    block                         rows at a time; a measured length when left out
    threads                       workers; 2 on two cores gain about a half, because they take turns at the interpreter
    -> one column for each output, by name

    Holds   as kernel.analysis.analyse; a row with nan comes out as nan
    Fails   a row whose oxygen is that of fresh air comes out as inf, nan or beyond all measure, without a warning
    Source  kernel.analysis
    """
    readings = {
        "oxygen_dry_fraction": oxygen_dry_fraction,
        "flue_temperature": flue_temperature,
        "air_temperature": air_temperature,
        "carbon_monoxide_dry_fraction": carbon_monoxide_dry_fraction,
        "fuel_temperature": fuel_temperature,
        "pressure": pressure,
    }
    columns, plain, rows = _sorted_out(readings)
    _check_outputs(outputs)
    tape = Tape()
    recorded = {name: tape.reading() for name in columns}
    results = _results(prepared, {**plain, **recorded}, outputs)
    ready = program(tape=tape, readings=list(recorded.values()), results=results)
    return dict(zip(outputs, _run(ready, list(columns.values()), len(results), rows, block, threads), strict=True))


def analyse_uncertain_columns(
    prepared: Prepared,
    *,
    oxygen_dry_fraction: Any,
    flue_temperature: Any,
    air_temperature: Any,
    spreads: Mapping[str, Any],
    carbon_monoxide_dry_fraction: Any = 0.0,
    fuel_temperature: Any = REFERENCE_TEMPERATURE,
    pressure: Any = 101_325.0,
    outputs: Sequence[str] = OUTPUTS,
    block: int | None = None,
    threads: int = 1,
) -> dict[str, UncertainColumn]:
    """Analyse every row of some columns, with the doubt of each row.

    Derivatives are exact, carried through the same formulas; readings are taken as independent of one another.

    prepared                      fuel and air
    oxygen_dry_fraction           mol/mol dry, a column or one number for all rows
    flue_temperature              K, a column or one number
    air_temperature               K, a column or one number
    spreads                       standard uncertainty of each uncertain reading by its name, a column or one number
    carbon_monoxide_dry_fraction  mol/mol dry, a column or one number
    fuel_temperature              K, of the fuel as it arrives; 25 C when nobody has read it
    pressure                      Pa, for the water dew point only, a column or one number
    outputs                       names out of OFFERED
    block                         rows at a time; a measured length when left out
    threads                       workers, as in analyse_columns
    -> value, spread and slopes for each output, by name

    Holds   first order: as long as the formula is straight over the width of the doubt
    Fails   oxygen near that of fresh air bends the air ratio strongly
    Source  JCGM 100:2008 5.1.2; kernel.dual
    """
    readings = {
        "oxygen_dry_fraction": oxygen_dry_fraction,
        "flue_temperature": flue_temperature,
        "air_temperature": air_temperature,
        "carbon_monoxide_dry_fraction": carbon_monoxide_dry_fraction,
        "fuel_temperature": fuel_temperature,
        "pressure": pressure,
    }
    _check_outputs(outputs)
    _check_spreads(spreads, readings)
    columns, plain, rows = _sorted_out({**readings, **{f"spread of {name}": s for name, s in spreads.items()}})
    tape = Tape()
    recorded = {name: tape.reading() for name in columns}
    known = {**plain, **recorded}
    sources = {name: dual.Source(name, known[f"spread of {name}"]) for name in spreads}
    uncertain = {name: dual.Dual(known[name], {source: 1.0}) for name, source in sources.items()}
    results = _results(prepared, {**known, **uncertain}, outputs)
    wanted = [number for result in results for number in _parts(result, sources)]
    ready = program(tape=tape, readings=list(recorded.values()), results=wanted)
    found = iter(_run(ready, list(columns.values()), len(wanted), rows, block, threads))
    return {
        name: UncertainColumn(next(found), next(found), {source: next(found) for source in sources}) for name in outputs
    }


def _parts(result: Any, sources: Mapping[str, dual.Source]) -> list[Any]:
    """Value, spread and one slope for each source."""
    partials = result.partials if isinstance(result, dual.Dual) else {}
    value = result.value if isinstance(result, dual.Dual) else result
    return [value, dual.spread(result), *(partials.get(source, 0.0) for source in sources.values())]


def _results(prepared: Prepared, given: Mapping[str, Any], outputs: Sequence[str]) -> list[Any]:
    """The kernel's own analysis of whatever kind of numbers are given."""
    found = analysis.analyse(
        prepared=prepared,
        oxygen_dry_fraction=given["oxygen_dry_fraction"],
        flue_temperature=given["flue_temperature"],
        air_temperature=given["air_temperature"],
        carbon_monoxide_dry_fraction=given["carbon_monoxide_dry_fraction"],
        fuel_temperature=given["fuel_temperature"],
    )
    extra = {}
    if "water_dew_point" in outputs:
        extra["water_dew_point"] = analysis.water_dew_point(flue=found.flue, pressure=given["pressure"])
    return [extra[name] if name in extra else getattr(found, name) for name in outputs]


def _sorted_out(readings: Mapping[str, Any]) -> tuple[dict[str, Column], dict[str, float], int]:
    """Columns, plain numbers, and the length that all columns share."""
    import numpy

    arrays = {name: numpy.asarray(reading, dtype=numpy.float64) for name, reading in readings.items()}
    columns = {name: array for name, array in arrays.items() if array.ndim}
    plain = {name: float(array) for name, array in arrays.items() if not array.ndim}
    shapes = {array.shape for array in columns.values()}
    if len(shapes) != 1 or len(next(iter(shapes))) != 1:
        said = ", ".join(f"{name} {array.shape}" for name, array in columns.items())
        raise UseError(
            code="FW-U-601",
            read=f"columns of these shapes: {said or 'none'}",
            expected="at least one column, and all of one length",
            matters="each row is one moment; readings of different moments must not be mixed",
            do="cut or fill the columns to one length; give what stays the same as one number",
        )
    return columns, plain, next(iter(shapes))[0]


def _check_outputs(outputs: Sequence[str]) -> None:
    strange = [name for name in outputs if name not in OFFERED]
    if strange:
        raise UseError(
            code="FW-U-602",
            read=f"asked for {', '.join(strange)}",
            expected=f"names out of {', '.join(OFFERED)}",
            matters="nothing else is worked out for columns",
            do="leave the name out or correct it",
        )


def _check_spreads(spreads: Mapping[str, Any], readings: Mapping[str, Any]) -> None:
    strange = [name for name in spreads if name not in readings]
    if strange:
        raise UseError(
            code="FW-U-603",
            read=f"a spread for {', '.join(strange)}",
            expected=f"spreads of {', '.join(readings)}",
            matters="the doubt would be left out of the result without anybody noticing",
            do="name the spread as the reading is named",
        )


def _run(
    ready: Program, columns: Sequence[Column], results: int, rows: int, block: int | None, threads: int
) -> list[Column]:
    """Run a program over all rows, in one thread or several."""
    import numpy

    if threads < 1 or (block is not None and block < 1):
        raise UseError(
            code="FW-U-604",
            read=f"block {block}, threads {threads}",
            expected="one or more of each",
            matters="no row would be worked out",
            do="leave both out, or give whole numbers from 1",
        )
    length = min(block or (BLOCK if threads == 1 else BLOCK_OF_SEVERAL), max(rows, 1))
    found = list(numpy.empty((results, rows)))  # in one piece, which the system hands over in large pages
    if threads == 1:
        ready.run(columns, found, parts=blocks(rows=rows, block=length), block=length)
        return found
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(threads) as pool:
        shares = [blocks(rows=rows, block=length, part=part, parts=threads) for part in range(threads)]
        work = [pool.submit(ready.run, columns, found, parts=share, block=length) for share in shares]
        for each in work:
            each.result()
    return found
