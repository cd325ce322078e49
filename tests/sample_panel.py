"""A panel with invented arithmetic, for the tests of the panel framework and for tests/latency.py:
five lines, two axes, every feature.
"""

import warnings
from types import SimpleNamespace

import numpy as np

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.coursekit.panel import Control, Drawing, Panel, choice, data_choice, style

CONTROLS = (
    Control(
        "start_c_pct", "Carbon at the start", "%", 3.5, 4.9, 0.05, 4.3, "invented for the test"
    ),
    Control(
        "start_temp_c",
        "Temperature at the start",
        "°C",
        1250.0,
        1450.0,
        5.0,
        1340.0,
        "invented for the test",
    ),
    Control(
        "flow_nm3_min",
        "Oxygen flow",
        "Nm3/min",
        200.0,
        800.0,
        10.0,
        500.0,
        "invented for the test",
        help="Above 700 the made-up rule is extrapolated.",
    ),
    Control("losses_pct", "Heat lost", "%", 0.0, 10.0, 0.5, 3.0, "invented for the test"),
    choice(
        "vessel", "Vessel", (("small", 100.0), ("large", 180.0)), 180.0, "invented for the test"
    ),
)
DATA = data_choice(
    (("made-up decay, faster", "janaf"), ("made-up decay, the same", "crc")),
    "invented for the test",
)
TIME_MIN = np.linspace(0.0, 20.0, 121)
NAMES = ("C", "Si", "Mn", "P", "Cr")


def compute(start_c_pct, start_temp_c, flow_nm3_min, losses_pct, vessel, data="own"):
    """Five decaying lines and a temperature; no physics."""
    if losses_pct == 10.0:
        raise InputError("heat lost: 10 % was given; this made-up vessel freezes at that.")
    if losses_pct == 9.5:
        raise ZeroDivisionError("made up")
    if flow_nm3_min > 700.0:
        warnings.warn(
            "oxygen flow: above 700 Nm3/min the made-up rule is not valid.",
            ExtrapolationWarning,
            stacklevel=2,
        )
    rate = flow_nm3_min / vessel / (18.0 if data == "janaf" else 20.0)
    lines = [
        start * np.exp(-rate * factor * TIME_MIN)
        for start, factor in zip((start_c_pct, 0.6, 0.4, 0.1, 0.9), (1, 6, 3, 2, 1.5), strict=True)
    ]
    temp_c = start_temp_c + (1.0 - losses_pct / 100.0) * 320.0 * (1.0 - np.exp(-rate * TIME_MIN))
    return SimpleNamespace(lines=lines, temp_c=temp_c, rate=rate)


def setup(fig):
    left, right = fig.subplots(
        1,
        2,
        gridspec_kw={
            "left": 0.08,
            "right": 0.94,
            "bottom": 0.16,
            "top": 0.9,
            "wspace": 0.42,
            "width_ratios": (3, 2),
        },
    )
    style.axes(left, "time, min", "content, %", (0, 20), (0, 5), "What is left in the metal")
    style.axes(right, "time, min", "temperature, °C", (0, 20), (1200, 1800), "Bath")
    lines = [style.line(left, k, TIME_MIN, 0 * TIME_MIN) for k in range(5)]
    return SimpleNamespace(
        lines=lines,
        labels=style.EndLabels(left, lines, NAMES),
        temp=style.line(right, 1, TIME_MIN, 0 * TIME_MIN),
    )


def update(artists, record):
    for line, y in zip(artists.lines, record.lines, strict=True):
        line.set_ydata(y)
    artists.labels.place()
    artists.temp.set_ydata(record.temp_c)


DRAWING = Drawing(setup, update)


def sentence(record):
    return (
        f"After 20 min {record.lines[0][-1]:.3f} % carbon is left, at {record.temp_c[-1]:.0f} °C."
    )


def numbers(record):
    return [
        ("Carbon at the end", record.lines[0][-1], "%"),
        ("Temperature at the end", f"{record.temp_c[-1]:.0f}", "°C", "invented"),
    ]


def moved(record):
    return [("carbon at the end", f"{record.lines[0][-1]:.3f} %"), ("made-up constant", "1")]


def closure(record):
    return [("Mass", 2e-13), ("Heat", 3e-10 * record.rate)]


def sample(**changes):
    """The panel; changes replace parts of its declaration."""
    parts = dict(
        name="sample",
        title="What is left after the blow?",
        controls=CONTROLS,
        compute=compute,
        drawing=DRAWING,
        sentence=sentence,
        numbers=numbers,
        alt="Left: five falling lines of content against time. Right: the rising temperature.",
        closure=closure,
        sources=("gas_constant",),
        data=DATA,
        moved=moved,
    )
    return Panel(**(parts | changes))
