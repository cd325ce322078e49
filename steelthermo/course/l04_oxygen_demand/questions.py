"""Calculations of the questions of lesson 04; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "oxygen_demand",
    __file__,
    {
        "co2": lambda record: record.need.blown_nm3,
        "silicon": lambda silicon_kg: silicon_kg / 28.086 * 22.414,
        "how_long": lambda need_nm3_t, steel_t, flow_nm3_min: need_nm3_t * steel_t / flow_nm3_min,
    },
)
