"""Lesson 10."""

QUESTION = "What does the lance do?"
CAUTIONS = (
    "oxygen_pressure",
    "water_leak",
    "falling_skull",
    "slopping",
)
