"""The kit beside general reference libraries: one page with both numbers and their difference.

Libraries: janaf (NIST-JANAF tables), chemicals (constants of elements and compounds), fluids (gas
dynamics), CoolProp (real gases), Cantera (equilibrium of gases by its own solver). What is not
installed is left out. Where a library has the same data as the kit, the line says so.

Run: python tests/tools/side_by_side.py [PAGE.html]
"""

import sys
from dataclasses import dataclass
from html import escape
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from given import given

from steelthermo.base import atomic_weight, kelvin, molar_mass, table
from steelthermo.charge import lower_flammable_limit_pct
from steelthermo.coursekit.page import printed_page
from steelthermo.jet import choked_mass_flux, expand, oxygen_kg_nm3
from steelthermo.streams import Gas, calorific_value_mj_nm3
from steelthermo.thermo import enthalpy, entropy, reaction

TITLE = "The kit beside reference libraries"
COLD = 298.15
NORMAL_K, NORMAL_PA = kelvin(0.0), 101325.0


@dataclass(frozen=True)
class Line:
    """One quantity: library; what; unit; ours and theirs; within: how far apart they may be, in the
    unit; why: where the difference comes from, or what they share.
    """

    library: str
    what: str
    unit: str
    ours: float
    theirs: float
    within: float
    why: str


# ---- janaf ---------------------------------------------------------------------------------------

# formula, phase: table, kJ/mol by which a heat content may differ, and why
TABLES = (
    ("O2", None, "O-029", 0.1, "same measurements, another fit"),
    ("CO", None, "C-093", 0.1, "same measurements, another fit"),
    ("CO2", None, "C-095", 0.15, "same measurements, another fit"),
    ("H2O", "gas", "H-064", 0.3, "the kit's water vapour is a later assessment"),
    ("MgO", None, "Mg-008", 0.3, "same data"),
    ("CaO", None, "Ca-027", 0.3, "same data"),
    ("Al2O3", None, "Al-096", 0.3, "same data"),
)


def with_janaf():
    """Heat content and entropy at 1800 K of what a heat is made of."""
    import janaf

    for formula, phase, code, within, why in TABLES:
        text = (Path(janaf.__file__).parent / "data" / f"{code}.txt").read_text()
        cells = next(
            c for c in map(str.split, text.splitlines()[2:]) if c and c[0] in ("1800", "1800.000")
        )
        ours = (enthalpy(formula, 1800.0, phase) - enthalpy(formula, COLD, phase)) / 1000.0
        name = f"heat content of {formula}, 298.15 to 1800 K"
        yield Line("janaf", name, "kJ/mol", ours, float(cells[4]), within, why)
        name, ours = f"entropy of {formula} at 1800 K", entropy(formula, 1800.0, phase)
        yield Line("janaf", name, "J/(mol K)", ours, float(cells[2]), 0.5, "at 1 bar; " + why)


# ---- chemicals -----------------------------------------------------------------------------------

CAS = {
    "CO2": "124-38-9",
    "CaO": "1305-78-8",
    "CaCO3": "471-34-1",
    "MgO": "1309-48-4",
    "Al2O3": "1344-28-1",
    "CO": "630-08-0",
}


def with_chemicals():
    """Molar masses, and enthalpies of formation at 298.15 K as its tables have them."""
    import chemicals

    for formula in ("Fe", "Si", "Mn", "P"):
        theirs = getattr(chemicals.periodic_table, formula).MW
        what = f"atomic weight of {formula}"
        yield Line("chemicals", what, "g/mol", atomic_weight(formula), theirs, 0.006, "rounding")
    yield Line(
        "chemicals",
        "molar mass of Ca3(PO4)2",
        "g/mol",
        molar_mass("Ca3(PO4)2"),
        chemicals.MW("7758-87-4"),
        0.02,
        "rounding of atomic weights",
    )
    for formula, cas in CAS.items():
        find = chemicals.Hfg if formula in ("CO", "CO2") else chemicals.Hfs
        theirs = find(cas)
        if theirs is None:
            continue
        what, ours = f"enthalpy of formation of {formula}", enthalpy(formula, COLD) / 1000.0
        yield Line("chemicals", what, "kJ/mol", ours, theirs / 1000.0, 2.0, "another compilation")
    yield Line(
        "chemicals",
        "lower flammable limit of CO",
        "%",
        lower_flammable_limit_pct(Gas({"CO": 1.0}, 25.0)),
        100.0 * chemicals.LFL(CASRN=CAS["CO"]),
        0.1,
        "the same standard",
    )


# ---- fluids --------------------------------------------------------------------------------------


def with_fluids():
    """The throat and the stopped jet of a gas of constant heat capacity."""
    import fluids

    throat = expand(COLD, mach=1.0, gamma=1.4)
    why = "closed forms of the same gas"
    yield Line(
        "fluids",
        "pressure in the throat, 10 bar before it",
        "bar",
        10.0 * throat.pressure_ratio,
        fluids.P_critical_flow(1e6, 1.4) / 1e5,
        1e-6,
        why,
    )
    yield Line(
        "fluids",
        "temperature in the throat",
        "K",
        throat.T,
        fluids.T_critical_flow(COLD, 1.4),
        1e-6,
        why,
    )
    for mach in (1.5, 2.0, 2.4):
        s = expand(COLD, mach=mach, gamma=1.4)
        theirs = fluids.P_stagnation(s.pressure_ratio, s.T, COLD, 1.4)
        yield Line(
            "fluids",
            f"pressure of the stopped jet, Mach {mach:g}",
            "of supply",
            1.0,
            theirs,
            1e-6,
            why,
        )


