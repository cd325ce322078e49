"""Calculations of the questions of lesson 11; their words stand in questions.toml."""

from ...coursekit.problems import read_questions

QUESTIONS = read_questions("the_blow", __file__, {"lance": lambda record: record.now["FeO"]})
