"""Lesson 09."""

QUESTION = "Should this hot metal be treated first?"
