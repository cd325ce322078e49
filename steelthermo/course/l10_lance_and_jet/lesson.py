"""Lesson 10."""

QUESTION = "What does the lance do?"
