"""Lesson 00: start_here."""
