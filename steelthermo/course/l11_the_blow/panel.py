"""Panel of lesson 11: what happens minute by minute? Bath, slag, temperature and gas along the
blow, each with the band of outcomes, and a cursor in time.
"""

from collections import namedtuple
from dataclasses import replace
from functools import cache, lru_cache

import numpy as np
from matplotlib.patches import Polygon

from ... import blow, charge
from ...blow import compare, invented_heat, load
from ...charge import more_kj
from ...coursekit.panel import style
from ...coursekit.sheet import working_folder
from ...jet import LancePattern
from ...works import law_figures, mixing_words
from ..common import as_rows, heat_data, key_of
from ..pictures import axes, cursor, dot, made_of, parted
from . import inside

TITLE = "{question} A model ({works.name})"
SIZE_PX = 1080, 410
# Longest step of the integrator here: against steps a tenth as long the lines move by less than 0.6
# % of the width of their band, the edges of the band by 2.4 % at the most (iron oxide at one
# instant; 1.1 % else), as with 0.4 min, the end by 0.001 % C and 0.1 degC.
STEP_MIN = 0.5
# What is drawn: axes, key in blow.quantities(), name on the line, factor
LINES = (
    (0, "C", "C", 1.0),
    (0, "Si", "Si x 5", 5.0),
    (0, "Mn", "Mn x 5", 5.0),
    (0, "P", "P x 30", 30.0),
    (1, "temperature", "bath", 1.0),
    (2, "FeO", "FeO", 1.0),
    (2, "CaO", "CaO", 1.0),
    (2, "SiO2", "SiO2", 1.0),
    (3, "gas flow", "gas", 1.0),
)
AXES = (
    ("metal, %", (0.0, 5.0)),
    ("temperature, °C", (1250.0, 1750.0)),
    ("slag, %", (0.0, 70.0)),
    ("gas, Nm3/min", (0.0, 1.0)),
)
GAS_TOPS = (
    100.0,
    200.0,
    300.0,
    500.0,
    1000.0,
    2000.0,
    3000.0,
    5000.0,
    10_000.0,
)  # ends of its scale: few, for a new scale costs the picture twice the time
# Other published data that act on the heat of a blow, and how
HEATS = (
    "carbon_all",
    "feo_tables",
    "mno_line",
    "silicate_line",
    "silicate_hp11",
    "phosphate_vapour",
    "slag_solid",
    "slag_compounds",
)
HELP = (
    "The charge stays as planned. What other data take or give goes with the losses, evenly "
    "over the blow, so its middle is less sure than its end."
)
FOLDER = "heats"  # in the learner's working folder: a works' own measured heats, as CSV files


CHOSEN = "slag_exchange", "slag_oxygen_pct"  # parameters of the model with a slider


BANDS = (
    ("tuned: the works knows how its heats end", "tuned"),
    ("raw: every parameter as it stands, not verified", "raw"),
)


def measured_heats():
    """Choices of measured points: none, the invented heat, and every CSV file in the folder heats
    of the working folder.
    """
    own = sorted((working_folder() / FOLDER).glob("*.csv"))[:20]
    return (
        ("none", "none"),
        ("the invented heat", "invented"),
        *((path.name, str(path)) for path in own),
    )


def _points(chosen):
    return None if chosen == "none" else invented_heat() if chosen == "invented" else load(chosen)


def controls(works):
    out = {"measured": {"choices": measured_heats()}, "sure": {"choices": BANDS}}
    own = law_figures(works)
    for key in CHOSEN:
        p = blow.parameters()[key]
        cause = f"; {mixing_words(works.oxygen.bottom_nm3_min_t)}" if key == CHOSEN[0] else ""
        out[key] = {
            "unit": "" if p.unit == "1" else p.unit,
            "low": p.low,
            "high": p.high,
            "default": own.get(key, p.start),
            "why": f"{p.status}: the band of the model's parameter{cause}",
        }
    return out


Kept = namedtuple("Kept", "band raw drawn inside closure middle")
Shown = namedtuple("Shown", (*Kept._fields, "time", "at", "end", "now", "rate", "points", "vessel"))


