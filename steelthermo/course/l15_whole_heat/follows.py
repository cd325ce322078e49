"""What an entry of the heat sheet (lesson 15) does to the heat.

Where nothing could follow from an entry these functions raise InputError; the sheet then goes on
with the nearest value from which the heat can (coursekit.problems.ChainSheet). Steel and slag keep
their books: iron, manganese and phosphorus that leave the steel are found in the slag.
"""

import numpy as np

from ...base import InputError, fixed_point, kelvin
from ...charge import coolant_effect
from ...charge import solve as solve_charge
from ...hot_metal import desulphurise, into_vessel
from ...ladle import carry_over
from ...ladle import treat as treat_of_ladle
from ...slag import bath_oxygen_pct, end_of_blow_parameters, partition_reached
from ...streams import LiquidMetal, Slag
from ...works import plant_value
from .steps import decision, more_oxygen, slag_kg_t

_RICHEST_C_PCT = 1.0  # no sample is taken before the flame falls
_COLD_C, _HOT_C = 1520.0, 1770.0  # of a steel that still can be blown, cooled and tapped
_MOST_OXYGEN_PPM = 2200.0  # above some 2300 ppm iron oxide forms
_SLAG_AT_MOST_C = 1726.0  # to which the heat contents of slag are known
_ENDS_C = 1550.0, 1720.0  # of a charge: off its plan it still stands between those
_HELD_STEPS_C = 30.0, 80.0, 150.0
_HEATED_C_MIN, _COOLED_C_MIN = 4.0, 1.0  # of a ladle, heated or left waiting: common practice


def after_magnesium(s):
    if s.entered["treat"] == 2 or s.entered["magnesium"] == 0:
        return s
    stage = desulphurise(s.metal, {"magnesium": s.entered["magnesium"]})
    metal = into_vessel(stage)
    return s.after(metal=metal, planned=solve_charge(s.works, hot_metal=metal))


def after_scrap(s):
    """The heat with that scrap and the lime that is right for it: cold or hot, it must be one."""
    return s.after(trial=_blown(s))


def after_lime(s):
    """The heat with that lime, and the phosphorus that its slag leaves: as far from the partition
    of a blow as the planned slag is.
    """
    lime_kg = 1000.0 * s.entered["lime"]
    factor = _shared_out(s.planned)[1] / _reached(s.planned)

    def left(p_pct):
        """What the slag leaves that goes with so much phosphorus: it hardly depends on it."""
        heat = _blown(s, p_pct=p_pct, lime_kg=lime_kg)
        total_kg, _ = _shared_out(heat)
        steel_kg, slag_kg = heat.steel.mass_kg, heat.slag.mass_kg
        return 100.0 * total_kg / (steel_kg + factor * _reached(heat) * slag_kg)

    start = s.works.end_point.analysis_pct["P"]
    p_pct = fixed_point(left, start, "phosphorus of the steel: it does not settle.", rel=1e-7)
    return s.after(heat=_blown(s, p_pct=p_pct, lime_kg=lime_kg))


def _shared_out(heat):
    """Phosphorus of steel and slag, kg, and its % in the slag over that in the steel."""
    steel_kg, slag_kg = (x.element_kg()["P"] for x in (heat.steel, heat.slag))
    return steel_kg + slag_kg, slag_kg / heat.slag.mass_kg * heat.steel.mass_kg / steel_kg


def _reached(heat):
    return float(partition_reached(heat.slag.analysis_pct, heat.temp_c, "P"))


def _blown(s, p_pct=None, **lime):
    scrap = 1000.0 * s.entered["scrap"]
    if p_pct is not None:
        lime["end_pct"] = s.works.end_point.analysis_pct | {"P": p_pct}
    heat = solve_charge(s.works, hot_metal=s.metal, find="temperature", scrap_kg=scrap, **lime)
    _within("temperature at the end", heat.temp_c, *_ENDS_C, "°C")
    return heat


def after_oxygen(s):
    """What too little or too much oxygen leaves behind: carbon not burnt, or iron burnt; and no
    heat ends quite as planned.
    """
    heat = s.heat
    o2 = (s.entered["oxygen"] - heat.oxygen_nm3) * s.works.oxygen.purity_pct / 100.0
    spare_t = o2 / (heat.steel.mass_kg / 1000.0)
    s = s.after(steel=heat.steel, slag=heat.slag)
    if spare_t >= 0:
        return _sampled(s, _blown_on(s, spare_t, s.given["off_plan_c"]))
    _within("oxygen short of what the heat takes", -spare_t, 0.0, 20.0, "Nm3 per t of steel")
    # the steel that so much more oxygen would bring to the plan's
    base = {o: kg for o, kg in slag_kg_t(s).items() if o not in ("FeO", "Fe2O3")}
    carbons = heat.steel.analysis_pct["C"] + np.linspace(0.0, 1.2 * _RICHEST_C_PCT, 64)
    then = more_oxygen(s, {"C": carbons}, heat.temp_c, base, -spare_t)
    carbon = np.interp(heat.steel.analysis_pct["C"], then.steel_pct["C"], carbons).item()
    _within("carbon at the first sample", carbon, 0.0, _RICHEST_C_PCT, "%")
    colder = np.interp(carbon, carbons, then.temp_c).item() - heat.temp_c
    now = more_oxygen(s, heat.steel.solutes_pct | {"C": carbon}, heat.temp_c, base, 0.0)
    return _sampled(s, _shared(s, now, heat.temp_c - colder + s.given["off_plan_c"]))


