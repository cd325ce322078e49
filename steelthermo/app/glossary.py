"""The command `steelthermo glossary`: the words of the trade as a page to print."""

from .card import glossary as main