def compute(works, at):
    """The band of one heat (kept for the last few settings, so that moving in time is quick), and
    where it stands at a time.
    """
    kept = _band(_Frozen(works), at._replace(time_min=None, measured=None))
    time = kept.band.time_min
    end = time[-1].item()
    now_min = min(at.time_min, end)

    def now(values):
        return np.interp(now_min, time, values).item()

    return Shown(
        *kept,
        time,
        now_min,
        end,
        {key: now(middle) for key, (middle, _, _) in kept.drawn.items()},
        now(kept.band.runs.carbon_rate_pct_min[0]),
        _points(at.measured),
        {key: now(values) for key, values in kept.inside.items()},
    )


class _Frozen:
    """A works profile as a key: two are the same where all their figures are, whatever the file is
    called.
    """

    def __init__(self, works):
        self.works = works
        self._figures = repr((works.name, works.sections, works.materials))

    def __eq__(self, other):
        return self._figures == other._figures

    def __hash__(self):
        return hash(self._figures)


@lru_cache(maxsize=16)
def _heat(frozen, temp_c, si_pct, data):
    works, other = frozen.works, key_of(data)
    pct = {**works.hot_metal.analysis_pct, "Si": si_pct}
    heat = charge.solve(works, hot_metal_temp_c=temp_c, hot_metal_pct=pct).for_tap(
        works.vessel.tap_t
    )
    return replace(heat, heat_loss_kj=heat.heat_loss_kj + more_kj(heat, other)) if other else heat


@lru_cache(maxsize=16)
def _band(frozen, at):
    works = frozen.works
    heat = _heat(frozen, at.hot_metal_temp_c, at.si_pct, at.data)
    usual = blow.standard_pattern()
    flow = works.oxygen.flow_nm3_min * at.flow_pct / 100.0
    heights = tuple(h + at.lance_m for h in usual.height_m)
    options = {
        "parameters": {name: getattr(at, name) for name in CHOSEN},
        "pattern": LancePattern(usual.time_min, heights, (flow,) * len(heights)),
        "oxygen_nm3": heat.oxygen_nm3,
        "step_min": STEP_MIN,
    }
    tuned = at.sure == "tuned"
    band = raw = blow.band(heat, works, together=not tuned, **options)
    if tuned:
        band = blow.tuned_band(raw, heat, works, **options)
    keys = (*(line[1] for line in LINES), "CO2")
    drawn = {key: (band.middle(key), *band.envelope(key)) for key in keys}
    return Kept(
        band,
        raw,
        drawn,
        inside.of_run(band.runs, 0),
        cache(band.closure),
        lambda: blow.solve(heat, works, **options),
    )


def _chart(k):
    """Chart k of four: its lines, each in its band, with the points measured, and the cursor."""

    def chart(fig):
        place = 0.094 + 0.4929 * (k > 1), 0.12 + 0.4543 * (k % 2 == 0), 0.3381, 0.3957
        label, limits = AXES[k]
        ax = axes(fig, place, "", label, (0, 30), limits)
        if k % 2:
            ax.set_xlabel("time from the first oxygen, min")
        else:
            ax.tick_params(labelbottom=False)
        own = [line for line in LINES if line[0] == k]
        lines = [
            style.line(ax, n, [0, 1], [0, 0], markevery=(1 + 2 * n, 7)) for n in range(len(own))
        ]  # by count: quicker than by distance
        bands, dots = [], []
        for n, line in enumerate(lines):
            look = {"alpha": 0.16, "linewidth": 0, "animated": True, "zorder": 1}
            band = Polygon([[0, 0], [1, 0]], facecolor=line.get_color(), **look)
            bands.append(ax.add_patch(band))
            look = {"markerfacecolor": style.PAPER, "markeredgewidth": 1.5, "markersize": 6}
            dots.append(dot(ax, n, line.get_marker(), **look))
        labels = style.EndLabels(ax, lines, [line[2] for line in own])
        upright = cursor(ax)

        def show(record):
            time, points = record.time, record.points
            there_and_back = np.concatenate([time, time[::-1]])
            for (_, key, _, factor), line, band, mark in zip(own, lines, bands, dots, strict=True):
                middle, low, high = (factor * side for side in record.drawn[key])
                line.set_data(time, middle)
                around = np.concatenate([low, high[::-1]])
                band.set_xy(np.column_stack([there_and_back, around]))
                known = points is not None and key in points.quantities
                at, measured = points.of(key) if known else ((), np.empty(0))
                mark.set_data(at, factor * measured)
            upright.set_xdata([record.at, record.at])
            right, top = float(np.ceil(record.end / 10.0) * 10.0), limits[1]
            if key == "gas flow":
                gas = record.drawn[key][2].max()
                top = next(t for t in GAS_TOPS if t >= gas or t == GAS_TOPS[-1])
            ax.set(xlim=(0, right), ylim=(limits[0], top))
            labels.place()
            return right, top

        return show

    return chart


