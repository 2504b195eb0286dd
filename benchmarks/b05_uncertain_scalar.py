"""B5: one reading with four doubtful inputs: eight results and their doubt, against the package uncertainties."""

from typing import Any

from benchmarks.flue import OUTPUTS, SPREADS, by_hand, largest_difference, prepared
from benchmarks.measure import Aim, Report, Work, alternate
from fluewright.kernel import dual
from fluewright.kernel.analysis import analyse

READING = {
    "oxygen_dry_fraction": 0.05,
    "carbon_monoxide_dry_fraction": 5e-5,
    "flue_temperature": 450.0,
    "air_temperature": 293.0,
}


def ours() -> list[tuple[float, float]]:
    """Value and spread of the eight results; the kernel works out its other eight as well."""
    doubtful = {name: dual.uncertain(value, spread=SPREADS[name], name=name) for name, value in READING.items()}
    found = analyse(prepared=prepared(), **doubtful)
    return [(number.value, dual.spread(number)) for number in (getattr(found, name) for name in OUTPUTS)]


def plain() -> Any:
    """The same without doubt, the least that any uncertain form can take."""
    return analyse(prepared=prepared(), **READING)


def by_uncertainties() -> list[tuple[float, float]]:
    """The formulas by hand with uncertain numbers of the package."""
    from uncertainties import ufloat

    found = by_hand(*(ufloat(value, SPREADS[name]) for name, value in READING.items()))
    return [(number.nominal_value, number.std_dev) for number in found]


def kernel_with_uncertainties() -> list[tuple[float, float]]:
    """The kernel's own text with uncertain numbers of the package."""
    from uncertainties import ufloat

    found = analyse(prepared=prepared(), **{n: ufloat(value, SPREADS[n]) for n, value in READING.items()})
    return [(number.nominal_value, number.std_dev) for number in (getattr(found, name) for name in OUTPUTS)]


def differences() -> dict[str, float]:
    """Largest relative difference of values and spreads to each peer."""
    found = ours()
    return {
        "uncertainties": largest_difference(found, by_uncertainties()),
        "uncertainties, our text": largest_difference(found, kernel_with_uncertainties()),
    }


def run() -> list[Report]:
    """Time it."""
    times = alternate(
        {
            "ours": Work(ours, calls=500),
            "uncertainties": Work(by_uncertainties, calls=100),
            "uncertainties in our text": Work(kernel_with_uncertainties, calls=100),
            "without doubt": Work(plain, calls=2000),
        }
    )
    best = times["ours"].best
    worst = max(differences().values())
    peers = {name: times[name] for name in ("uncertainties", "uncertainties in our text")}
    ratio = peers["uncertainties"].best / best
    aims = (Aim(f"3 x: {ratio:.1f} x", ratio >= 3.0), Aim(f"equal to 1e-9: {worst:.0e}", worst <= 1e-9))
    share = times["without doubt"].best / best
    limit = "the same reading without doubt"
    return [
        Report("B5", "one doubtful reading", "reading", times["ours"], peers, share, limit, f"{worst:.0e}", aims),
    ]
