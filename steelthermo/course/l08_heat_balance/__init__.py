"""Lesson 08: heat_balance."""
