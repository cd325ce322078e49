"""Lesson 08."""

QUESTION = "How much scrap can this hot metal melt?"
