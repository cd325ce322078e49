"""Panel of lesson 08: how much scrap can this hot metal melt? The heat account of a charge, in and
out, and the scrap it allows.
"""

from collections import namedtuple

from ...base import quietly
from ...charge import law_band, slag_terms
from ...coursekit.panel import style
from ..common import as_rows, charge_at, closing, heat_data
from ..pictures import Rows, axes, made_of

SIZE_PX = 1080, 380
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
    ("slag", ("slag as compounds", "slag melted and dissolved")),
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


Shown = namedtuple("Shown", "at heat come go melting")


def compute(works, at):
    """One charge, with its heat account in MJ per t of steel."""
    scrap = None if at.find == SCRAP else 1000.0 * at.scrap_pct / (100.0 - at.scrap_pct)
    heat = charge_at(works, at, find=at.find, scrap_kg=scrap).for_tap(1.0)
    come, go = heat.heat_account()
    return Shown(at, heat, _grouped(come, COMES), _grouped(go, GOES), slag_terms(heat))


def _grouped(account, items):
    """Sums of the account by the items drawn; the item without a list, the last, takes what is
    left.
    """
    sums = {name: sum(account.get(key, 0.0) for key in keys or ()) for name, keys in items}
    return sums | {items[-1][0]: sum(account.values()) - sum(sums.values())}


def _account(left, title, items, side):
    """A chart of one side of the account."""

    def chart(fig):
        place, names = (left, 0.15, 0.2417, 0.74), [*(name for name, _ in items), "all together"]
        looks = [0] * len(items) + [1]
        rows = Rows(fig, place, "heat, MJ per t of steel", (0, 2250), title, names, looks)

        def show(record):
            heats = [*getattr(record, side).values()]
            rows.show([*heats, sum(heats)], "{:.0f}")

        return show

    return chart


def _scrap(fig):
    place, label = (0.9168, 0.15, 0.0532, 0.74), "scrap in the charge, %"
    ax = axes(fig, place, "", label, (-0.6, 0.6), (0, 40), "Scrap")
    ax.set_xticks([])
    ax.axhspan(20, 30, facecolor=style.GRID, zorder=0)
    ax.set_xlabel("grey:\nusual", fontsize=8.5)
    (bar,) = style.bars(ax, [0], [0], numbers=[1], horizontal=False)
    text = style.figures(ax, 0, 0, "", ha="center", va="bottom", fontsize=9.5)

    def show(record):
        share = record.heat.scrap_share_pct
        bar.set_height(share)
        text.set_text(f"{share:.1f}")
        text.set_y(share + 0.4)

    return show


setup, update = made_of(
    _account(0.165, "Heat that comes", COMES, "come"),
    _account(0.5409, "Heat that goes", GOES, "go"),
    _scrap,
)


def sentence(record):
    h = record.heat
    end, share = f"end at {h.temp_c:.0f} °C", f"{h.scrap_share_pct:.1f} % scrap"

    def needs(kg, what):
        return f"With {share} the heat needs {kg:.1f} kg {what} per t of steel to {end}"

    said = {
        SCRAP: (
            f"This hot metal melts {share} ({h.scrap.mass_kg:.0f} kg per t of steel) and ends at "
            f"{h.temp_c:.0f} °C"
        ),
        TEMPERATURE: f"With {share} the heat ends at {h.temp_c:.0f} °C",
        ORE: needs(h.coolant.mass_kg, "ore"),
        COKE: needs(h.fuel.mass_kg, "coke"),
    }[record.at.find]
    cold, sigma = record.melting["together"]
    on = ", ".join(told.partition(":")[0] for told in _remarks(h))
    remarks = f" A melter would remark on {on}: see Show numbers." if on else ""
    return (
        f"{said}; it takes {h.oxygen_nm3:.1f} Nm3 oxygen and {h.lime.mass_kg:.0f} kg lime per t "
        f"of steel. Melting its slag takes heat energy worth {cold:.0f} ± {sigma:.0f} °C.{remarks}"
    )


def _remarks(heat):
    """What a melter would say of the heat."""
    with quietly():  # it tries equations wherever the controls stand
        return heat.checks()


def _by_memory(heat):
    """How far what is not verified moves the end temperature, in words; '' where it does not."""
    band = law_band(heat)
    if not band.by:
        return ""
    low, high = band.temp_c
    return f"{low:.0f} to {high:.0f} by figures of the law at the end that are not verified"


_MELTING = {"together": "the slag being liquid, all terms together"}


def numbers(record):
    h = record.heat
    rows = as_rows(f"""
        Hot metal | {h.hot_metal.mass_kg:.0f} | kg/t
        Scrap | {h.scrap.mass_kg:.0f} | kg/t
        Lime | {h.lime.mass_kg:.1f} | kg/t
        Burnt dolomite | {h.dolomite.mass_kg:.1f} | kg/t
        Ore | {h.coolant.mass_kg:.1f} | kg/t
        Coke | {h.fuel.mass_kg:.1f} | kg/t
        Oxygen | {h.oxygen_nm3:.1f} | Nm3/t
        Slag | {h.slag.mass_kg:.0f} | kg/t
        Off-gas | {h.gas.total_nm3:.1f} | Nm3/t
        End temperature | {h.temp_c:.0f} | °C | {_by_memory(h)}
    """)
    if h.other_data_kj:
        rows.append(
            ("Heat the data chosen take beyond the kit's", f"{h.other_data_kj / 1000:.2f}", "MJ/t")
        )
    rows += [
        (f"Colder by {_MELTING.get(what, f'the {what} of the slag, melted and dissolved')}",
         f"{cold:.1f} ± {sigma:.1f}", "°C")
        for what, (cold, sigma) in record.melting.items()
    ]  # fmt: skip
    rows += [(f"remark {n}", "", "", told) for n, told in enumerate(_remarks(h), 1)]
    return rows + [
        (f"Heat that {title}: {name}", f"{heat:.0f}", "MJ/t")
        for title, heats in (("comes", record.come), ("goes", record.go))
        for name, heat in heats.items()
    ]


def alt(record):
    come = record.come
    return (
        "Two sets of horizontal bars in MJ per t of steel, heat that comes and heat that goes, and "
        "one upright bar of the scrap share. "
        f"Hot metal brings {come['hot metal']:.0f}, carbon {come['C to CO'] + come['C to CO2']:.0f}"
        f", silicon {come['Si and its slag']:.0f}; steel takes {record.go['steel']:.0f}. "
        f"All that comes is {sum(come.values()):.0f}, all that goes {sum(record.go.values()):.0f}."
    )


def moved(record):
    """What other data move: the answer, whichever was asked for, and the oxygen."""
    h = record.heat
    answer = {
        SCRAP: ("scrap in the charge", f"{h.scrap_share_pct:.2f} %"),
        TEMPERATURE: ("end temperature", f"{h.temp_c:.1f} °C"),
        ORE: ("ore", f"{h.coolant.mass_kg:.2f} kg/t"),
        COKE: ("coke", f"{h.fuel.mass_kg:.2f} kg/t"),
    }[record.at.find]
    return [answer, ("oxygen", f"{h.oxygen_nm3:.2f} Nm3/t")]


def closure(record):
    return closing(record.heat)


def sources(record):
    return (record.heat,)


def data():
    return heat_data()
