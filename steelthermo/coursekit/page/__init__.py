"""Pages of widgets: an exercise, its problems, predictions, long tables."""

from .chain_page import ChainPage, debrief
from .exercise import Page, show
from .page_html import hook, markdown, paragraphs, still
from .pages import PAGE, Pages, table
from .prediction import Prediction, predict
from .problem_view import ProblemView
