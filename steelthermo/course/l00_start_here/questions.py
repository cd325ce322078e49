"""Calculations of the questions of lesson 00; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "start_here", __file__, {"silicon": lambda record: record.heat.lime.mass_kg}
)
