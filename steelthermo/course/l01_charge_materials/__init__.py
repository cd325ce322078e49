"""Lesson 01: charge_materials."""
