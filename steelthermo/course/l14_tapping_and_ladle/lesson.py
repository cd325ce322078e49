"""Lesson 14."""

QUESTION = "How do I get the steel to its analysis?"