def _sampled(s, new):
    return _judged(new.after(sampled=new.steel))


def after_again(s):
    """The second blow: carbon and iron burn by the law of the vessel."""
    nm3_t = s.entered["again"] / s.steel_t
    return s if nm3_t == 0 else _within_reach(_blown_on(s, nm3_t))


def _blown_on(s, nm3_t, off_c=0.0):
    """The state after more oxygen, Nm3 of O2 per t."""
    _within("oxygen blown on", nm3_t, 0.0, 20.0, "Nm3 per t of steel")
    then = more_oxygen(s, s.steel.solutes_pct, s.steel.temp_c, slag_kg_t(s), nm3_t)
    return _shared(s, then, then.temp_c + off_c)


def _shared(s, then, temp_c):
    """The state with steel and slag as an AfterBlow shares them out: carbon and oxygen by its
    analysis, iron, manganese and phosphorus as the slag leaves them.
    """
    _within("temperature of the steel", temp_c, _COLD_C, _HOT_C, "°C")
    tonnes, before = s.steel.mass_kg / 1000.0, s.slag.element_kg()
    oxides = {o: kg * tonnes for o, kg in then.slag_kg_t.items()}
    slag = Slag({**s.slag.oxides_kg, **oxides}, min(temp_c, _SLAG_AT_MOST_C))
    kg = dict(s.steel.element_kg())
    for element in ("Fe", "Mn", "P"):
        kg[element] += before[element] - slag.element_kg()[element]
    kg |= {e: then.steel_pct[e] * 10.0 * tonnes for e in ("C", "O")}
    mass = sum(kg.values())
    pct = {e: 100.0 * x / mass for e, x in kg.items() if e != "Fe"}
    return s.after(steel=LiquidMetal(mass, pct, temp_c), slag=slag)


def after_coolant(s):
    kg = s.entered["coolant"]
    if kg == 0:
        return s
    steel, (per_c, per_pct) = s.steel, coolant_effect("scrap", s.steel.temp_c)
    temp_c = steel.temp_c + per_c * kg / s.steel_t
    _within("temperature of the steel", temp_c, _COLD_C, _HOT_C, "°C")
    law = end_of_blow_parameters()
    least = law["carbon_floor_pct"].start + 1e-3
    carbon = max(steel.analysis_pct["C"] + per_pct * kg / s.steel_t, least)
    oxygen = bath_oxygen_pct(carbon, kelvin(temp_c), law["carbon_oxygen_product"].start)
    pct = steel.solutes_pct | {"C": carbon, "O": float(oxygen)}
    return _within_reach(s.after(steel=LiquidMetal(steel.mass_kg + kg, pct, temp_c)))


def _judged(s):
    return _within_reach(s).after(decided=decision(s))


def _within_reach(s):
    """The state, if its steel can be tapped and treated."""
    _within("dissolved oxygen", s.oxygen_ppm, 0.0, _MOST_OXYGEN_PPM, "ppm")
    return s


def _within(what, x, low, high, unit):
    if not low <= x <= high:
        raise InputError(
            f"{what}: it would be {x:.4g} {unit}; a heat goes on from {low:g} to {high:g} {unit}."
        )


def after_alloy(s):
    """The ladle with the alloys entered so far. A ladle too cold is heated, one too hot waits, by
    as little as will do.
    """
    alloys = ("aluminium", "silicomanganese", "ferromanganese")
    kg = {key: s.entered[key] for key in alloys if key in s.entered}
    carried = carry_over(s.slag, s.steel.mass_kg, plant_value("carry_over_stopper_kg_t").start)
    drop = plant_value("tap_drop_c").start

    def treated(held_c):
        loss_c = drop + held_c
        ladle = treat_of_ladle(s.steel, kg, slag=carried, slag_reduced_pct=100.0, loss_c=loss_c)
        return s.after(ladle=ladle, held_c=held_c)

    try:
        return treated(0.0)
    except InputError as error:
        reason = error
    for side in (-1.0, 1.0):
        best = None
        for held_c in reversed(_HELD_STEPS_C):
            try:
                best = treated(side * held_c)
            except InputError:
                break
        if best is not None:
            return best
    raise reason


def held_words(s):
    """What became of a ladle too cold or too hot, in words; "" where it was as planned."""
    how = "waited to cool" if s.held_c > 0 else "was heated"
    return f" The ladle {how} by {abs(s.held_c):.0f} °C, {held_min(s):.0f} min." if s.held_c else ""


def held_min(s):
    """Minutes that heating or waiting of the ladle cost."""
    return abs(s.held_c) / (_HEATED_C_MIN if s.held_c < 0 else _COOLED_C_MIN)
