"""The tables on the pages about fuels are those of the program."""

from pathlib import Path

import pytest

from fluewright.fuels.composition import composition
from fluewright.fuels.factors import beside
from fluewright.fuels.figures import figures
from fluewright.fuels.load import load, names, table
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import reference_of


def rows(page: Path, first: str, *, which: int = 0) -> list[list[str]]:
    """Rows of the table on a page whose first heading is this."""
    lines = page.read_text(encoding="utf-8").splitlines()
    starts = [index for index, line in enumerate(lines) if line.startswith(f"| {first} |")]
    found = []
    for line in lines[starts[which] + 2 :]:
        if not line.startswith("|"):
            break
        found.append([cell.strip().strip("`") for cell in line.strip("|").split("|")])
    return found


def figure(record: FuelRecord, name: str) -> float:
    """One figure at 15/15."""
    value = figures(record, reference=reference_of("15/15"))[name].value
    assert value is not None
    return value


@pytest.mark.parametrize(
    ("which", "kinds", "fourth"), [(0, ("gas",), "wobbe_gross"), (1, ("liquid", "solid"), "heating_value_net")]
)
def test_the_table_of_the_library(root: Path, which: int, kinds: tuple[str, ...], fourth: str) -> None:
    written = rows(root / "docs" / "fuels.md", "name", which=which)
    assert [row[0] for row in written] == [name for name in names() if load(name).kind in kinds]
    for name, words, gross, other, most, air, known in written:
        record = load(name)
        assert words == record.words
        assert gross == f"{figure(record, 'heating_value_gross') / 1e6:.2f}"
        assert other == f"{figure(record, fourth) / 1e6:.2f}"
        assert most == f"{100 * figure(record, 'carbon_dioxide_dry_max'):.2f}"
        assert air == f"{figure(record, 'air_need'):.3f}"
        assert known == record.known


def test_the_table_of_defaults(root: Path) -> None:
    written = rows(root / "docs" / "fuels.md", "fuel")
    compared = [(name, one) for name in names() for one in beside(load(name))]
    assert len(written) == len(compared)
    for (name, printed, deviation, _), (ours, one) in zip(written, compared, strict=True):
        assert (name, printed) == (ours, one.factor.printed)
        assert float(deviation.replace("−", "-")) == pytest.approx(100 * one.deviation, abs=0.0501)


def test_test_gases_by_volume_and_by_mole(root: Path) -> None:
    for name, volume, mole, _ in rows(root / "docs" / "method" / "fuel.md", "test gas"):
        shares = ",".join(f"{gas}={share}" for gas, share in table(name)["composition"].items())
        assert volume == f"{figure(composition(shares, by='volume'), 'wobbe_gross') / 1e6:.2f}"
        assert mole == f"{figure(composition(shares, by='mole'), 'wobbe_gross') / 1e6:.2f}"


def test_wood_by_moisture(root: Path) -> None:
    for percent, gross, net, most in rows(root / "docs" / "method" / "fuel.md", "moisture of logs, %"):
        record = load("wood-logs", moisture=float(percent) / 100.0)
        assert gross == f"{figure(record, 'heating_value_gross') / 1e6:.2f}"
        assert net == f"{figure(record, 'heating_value_net') / 1e6:.2f}"
        assert most == f"{100 * figure(record, 'carbon_dioxide_dry_max'):.2f}"


def test_the_share_of_heat_in_a_fifth_of_hydrogen() -> None:
    """A fourteenth, as the page says."""
    shares = load("natural-gas 80 + hydrogen 20").mole_fractions
    assert shares is not None
    brought = shares["H2"] * load("hydrogen").fuel.heating_value_gross
    whole = load("natural-gas 80 + hydrogen 20").fuel.heating_value_gross
    assert 1.0 / (brought / whole) == pytest.approx(14.0, abs=0.5)
