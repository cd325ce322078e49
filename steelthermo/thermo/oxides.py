"""What becomes of an element that burns: its oxides, the share of it that forms each, where they
are found and how their heat is counted. All from oxides.csv, the one place that says so.

A second oxide of an element is a second row; the shares of the rows of an element (forms_pct) add
up to 100, or to 0 for what is never oxidised.
"""

from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType

from ..base import formula, one_of, rows


def _where(column, conditions):
    found = (r[column] for r in rows("oxides") if all(r[c] == x for c, x in conditions.items()))
    return tuple(dict.fromkeys(x for x in found if x != "none"))


@cache
def oxides_with(**where: str) -> tuple:
    """Oxides whose row holds what is asked for.

    Parameters
    ----------
    where : columns of oxides.csv: element="Fe", found="slag", group="amphoteric"

    Returns
    -------
    formulas

    Examples
    --------
    >>> oxides_with(element="Fe")
    ('FeO', 'Fe2O3', 'Fe3O4')
    """
    return _where("oxide", where)


@cache
def elements_with(**where: str) -> tuple:
    """Elements with a row that holds what is asked for.

    Parameters
    ----------
    where : columns of oxides.csv: stays="yes", found="slag"

    Returns
    -------
    symbols

    Examples
    --------
    >>> elements_with(found="gas")
    ('C',)
    """
    return _where("element", where)


@cache
def oxide_facts(oxide: str) -> Mapping | None:
    """The row of an oxide.

    Parameters
    ----------
    oxide : formula

    Returns
    -------
    row of oxides.csv; None for others

    Examples
    --------
    >>> oxide_facts("SiO2")["element"]
    'Si'
    """
    return next((row for row in rows("oxides") if row["oxide"] == oxide), None)


@cache
def _forms():
    out = {}
    for row in rows("oxides"):
        if row["forms_pct"] > 0:
            out.setdefault(row["element"], {})[row["oxide"]] = row["forms_pct"] / 100.0
    return out


def forms(element: str) -> dict:
    """What an element burns to.

    Parameters
    ----------
    element : symbol

    Returns
    -------
    share, 0 to 1, by oxide

    Raises
    ------
    InputError
        For an element that does not burn.

    Examples
    --------
    >>> forms("Si")
    {'SiO2': 1.0}
    """
    return _forms()[one_of("element that burns to an oxide", element, _forms())]


def oxide_of(element: str) -> str:
    """The oxide that most of an element forms.

    Parameters
    ----------
    element : symbol

    Returns
    -------
    formula

    Raises
    ------
    InputError
        For an element that does not burn.

    Examples
    --------
    >>> oxide_of("P")
    'P2O5'
    """
    return max(forms(element), key=forms(element).get)


def burning() -> tuple:
    """Elements that burn: carbon, then those whose oxides are slag.

    Returns
    -------
    symbols

    Examples
    --------
    >>> burning()[:3]
    ('C', 'Ca', 'Mg')
    """
    return tuple(_forms())


@cache
def oxygen_atoms(element: str) -> float:
    """Oxygen that one atom of an element takes.

    Parameters
    ----------
    element : symbol

    Returns
    -------
    atoms

    Raises
    ------
    InputError
        For an element that does not burn.

    Examples
    --------
    >>> oxygen_atoms("Si")
    2.0
    """
    return sum(x * formula(o)["O"] / formula(o)[element] for o, x in forms(element).items())


# ---- how heat and mass of compounds are counted --------------------------------------------------


def counted_as(species: str) -> dict:
    """What the heat of a substance is counted as. P2O5, which has no sensible standard state alone,
    is the phosphate that it is in (3CaO.P2O5) less its lime.

    Parameters
    ----------
    species : formula

    Returns
    -------
    mol by formula

    Examples
    --------
    >>> counted_as("P2O5")
    {'Ca3(PO4)2': 1.0, 'CaO': -3.0}
    """
    return {"Ca3(PO4)2": 1.0, "CaO": -3.0} if species == "P2O5" else {species: 1.0}


@cache
def carbonate_parts(species: str) -> Mapping:
    """What a carbonate breaks up to.

    Parameters
    ----------
    species : formula

    Returns
    -------
    mol of oxides and CO2 of one mol; empty for what is no carbonate

    Examples
    --------
    >>> dict(carbonate_parts("CaMg(CO3)2"))
    {'CaO': 1.0, 'MgO': 1.0, 'CO2': 2.0}
    """
    atoms = formula(species)
    carbon = atoms.pop("C", 0.0)
    if not carbon or atoms.pop("O", 0.0) != 3.0 * carbon or not _forms().keys() >= atoms.keys():
        return MappingProxyType({})
    parts = {oxide_of(e): n / formula(oxide_of(e))[e] for e, n in atoms.items()}
    return MappingProxyType(parts | {"CO2": carbon})


def share_lime(mol: Mapping, least: Callable) -> dict:
    """The compounds in which the heat of a slag is counted: phosphate takes lime first, silica as
    2CaO.SiO2 as far as the rest reaches, what is left are oxides.

    Parameters
    ----------
    mol : amounts by oxide with CaO, SiO2, P2O5 in it: numbers, arrays or linear forms
    least : of silica and half the lime left: the lesser of the two, which is the silicate

    Returns
    -------
    amounts by formula

    Examples
    --------
    >>> share_lime({"CaO": 10.0, "SiO2": 3.0, "P2O5": 0.5}, min)
    {'Ca3(PO4)2': 0.5, 'Ca2SiO4': 3.0, 'SiO2': 0.0, 'CaO': 2.5}
    """
    rest = dict(mol)
    lime, silica, phosphate = (rest.pop(o) for o in ("CaO", "SiO2", "P2O5"))
    lime = lime - phosphate * 3.0
    silicate = least(silica, lime * 0.5)
    free = {"SiO2": silica - silicate, "CaO": lime - silicate * 2.0}
    return {"Ca3(PO4)2": phosphate, "Ca2SiO4": silicate, **free, **rest}
