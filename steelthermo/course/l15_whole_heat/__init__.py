"""Lesson 15: whole_heat."""
