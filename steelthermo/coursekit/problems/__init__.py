"""Problems with personal numbers: what is given, what is asked, the slips that are known, and the
check of an answer.
"""

from .checking import DONE, Verdict, check, example
from .declared import Solution, answer_of, read_problems, read_words
from .draws import DEFAULT_COURSE, Draw, draw, draw_many, normalised
from .problem import Answer, Choice, Given, Pick, Problem, Slip, shown
from .slip import after, taken, times, upside_down
