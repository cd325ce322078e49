"""Calculations of the questions of lesson 14; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "tapping_and_ladle",
    __file__,
    {
        "from_slag": lambda record: record.pct["P"],
        "more_aluminium": lambda high_ppm, low_ppm, share_pct: (
            (high_ppm - low_ppm) / 1000.0 * 1.124 / (share_pct / 100.0)
        ),
    },
)
