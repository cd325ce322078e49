"""Lesson 17."""

QUESTION = "What do my shop's heats say?"
CAUTIONS = ("water_under_metal", "water_leak", "tapping")
