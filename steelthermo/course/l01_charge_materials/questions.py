"""Calculations of the questions of lesson 01; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "charge_materials",
    __file__,
    {
        "more_hot_metal": lambda record: record.mixed["C"],
        "phosphorus_kg": lambda hot_metal_t, p_pct: 10.0 * hot_metal_t * p_pct,
    },
)
