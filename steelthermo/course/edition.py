"""The edition of the kit, which answer sheets note."""

__version__ = "0.2.0"
