"""Calculations of the questions of lesson 08; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "heat_balance", __file__, {"silicon": lambda record: record.heat.scrap_share_pct}
)
