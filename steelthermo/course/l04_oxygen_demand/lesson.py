"""Lesson 04."""

QUESTION = "How much oxygen, and how long is the blow?"
CAUTIONS = (
    "oxygen_pressure",
    "carbon_monoxide",
    "water_under_metal",
)
