"""Calculations of the questions of lesson 09; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "pretreatment",
    __file__,
    {
        "steel": lambda record: record.comparison.steel_s_pct[1],
        "dose": lambda from_pct, to_pct, share_pct: (
            10.0 * 0.758 * (from_pct - to_pct) / (share_pct / 100.0)
        ),
    },
)
