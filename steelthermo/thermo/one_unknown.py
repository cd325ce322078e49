"""The one activity that a Gibbs energy leaves unknown: from a line a + b T as printed, from one
figure, or from the kit's data.
"""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ..base import InputError, Number, finite, plain, positive, shown, value
from .reactions import reaction


def unknown_activity(
    equation: str,
    T: Number,
    activities: Mapping[str, Number],
    gibbs_j: Number | tuple | None = None,
) -> Number:
    """Activity at equilibrium of the one species of a reaction that is not given.

    Parameters
    ----------
    equation : such as '[Si] + 2 [O] = SiO2', in plain notation
    T : K
    activities : by species as it stands in the equation, without its number: '[O]', 'CO'. Dissolved
        elements in mass % (Henry), gases in bar, pure substances 1. All but one are needed.
    gibbs_j : standard Gibbs energy of the reaction as written, J: a number, or (a, b) of a line
        a + b T; None: by the kit's data

    Returns
    -------
    activity, in the unit of its standard state

    Raises
    ------
    InputError
        Also where none or more than one species is left.

    Examples
    --------
    >>> oxygen = unknown_activity("[C] + [O] = CO", 1873.15, {"[C]": 0.04, "CO": 1.0})
    >>> round(oxygen, 3)
    0.051
    >>> round(unknown_activity("[C] + [O] = CO", 1873.15, {"[C]": 0.04, "CO": 1.0},
    ...                        (-22_200.0, -38.34)), 4)
    0.0597
    """
    r, T = reaction(equation), positive("temperature", T, "K", zero=False)
    names = {str(replace(t, nu=1.0)): t for t in r.terms}
    left = [name for name in names if name not in activities]
    wrong = [name for name in activities if name not in names]
    if len(left) != 1 or wrong:
        raise InputError(
            f"activities of {equation}: {shown(dict(activities))} was given; those of all species "
            f"but one are needed, by name: {', '.join(names)}."
        )
    if gibbs_j is None:
        gibbs = r.gibbs(T)
    elif isinstance(gibbs_j, tuple):
        gibbs = finite("a of the line", gibbs_j[0], "J") + T * finite("b", gibbs_j[1], "J/K")
    else:
        gibbs = finite("Gibbs energy", gibbs_j, "J")
    ln = -gibbs / (value("gas_constant") * T)
    for name, activity in activities.items():
        ln = ln - names[name].nu * np.log(positive(f"activity of {name}", activity, zero=False))
    return plain(np.exp(ln / names[left[0]].nu))
