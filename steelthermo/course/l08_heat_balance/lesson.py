"""Lesson 08."""

QUESTION = "How much scrap can this hot metal melt?"
CAUTIONS = (
    "water_under_metal",
    "hot_metal_pouring",
    "carbon_monoxide",
    "oxidised_slag",
)
