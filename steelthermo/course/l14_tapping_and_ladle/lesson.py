"""Lesson 14."""

QUESTION = "How do I get the steel to its analysis?"
CAUTIONS = (
    "tapping",
    "carbon_on_oxidised_steel",
    "wet_additions",
    "oxygen_short",
    "dust",
    "vessel_moves",
)
