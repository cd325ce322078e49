"""What hangs on the oxygen of the metal: oxygen under slags of iron oxide, activity of iron oxide,
oxygen and iron oxide at the end of a blow by practice, capacities for phosphate and sulphide,
sulphur.

Slag and metal of a converter are not at equilibrium with each other in oxygen: the slag is more
oxidised than carbon lets the steel be.
One is never computed from the other here without the name saying so.
"""

import numpy as np

from ..base import (
    InputError,
    between,
    bibliography,
    celsius,
    extrapolated,
    molar_mass,
    plain,
    positive,
    resolver,
    row_provenance,
    rows,
    value,
    warn_where,
)
from ..streams import iron_as_feo, optical_basicity, to_pct
from ..thermo import DEFAULT_SET, solution_gibbs


def _temperature(T):
    return between("temperature", T, 1653.0, 2100.0, "K", "Is this degrees Celsius?")


def oxygen_lines():
    """Oxygen of the metal under iron-oxide slags: rows of slag_oxygen.csv by key (slag,
    coefficients, range, note on contradictions).
    """
    return {row["key"]: dict(row) for row in rows("slag_oxygen")}


@resolver
def _sources_of_line(text):
    row = oxygen_lines().get(text)
    return row and (row_provenance(row, f"oxygen of the metal under {row['slag']}"),)


def oxygen_under(slag_key, T):
    """Mass % of oxygen in liquid iron under an iron-oxide slag. T: K, scalar or array.

    slag_key: 'FetO' or 'FetO-2' (pure iron oxide, two lines), 'FetO-MgO', 'FetO-CaO' (saturated
    with the second oxide).
    Warns (ExtrapolationWarning) outside the range. Raises InputError. The abstract of 'FetO-CaO'
    contradicts its own formula, see oxygen_lines().
    Source: slag_oxygen.csv.
    """
    lines, T = oxygen_lines(), _temperature(T)
    if slag_key not in lines:
        raise InputError(
            f"slag over the metal: {slag_key!r} was given; known are {', '.join(lines)}."
        )
    row = lines[slag_key]
    by = (
        bibliography()[row["source"]].published_in
        if row["range_basis"] == "published"
        else "no range known; the kit's own"
    )
    extrapolated(f"temperature in {slag_key}", celsius(T), row["low_c"], row["high_c"], "°C", by)
    return plain(10.0 ** (row["b_k"] / T + row["c"]))


def iron_oxide_activity(oxygen_pct, T):
    """Activity of iron oxide that goes with dissolved oxygen: its share of what pure iron oxide
    gives at the same T (K).

    A converter slag is more oxidised than the C-O equilibrium of its steel, so the activity from
    [O] is not that of the slag.
    Raises InputError above saturation. Source: slag_oxygen.csv, 'FetO'.
    """
    full = oxygen_under("FetO", T)
    activity = positive("oxygen of the metal", oxygen_pct, "%") / full
    if np.any(np.asarray(activity) > 1.0):
        raise InputError(
            f"oxygen of the metal: {np.max(oxygen_pct):g} % was given; pure iron oxide gives "
            f"{np.min(full):.3g} %, and no more dissolves."
        )
    return activity


def practice():
    """The recalled relations between carbon and oxidation at the end of a blow: rows of
    end_point_practice.csv by key (value, range, note).
    """
    return {row["key"]: dict(row) for row in rows("end_point_practice")}


@resolver
def _sources_of_practice(text):
    row = practice().get(text)
    return row and (row_provenance(row, row["what"]),)


def _over_root_of_carbon(key, c_pct):
    row, c = practice()[key], positive("carbon of the steel", c_pct, "%", zero=False)
    extrapolated(
        f"carbon in {key}",
        c,
        row["low_c_pct"],
        row["high_c_pct"],
        "%",
        "no range known; the kit's own",
    )
    return plain(row["value"] / np.sqrt(c))


def end_point_oxygen_ppm(c_pct):
    """Dissolved oxygen, ppm by mass, of steel at the end of a blow by a rule of practice: 135 over
    the square root of its carbon.

    c_pct: mass % C, scalar or array. Heats as they end, not an equilibrium: compare
    equilibria.oxygen_with_carbon(). Warns (ExtrapolationWarning) outside 0.02 to 0.3 % C, the kit's
    own range. Raises InputError. Source: recalled with low confidence, sources('end_point_oxygen').
    """
    return _over_root_of_carbon("end_point_oxygen", c_pct)


def end_point_iron_oxide_pct(c_pct):
    """FeO of the slag, mass %, at the end of a blow by a rule of practice: 3.85 over the square
    root of the steel's carbon.

    c_pct: mass % C, scalar or array. From heats as they end, not from the oxygen of the steel: the
    two are not at equilibrium. Warns (ExtrapolationWarning)
    outside 0.02 to 0.3 % C, the kit's own range. Raises InputError. Source: recalled with low
    confidence, sources('end_point_iron_oxide').
    """
    return _over_root_of_carbon("end_point_iron_oxide", c_pct)


def phosphate_capacity(partition, oxygen_pct, T, coefficients=DEFAULT_SET):
    """Phosphate capacity (%PO4)/(p_P2^0.5 p_O2^1.25), pressures in atm, from L_P and the oxygen of
    the metal (activity = mass %).

    A way to set an L_P beside measurements that used gas. coefficients: set of solution data,
    'msts' or 'jsps'. It depends on oxygen to the power -2.5.
    """
    T = _temperature(T)

    def per_root_atm(element):  # mass % in iron at 1 atm of the gas
        return np.exp(-solution_gibbs(element, T, coefficients) / (value("gas_constant") * T))

    po4 = (molar_mass("P") + 4.0 * molar_mass("O")) / molar_mass("P")
    root_o2 = positive("oxygen of the metal", oxygen_pct, "%", zero=False) / per_root_atm("O")
    return plain(positive("partition", partition) * po4 * per_root_atm("P") / root_o2**2.5)


def sulphide_capacity(oxides, T, scale):
    """Sulphide capacity by optical basicity (mass %, atm). scale: a set of optical_basicity(); the
    answer hangs on it, see sulphur_partition().

    Source: recalled; no source could be read. Raises InputError.
    """
    T, x = _temperature(T), optical_basicity(oxides, scale)
    a, b, c, d = (value(f"sulphide_capacity_{k}") for k in "abcd")
    return plain(10.0 ** ((a + b * x) / T + c * x + d))


def sulphur_partition(oxides, T, oxygen_activity, scale, f_s=1.0):
    """(%S)/[%S] by optical basicity. oxygen_activity: of the metal, mass % scale; f_s: activity
    coefficient of sulphur in the metal.

    Good for lime-alumina slag of the ladle; useless for slag rich in FeO, where three published
    scales give answers that differ by a factor of 40:
    warns above 5 % FetO. For a converter take value('sulphur_partition_converter'). Source:
    recalled. Raises InputError.
    """
    T, feto = _temperature(T), iron_as_feo(to_pct(oxides))
    warn_where(
        np.asarray(feto) > 5.0,
        f"sulphur partition by optical basicity: {np.max(feto):.0f} % FetO was given; above 5 % "
        "the answer hangs on the scale. Take a plant value.",
    )
    exchange = value("sulphur_exchange_b") / T + value("sulphur_exchange_c")
    activity = positive("oxygen activity", oxygen_activity, zero=False)
    return plain(
        sulphide_capacity(oxides, T, scale)
        * 10.0**exchange
        * positive("f_S", f_s, zero=False)
        / activity
    )
