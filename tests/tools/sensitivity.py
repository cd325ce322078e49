"""How far the scrap share of a heat moves under the other choices of data one could defend, one at
a time and together.

The reference heat is that of tests/charge/test_charge.py. Each choice replaces the enthalpy of some
substances while the heat is solved; nothing in the kit is changed. Run: python
tests/tools/sensitivity.py
"""

import sys
from contextlib import ExitStack
from pathlib import Path
from unittest import mock

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from given import given

from steelthermo.charge import balance, charge
from steelthermo.streams import condensed, metal, slag
from steelthermo.thermo import assessed_carbon_heat_kj_mol, substances
from steelthermo.thermo import solution as liquid_iron
from tests.charge.test_charge import REFERENCE, WORKS

_enthalpy, _dissolved = substances.enthalpy, liquid_iron.dissolved_enthalpy
COLD = 298.15


def _pure(change):
    """Patch of the pure enthalpies that balance and slag use: change(formula, T, phase, H) gives
    the other H in J/mol.
    """

    def other(formula, T, phase=None, supercooled=False, quiet=True):
        return change(formula, T, phase, _enthalpy(formula, T, phase, supercooled, quiet))

    return [mock.patch.object(module, "enthalpy", other) for module in (balance, slag, condensed)]


def _metal(change):
    """Patch of the enthalpies of dissolved elements: change(element, T, H)."""

    def other(element, T, coefficients="msts"):
        return change(element, T, _dissolved(element, T, coefficients))

    return [mock.patch.object(module, "dissolved_enthalpy", other) for module in (balance, metal)]


def _shift(of, by_j):
    return _pure(lambda formula, T, phase, h: h + by_j if formula == of else h)


def _hot(formulas, factor):
    """Heat content above 298 K of slag substances times factor."""
    base = {f: _enthalpy(f, COLD) for f in formulas}
    return _pure(
        lambda formula, T, phase, h: (
            base[formula] + factor * (h - base[formula]) if formula in base else h
        )
    )


def _other_set(element):
    if element == "Fe":
        return None
    return _metal(lambda e, T, h: _dissolved(e, T, "jsps") if e == element else h)


RICH_KJ_MOL = assessed_carbon_heat_kj_mol(4.5)
SLAG = ("CaO", "Ca2SiO4", "FeO", "MgO", "MnO", "Ca3(PO4)2", "Al2O3", "Fe2O3")
CHOICES = {
    "carbon: heat of solution of the other set (17.2 for 22.6 kJ/mol)": lambda: _other_set("C"),
    "carbon: heat of mixing by the assessment, 4.5 % C": lambda: _metal(
        lambda e, T, h: h + 1000.0 * (RICH_KJ_MOL - 22.59) if e == "C" else h
    ),
    "phosphorus: heat of solution of the other set": lambda: _other_set("P"),
    "manganese: heat of solution of the other set": lambda: _other_set("Mn"),
    "all heats of solution of the other set": lambda: _metal(
        lambda e, T, h: h if e == "Fe" else _dissolved(e, T, "jsps")
    ),
    "silicon: 10 kJ/mol less heat of solution": lambda: _metal(
        lambda e, T, h: h + 10000 if e == "Si" else h
    ),
    "phosphate: 24.3 kJ/mol less stable (calorimetry of the alpha form)": lambda: _shift(
        "Ca3(PO4)2", 24300.0
    ),
    "phosphate: heat by the slope of vapour pressures (67 kJ/mol less)": lambda: _shift(
        "Ca3(PO4)2", 67800.0
    ),
    "silica as liquid oxide, no heat of forming 2CaO.SiO2": lambda: _pure(
        lambda f, T, p, h: (
            _enthalpy("SiO2", T, "liquid") + 2 * _enthalpy("CaO", T) if f == "Ca2SiO4" else h
        )
    ),
    "2CaO.SiO2: 14.2 kJ/mol less heat content (hp11 leaves out a transition)": lambda: _shift(
        "Ca2SiO4", -14180.0
    ),
    "2CaO.SiO2: 26 kJ/mol more stable": lambda: _shift("Ca2SiO4", -26000.0),
    "MnO: heat content of an older table (5.5 % more)": lambda: _hot(("MnO",), 1.055),
    "MnO counted liquid: 54 kJ/mol of melting (recalled)": lambda: _shift("MnO", 54000.0),
    "liquid FeO: slope of a published line (3.8 kJ/mol less heat)": lambda: _shift("FeO", 3800.0),
    "liquid FeO: stoichiometric (14.5 kJ/mol more heat)": lambda: _shift("FeO", -14500.0),
    "slag: all heat contents 20 % lower": lambda: _hot(SLAG, 0.8),
    "slag: all heat contents 20 % higher": lambda: _hot(SLAG, 1.2),
}


def scrap_share(patches=(), **changes):
    """Scrap share, %, of the reference heat under patches."""
    with ExitStack() as stack:
        for patch in patches:
            stack.enter_context(patch)
        charge_ = charge.solve(WORKS, end_temp_c=1650.0, **{**REFERENCE, **changes})
    return charge_.scrap_share_pct


def shares():
    """Scrap share of each choice, %, the kit's own first."""
    return {"the kit's own": scrap_share()} | {
        name: scrap_share(make()) for name, make in CHOICES.items()
    }


ASSUMED = {
    "heat loss: 1 % of the heat more": {"heat_mj_t": REFERENCE["heat_mj_t"] * 4 / 3},
    "5 % more of the carbon to CO2": {"co2_pct": 15.0},
    "gas 150 °C hotter, at bath temperature": {"gas_temp_c": 1650.0},
    "no dust": {"dust_fe_kg_t": 0.0},
    "slag FeO 15 %": {"feo_pct": 15.0},
}


def main():
    found = shares()
    own = found["the kit's own"]
    for name, share in found.items():
        print(f"{share:7.2f} %  {share - own:+6.2f}  {name}")
    print(f"data, one at a time: {min(found.values()):.1f} to {max(found.values()):.1f} % scrap")
    for name, changes in ASSUMED.items():
        share = scrap_share(**changes)
        print(f"{share:7.2f} %  {share - own:+6.2f}  assumption: {name}")


if __name__ == "__main__":
    given(__doc__)
    main()
