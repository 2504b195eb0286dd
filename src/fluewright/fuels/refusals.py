"""Every way in which a fuel is refused: what was read, what is wanted, why it matters, what to do."""

from collections.abc import Iterable

from fluewright.errors import FuelError

LISTING = "fluewright fuel list shows all names"


def nearest(name: str, known: Iterable[str], *, count: int = 4) -> str:
    """The known names that look most like a typed one, in words; empty when nothing looks like it."""
    from difflib import get_close_matches

    folded = {one.lower(): one for one in known}
    key = name.lower()
    close = [folded[match] for match in get_close_matches(key, folded, n=count, cutoff=0.6)]
    inside = [one for low, one in folded.items() if len(key) > 2 and key in low and one not in close]
    return ", ".join((close + inside)[:count])


def unknown_fuel(name: str, known: Iterable[str]) -> FuelError:
    """A name that is in no library file."""
    close = nearest(name, known)
    return FuelError(
        code="FW-F-001",
        read=f"the fuel {name!r}",
        expected=f"a name of the library; near it: {close}" if close else "a name of the library",
        matters="air need, heat and dew point all hang on the fuel, and a guessed fuel gives wrong ones",
        do=f"{LISTING}; or give a composition such as CH4=95,N2=5",
        where="",
    )


def does_not_add_up(total: float, *, whole: float, unit: str, where: str) -> FuelError:
    """Shares whose sum is neither 100 % nor 1."""
    gap = whole - total
    missing = f"{gap:.6g}{unit} missing" if gap > 0.0 else f"{-gap:.6g}{unit} too much"
    return FuelError(
        code="FW-F-002",
        read=f"shares that add up to {total:.8g}{unit}, {missing}",
        expected=f"{whole:g}{unit}, within a millionth of the whole",
        matters="stretching the shares in silence would hide a forgotten component or a slip of the pen",
        do="correct the share, or say which one takes what is left, such as CH4=rest",
        where=where,
    )


def negative_share(component: str, share: float, where: str) -> FuelError:
    """A share below nothing."""
    return FuelError(
        code="FW-F-003",
        read=f"{component} with the share {share:g}",
        expected="a share of nothing or more",
        matters="no mixture holds less than nothing of a gas",
        do="look for a stray minus sign, or leave the component out",
        where=where,
    )


def unknown_component(component: str, known: Iterable[str], where: str) -> FuelError:
    """A component that has no data here."""
    names = list(known)
    close = nearest(component, names)
    return FuelError(
        code="FW-F-004",
        read=f"the component {component!r}",
        expected=f"near it: {close}" if close else "one of " + ", ".join(names),
        matters="without its heating value and atoms nothing can be worked out",
        do="write it as a formula such as CH4, or as a name such as methane; for oil and wood C, H, O, N, S",
        where=where,
    )


def said_twice(component: str, first: str, second: str, where: str) -> FuelError:
    """Two entries for one component."""
    return FuelError(
        code="FW-F-005",
        read=f"{component} twice: {first!r} and {second!r}",
        expected="each component once",
        matters="whether the two belong together or one replaces the other cannot be seen",
        do="leave one of them out, or write their sum",
        where=where,
    )


def nothing_burns(where: str) -> FuelError:
    """A mixture of inert gases, water or ash only."""
    return FuelError(
        code="FW-F-006",
        read="a composition in which nothing burns",
        expected="at least one component that gives heat",
        matters="there is no flame to work out",
        do="add what burns, such as CH4, C3H8, H2 or CO; for oil and wood C and H",
        where=where,
    )


def not_a_share(component: str, text: str, where: str) -> FuelError:
    """A share that is no number."""
    return FuelError(
        code="FW-F-007",
        read=f"{component} with the share {text!r}",
        expected="a number such as 95, 95.5 %, 20 ppm or 0.95, or the word rest",
        matters="a share that is guessed changes the air need",
        do="write a number with a point; with a decimal comma, part the components by semicolons: CH4=95,5; N2=4,5",
        where=where,
    )


def mixed_kinds(gases: str, atoms: str, where: str) -> FuelError:
    """Gas components and elements of an ultimate analysis side by side."""
    return FuelError(
        code="FW-F-008",
        read=f"components of a gas ({gases}) beside elements of an ultimate analysis ({atoms})",
        expected="either gases by mole or volume, or C, H, O, N, S, water and ash by mass",
        matters="shares by volume and by mass cannot stand in one sum",
        do="write two fuels and blend them, or write H2, O2, N2 for gases and H, O, N for elements",
        where=where,
    )


