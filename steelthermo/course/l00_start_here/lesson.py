"""Lesson 00."""

QUESTION = "How do I work with this, and what can hurt me at a vessel?"
CAUTIONS = (
    "water_under_metal",
    "carbon_monoxide",
    "oxygen_pressure",
    "tapping",
    "oxidised_slag",
    "vessel_moves",
)
