"""The heat sheet of lesson 15 as a chain of entries: what its page and marking follow."""

from ...coursekit import Chain
from .entries import ENTRIES
from .sheet import HeatSheet

CHAIN = Chain(
    "whole_heat",
    ENTRIES,
    HeatSheet,
    called="heat",
    result="steel",
    met="the steel of {count} meets its specification",
    figures={
        "checks": "checks",
        "changes": "changes",
        "minutes_lost": "minutes lost",
        "money": "money, more than right",
    },
)
