"""Calculations of the questions of lesson 05; their words stand in questions.toml."""

from math import sqrt

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "oxygen_or_air",
    __file__,
    {
        "purer": lambda record: record.ppm,
        "times": lambda purity_pct: sqrt((100.0 - purity_pct) / 0.5),
    },
)