def empty_composition(where: str) -> FuelError:
    """Nothing to read."""
    return FuelError(
        code="FW-F-009",
        read="a composition without any component",
        expected='shares such as "CH4=95,N2=5" or "C=86.5,H=13.4,S=0.1,HHV=45.5 MJ/kg"',
        matters="there is no fuel to work out",
        do="write at least one component with its share",
        where=where,
    )


def not_understood(item: str, where: str) -> FuelError:
    """A piece of a composition without name or share."""
    return FuelError(
        code="FW-F-010",
        read=f"{item!r} in a composition",
        expected="a component, an equals sign and a share, such as CH4=95",
        matters="a piece that is skipped would change the fuel",
        do="write every piece as name=share, parted by commas; with decimal commas, parted by semicolons",
        where=where,
    )


def burns_by_itself(where: str) -> FuelError:
    """A mixture that already holds enough oxygen."""
    return FuelError(
        code="FW-F-011",
        read="a composition that holds all the oxygen it needs to burn",
        expected="a fuel that still needs air",
        matters="such a mixture can explode inside the pipe, and no air need can be worked out for it",
        do="look at the shares of O2 and air; if they are right, light nothing and call the supplier",
        where=where,
    )


def no_such_file(path: str, reason: str) -> FuelError:
    """A fuel file that cannot be opened."""
    return FuelError(
        code="FW-F-012",
        read=f"no fuel file could be opened: {reason}",
        expected="a TOML or JSON file, or lines such as CH4 = 95",
        matters="nothing was read",
        do="look at the path and the rights of the file",
        where=path,
    )


def not_a_fuel_file(path: str, reason: str) -> FuelError:
    """A file whose text cannot be taken apart."""
    return FuelError(
        code="FW-F-013",
        read=f"a text that is no fuel file: {reason}",
        expected="TOML or JSON with a table [composition], or lines such as CH4 = 95",
        matters="a file read in part could drop a component",
        do="mend the place named, or begin from a file of the library: fluewright fuel show propane --toml",
        where=path,
    )


def unknown_key(key: str, known: Iterable[str], where: str) -> FuelError:
    """A key that a fuel file does not have."""
    names = list(known)
    close = nearest(key, names)
    return FuelError(
        code="FW-F-014",
        read=f"the key {key!r}",
        expected=f"near it: {close}" if close else "one of " + ", ".join(names),
        matters="a key that is overlooked would leave something out that somebody wrote for a reason",
        do="correct or remove it",
        where=where,
    )


def strange_moisture(moisture: float, where: str) -> FuelError:
    """Moisture that no wood can have."""
    hint = f"write {moisture / 100.0:g} for {moisture:g} %" if 1.0 <= moisture <= 70.0 else "weigh, dry and weigh again"
    return FuelError(
        code="FW-F-015",
        read=f"moisture of {moisture:g} kg water per kg of fuel as fired",
        expected="0 to 0.70",
        matters="above 0.7 the heat of the wood does not even boil off its own water with a margin",
        do=hint,
        where=where,
    )


def no_moisture_here(name: str) -> FuelError:
    """Moisture given for a fuel that is not described dry."""
    return FuelError(
        code="FW-F-016",
        read=f"moisture given for {name}",
        expected="moisture only for solid fuels of the library, such as wood-logs",
        matters="for this fuel the analysis already says how much water is in it",
        do="leave the moisture out, or write water into the composition",
        where=name,
    )


def strange_heating_value(gross: float, where: str) -> FuelError:
    """A heating value that no such fuel has."""
    return FuelError(
        code="FW-F-020",
        read=f"a gross heating value of {gross / 1e6:.4g} MJ/kg",
        expected="2 to 145 MJ/kg",
        matters="a wrong unit here changes every loss and every flow",
        do="look at the unit: MJ/kg, Btu/lb, kWh/kg; for liquids by volume give the density as well",
        where=where,
    )


def contradicting_heats(*, gross: float, net: float, where: str) -> FuelError:
    """Gross and net heating value that do not fit the hydrogen and water."""
    return FuelError(
        code="FW-F-021",
        read=f"gross {gross / 1e6:.4g} and net {net / 1e6:.4g} MJ/kg, given together",
        expected="values that differ by the heat of the water made, from hydrogen and moisture, within 1 %",
        matters="one of the two, or the hydrogen, is wrong and nobody can see which",
        do="give only the one that was measured",
        where=where,
    )


def unknown_measure(by: str, where: str) -> FuelError:
    """Shares by something that is not offered."""
    return FuelError(
        code="FW-F-022",
        read=f"shares by {by!r}",
        expected="mole or volume for gases, mass for liquids and solids; volume or energy for blends",
        matters="the same figures by volume and by mass are different fuels",
        do="say by mole, by volume, by mass or by energy",
        where=where,
    )


