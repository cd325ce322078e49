"""A charge and its blow brought to meet: what the balance must be told of the end (manganese,
phosphorus, lime left in lumps) taken from the blow that it is for.
"""

from typing import Annotated

import numpy as np

from ..charge import Charge, Plan
from ..charge import solve as solve_charge
from ..works import Profile, load_profile
from .run import solve

_ROUNDS = 3  # each brings them ten times nearer


def met_charge(works: Profile | None = None, **changes: Annotated[object, Plan]) -> Charge:
    """The works' heat, planned so that its blow with its own oxygen ends at its aims: manganese and
    phosphorus of the steel and the lime left in lumps are what the blow makes of them. Iron oxides
    and oxygen of the steel meet where the works leaves them to the law at the end of a blow.

    Parameters
    ----------
    works : default: load_profile()
    changes : as in charge.solve(), for one heat

    Returns
    -------
    Charge, for the works' tap weight

    Raises
    ------
    InputError

    References
    ----------
    Fixed point of charge.solve() and blow.solve().

    Examples
    --------
    >>> from steelthermo import blow
    >>> run = blow.solve(met_charge())
    >>> bool(abs(run.of("C")[-1] - 0.04) < 0.005)
    True
    """
    works = works or load_profile()
    aims = dict(changes.pop("end_pct", works.end_point.analysis_pct))
    undissolved = changes.pop("undissolved_pct", 0.0)
    for _ in range(_ROUNDS):
        planned = solve_charge(works, end_pct=aims, undissolved_pct=undissolved, **changes)
        planned = planned.for_tap(works.vessel.tap_t)
        run = solve(planned, works)
        aims |= {e: run.of(e)[-1].item() for e in ("Mn", "P")}
        lime = np.asarray(run.lime.mass_kg)[-1] * run.lime.material.oxide_pct("CaO") / 100.0
        left = np.asarray(run.lumps.oxides_kg["CaO"])[-1]
        undissolved = min(100.0 * left / max(lime, 1e-9), 60.0)
    planned = solve_charge(works, end_pct=aims, undissolved_pct=undissolved, **changes)
    return planned.for_tap(works.vessel.tap_t)
