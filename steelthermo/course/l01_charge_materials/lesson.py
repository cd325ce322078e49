"""Lesson 01."""

QUESTION = "What goes into the vessel?"
CAUTIONS = (
    "water_under_metal",
    "scrap_surprise",
    "hot_metal_pouring",
    "oxidised_slag",
    "lime_burns",
    "ferrosilicon_gas",
)
