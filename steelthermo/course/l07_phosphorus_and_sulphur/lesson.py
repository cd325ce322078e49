"""Lesson 07."""

QUESTION = "Where do phosphorus, sulphur and manganese go?"
CAUTIONS = (
    "oxidised_slag",
    "sampling",
    "slopping",
    "lime_burns",
    "tapping",
)
