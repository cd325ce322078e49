"""Density, viscosity and heat content of a slag: orders of size, given as bands, never as one
number.

No measured value of a converter slag was found, so nothing here is validated: the formulas are
second-hand (slag_models.csv), and the two for viscosity differ by a factor of 6 on converter
slag. Beside measured silicates with oxide of manganese both do; beside those with ferric oxide
'riboud' does, while 'urbain' takes it for alumina and is far too stiff (published_checks.csv).
"""

from functools import cache
from itertools import product

import numpy as np

from ..base import (
    Amounts,
    InputError,
    Number,
    Table,
    between,
    celsius,
    molar_mass,
    one_of,
    plain,
)
from ..streams import OXIDES, TRACES_PCT, Slag, amounts, melting, to_pct
from ..thermo import counted_as, heat_content, oxides_with

VISCOSITIES = ("riboud", "urbain")
_MODELS = Table("slag_models")

# How the two viscosity formulas sort the oxides. What stands nowhere only dilutes.
_MODIFIERS, _FORMERS, _AMPHOTERIC = (oxides_with(group=g) for g in ("base", "former", "amphoteric"))


@cache
def _terms(model):
    return {row["term"]: row["value"] for row in _MODELS.where("model", model)}


def provenance(model: str) -> tuple:
    """Sources of a model.

    Parameters
    ----------
    model : of slag_models.csv, such as 'riboud' or 'molar volume'

    Returns
    -------
    tuple of Provenance

    Raises
    ------
    InputError

    Examples
    --------
    >>> provenance("riboud")[0].status
    'second-hand'
    """
    return tuple(map(_MODELS.provenance_of, _MODELS.where("model", model)))


def property_facts(topic: str) -> tuple:
    """What is published on a topic, with what contradicts it.

    Parameters
    ----------
    topic : 'basicity', 'final slag', 'MgO saturation', 'splashing', 'lining', 'lime',
        'phosphorus', 'sulphur', 'foam' or 'viscosity'

    Returns
    -------
    rows of slag_facts.csv: quantity, low, high, unit, says, status, source, place

    Raises
    ------
    InputError

    Examples
    --------
    >>> property_facts("MgO saturation")[0]["unit"]
    '%'
    """
    return tuple(map(dict, Table("slag_facts").where("topic", topic)))


def _temperature(T, low=1653.0):
    return between("temperature", T, low, 1999.15, "K")


def _mole_fractions(oxides, split=()):
    """Mole fractions; oxides named in split count with one cation each (FeO1.5, PO2.5)."""
    mol = {
        o: kg / molar_mass(o) * (2.0 if o in split else 1.0) for o, kg in amounts(oxides).items()
    }
    total = sum(mol.values())
    return {o: n / total for o, n in mol.items()}


def density_band(oxides: Amounts, T: Number) -> tuple:
    """Density of liquid slag from molar volumes, with an allowance of our own of 10 % to each side.

    Solids and gas are not in it. The second formula, density_rule(), lies inside.

    Parameters
    ----------
    oxides : kg or mass % by oxide; those without a molar volume (V2O3, Cr2O3, CaS) up to 3 % are
        left out
    T : K, 1653 to 1999

    Returns
    -------
    (low, high), kg/m3

    Raises
    ------
    InputError

    References
    ----------
    Not verified.

    Examples
    --------
    >>> slag = {"CaO": 48, "SiO2": 17, "FeO": 25, "MgO": 8, "P2O5": 2}
    >>> [round(rho) for rho in density_band(slag, 1873.15)]
    [2680, 3276]
    """
    pct, volumes, settings = to_pct(oxides), _terms("molar volume"), _terms("density")
    unknown = {o: p for o, p in pct.items() if f"{o} 0" not in volumes}
    if np.any(np.asarray(sum(unknown.values())) > TRACES_PCT):
        raise InputError(
            f"density of slag: there is no molar volume for {' and '.join(unknown)}; up to "
            f"{TRACES_PCT:g} % of the slag may be such."
        )
    known = {o: p for o, p in pct.items() if o not in unknown}
    x = _mole_fractions(known)
    volume = sum(
        x[o] * volumes.get(f"{o} {n}", 0.0) * x[o] ** n for o in known for n in range(3)
    )  # cm3/mol
    volume = volume * (
        1.0 + settings["expansion"] * (celsius(_temperature(T)) - settings["reference_c"])
    )
    middle = 1000.0 * sum(x[o] * molar_mass(o) for o in known) / volume
    return plain(middle * (1.0 - settings["allowance"])), plain(
        middle * (1.0 + settings["allowance"])
    )


def density_rule(oxides: Amounts, T: Number) -> Number:
    """Density of liquid converter slag by a rule of its heavy oxides, beside density_band().

    Parameters
    ----------
    oxides : kg or mass % by oxide
    T : K, 1653 to 1999

    Returns
    -------
    kg/m3

    Raises
    ------
    InputError

    References
    ----------
    Mills and Keene (1987)

    Examples
    --------
    >>> slag = {"CaO": 48, "SiO2": 17, "FeO": 25, "MgO": 8, "P2O5": 2}
    >>> round(density_rule(slag, 1873.15))
    2734
    """
    pct, c = to_pct(oxides), _terms("density rule")
    heavy = sum(pct.get(o, 0.0) for o in ("FeO", "Fe2O3", "MnO"))
    return plain(
        (c["base"] + c["heavy"] * heavy)
        * (1.0 - c["expansion"] * (_temperature(T) - c["reference_k"]))
    )


