"""Calculations of the questions of lesson 17; their words stand in questions.toml."""

from math import sqrt

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "own_heats",
    __file__,
    {
        "loss": lambda record: record.means["temperature"],
        "chance": lambda n, scatter: scatter / sqrt(n),
    },
)
