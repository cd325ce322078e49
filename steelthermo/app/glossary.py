"""The command `steelthermo glossary`: the words of the trade as a page to print."""

from .card import glossary as main  # noqa: F401 (the command looks for it here)