def heat_of_a_gas(where: str) -> FuelError:
    """A measured heating value beside the composition of a gas."""
    return FuelError(
        code="FW-F-023",
        read="a heating value beside the composition of a gas",
        expected="the composition alone",
        matters="the heat of a gas follows from what it is made of; two answers could contradict each other",
        do="leave the heating value out and compare it with fluewright fuel show",
        where=where,
    )


def rest_twice(where: str) -> FuelError:
    """More than one share that takes what is left."""
    return FuelError(
        code="FW-F-024",
        read="the word rest for more than one component",
        expected="one component at most that takes what is left",
        matters="what is left cannot be shared out by guessing",
        do="give numbers for all but one",
        where=where,
    )


def lacking(what: str, where: str) -> FuelError:
    """Something a fuel file has to hold."""
    return FuelError(
        code="FW-F-025",
        read=f"a fuel without {what}",
        expected=f"{what}, as in the files of the library",
        matters="a fuel without it cannot be worked out or vouched for",
        do="add it; fluewright fuel show propane --toml prints a file to begin from",
        where=where,
    )


def not_a_measure(quantity: str, text: str, where: str) -> FuelError:
    """A number without unit, or no number, where one with a unit is needed."""
    example = {"density": "845 kg/m3", "air_temperature": "15 C", "wobbe_gross": "50.7 MJ/m3"}.get(
        quantity, "45.5 MJ/kg"
    )
    return FuelError(
        code="FW-F-026",
        read=f"{text!r} for {quantity.replace('_', ' ')}",
        expected=f"a number with its unit, such as {example}",
        matters="a unit that is guessed can be wrong by a factor of two",
        do="write the unit behind the number, in quotes in a TOML file",
        where=where,
    )


def strange_kind(kind: str, where: str) -> FuelError:
    """A kind of fuel that the composition contradicts."""
    return FuelError(
        code="FW-F-027",
        read=f"a fuel of the kind {kind!r}",
        expected="gas for gases by mole or volume; liquid or solid for C, H, O, N, S, water and ash by mass",
        matters="the kind decides in which unit the fuel is counted",
        do="correct the kind, or leave it out",
        where=where,
    )


def unknown_reference(text: str) -> FuelError:
    """Temperatures that ISO 6976 has no data for."""
    return FuelError(
        code="FW-F-028",
        read=f"the reference {text!r}",
        expected="heat at 0, 15, 20, 25 °C or 60F, over volume at 0, 15, 20 °C or 60F, such as 15/15, 25/0 or 60F",
        matters="the same gas differs by 5 % in heat per volume between references",
        do="look at the bill or the standard for the two temperatures, heat first and volume second",
        where="",
    )


def strange_density(density: float, where: str) -> FuelError:
    """A density that no liquid or solid fuel has."""
    return FuelError(
        code="FW-F-031",
        read=f"a density of {density:.4g} kg/m3",
        expected="50 to 2000 kg/m3, of the liquid or solid as stored",
        matters="heat per litre or gallon is multiplied by it",
        do="look at the unit: kg/m3, kg/L, lb/gal, lb/ft3",
        where=where,
    )


def factors_damaged(reason: str) -> FuelError:
    """The published defaults that come with the program cannot be read."""
    return FuelError(
        code="FW-F-029",
        read=f"a table of published defaults that does not hold: {reason}",
        expected="fuel, quantity, value with unit, document and how it is known in every row",
        matters="a default without its source cannot be shown",
        do="install the program again",
        where="factors.toml",
    )


def wrong_shape(key: str, wanted: str, where: str) -> FuelError:
    """A key that holds another kind of thing."""
    return FuelError(
        code="FW-F-030",
        read=f"the key {key!r} with something else than {wanted}",
        expected=wanted,
        matters="what stands there cannot be taken without guessing",
        do="compare with a file of the library: fluewright fuel show propane --toml",
        where=where,
    )


def flow_of_another(text: str, words: str, measures: str) -> FuelError:
    """A flow by a measure that tells nothing about this fuel, such as cubic feet of oil."""
    return FuelError(
        code="FW-F-032",
        read=f"a flow of {text!r} of {words}",
        expected=f"a power such as 100 kBtu/h or 24 kW, or a flow such as {measures}",
        matters="gas, liquid and heaped fuel of one volume differ in heat by a factor of hundreds",
        do="look at the plate for the unit, and at the name of the fuel",
        where="",
    )
