"""Lesson 11."""

QUESTION = "What happens minute by minute?"
