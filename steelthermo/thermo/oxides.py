"""What becomes of an element that burns: its oxides, the share of it that forms each, where they
are found and how their heat is counted. All from oxides.csv, the one place that says so.

A second oxide of an element is a second row; the shares of the rows of an element (forms_pct) add
up to 100, or to 0 for what is never oxidised.
"""

from functools import cache
from types import MappingProxyType

from ..base import formula, one_of, rows


def _where(column, conditions):
    found = (r[column] for r in rows("oxides") if all(r[c] == x for c, x in conditions.items()))
    return tuple(dict.fromkeys(x for x in found if x != "none"))


@cache
def oxides_with(**where):
    """Oxides whose row in oxides.csv holds what is asked for, as a tuple of formulas:
    oxides_with(element="Fe"), oxides_with(found="slag"), oxides_with(group="amphoteric")."""
    return _where("oxide", where)


@cache
def elements_with(**where):
    """Elements with a row in oxides.csv that holds what is asked for, as a tuple of symbols:
    elements_with(stays="yes"), elements_with(found="slag")."""
    return _where("element", where)


@cache
def oxide_facts(oxide):
    """The row of an oxide in oxides.csv, a read-only mapping; None for others."""
    return next((row for row in rows("oxides") if row["oxide"] == oxide), None)


@cache
def _forms():
    out = {}
    for row in rows("oxides"):
        if row["forms_pct"] > 0:
            out.setdefault(row["element"], {})[row["oxide"]] = row["forms_pct"] / 100.0
    return out


def forms(element):
    """Share, 0 to 1, of an element that burns to each of its oxides, as a dict of formula to share.
    Raises InputError for an element that does not burn."""
    return _forms()[one_of("element that burns to an oxide", element, _forms())]


def oxide_of(element):
    """Formula of the oxide that most of an element forms, such as SiO2 for Si and FeO for Fe.
    Raises InputError for an element that does not burn."""
    return max(forms(element), key=forms(element).get)


def burning():
    """Elements that burn, as a tuple of symbols: carbon, then those whose oxides are slag."""
    return tuple(_forms())


@cache
def oxygen_atoms(element):
    """Atoms of oxygen that one atom of an element takes: 2 for Si, 1 for C and Fe."""
    return sum(x * formula(o)["O"] / formula(o)[element] for o, x in forms(element).items())


# ---- how heat and mass of compounds are counted --------------------------------------------------


def counted_as(species):
    """What the heat of a substance is counted as: moles by formula. P2O5, which has no sensible
    standard state alone, is the phosphate that it is in (3CaO.P2O5) less its lime."""
    return {"Ca3(PO4)2": 1.0, "CaO": -3.0} if species == "P2O5" else {species: 1.0}


@cache
def carbonate_parts(species):
    """Moles of oxides and of CO2 that one mole of a carbonate breaks up to, as a read-only mapping:
    CaO, MgO and 2 CO2 of CaMg(CO3)2. Empty for what is no carbonate."""
    atoms = formula(species)
    carbon = atoms.pop("C", 0.0)
    if not carbon or atoms.pop("O", 0.0) != 3.0 * carbon or not _forms().keys() >= atoms.keys():
        return MappingProxyType({})
    parts = {oxide_of(e): n / formula(oxide_of(e))[e] for e, n in atoms.items()}
    return MappingProxyType(parts | {"CO2": carbon})


def share_lime(mol, least):
    """The compounds in which the heat of a slag is counted, by formula: phosphate takes lime first,
    silica as 2CaO.SiO2 as far as the rest reaches, what is left are oxides.

    mol: amounts by oxide with CaO, SiO2, P2O5 in it: numbers, arrays or linear forms. least(silica,
    half the lime left): the lesser of the two, which is the silicate.
    """
    rest = dict(mol)
    lime, silica, phosphate = (rest.pop(o) for o in ("CaO", "SiO2", "P2O5"))
    lime = lime - phosphate * 3.0
    silicate = least(silica, lime * 0.5)
    free = {"SiO2": silica - silicate, "CaO": lime - silicate * 2.0}
    return {"Ca3(PO4)2": phosphate, "Ca2SiO4": silicate, **free, **rest}
