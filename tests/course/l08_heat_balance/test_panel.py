"""The panel of lesson 08: the slag's melting stands beside the heat account with its doubt.

Outside check: a liquid slag holds some 0.25 +- 0.07 MJ/kg more than its compounds (the kit's table
of terms, each from its own text); a tonne of steel takes some 0.83 MJ for a degree and slag some
2 kJ/(kg degC) (common practice), so 90 kg of slag end the heat 22 +- 6 degC colder.
"""

import re

import pytest

from steelthermo.course import panel as course_panel
from steelthermo.course.l08_heat_balance.panel import COMES, GOES, numbers


def test_the_terms_of_a_liquid_slag_are_printed_with_their_doubt():
    panel = course_panel("heat_balance")
    cold, sigma = (float(x) for x in re.search(r"worth (\d+) ± (\d+) °C", panel.text).groups())
    slag_kg = panel.result.heat.per_t("slag")
    per_c = 0.83 + 0.002 * slag_kg
    assert cold == pytest.approx(0.25 * slag_kg / per_c, rel=0.15)
    assert sigma == pytest.approx(0.07 * slag_kg / per_c, rel=0.4)
    rows = [row for row in numbers(panel.result) if row[0].startswith("Colder")]
    *terms, whole = [[float(x) for x in row[1].split(" ± ")] for row in rows]
    assert whole[0] == pytest.approx(sum(t[0] for t in terms), abs=0.3)
    assert whole[1] ** 2 == pytest.approx(sum(t[1] ** 2 for t in terms), rel=0.02)
    assert any("CaO of the slag" in row[0] for row in rows)


def test_every_item_of_the_picture_is_one_of_the_account():
    """A name that the account does not have would be drawn as nothing. Steel takes the most; slag
    some tenth of that.
    """
    result = course_panel("heat_balance").result
    for items, account in zip((COMES, GOES), result.heat.heat_account(), strict=True):
        for name, keys in items[:-1]:
            assert set(keys) <= set(account) and account[keys[0]] > 0, name
    assert 0.08 < result.go["slag"] / result.go["steel"] < 0.2
