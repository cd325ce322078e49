"""Lesson 06."""

QUESTION = "How much lime, and why?"
