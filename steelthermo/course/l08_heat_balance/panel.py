"""Panel of lesson 08: how much scrap can this hot metal melt? The heat account of a charge, in and
out, and the scrap it allows.
"""

from collections import namedtuple

from ...charge import solve_by
from ...coursekit.panel import style
from ..common import closing, heat_data, key_of

SIZE_PX = 820, 380
SCRAP, TEMPERATURE, ORE, COKE = "scrap", "temperature", "coolant", "fuel"
# Items of the account, drawn from top to bottom: name on the picture, items of
# Charge.heat_account() it holds
COMES = (
    ("hot metal", ("hot metal",)),
    ("C to CO", ("C to CO",)),
    ("C to CO2", ("C to CO2",)),
    ("Si and its slag", ("Si to SiO2", "silica with lime to 2CaO.SiO2")),
    ("Fe to oxides", ("Fe to FeO and Fe2O3",)),
    ("Mn, P and others", None),
)
GOES = (
    ("steel", ("steel",)),
    ("gas", ("gas",)),
    ("slag", ("slag",)),
    ("ore, carbonates", ("iron oxides broken up", "carbonates broken up")),
    ("losses", ("losses",)),
    ("dust and others", None),
)


def controls(works):
    asked = (
        ("how much scrap", SCRAP),
        ("which end temperature", TEMPERATURE),
        ("how much ore", ORE),
        ("how much coke", COKE),
    )
    return {
        "find": {"choices": asked},
        "end_temp_c": {"used": lambda settings: settings["find"] != TEMPERATURE},
        "scrap_pct": {
            "default": 100.0 - works.hot_metal.share_pct,
            "used": lambda settings: settings["find"] != SCRAP,
        },
    }


Shown = namedtuple("Shown", "si_pct heat asked come go")


def compute(
    works, find, hot_metal_temp_c, si_pct, c_pct, end_temp_c, scrap_pct, co2_pct, heat_mj_t, data
):
    """One charge, with its heat account in MJ per t of steel."""
    pct = {**works.hot_metal.analysis_pct, "Si": si_pct, "C": c_pct}
    solved = solve_by(
        works,
        key_of(data),
        find=find,
        hot_metal_pct=pct,
        hot_metal_temp_c=hot_metal_temp_c,
        end_temp_c=end_temp_c,
        scrap_kg=None if find == SCRAP else 1000.0 * scrap_pct / (100.0 - scrap_pct),
        co2_pct=co2_pct,
        heat_mj_t=heat_mj_t,
    ).for_tap(1.0)
    come, go = solved.heat_account()
    return Shown(si_pct, heat=solved, asked=find, come=_grouped(come, COMES), go=_grouped(go, GOES))


def _grouped(account, items):
    """Sums of the account by the items drawn; the item without a list takes what is left."""
    sums = [sum(account.get(name, 0.0) for name in names) if names else 0.0 for _, names in items]
    rest = next(k for k, (_, names) in enumerate(items) if names is None)
    sums[rest] = sum(account.values()) - sum(sums)
    return sums


Artists = namedtuple("Artists", "sides scrap scrap_text")


Side = namedtuple("Side", "bars texts")


def setup(fig):
    left, right, scrap = fig.subplots(
        1,
        3,
        gridspec_kw={
            "left": 0.165,
            "right": 0.97,
            "bottom": 0.15,
            "top": 0.89,
            "wspace": 0.75,
            "width_ratios": (5, 5, 1.1),
        },
    )
    sides = []
    for ax, items, title in ((left, COMES, "Heat that comes"), (right, GOES, "Heat that goes")):
        style.axes(ax, "heat, MJ per t of steel", "", (0, 1750), (len(items) - 0.4, -0.6), title)
        ax.set_yticks(range(len(items)), [name for name, _ in items])
        ax.grid(axis="y", visible=False)
        bars = style.bars(ax, range(len(items)), [0] * len(items), numbers=[0] * len(items))
        texts = [
            style.figures(ax, 0, k, "", va="center", ha="left", fontsize=9.5)
            for k in range(len(items))
        ]
        sides.append(Side(bars, texts))
    style.axes(scrap, "", "scrap in the charge, %", (-0.6, 0.6), (0, 40), "Scrap")
    scrap.set_xticks([])
    scrap.axhspan(20, 30, facecolor=style.GRID, zorder=0)
    scrap.set_xlabel("grey:\nusual", fontsize=8.5)
    (bar,) = style.bars(scrap, [0], [0], numbers=[1], horizontal=False)
    text = style.figures(scrap, 0, 0, "", ha="center", va="bottom", fontsize=9.5)
    return Artists(sides, scrap=bar, scrap_text=text)


