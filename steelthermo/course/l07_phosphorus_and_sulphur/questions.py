"""Calculations of the questions of lesson 07; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "phosphorus_and_sulphur",
    __file__,
    {
        "iron": lambda record: record.left[record.line],
        "stays": lambda l_p, slag_kg_t, p_pct: p_pct / (1.0 + l_p * slag_kg_t / 1000.0),
        "back": lambda slag_kg_t, p2o5_pct: slag_kg_t * p2o5_pct * 0.436 * 10.0,
    },
)
