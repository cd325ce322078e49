"""Lesson 13."""

QUESTION = "Can I tap?"
