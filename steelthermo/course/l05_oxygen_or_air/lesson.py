"""Lesson 05."""

QUESTION = "Why oxygen and not air?"
