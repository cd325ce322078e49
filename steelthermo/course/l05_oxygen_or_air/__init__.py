"""Lesson 05: oxygen_or_air."""
