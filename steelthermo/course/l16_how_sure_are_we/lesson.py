"""Lesson 16."""

QUESTION = "How far can I trust these numbers?"
CAUTIONS = (
    "sampling",
    "tapping",
)
