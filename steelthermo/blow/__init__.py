"""The blow, minute by minute: the heat that `charge` solves, run along time. A model: no measured
series could be read to check it against.

Its balance is the charge's at every instant: elements and heat close by construction (state.py).
How fast things happen (rates.py) rests on few parameters from memory or guessed, each with a
band: look at band() before one line is believed, and lay measured heats over it (measured.py).

What carries it: the critical carbon (end carbon and iron oxide), the share of oxygen that goes to
slag and its way back (iron oxide, and with it manganese and phosphorus), the partition reached. The
total of oxygen and heat is as sure as the charge balance; carbon and temperature follow it.
Where it fails: foam, slopping and skulls are not in it; bath and slag have one temperature and no
layers; scrap is one size and counts as cold until it melts; slag takes all lime it dissolves and
never falls below 1450 degC; gas from below acts on the exchange of slag and bath alone and is not
in the off-gas; without oxygen flow nothing reacts.
"""

from ..base import check_all
from .bands import Band, band, tuned_band
from .beside import Comparison, compare, inside
from .decarburisation import oxygen_ceiling_pct_min
from .fitting import Fit, fit, least_squares
from .measured import COLUMNS, Measured, invented_heat, load, parse
from .rates import parameters, softness
from .record import Blow, quantities
from .remarks import foam_trend
from .run import runge_kutta, solve
from .schedule import Addition, standard_additions, standard_pattern

check_all(__name__, globals())
