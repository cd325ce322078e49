"""Lesson 11: the_blow."""
