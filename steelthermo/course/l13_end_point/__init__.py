"""Lesson 13: end_point."""
