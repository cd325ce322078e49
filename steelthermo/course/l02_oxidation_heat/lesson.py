"""Lesson 02."""

QUESTION = "Why does the process need no fuel?"
