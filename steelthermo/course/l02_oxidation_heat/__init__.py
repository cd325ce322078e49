"""Lesson 02: oxidation_heat."""
