"""Lesson 12."""

QUESTION = "What leaves at the mouth, and what is it worth?"
CAUTIONS = (
    "carbon_monoxide",
    "gas_explosion",
    "water_leak",
    "hot_lining",
    "water_under_metal",
)