def update(artists, record):
    for side, heats in zip(artists.sides, (record.come, record.go), strict=True):
        for bar, text, heat in zip(side.bars, side.texts, heats, strict=True):
            bar.set_width(heat)
            text.set_text(f"{heat:.0f}")
            text.set_x(max(heat, 0.0) + 20)
    share = record.heat.scrap_share_pct
    artists.scrap.set_height(share)
    artists.scrap_text.set_text(f"{share:.1f}")
    artists.scrap_text.set_y(share + 0.4)


def sentence(record):
    h = record.heat
    said = {
        SCRAP: (
            f"This hot metal melts {h.scrap_share_pct:.1f} % scrap ({h.scrap.mass_kg:.0f} kg "
            f"per t of steel) and ends at {h.temp_c:.0f} °C"
        ),
        TEMPERATURE: f"With {h.scrap_share_pct:.1f} % scrap the heat ends at {h.temp_c:.0f} °C",
        ORE: (
            f"With {h.scrap_share_pct:.1f} % scrap the heat needs {h.coolant.mass_kg:.1f} kg ore "
            f"per t of steel to end at {h.temp_c:.0f} °C"
        ),
        COKE: (
            f"With {h.scrap_share_pct:.1f} % scrap the heat needs {h.fuel.mass_kg:.1f} kg coke "
            f"per t of steel to end at {h.temp_c:.0f} °C"
        ),
    }[record.asked]
    return (
        f"{said}; it takes {h.oxygen_nm3:.1f} Nm3 oxygen and {h.lime.mass_kg:.0f} kg lime per t "
        "of steel."
    )


def numbers(record):
    h = record.heat
    rows = [
        ("Hot metal", f"{h.hot_metal.mass_kg:.0f}", "kg/t"),
        ("Scrap", f"{h.scrap.mass_kg:.0f}", "kg/t"),
        ("Lime", f"{h.lime.mass_kg:.1f}", "kg/t"),
        ("Burnt dolomite", f"{h.dolomite.mass_kg:.1f}", "kg/t"),
        ("Ore", f"{h.coolant.mass_kg:.1f}", "kg/t"),
        ("Coke", f"{h.fuel.mass_kg:.1f}", "kg/t"),
        ("Oxygen", f"{h.oxygen_nm3:.1f}", "Nm3/t"),
        ("Slag", f"{h.slag.mass_kg:.0f}", "kg/t"),
        ("Off-gas", f"{h.gas.total_nm3:.1f}", "Nm3/t"),
        ("End temperature", f"{h.temp_c:.0f}", "°C"),
    ]
    if h.other_data_kj:
        rows.append(
            ("Heat the data chosen take beyond the kit's", f"{h.other_data_kj / 1000:.2f}", "MJ/t")
        )
    for title, items, heats in (("comes", COMES, record.come), ("goes", GOES, record.go)):
        rows += [
            (f"Heat that {title}: {name}", f"{heat:.0f}", "MJ/t")
            for (name, _), heat in zip(items, heats, strict=True)
        ]
    return rows


def alt(record):
    return (
        "Two sets of horizontal bars in MJ per t of steel, heat that comes and heat that goes, and "
        "one upright bar of the scrap share. "
        f"Hot metal brings {record.come[0]:.0f}, carbon {record.come[1] + record.come[2]:.0f}, "
        f"silicon {record.come[3]:.0f}; steel takes {record.go[0]:.0f}."
    )


def moved(record):
    """What other data move: the answer, whichever was asked for, and the oxygen."""
    h = record.heat
    answer = {
        SCRAP: ("scrap in the charge", f"{h.scrap_share_pct:.2f} %"),
        TEMPERATURE: ("end temperature", f"{h.temp_c:.1f} °C"),
        ORE: ("ore", f"{h.coolant.mass_kg:.2f} kg/t"),
        COKE: ("coke", f"{h.fuel.mass_kg:.2f} kg/t"),
    }[record.asked]
    return [answer, ("oxygen", f"{h.oxygen_nm3:.2f} Nm3/t")]


def closure(record):
    return closing(record.heat)


def sources(record):
    return (record.heat,)


def data():
    return heat_data()
