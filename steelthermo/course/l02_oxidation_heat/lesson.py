"""Lesson 02."""

QUESTION = "Why does the process need no fuel?"
CAUTIONS = (
    "carbon_monoxide",
    "oxygen_pressure",
)
