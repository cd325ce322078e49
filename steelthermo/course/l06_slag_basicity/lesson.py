"""Lesson 06."""

QUESTION = "How much lime, and why?"
MORE_PANELS = ("slag_flow",)
CAUTIONS = (
    "lime_burns",
    "dust",
    "fluorspar",
    "slopping",
)
