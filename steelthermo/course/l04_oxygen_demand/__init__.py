"""Lesson 04: oxygen_demand."""
