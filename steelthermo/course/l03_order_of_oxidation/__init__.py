"""Lesson 03: order_of_oxidation."""
