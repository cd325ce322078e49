"""Lesson 09."""

QUESTION = "Should this hot metal be treated first?"
CAUTIONS = (
    "magnesium_fire",
    "carbide_acetylene",
    "lime_burns",
    "oxidised_slag",
    "oxygen_short",
    "hot_metal_pouring",
    "water_under_metal",
)
