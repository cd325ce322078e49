"""Lesson 17: own_heats."""
