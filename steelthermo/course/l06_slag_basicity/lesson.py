"""Lesson 06."""

QUESTION = "How much lime, and why?"
MORE_PANELS = ("slag_flow",)
