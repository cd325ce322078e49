"""Lesson 00."""

QUESTION = "How do I work with this, and what can hurt me at a vessel?"
