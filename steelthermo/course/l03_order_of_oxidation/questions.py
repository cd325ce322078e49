"""Calculations of the questions of lesson 03; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "order_of_oxidation", __file__, {"silica": lambda record: record.crossings["Si"]}
)
