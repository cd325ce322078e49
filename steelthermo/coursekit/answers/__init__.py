"""What a learner types: numbers, units and words."""

from .numbers import (
    AnswerError,
    Reading,
    bound,
    clip,
    number_text,
    quantity_text,
    read,
    read_choice,
)
from .units_typed import UnknownUnit, unit_of
from .words import STATES, catalogue, say
