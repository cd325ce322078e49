"""Lesson 01."""

QUESTION = "What goes into the vessel?"
