"""Calculations of the questions of lesson 13; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "end_point",
    __file__,
    {
        "iron": lambda record: record.decision.iron_kg.value,
        "probe_carbon": lambda oxygen_ppm: 0.0023 / (oxygen_ppm / 1e4),
        "scrap": lambda steel_t, hot_c: steel_t * hot_c / 1.69 / 1000.0,
    },
)
