"""Gas from below: its power against the ladle's own function and a sum by hand, its effect against
what vessels show. Exponent and what stirs without gas are from memory.
"""

import numpy as np
import pytest

from steelthermo import blow
from steelthermo.base import InputError, Table, data_path
from steelthermo.charge import solve
from steelthermo.heats import start_figures
from steelthermo.ladle import stirring_power_w_t
from steelthermo.slag import end_of_blow_parameters
from steelthermo.works import (
    bottom_power_w_t,
    law_figures,
    mixing_words,
    parse_profile,
    stirred_exchange,
)

HERON = data_path("heron.toml").read_text(encoding="utf-8")


def stirred(nm3_min_t):
    text = HERON.replace("bottom_nm3_min_t = 0 ", f"bottom_nm3_min_t = {nm3_min_t} ")
    return parse_profile(text, "stirred")


def test_power_is_that_of_rising_gas():
    """0.1 Nm3/min is 0.07436 mol/s; 8.3145 x 1923.15 x ln(1 + 7000 x 9.80665 x 1.5/101325) = 11210
    J/mol: 833 W. The ladle's function takes the density of iron at the temperature.
    """
    assert bottom_power_w_t(0.1) == pytest.approx(0.07436 * 11210, rel=0.005)
    assert bottom_power_w_t(0.1) == pytest.approx(
        stirring_power_w_t(0.1, 1.0, 1.5, 1650.0), rel=0.01
    )
    assert bottom_power_w_t(np.array([0.0, 0.2])) == pytest.approx([0.0, 2 * bottom_power_w_t(0.1)])
    with pytest.raises(InputError, match=r"gas from below: 2 .* was given"):
        bottom_power_w_t(2.0)


def test_the_exchange_stays_in_its_band_for_what_vessels_blow():
    """0.02 to 0.2 Nm3/(min t), common practice; the power of mixing as in the ladle's table."""
    p = end_of_blow_parameters()["slag_exchange"]
    found = [stirred_exchange(x) for x in (0.0, 0.02, 0.1, 0.2)]
    assert found[0] == p.start and found == sorted(found) and found[-1] <= p.high
    nakanishi = Table("stirring").get("Nakanishi 1975")["exponent"]
    assert Table("lance").get("mixing_power")["value"] == -nakanishi
    assert "1.6 times" in mixing_words(0.1) and "no gas" in mixing_words(0.0)


def test_a_works_that_gives_its_gas_gets_the_exchange_from_it():
    assert law_figures(parse_profile(HERON, "heron")) == {}
    works = stirred(0.1)
    assert law_figures(works) == {"slag_exchange": stirred_exchange(0.1)}
    fitted = parse_profile(
        HERON.replace("bottom_nm3_min_t = 0 ", "bottom_nm3_min_t = 0.1 ")
        + '\n[calibrated]\nfirst = "a"\nlast = "b"\nheats = 100\nslag_exchange = 0.4\n',
        "fitted",
    )
    assert law_figures(fitted) == {"slag_exchange": 0.4}  # its own heats know better


def test_gas_from_below_lowers_the_iron_of_the_slag():
    """READ, J-STAGE jjsem 7 s125, abstract: bottom blowing lowers total iron of the end slag. Plan
    and blow say the same, by 1 to 4 % FeO.
    """
    plain, works = parse_profile(HERON, "heron"), stirred(0.1)
    for feo in (
        [solve(w).slag.analysis_pct["FeO"] for w in (plain, works)],
        [blow.solve(solve(w)).of("FeO").ravel()[-1] for w in (plain, works)],
    ):
        assert 0.5 < feo[0] - feo[1] < 5.0


def test_a_log_begins_where_the_plan_stands():
    """What a works fits to its heats starts at the exchange that its own plan and blow take."""
    for gas in (0, 0.1):
        works = stirred(gas)
        law = {"slag_exchange": end_of_blow_parameters()["slag_exchange"].start}
        assert start_figures(works)["slag_exchange"] == (law | law_figures(works))["slag_exchange"]
