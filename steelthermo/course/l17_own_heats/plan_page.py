"""The plan of a heat on one page to print."""

from html import escape

from ...base import table
from ...blow import standard_pattern
from ...coursekit.page import listed, printed_page
from ...end_point import decide
from ...heats import HeatPlan, account
from ...trust import caution
from ..adapter import DEFERRAL

# Where sample and temperature may lie, against the aims: °C, % C
SAMPLES = ((-20.0, 0.0), (0.0, 0.0), (20.0, 0.0), (-10.0, 0.02), (0.0, 0.02), (10.0, 0.02))
BLANKS = ("hot metal, kg and °C", "scrap, kg", "oxygen, Nm3", "end, °C and % C", "lining, remarks")
HAZARDS = (
    "hot_metal_pouring",
    "oxidised_slag",
    "water_under_metal",
    "water_leak",
    "slopping",
    "carbon_monoxide",
)


def lance_of(plan: HeatPlan) -> list:
    """[(from minute, to minute, gap in m)] of the ordinary pattern, stretched to the plan."""
    pattern = standard_pattern()
    times = [t / pattern.end_min * plan.minutes for t in pattern.time_min]
    return list(zip(times[:-1], times[1:], pattern.height_m[:-1], strict=True))


def answers_to_samples(plan: HeatPlan) -> list:
    """[(°C, % C, what to do, oxygen Nm3, coolant kg)] where the sample lies so."""
    order, out = plan.order, []
    for by_c, by_pct in SAMPLES:
        temp_c, carbon = order.end_temp_c + by_c, order.end_c_pct + by_pct
        found = decide(
            temp_c,
            carbon,
            aim_temp_c=order.end_temp_c,
            aim_carbon_pct=order.end_c_pct,
            steel_t=plan.charge.steel.mass_kg / 1000.0,
            flow_nm3_min=order.works.oxygen.flow_nm3_min,
        )
        out.append((temp_c, carbon, found.action, found.oxygen_nm3.value, found.coolant_kg.value))
    return out


def page(plan: HeatPlan) -> str:
    """HTML of one page, A4 or Letter, black and white, without code."""
    order, heat = plan.order, plan.charge
    temp_sd, carbon = plan.band.get("temperature"), f"{plan.carbon_pct:.3f} %"
    band = "how sure: unknown, no heats of this works are fitted"
    if temp_sd is not None:
        band = f"± {1.96 * temp_sd:.0f} °C, 95 % of the works' own heats"
    phosphorus = f"{plan.p_pct:.4f} %, at most {order.end_p_pct:.4f} % is allowed"
    if plan.p_chance_pct is None:
        phosphorus += "; how sure: unknown"
    else:
        phosphorus += f"; {plan.p_chance_pct:.0f} of 100 such heats stay within it"
    slag = heat.slag.analysis_pct
    parts = ", ".join(f"{o} {slag[o]:.0f} %" for o in ("CaO", "SiO2", "FeO", "MgO") if o in slag)
    expected = [
        ("temperature", f"{plan.temp_c:.0f} °C; {band}"),
        ("carbon", carbon),
        ("phosphorus", phosphorus),
        ("steel", f"{heat.steel.mass_kg / 1000.0:.1f} t"),
        ("slag", f"{heat.slag.mass_kg / 1000.0:.1f} t: {parts}"),
        ("oxygen per tonne", f"{heat.per_t('oxygen'):.1f} Nm3/t"),
    ]
    money = account(heat, order.works)
    if money.money:
        expected.append(("what has a price", f"{money.total:.1f} {money.currency} per t of steel"))
    charge = [(name, f"{kg:.0f} kg") for name, kg in plan.weights_kg.items()]
    pct = order.hot_metal_pct
    read = ", ".join(f"{pct[e]:g} % {e}" for e in ("C", "Si", "Mn", "P", "S") if e in pct)
    charge.insert(1, ("its reading", f"{order.hot_metal_temp_c:.0f} °C, {read}"))
    charge.append(("oxygen", f"{plan.oxygen_nm3:.0f} Nm3 in {plan.minutes:.1f} min"))
    lance = [(f"{a:.1f} to {b:.1f} min", f"{h:.1f} m") for a, b, h in lance_of(plan)]
    samples = [
        (f"{t:.0f} °C, {c:.3f} % C", what, _amount(o2, "Nm3"), _amount(kg, "kg of scrap"))
        for t, c, what, o2, kg in answers_to_samples(plan)
    ]
    cautions = [f"{c.what}. {c.why}" for c in map(caution, HAZARDS)]
    body = (
        f"<h1>{escape(order.name)}: plan of a heat, {escape(order.works.name)}</h1>"
        + _beside(
            table(("Charge", ""), charge) + table(("Lance", "gap to the bath"), lance),
            table(("Expected", ""), expected),
        )
        + _beside(
            table(("If the sample says", "then", "oxygen", "coolant"), samples),
            table(("Done", "_" * 22), [(blank, "") for blank in BLANKS]),
        )
        + '<div style="font-size:75%"><h2>Before it is used</h2>'
        + f"{listed((*plan.remarks, *cautions))}</div>"
        + f"<p>{escape(DEFERRAL)}</p>"
    )
    return printed_page(f"{order.name}: plan of a heat", body)


def _beside(*parts):
    """Parts of a page side by side, in small print: all of it has to fit on one page."""
    parts = "".join(f"<div>{part}</div>" for part in parts)
    return f'<div style="display:flex;gap:2em;margin-bottom:1em;font-size:80%">{parts}</div>'


def _amount(x, unit):
    return f"{float(x):.0f} {unit}" if float(x) >= 0.5 else ""
