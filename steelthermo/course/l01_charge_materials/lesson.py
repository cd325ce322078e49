"""Lesson 01."""

QUESTION = "What goes into the vessel?"
CAUTIONS = (
    "water_under_metal",
    "scrap_surprise",
    "hot_metal_pouring",
    "lime_burns",
    "ferrosilicon_gas",
)
