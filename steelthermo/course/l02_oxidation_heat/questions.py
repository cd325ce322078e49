"""Calculations of the questions of lesson 02; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "oxidation_heat",
    __file__,
    {
        "hotter": lambda record: record.chosen["C to CO"],
        "silicon_oxygen": lambda silicon_kg: silicon_kg / 28.09 * 22.414,
    },
)
