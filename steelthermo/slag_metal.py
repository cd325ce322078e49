"""What a slag does to the metal under it: partitions of phosphorus and manganese, the equilibrium of a heat, phosphorus that returns.

The equations stand as coefficients in data/slag_partitions.csv, one row each, and one evaluator reads them all:
    log10(quotient) = factor x measure + b/T + c,   measure = weighted sum of mass %, its logarithm, or the logarithm of CaO/SiO2.
A partition is always (mass % of the element in the slag) / (mass % in the metal). No two equations agree: look at partitions() and spread()
before one number is believed. Coefficients of different rows belong to different definitions and are never mixed.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from .arrays import bisect, common_shape, plain
from .elements import mass_fractions, oxide_of
from .errors import InputError, between, extrapolated, positive
from .slag import Slag, basicity, iron_as_feo, to_pct, total_iron
from .tables import bibliography, resolver, row_provenance, rows
from .units import celsius, kelvin

__all__ = [
    "DEFAULTS",
    "Equilibrium",
    "Partition",
    "equations",
    "equilibrium",
    "metal_pct_after",
    "partition",
    "partitions",
    "phosphorus_reversion",
    "slag_for",
    "spread",
]

# SI-c: read in its source, independent of the phosphorus already in slag and metal, inside the spread of the others.
DEFAULTS = {"P": "SI-c", "Mn": "Park-Dzo"}

_SUMMED = ("CaO", "MgO", "FetO", "MnO", "SiO2", "P2O5", "Al2O3")


@cache
def _rows():
    return {row["key"]: row for row in rows("slag_partitions")}


def _row(key):
    try:
        return _rows()[key]
    except (KeyError, TypeError):
        raise InputError(f"partition equation: {key!r} was given; known are {', '.join(_rows())}.") from None


def equations(element="P", status=None):
    """Keys of the partition equations of an element ('P' or 'Mn'), those read in their source first.

    status: 'published' or 'memory' for these only. Everything known of one stands in data/slag_partitions.csv; sources(key) tells where it comes from.
    Raises InputError for an element without equations.
    """
    found = [r for r in _rows().values() if r["element"] == element]
    if not found:
        raise InputError(f"partition: there are no equations for {element!r}; allowed are {', '.join(DEFAULTS)} (for sulphur see slag_oxygen).")
    return tuple(r["key"] for r in sorted(found, key=lambda r: r["status"] != "published") if status in (None, r["status"]))


@dataclass(frozen=True)
class Partition:
    """A partition by one equation: value = (mass % in slag) / (mass % in metal), scalar or array.

    extrapolated: True where temperature or lime lie outside the equation's range. status: 'published' (read in its source) or 'memory' (draw it dashed).
    """

    equation: str
    element: str
    value: float
    extrapolated: bool

    @property
    def row(self):
        """Everything known of the equation: coefficients, range, kind of slag, note, as a dict."""
        return dict(_row(self.equation))

    @property
    def status(self):
        """'published' or 'memory'."""
        return _row(self.equation)["status"]

    @property
    def provenance(self):
        """Source of the equation."""
        return _provenance(self.equation)


def _provenance(key):
    return (row_provenance(_row(key), f"partition of {_row(key)['element']} by {key}"),)


@resolver
def _sources_of_equation(text):
    return _provenance(text) if text in _rows() else None


def _log10(what, x, needs):
    if np.any(np.asarray(x) <= 0):
        raise InputError(f"{what}: {np.min(x):g} was found; {needs} needs more than zero.")
    return np.log10(x)


def _with_iron(oxides):
    """A slag with FetO (all iron as FeO, same iron) and T.Fe beside its oxides."""
    return dict(oxides) | {"FetO": iron_as_feo(oxides), "T.Fe": total_iron(oxides)}


def _log_partition(row, pct, T, oxygen_pct):
    """log10 of (%X)/[%X]. pct mass % of the slag, from _with_iron."""
    key = row["key"]
    if row["measure"] == "log basicity":
        measure = np.log10(basicity({o: pct.get(o, 0.0) for o in ("CaO", "SiO2")}))
    else:
        measure = sum(row[o] * pct.get(o, 0.0) for o in _SUMMED)
        if row["measure"] == "log sum":
            measure = _log10(f"weighted sum of the slag in {key}", measure, "the equation")
    log_q = row["factor"] * measure + row["b_k"] / T + row["c"]
    element, quotient = row["element"], row["quotient"]
    in_oxide = mass_fractions(oxide_of(element))[element]
    if quotient == "L_P/T.Fe^2.5":
        return log_q + 2.5 * _log10("total iron of slag", pct["T.Fe"], key)
    if quotient == "L_P/O^2.5":
        if oxygen_pct is None:
            raise InputError(f"oxygen of the metal: {key} asks for it; give oxygen_pct.")
        return log_q + 2.5 * _log10("oxygen of the metal", oxygen_pct, key)
    feto = _log10("iron oxide of slag", pct["FetO"], key)
    if quotient == "kMn":  # (%MnO)/([%Mn](%FetO))
        return np.log10(in_oxide) + log_q + feto
    # kP = (%P2O5)/([%P]^2 (%FetO)^5): the partition depends on the P2O5 of the slag
    return np.log10(in_oxide) + 0.5 * (_log10("P2O5 of slag", pct.get("P2O5", 0.0), key) + log_q + 5.0 * feto)


def _warn(row, pct, T):
    """Warn where a slag leaves the range of an equation; True where it does."""
    by = {
        "published": bibliography()[row["source"]].published_in,
        "memory": "range from memory",
        "kit": "no range known; the one shared by the other equations is taken",
    }[row["range_basis"]]
    outside = extrapolated(f"temperature in {row['key']}", celsius(T), row["low_c"], row["high_c"], "°C", by)
    if row["cao_low_pct"] is not None:
        outside = outside | extrapolated(f"CaO in {row['key']}", pct.get("CaO", 0.0), row["cao_low_pct"], 100.0, "%", row["place"])
    return outside


def partition(oxides, T, equation="SI-c", oxygen_pct=None):
    """Partition of phosphorus or manganese between slag and liquid iron by one equation.

    oxides: mapping of oxide to kg or mass % (counted to 100 %). T: K, scalar or array. equation: a key of equations('P') or equations('Mn').
    oxygen_pct: dissolved oxygen, mass %, for the equation that asks for it. Equations in kP depend on the P2O5 of the slag, which must be its own;
    for a heat use equilibrium(). Returns a Partition. Warns (ExtrapolationWarning) outside the range of the equation. Raises InputError.
    Source: data/slag_partitions.csv; sources(equation).
    """
    row, pct = _row(equation), _with_iron(to_pct(oxides))
    T = between("temperature", T, 1653.0, 2100.0, "K", "Is this degrees Celsius?")
    if oxygen_pct is not None:
        oxygen_pct = positive("oxygen of the metal", oxygen_pct, "%")
    return Partition(equation, row["element"], plain(10.0 ** _log_partition(row, pct, T, oxygen_pct)), _warn(row, pct, T))


def partitions(oxides, T, element="P", status=None, oxygen_pct=None):
    """The same slag by all equations: a dict of key to Partition. Equations that ask for the oxygen of the metal are left out unless it is given.

    Arguments as in partition() and equations(). One warning per equation outside its range.
    """
    keys = (k for k in equations(element, status) if oxygen_pct is not None or _row(k)["quotient"] != "L_P/O^2.5")
    return {key: partition(oxides, T, key, oxygen_pct) for key in keys}


def spread(found):
    """Lowest and highest value and their ratio, of a dict of Partition or of numbers: (low, high, factor). Scalars or arrays."""
    values = [x.value if isinstance(x, Partition) else x for x in found.values()]
    if not values:
        raise InputError("spread: nothing was given; at least one partition is needed.")
    values = np.broadcast_arrays(*values)
    low, high = np.min(values, axis=0), np.max(values, axis=0)
    return plain(low), plain(high), plain(high / low)


@dataclass(frozen=True)
class Equilibrium:
    """A metal and a slag at equilibrium: metal_pct (mass % of the element in the metal), slag (Slag with what it took up), partition."""

    metal_pct: float
    slag: Slag
    partition: Partition


def equilibrium(slag, metal_kg, element_kg, equation="SI-c", oxygen_pct=None):
    """Share an element out between metal and slag until both are at equilibrium by one equation.

    slag: Slag, its temperature and its other oxides are kept; what it holds of P2O5 (or MnO) is ignored. metal_kg: mass of metal. element_kg: kg of
    phosphorus (or manganese) in metal and slag together. equation, oxygen_pct as in partition(). All may be arrays.
    The iron that the exchange oxidises or gives back is left out. Returns an Equilibrium. Warns and raises as partition() does.
    """
    row = _row(equation)
    oxide, T = oxide_of(row["element"]), kelvin(slag.temp_c)
    metal_kg = positive("mass of metal", metal_kg, "kg", zero=False)
    total = positive(f"{row['element']} of metal and slag", element_kg, "kg", zero=False)
    oxygen_pct = None if oxygen_pct is None else positive("oxygen of the metal", oxygen_pct, "%")
    per_oxide = mass_fractions(oxide)[row["element"]]
    shape = common_shape("equilibrium", metal_kg, total, T, 0.0 if oxygen_pct is None else oxygen_pct, *slag.oxides_kg.values())

    others = {o: kg for o, kg in slag.oxides_kg.items() if o != oxide}
    others_kg, oxide_kg, seen = sum(others.values()), total / per_oxide, _with_iron(others)

    def too_rich(share):  # above zero where the slag holds more than the equation allows
        slag_kg = others_kg + share * oxide_kg
        pct = {o: 100.0 * kg / slag_kg for o, kg in (seen | {oxide: share * oxide_kg}).items()}
        in_metal, in_slag = (1.0 - share) / metal_kg, share / slag_kg
        return np.log10(in_slag / in_metal) - _log_partition(row, pct, T, oxygen_pct)

    share = plain(bisect(too_rich, np.zeros(shape), np.ones(shape)))
    final = Slag(others | {oxide: share * oxide_kg}, slag.temp_c)
    return Equilibrium(plain(100.0 * (1.0 - share) * total / metal_kg), final, partition(final.oxides_kg, T, equation, oxygen_pct))


def metal_pct_after(metal_kg, metal_pct, slag_kg, slag_pct, partition):
    """Mass % of an element left in the metal when metal and slag have shared it out: (M p + S q) / (M + L S).

    metal_pct, slag_pct: mass % of the element (not its oxide) before; partition: L after. With clean slag this is p / (1 + L S/M); with L = 0
    everything returns to the metal. Scalars or arrays. Source: mass balance, masses taken as constant. Raises InputError.
    """
    M, S = positive("mass of metal", metal_kg, "kg", zero=False), positive("mass of slag", slag_kg, "kg")
    p, q = between("content of metal", metal_pct, 0.0, 100.0, "%"), between("content of slag", slag_pct, 0.0, 100.0, "%")
    return (M * p + S * q) / (M + positive("partition", partition) * S)


def slag_for(metal_kg, metal_pct, aim_pct, partition, slag_pct=0.0):
    """kg of slag that takes the metal from metal_pct to aim_pct at equilibrium: M (p - aim) / (L aim - q).

    Contents in mass % of the element. Raises InputError if the slag is too poor a taker for the aim. Source: mass balance.
    """
    aim = positive("aim in the metal", aim_pct, "%", zero=False)
    takes = positive("partition", partition) * aim - between("content of slag", slag_pct, 0.0, 100.0, "%")
    drop = positive("content of metal above the aim", metal_pct - aim, "%")
    if np.any(np.asarray(takes) <= 0):
        raise InputError(f"aim in the metal: {np.min(aim):g} % was given; a slag of this partition and content can't take the metal so low.")
    return positive("mass of metal", metal_kg, "kg", zero=False) * drop / takes


def phosphorus_reversion(metal_kg, metal_pct, slag, partition=0.0):
    """Mass % of phosphorus in the metal after slag carried over has given back what it no longer holds.

    slag: the Slag over the metal, with its P2O5. partition: L_P after the change; 0 for a killed ladle, where all returns. Raises InputError.
    """
    return metal_pct_after(metal_kg, metal_pct, slag.mass_kg, to_pct(slag.oxides_kg).get("P2O5", 0.0) * mass_fractions("P2O5")["P"], partition)
