"""Calculations of the questions of lesson 10; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "lance_and_jet",
    __file__,
    {
        "height": lambda record: 1000.0 * record.bath.momentum_number,
        "absolute": lambda gauge_kpa: gauge_kpa + 101.0,
        "wider": lambda new_mm, old_mm: 100.0 * ((new_mm / old_mm) ** 2 - 1.0),
    },
)
