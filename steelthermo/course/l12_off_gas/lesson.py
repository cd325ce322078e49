"""Lesson 12."""

QUESTION = "What leaves at the mouth, and what is it worth?"
