"""Calculations of the questions of lesson 04; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "oxygen_demand",
    __file__,
    {
        "co2": lambda record: record.need.blown_nm3,
        "to_gas": lambda carbon_kg, co2_pct: (
            carbon_kg / 12.011 * (1.0 + co2_pct / 100.0) / 2.0 * 22.414
        ),
        "how_long": lambda need_nm3_t, steel_t, flow_nm3_min: need_nm3_t * steel_t / flow_nm3_min,
    },
)
