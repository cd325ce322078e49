"""Lesson 17."""

QUESTION = "What do my shop's heats say?"
