"""Lesson 11."""

QUESTION = "What happens minute by minute?"
CAUTIONS = (
    "slopping",
    "carbon_monoxide",
    "water_leak",
    "open_vessel",
    "oxygen_pressure",
    "oxygen_short",
)
