"""Problems with personal numbers: what is given, what is asked, the slips that are known, and the
check of an answer.
"""

from .chain_sheet import ChainSheet, Entry, all_right
from .checking import DONE, Verdict, check, example
from .declared import NO_WORDS, Solution, asked_of, read_problems, read_words
from .draws import DEFAULT_COURSE, Draw, draw, draw_many, normalised
from .given import Given, Pick, shown
from .mistakes import mistake_text, mistakes
from .problem import Answer, Choice, Problem, Slip
from .questions import Forecast, Questions, read_questions
from .slip import after, made_into, multiplied, rest, taken, times, upside_down
from .steps import Step, blanks, step_values
