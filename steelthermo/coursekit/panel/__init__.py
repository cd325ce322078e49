"""Panels: controls from a table, one picture, one sentence, the numbers on demand."""

from . import style
from .cases import case_text, read_case
from .controls import OWN, Control, Row, choice, data_choice, read_controls
from .declared import computed, make_panel
from .markup import sentence, still
from .panel import NONE_KNOWN, Panel
from .picture import Drawing, Picture, png, small
from .style import GRID, HALO, INK, PAPER, RC, SERIES, EndLabels, Series
