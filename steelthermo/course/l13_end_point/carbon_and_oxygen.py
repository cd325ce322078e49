"""Carbon and oxygen at the end point as the panel of lesson 13 shows them: by the probe, by
equilibrium with CO, and in practice, not verified.
"""

import numpy as np

from ...base import InputError, kelvin, quietly, value
from ...coursekit.panel import data_choice, style
from ...end_point import carbon_from_oxygen, oxygen_activity, propagate
from ...slag import (
    end_point_iron_oxide_pct,
    end_point_oxygen_ppm,
    iron_oxide_activity,
    oxygen_under,
    practice,
)
from ...thermo import DEFAULT_SET, activities, carbon_with_oxygen, oxygen_with_carbon
from ...thermo import oxygen_activity as oxygen_with

PPM = 1e4  # in one mass %
# relative uncertainties of the probe's oxygen and of the pressure of CO: as in
# end_point.carbon_from_oxygen
U_OXYGEN, U_P_CO = 0.05, 0.1
COURSE, MAKER = "co_course", "co_product_maker"  # other published data of carbon and oxygen
OTHER_SET = "coefficient set msts"  # most of it from memory, so it is told of but no choice


def choice_of_data():
    """The choice among the kit's constant of carbon and oxygen and other published ones."""
    others = (
        ("carbon and oxygen by a course's line", COURSE),
        ("carbon and oxygen by a probe maker's product", MAKER),
    )
    why = "published values of carbon and oxygen differ by a tenth and more"
    return data_choice(others, why, "The maker's product takes the probe's reading as a content.")


def _laws(data):
    """Coefficient set and line of carbon and oxygen, as the equilibria take them."""
    return {
        "coefficients": "msts" if data == OTHER_SET else DEFAULT_SET,
        "line": COURSE if data == COURSE else None,
    }


def by_probe(emf_mv, temp_c, p_co_atm, u_temp_c, electrolyte, data):
    """Activity of oxygen, mass %, and the carbon that goes with it as an Estimate, mass %."""
    chosen = _laws(data)

    def oxygen(temp):
        return oxygen_activity(
            emf_mv, kelvin(temp), electrolyte=electrolyte, coefficients=chosen["coefficients"]
        )

    def carbon(temp, p, reading):
        if data == MAKER:
            return carbon_from_oxygen(reading * oxygen(temp), temp, p, product=value(MAKER)).value
        return carbon_with_oxygen(reading * oxygen(temp), kelvin(temp), p, **chosen)

    found = oxygen(temp_c)
    with quietly():  # said once, by the line above
        given = {"temp": temp_c, "p": p_co_atm, "reading": 1.0}
        return found, propagate(
            carbon, given, {"temp": u_temp_c, "p": U_P_CO * p_co_atm, "reading": U_OXYGEN}
        )


def curve_ppm(carbons, T, p_co_atm, data):
    """Activity of oxygen, ppm, along the carbon axis."""
    if data == MAKER:
        return PPM * value(MAKER) * p_co_atm / carbons
    chosen = _laws(data)
    return PPM * oxygen_with(
        "C-O", T, activities({"C": carbons}, T, chosen["coefficients"]).h["C"], p_co_atm, **chosen
    )


def by_every_data(cell):
    """Carbon by the probe by each of the data: pairs of the text shown and an Estimate. cell: the
    arguments of by_probe() but data.
    """
    return [
        (text, by_probe(**cell, data=key)[1])
        for text, key in (
            *choice_of_data().choices,
            (f"{OTHER_SET}, mostly not verified", OTHER_SET),
        )
    ]


def _practice_activity_ppm(c_pct, T):
    """Activity, ppm, of the oxygen that a steel holds by the rule of practice."""
    return PPM * activities({"C": c_pct, "O": end_point_oxygen_ppm(c_pct) / PPM}, T).h["O"]


def draw_practice(ax):
    """The rule of practice, dashed, over its range, with its name along it. At 1650 °C:
    its activity hardly depends on temperature.
    """
    row = practice()["end_point_oxygen"]
    carbons = np.geomspace(row["low_c_pct"], row["high_c_pct"], 20)
    points = np.column_stack([carbons, _practice_activity_ppm(carbons, kelvin(1650.0))])
    line = style.line(
        ax, 5, *points.T, marks=0, animated=False, linestyle=(0, (4, 2)), linewidth=1.3
    )
    right, down = np.subtract(*ax.transData.transform(points[[-1, -8]]))
    slope = {"rotation": np.degrees(np.arctan2(down, right)), "rotation_mode": "anchor"}
    ax.text(
        points[-1, 0],
        1.04 * points[-1, 1],
        "in practice, not verified ",
        ha="right",
        va="bottom",
        fontsize=8.5,
        color=line.get_color(),
        **slope,
    )


def _iron_oxide(of, oxygen_pct, T):
    """Row of the activity of iron oxide at equilibrium with an oxygen content."""
    try:
        found, note = (
            f"{iron_oxide_activity(oxygen_pct, T):.2f}",
            "pure liquid iron oxide is 1; not that of the slag over it",
        )
    except InputError:
        found, note = "above 1", "more oxygen than iron holds: iron oxide forms before"
    return f"activity of iron oxide at equilibrium with the oxygen {of}", found, "", note


def oxidation(record):
    """Rows of the numbers table on iron oxide and oxygen with the carbon of a record: by the
    rules of practice, and by equilibrium with CO.
    """
    T, c, p = kelvin(record.at.temp_c), record.carbon, record.at.p_co_atm
    low, high = (practice()["end_point_oxygen"][k] for k in ("low_c_pct", "high_c_pct"))
    status = "not verified" if low <= c <= high else f"not verified; beyond {low:g} to {high:g} % C"
    by_rule, by_carbon = (
        end_point_oxygen_ppm(c),
        PPM * oxygen_with_carbon(c, T, p, **_laws(record.at.data)),
    )
    return [
        (
            "FeO of the slag with this carbon, in practice",
            f"{end_point_iron_oxide_pct(c):.1f}",
            "%",
            f"{status}; not computed from oxygen",
        ),
        (
            "oxygen with this carbon, in practice",
            f"{by_rule:.0f}",
            "ppm",
            f"{status}; content, activity {_practice_activity_ppm(c, T):.0f}",
        ),
        (
            "oxygen that this carbon allows",
            f"{by_carbon:.0f}",
            "ppm",
            f"equilibrium with {p:g} atm CO; content",
        ),
        _iron_oxide("of practice", by_rule / PPM, T),
        _iron_oxide("that this carbon allows", by_carbon / PPM, T),
        (
            "oxygen under pure iron oxide",
            f"{PPM * oxygen_under('FetO', T):.0f}",
            "ppm",
            "the most that iron holds",
        ),
        (
            "oxygen under iron oxide saturated with MgO",
            f"{PPM * oxygen_under('FetO-MgO', T):.0f}",
            "ppm",
        ),
    ]
