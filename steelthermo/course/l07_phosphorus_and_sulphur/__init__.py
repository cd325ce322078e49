"""Lesson 07: phosphorus_and_sulphur."""
