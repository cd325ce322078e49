"""Lesson 15."""

QUESTION = "Can I take a heat from hot metal to ladle?"
