"""The section drawings are to scale: what a layer encloses, turned round its axis, is the volume of
what it stands for.
"""

import numpy as np
import pytest
from matplotlib.figure import Figure

from steelthermo.course import panel as course_panel
from steelthermo.course.l07_phosphorus_and_sulphur.where import shares
from steelthermo.course.l10_lance_and_jet.scene import bath_of
from steelthermo.course.l11_the_blow.inside import levels
from steelthermo.course.l14_tapping_and_ladle.cut_open import formed_kg, hot_c, steel_m3
from steelthermo.course.l14_tapping_and_ladle.cut_open import levels as ladle_levels
from steelthermo.course.section import Body, Layer, Marks, Names, ladle, section, vessel
from steelthermo.works import plant_value


def turned_m3(patch):
    """Volume of a body of revolution from its outline, by slices."""
    x, y = patch.get_xy().T
    right = x >= 0.0
    order = np.argsort(y[right])
    radius, height = x[right][order], y[right][order]
    return float(np.sum(np.diff(height) * np.pi * (0.5 * (radius[1:] + radius[:-1])) ** 2))


@pytest.fixture
def ax():
    fig = Figure(figsize=(3, 4))
    return section(fig, (0, 0, 1, 1), vessel(180.0), -1.0, 10.0, "")


def test_a_cylinder_and_a_cone():
    """Geometry: pi r2 h, and a third of it for a cone."""
    assert Body((0.0, 2.0), (1.5, 1.5)).volume_m3[-1] == pytest.approx(np.pi * 1.5**2 * 2.0)
    assert Body((0.0, 3.0), (0.0, 1.0)).volume_m3[-1] == pytest.approx(np.pi, rel=1e-4)
    full = ladle(25.0)
    assert full.level_m(25.0) == pytest.approx(2.0 * full.radius_at(0.0), rel=1e-6)


@pytest.mark.parametrize("tap_t", [40.0, 180.0, 350.0])
def test_a_vessel_holds_what_is_usual(tap_t):
    body = vessel(tap_t)
    assert body.volume_m3[-1] == pytest.approx(plant_value("vessel_m3_t").start * tap_t, rel=1e-6)
    slender = body.height_m[-1] / (2.0 * body.radius_m.max())
    assert slender == pytest.approx(plant_value("vessel_slender").start, rel=1e-6)


def test_what_is_drawn_has_its_volume(ax):
    """Liquid steel weighs some 7.0 t/m3 and converter slag some 3 (common practice): the layers of
    lesson 11, turned round their axis, hold their masses.
    """
    record = course_panel("the_blow").result
    body = vessel(180.0)
    bath, liquid, top = levels(body, record.vessel)
    metal, slag = Layer(ax, body), Layer(ax, body)
    metal.show(0.0, bath)
    slag.show(bath, liquid)
    assert turned_m3(metal.patch) * 7000.0 == pytest.approx(record.vessel["metal_kg"], rel=0.05)
    assert turned_m3(slag.patch) * 3000.0 == pytest.approx(record.vessel["slag_kg"], rel=0.15)
    assert bath < liquid < top < body.height_m[-1]
    right = body.radius_m.max()
    assert ax.transData.transform((right, 0))[0] - ax.transData.transform((0, 0))[0] == (
        pytest.approx(ax.transData.transform((0, right))[1] - ax.transData.transform((0, 0))[1])
    )  # a metre is as long across as it is up


def test_marks_stand_for_a_mass_and_stay_inside(ax):
    body = vessel(180.0)
    marks = Marks(ax, body, 60, "o")
    for count, drawn in ((0.4, 0), (7.2, 7), (1000.0, 60)):
        marks.show(count, 0.0, 1.0)
        x, y = marks.line.get_data()
        assert len(x) == drawn
        assert (np.abs(x) <= body.radius_at(np.asarray(y))).all() and (np.asarray(y) < 1.0).all()


def test_names_are_kept_apart_and_what_is_not_there_has_none(ax):
    body = vessel(180.0)
    names = Names(ax, body, 3)
    names.show([("slag", 0.0, 1.0), None, ("metal,\n1383 °C", 0.0, 1.01)])
    first, second, third = names.texts
    assert not second.get_visible() and first.get_text() == "slag"
    high = ax.get_window_extent().height / 11.0  # pixels of a metre
    assert abs(first.get_position()[1] - third.get_position()[1]) * high > 1.2 * 8.5 / 72 * 100


def test_lesson_7_shares_out_what_was_brought():
    """Phosphorus and lime are conserved: in metal and slag together what came, whatever moves."""
    shown = course_panel("phosphorus_and_sulphur")
    for undissolved, approach in ((0.0, 100.0), (20.0, 60.0)):
        shown.set(undissolved_pct=undissolved, approach_pct=approach)
        record = shown.result
        metal, slag, dissolved, lumps = shares(record)
        assert metal + slag == pytest.approx(record.at.p_kg_t) and min(metal, slag, lumps) >= 0.0
        assert lumps == pytest.approx(undissolved / 100.0 * (dissolved + lumps))
        assert f"{metal:.3f} kg stay" in shown.alt_text


def test_lesson_14_draws_its_ladle_to_scale(ax):
    """180 t of liquid steel at some 7.0 t/m3 (common practice), as deep as wide: 3.2 m."""
    record = course_panel("tapping_and_ladle").result
    volume = steel_m3(record.steel, hot_c(record))
    body = ladle(volume)
    assert body.level_m(volume) == pytest.approx((4.0 * 180.0 / 7.0 / np.pi) ** (1 / 3), rel=0.03)
    steel, top = (level for level in ladle_levels(body, record))
    assert 0.01 < top - steel < 0.2  # some kg of slag a tonne: a hand's breadth at most
    assert 0.0 < formed_kg(record) < 0.01 * record.steel.mass_kg


def test_lesson_10_draws_the_cavity_in_a_bath_of_its_depth():
    """A bath of 180 t is some 1.2 to 1.8 m deep (common practice); no formula goes through."""
    record = course_panel("lance_and_jet").result
    _, bath = bath_of(180.0)
    assert 1.2 < bath < 1.8
    assert record.bath.penetration.high_m < bath
