"""Calculations of the questions of lesson 15; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions(
    "whole_heat", __file__, {"hot_metal": lambda record: record.heat.scrap.mass_kg / 1000.0}
)
