"""Pages of widgets: an exercise, its problems, predictions, long tables."""

from ..html import image, listed, markdown, printed_page, worded
from .chain_page import ChainPage, debrief
from .exercise import Page, show
from .home import Home
from .pages import PAGE, Pages
from .paper_page import PaperPage, skills
from .prediction import Prediction, predict
from .problem_view import ProblemView
from .question_view import ask
from .today import Today
