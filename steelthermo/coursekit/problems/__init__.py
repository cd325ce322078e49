"""Problems with personal numbers: what is given, what is asked, the slips that are known, and the
check of an answer.
"""

from . import slip
from .checking import DONE, Verdict, check, example
from .draws import DEFAULT_COURSE, Draw, draw, draw_many, normalised
from .problem import Answer, Choice, Given, Pick, Problem, Slip, shown
