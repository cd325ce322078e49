"""Lesson 13."""

QUESTION = "Can I tap?"
CAUTIONS = (
    "sampling",
    "oxidised_slag",
    "water_under_metal",
    "open_vessel",
    "tapping",
    "vessel_moves",
)
