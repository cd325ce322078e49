"""Lesson 10: lance_and_jet."""
