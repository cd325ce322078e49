"""Lesson 05."""

QUESTION = "Why oxygen and not air?"
CAUTIONS = (
    "oxygen_rich",
    "oxygen_short",
    "oxygen_pressure",
    "carbon_monoxide",
    "water_under_metal",
)
