"""Lesson 14: tapping_and_ladle."""
