"""Lesson 12: off_gas."""
