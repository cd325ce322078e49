"""Lesson 16: how_sure_are_we."""
