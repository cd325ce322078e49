"""Lesson 04."""

QUESTION = "How much oxygen, and how long is the blow?"