# ---- CoolProp ------------------------------------------------------------------------------------


def with_coolprop():
    """Real gases: the weight of a normal cubic metre, heat contents, a real nozzle."""
    from CoolProp.CoolProp import PropsSI

    theirs = PropsSI("D", "T", NORMAL_K, "P", NORMAL_PA, "Oxygen")
    yield Line(
        "CoolProp",
        "oxygen, a normal cubic metre",
        "kg",
        oxygen_kg_nm3(),
        theirs,
        0.003,
        "the pull between molecules: 0.1 %",
    )
    for name, of, hot in (
        ("O2", "Oxygen", 1500.0),
        ("N2", "Nitrogen", 1500.0),
        ("CO2", "CO2", 1500.0),
    ):
        h = [PropsSI("HMOLAR", "T", T, "P", 1e5, of) for T in (COLD, hot)]
        ours = (enthalpy(name, hot) - enthalpy(name, COLD)) / 1000.0
        yield Line(
            "CoolProp",
            f"heat content of {name}, 298.15 to {hot:g} K",
            "kJ/mol",
            ours,
            (h[1] - h[0]) / 1000.0,
            0.2,
            "real gas at 1 bar, another assessment",
        )
    s = PropsSI("S", "T", COLD, "P", 1e6, "Oxygen")
    h0 = PropsSI("H", "T", COLD, "P", 1e6, "Oxygen")
    steps = [1e6 * (0.45 + 0.15 * k / 400) for k in range(401)]
    flux = max(
        PropsSI("D", "P", p, "S", s, "Oxygen")
        * (2.0 * (h0 - PropsSI("H", "P", p, "S", s, "Oxygen"))) ** 0.5
        for p in steps
    )
    yield Line(
        "CoolProp",
        "oxygen through the throat, 10 bar, 25 °C",
        "kg/(m2 s)",
        choked_mass_flux(COLD, 1e6),
        flux,
        0.01 * flux,
        "the kit's oxygen is an ideal gas with its real heat capacity",
    )


# ---- Cantera -------------------------------------------------------------------------------------


def with_cantera():
    """Equilibrium of gases by Cantera's own solver, and a heating value. The kit takes its gases
    from the same NASA polynomials: this checks the way from them, not the data.
    """
    import cantera

    why = "same polynomials: checks the way, not the data"
    species = [
        s for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name in ("CO", "CO2", "O2")
    ]
    gas = cantera.Solution(thermo="ideal-gas", species=species)
    for T in (1800.0, 2200.0):
        gas.TPX = T, NORMAL_PA, "CO2:1"  # the kit counts pressures in atm
        gas.equilibrate("TP")
        co, co2, o2 = (gas[s].X[0] for s in ("CO", "CO2", "O2"))
        theirs = co2 / (co * o2**0.5)
        ours = 10.0 ** reaction("CO + 0.5 O2 = CO2").log_k(T)
        yield Line(
            "Cantera", f"K of CO + 1/2 O2 = CO2 at {T:g} K", "1", ours, theirs, 0.002 * theirs, why
        )
    gas.TPX = COLD, 1e5, "CO:1"
    h = {n: gas.species(n).thermo.h(COLD) for n in ("CO", "O2", "CO2")}
    theirs = (
        1e-6 * (h["CO"] + 0.5 * h["O2"] - h["CO2"]) / (8.314462618 * NORMAL_K / NORMAL_PA * 1e3)
    )
    ours = calorific_value_mj_nm3(Gas({"CO": 1.0}, 0.0))
    yield Line("Cantera", "heating value of CO", "MJ/Nm3", ours, theirs, 0.002 * theirs, why)


LIBRARIES = {
    "janaf": with_janaf,
    "chemicals": with_chemicals,
    "fluids": with_fluids,
    "CoolProp": with_coolprop,
    "cantera": with_cantera,
}


def lines(library):
    """The lines of one library, none where it is not installed."""
    return tuple(LIBRARIES[library]()) if find_spec(library) else ()


def page_html():
    """The page: a table for each library that is here."""
    heads = ("quantity", "unit", "kit", "library", "difference", "relative", "why")
    parts = []
    for library in LIBRARIES:
        found = lines(library)
        rows = [
            (
                x.what,
                x.unit,
                f"{x.ours:.6g}",
                f"{x.theirs:.6g}",
                f"{x.ours - x.theirs:+.2g}",
                f"{100.0 * (x.ours / x.theirs - 1.0):+.2g} %",
                x.why,
            )
            for x in found
        ]
        said = f"{library} {version(library)}" if found else f"{library}: not installed"
        parts.append(f"<h2>{escape(said)}</h2>" + (table(heads, rows) if rows else ""))
    return printed_page(TITLE, f"<h1>{TITLE}</h1>" + "".join(parts), wide=True)


def main(path):
    Path(path).write_text(page_html(), encoding="utf-8")
    print(f"{path}: written")


if __name__ == "__main__":
    main(given(__doc__, "[page]").page or "side_by_side.html")
