"""Calculations of the questions of lesson 16; their words stand in questions.toml."""

from math import hypot

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "how_sure_are_we",
    __file__,
    {
        "silicon": lambda record: record.heats.spread("temperature"),
        "together": lambda a, b: hypot(a, b),
    },
)
