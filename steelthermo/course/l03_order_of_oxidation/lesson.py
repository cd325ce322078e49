"""Lesson 03."""

QUESTION = "Which element burns first, and when does carbon take over?"
CAUTIONS = (
    "slopping",
    "carbon_monoxide",
    "oxidised_slag",
)
