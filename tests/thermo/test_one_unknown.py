"""One unknown activity from a Gibbs energy: printed lines of the trade, and the kit's own data both
ways round.
"""

import numpy as np
import pytest

from steelthermo.base import InputError
from steelthermo.thermo import reaction, unknown_activity


def test_silicon_and_oxygen_by_a_printed_line():
    """[Si] + 2 [O] = SiO2, -581 900 + 221.8 T J (a common textbook line, from memory): at 1600 °C
    and 0.3 % Si, K = exp(-G/RT) = 4.4e4 gives 0.0087 % O.
    """
    k = np.exp(-(-581_900 + 221.8 * 1873.15) / (8.314462618 * 1873.15))
    found = unknown_activity(
        "[Si] + 2 [O] = SiO2", 1873.15, {"[Si]": 0.3, "SiO2": 1.0}, (-581_900.0, 221.8)
    )
    assert found == pytest.approx((1.0 / (k * 0.3)) ** 0.5)


@pytest.mark.parametrize("unknown", ["[Mn]", "[O]", "MnO"])
def test_either_way_round(unknown):
    """Each species in turn from the other two: they go together at equilibrium."""
    T = np.array([1823.15, 1923.15])
    known = {"[Mn]": 0.4, "[O]": 0.05}
    known["MnO"] = unknown_activity("[Mn] + [O] = MnO", T, known)
    others = {name: a for name, a in known.items() if name != unknown}
    assert unknown_activity("[Mn] + [O] = MnO", T, others) == pytest.approx(known[unknown])
    by_figure = unknown_activity(
        "[Mn] + [O] = MnO", T, others, reaction("[Mn] + [O] = MnO").gibbs(T)
    )
    assert by_figure == pytest.approx(known[unknown])


@pytest.mark.parametrize(
    "given",
    [{}, {"[C]": 1.0, "[O]": 1.0, "CO": 1.0}, {"[C]": 1.0, "O": 1.0}, {"[C]": 0.0, "CO": 1}],
)
def test_refusals(given):
    with pytest.raises(InputError, match="activit"):
        unknown_activity("[C] + [O] = CO", 1873.15, given)
