"""Lesson 06: slag_basicity."""
