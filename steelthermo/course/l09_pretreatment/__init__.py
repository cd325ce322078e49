"""Lesson 09: pretreatment."""