def drawing(works):
    """setup and update of the picture of a works."""
    charts = [_chart(k) for k in range(4)]
    return made_of(parted(0.715, charts, [inside.chart_for(works.vessel.tap_t)]))


def _ends(record, key, digits):
    _, low, high = (side[-1] for side in record.drawn[key])
    return f"{low:.{digits}f} to {high:.{digits}f}"


def sentence(record):
    n = record.now
    return (
        f"Model, {record.at:.1f} min of {record.end:.1f}: {n['C']:.2f} % C (falling "
        f"{record.rate:.2f} % per min), {n['P']:.3f} % P, "
        f"{n['temperature']:.0f} °C, slag with {n['FeO']:.0f} % FeO, {n['gas flow']:.0f} Nm3/min "
        "of gas. "
        f"At the end the band spans {_ends(record, 'C', 2)} % C and "
        f"{_ends(record, 'temperature', 0)} °C."
    )


def _digits(quantity):
    """Decimals that a quantity of the blow is worth: a sample of the metal is read to 0.001 %."""
    return 3 if quantity["of"] == "metal" and quantity["unit"] == "%" else 0


def numbers(record):
    known = blow.quantities()
    rows = [
        (f"{known[key]['what']}, now", f"{value:.{_digits(known[key])}f}", known[key]["unit"])
        for key, value in record.now.items()
    ]
    rows += [
        (
            f"{known[key]['what']}, band at the end",
            _ends(record, key, _digits(known[key])),
            known[key]["unit"],
        )
        for _, key, _, _ in LINES
    ]
    for key in ("C", "temperature", "P", "FeO"):
        name, (low, high) = next(iter(record.raw.effects(key).items()))
        rows.append(
            (
                f"{known[key]['what']} hangs most on",
                blow.parameters()[name].what,
                "",
                f"{low:+.2g} to {high:+.2g} {known[key]['unit']}, alone and not tuned",
            )
        )
    middle = record.middle()
    foam = np.interp(record.at, middle.time_min, blow.foam_trend(middle))
    rows.append(
        ("foam, now", f"{foam:.1f}", "", "times its mean over the blow: a trend, not verified")
    )
    rows += [(remark, "", "") for remark in middle.remarks]
    if record.points is not None:
        for key, c in compare(middle, record.points).items():
            rows.append(
                (
                    f"{key}: model less points, mean",
                    f"{c.bias:+.3g}",
                    c.unit,
                    f"root mean square {c.rms:.3g}, worst {c.worst:+.3g}, {c.count} points",
                )
            )
        rows += [
            (f"on reading the points ({n})", note, "")
            for n, note in enumerate(record.points.notes, 1)
        ]
    return rows


def alt(record):
    return (
        "Four charts with the same minutes along the bottom: metal (carbon falls to nearly "
        "nothing; silicon goes first; manganese and phosphorus dip "
        f"and come back), temperature rising to {record.drawn['temperature'][0][-1]:.0f} °C, slag, "
        "and gas flow; each line lies in a shaded band of "
        "outcomes, and a cursor marks the time. " + inside.alt(record)
    )


def moved(record):
    """What other data move: the end of the blow, and the bath now."""
    ends = record.drawn["temperature"][0][-1], record.drawn["C"][0][-1]
    return as_rows(f"""
        end of the blow | {ends[0]:.1f} °C
        carbon at the end | {ends[1]:.3f} %
        bath at the cursor | {record.now["temperature"]:.1f} °C
    """)


def closure(record):
    worst = record.closure()
    return [
        ("Mass of every element in all runs", max(v for k, v in worst.items() if k != "heat")),
        ("Heat energy in all runs", worst["heat"]),
    ]


def sources(record):
    return blow.parameters().values()


def data():
    return heat_data(*HEATS, help=HELP)
