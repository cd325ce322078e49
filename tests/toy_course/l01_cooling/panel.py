"""Panel of lesson 01: coffee that cools in a room of 20 °C."""

from typing import NamedTuple

import numpy as np

from steelthermo.coursekit.panel import style

from .problems import after_c

SIZE_PX = 500, 300
MINUTES = np.linspace(0.0, 60.0, 61)


class Cup(NamedTuple):
    """temp_c: at MINUTES; drink_min: when it has come down to 60 °C."""

    temp_c: np.ndarray
    drink_min: float


def compute(given, at):
    temp_c = after_c(at.hot_c, 20.0, MINUTES, at.half_min)
    return Cup(temp_c, at.half_min * float(np.log2((at.hot_c - 20.0) / 40.0)))


def setup(fig):
    ax = style.axes(fig.add_subplot(), "time, min", "coffee, °C", (0, 60), (20, 100))
    return style.line(ax, 0, MINUTES, MINUTES)


def update(drawn, cup):
    drawn.set_ydata(cup.temp_c)


def sentence(cup):
    return f"It can be drunk after {cup.drink_min:.1f} min."


def numbers(cup):
    return [("60 °C after", cup.drink_min, "min")]


def alt(cup):
    return f"A falling line, {cup.temp_c[0]:.0f} to {cup.temp_c[-1]:.0f} °C."


def sources(cup):
    return ["celsius_zero_k"]
