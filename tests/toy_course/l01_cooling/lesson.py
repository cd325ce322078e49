"""Lesson 01."""

QUESTION = "When can I drink my coffee?"
