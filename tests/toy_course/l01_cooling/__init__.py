"""Lesson 01: cooling."""
