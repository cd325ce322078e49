"""Calculations of the questions of lesson 12; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "off_gas",
    __file__,
    {
        "one_per_cent": lambda record: record.melted_kg,
        "gas": lambda carbon_kg: carbon_kg / 12.011 * 22.414,
        "worth": lambda co_pct: co_pct / 100.0 * 12.63,
    },
)
