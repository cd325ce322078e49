"""A works' own heats: the log of a month, compared with what the kit expects, and figures fitted to
it.
"""

from ..base import check_all
from .calibrate import Calibration, calibrate, with_section
from .compare import WINDOWS, Compared, Opened, compare, open_heat
from .log import Log, SetAside, columns, outlying, provenance, template
from .model import (
    QUANTITIES,
    UNITS,
    Expected,
    expected,
    found,
    parameters,
    phosphorus_pct,
    residual,
    start_figures,
)
from .money import (
    Account,
    Treatment,
    account,
    break_even_s_pct,
    levers,
    treatment,
    worth,
)
from .reading import invented_month, parse, read
from .statistics import (
    Interval,
    mean_interval,
    robust_fit,
    robust_sd,
    share_interval,
    slope_interval,
    t_quantile,
)
from .suspects import Cause, Suspects, suspects
from .tomorrow import HeatPlan, Order, order_form, order_of, plan_heat
from .watch import Alarm, watch

check_all(__name__, globals())