def viscosity(oxides: Amounts, T: Number, model: str) -> Number:
    """Viscosity of fully liquid slag by one of two formulas.

    Neither is validated for converter slag; show viscosity_band().

    Parameters
    ----------
    oxides : kg or mass % by oxide
    T : K, 1653 to 1999
    model : 'riboud' or 'urbain'

    Returns
    -------
    Pa s

    Raises
    ------
    InputError

    Examples
    --------
    >>> slag = {"CaO": 48, "SiO2": 17, "FeO": 25, "MgO": 8, "P2O5": 2}
    >>> round(viscosity(slag, 1873.15, "riboud"), 4)
    0.0093
    """
    one_of("viscosity model", model, VISCOSITIES)
    T, c = _temperature(T), _terms(model)
    to_pct(oxides)  # refuses a slag without mass
    if model == "riboud":
        x = _mole_fractions(oxides, split=("Fe2O3", "P2O5"))
        modifiers, alumina = sum(x.get(o, 0.0) for o in (*_MODIFIERS, "Fe2O3")), x.get("Al2O3", 0.0)
        ln_a = c["ln_a_0"] + c["ln_a_modifier"] * modifiers + c["ln_a_alumina"] * alumina
        b = c["b_0"] + c["b_modifier"] * modifiers + c["b_alumina"] * alumina
        return plain(T * np.exp(ln_a + b / T))
    x = _mole_fractions(oxides)
    formers, modifiers, amphoteric = (
        sum(x.get(o, 0.0) for o in group) for group in (_FORMERS, _MODIFIERS, _AMPHOTERIC)
    )
    if np.any(np.asarray(modifiers + amphoteric) <= 0):
        raise InputError(
            "viscosity: the slag holds neither bases nor alumina; more than zero is needed for "
            "this formula."
        )
    alpha = modifiers / (modifiers + amphoteric)
    # the B of each base by its share, lime's for those without one; without bases (alpha 0) lime's
    none = np.asarray(modifiers) <= 0.0
    b = 0.0
    for oxide in _MODIFIERS:
        of = oxide if f"{oxide} b00" in c else "CaO"
        share = x.get(oxide, 0.0) / np.where(none, 1.0, modifiers) + none * (oxide == "CaO")
        for i, j in product(range(4), range(3)):
            b = b + share * c[f"{of} b{i}{j}"] * alpha**j * formers**i
    return plain(0.1 * T * np.exp(-(c["slope"] * b + c["intercept"]) + 1000.0 * b / T))


def viscosity_band(oxides: Amounts, T: Number) -> tuple:
    """Lower and higher of the two viscosity formulas, a factor of 6 apart on converter slag.

    Parameters
    ----------
    oxides, T : as in viscosity()

    Returns
    -------
    (low, high), Pa s

    Raises
    ------
    InputError

    Examples
    --------
    >>> slag = {"CaO": 48, "SiO2": 17, "FeO": 25, "MgO": 8, "P2O5": 2}
    >>> [round(x, 3) for x in viscosity_band(slag, 1873.15)]
    [0.009, 0.04]
    """
    both = np.broadcast_arrays(*(viscosity(oxides, T, model) for model in VISCOSITIES))
    return plain(np.min(both, axis=0)), plain(np.max(both, axis=0))


def relative_viscosity(solids_share: Number) -> Number:
    """Viscosity of slag with solid particles over that of the liquid: 1 + 2.5 x their volume share.

    Parameters
    ----------
    solids_share : 0 to 0.3, by volume

    Returns
    -------
    ratio

    Raises
    ------
    InputError

    References
    ----------
    NPTEL lecture 5, p. 7.

    Examples
    --------
    >>> relative_viscosity(0.1)
    1.25
    """
    return 1.0 + _terms("solids in liquid")["einstein"] * between(
        "volume share of solids", solids_share, 0.0, 0.3
    )


def heat_contents(oxides: Amounts, T: Number) -> dict:
    """Heat content of a slag above 25 degC by four conventions.

    'solid oxides': each oxide alone, CaO, MgO, MnO, Fe2O3, Al2O3 solid, SiO2 and FeO liquid, P2O5
    as its phosphate less the lime. 'as compounds': 2CaO.SiO2, 3CaO.P2O5 and the rest as oxides.
    'liquid slag': these melted and dissolved, as the heat balance counts (streams.melting).
    'course line': 1.248 (t - 25) + 209, of a published balance of a converter shop.

    Parameters
    ----------
    oxides : kg or mass % by oxide
    T : K, 1696 (liquid silica) to 1999

    Returns
    -------
    kJ per kg of slag by convention

    Raises
    ------
    InputError

    References
    ----------
    Substances: sources(formula); slag_melting.csv; slag_models.csv.

    Examples
    --------
    >>> slag = {"CaO": 48, "SiO2": 17, "FeO": 25, "MgO": 8, "P2O5": 2}
    >>> round(heat_contents(slag, 1873.15)["as compounds"])
    1746
    """
    T, pct = _temperature(T, 1696.0), to_pct(oxides)
    mol = {o: 10.0 * p / molar_mass(o) for o, p in pct.items()}  # in one kg of slag

    def content(formula):
        return heat_content(formula, T, OXIDES.get(formula), quiet=True) / 1000.0

    solid = sum(n * m * content(s) for o, n in mol.items() for s, m in counted_as(o).items())
    compounds = Slag({o: p / 100.0 for o, p in pct.items()}, celsius(T)).compounds_mol()
    held = sum(n * content(c) for c, n in compounds.items())
    melted = sum(n * melting(c, celsius(T)) for c, n in compounds.items()) / 1000.0
    line = _terms("heat content line")
    return {
        "solid oxides": plain(solid),
        "as compounds": plain(held),
        "liquid slag": plain(held + melted),
        "course line": plain(line["slope"] * celsius(T) + line["intercept"] + 0.0 * solid),
    }
