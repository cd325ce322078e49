"""Calculations of the questions of lesson 06; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "slag_basicity",
    __file__,
    {
        "basicity": lambda record: record.heat.lime.mass_kg,
        "available": lambda cao_pct, sio2_pct, basicity: cao_pct - basicity * sio2_pct,
        "silica": lambda more_pct: 10.0 * more_pct * 60.08 / 28.09,
    },
)
