"""The law at the end of a blow: what it must do whatever its recalled parameters are, the same by a
plain integration, and what shops are said to see (common practice, no source).
"""

import numpy as np
import pytest
from sample_works import law_text

from steelthermo.base import InputError, atomic_weight, molar_mass, molar_volume_nm3_kmol
from steelthermo.slag import after_oxygen, burning, end_of_blow, slag_solution
from steelthermo.slag.end_of_blow import bath_activity, full_oxygen_pct, parameters, start_values

BASE = {"CaO": 45, "SiO2": 14, "MgO": 8, "MnO": 5, "P2O5": 2, "Al2O3": 2}
T = 1923.15
FLOW = 2.55


def slag(kg_t):
    return {oxide: pct * kg_t / 76.0 for oxide, pct in BASE.items()}


USUAL = slag(55.0)


def test_the_same_by_small_steps():
    """An integration of our own, 4000 steps of Euler along time, with the whole solution of the
    slag at every step: FeO to 0.3 %."""
    law, pcr, ferric = start_values(), 0.11, 0.17
    oxygen = 2.0 * FLOW / molar_volume_nm3_kmol()
    free = oxygen * (1.0 - law["slag_oxygen_pct"] / 100.0)

    def activity(iron):
        oxides = USUAL | {"FeO": iron * molar_mass("FeO")}
        return slag_solution(oxides, T).feto_activity

    def gain(iron, carbon):
        direct, back = burning(oxygen, free, pcr, carbon, activity(iron), T, law)
        dissolves = (direct + back) * (12.011 / 15.999) * law["carbon_oxygen_product"] / carbon**2
        return oxygen - (1.0 + pcr) * (direct + back) - dissolves, direct + back

    low, high = 0.02, 0.5
    for _ in range(40):
        iron = 0.5 * (low + high)
        low, high = (iron, high) if gain(iron, 0.84)[0] > 0 else (low, iron)
    carbon, step = 0.84, 0.004
    while carbon > 0.04:
        more, burnt = gain(iron, carbon)
        iron += more / (1.0 + 0.5 * ferric) * step
        carbon -= burnt * atomic_weight("C") / 10.0 * step
    end = end_of_blow(USUAL, 0.04, T, FLOW)
    found = end.feo_pct + end.fe2o3_pct * 2.0 * molar_mass("FeO") / molar_mass("Fe2O3")
    feo = iron * molar_mass("FeO")
    with_ferric = feo * (1.0 + ferric * (0.5 * molar_mass("Fe2O3") / molar_mass("FeO") - 1.0))
    assert found == pytest.approx(100.0 * feo / (55.0 + with_ferric), abs=0.3)


def test_iron_oxide_is_that_of_the_solution():
    """The slag found, given back as an analysis, has the activity and the ferric share told."""
    end = end_of_blow(USUAL, 0.04, T, FLOW)
    rest = (100.0 - end.feo_pct - end.fe2o3_pct) / 55.0
    whole = {o: kg * rest for o, kg in USUAL.items()} | {"FeO": end.feo_pct, "Fe2O3": end.fe2o3_pct}
    again = slag_solution(whole, T)
    assert again.feto_activity == pytest.approx(end.feto_activity, rel=1e-6)
    share = end.fe2o3_pct / molar_mass("Fe2O3") * 2.0
    share /= share + end.feo_pct / molar_mass("FeO")
    assert again.ferric_share == pytest.approx(share, rel=1e-6)


@pytest.mark.parametrize("share", [1.0, 1.2, 1.4])
def test_no_more_carbon_burns_than_comes_to_where_it_burns(share):
    """However fast the slag gives oxygen back: carbon comes in proportion to what lies above the
    floor, as much at the critical carbon as the oxygen blown can take.
    """
    oxygen, pcr, law = 10.0, 0.1, start_values() | {"slag_exchange": 20.0}
    floor = law["carbon_floor_pct"]
    carbon = floor + share * (law["critical_carbon_pct"] - floor)
    direct, back = burning(oxygen, 8.0, pcr, carbon, 0.5, T, law)
    assert direct > 0.0 and back > 0.0
    assert direct + back == pytest.approx(share * oxygen / (1.0 + pcr), rel=1e-12)


def test_oxygen_that_burns_carbon_is_what_is_free():
    """On the plateau, of the free oxygen: carbon of the jet to CO and CO2, and to CO2 a share of
    the CO that the slag's oxygen makes.
    """
    free, pcr = 6.0, 0.15
    direct, back = burning(10.0, free, pcr, 2.0, 0.4, T, start_values() | {"slag_exchange": 3.0})
    assert back > 0.5
    assert direct * (1.0 + pcr) + back * pcr == pytest.approx(free, rel=1e-12)


def test_carbon_share_is_continuous_from_plateau_to_floor():
    carbon = np.concatenate([np.linspace(0.021, 0.06, 40), np.linspace(0.061, 0.6, 200)])
    share = end_of_blow(USUAL, carbon, T, FLOW).carbon_share
    assert share[-1] == pytest.approx(1.0, abs=0.02) and share[0] < 0.05
    assert np.all(np.diff(share) > -1e-3)
    slope = np.diff(share) / np.diff(carbon)
    assert np.max(np.abs(np.diff(share))) < 0.035 and np.all(slope < 25.0)


def test_less_carbon_more_iron_oxide():
    carbon = np.array([0.8, 0.3, 0.15, 0.1, 0.06, 0.04, 0.03, 0.025])
    end = end_of_blow(USUAL, carbon, T, FLOW)
    assert np.all(np.diff(end.feo_pct) > 0) and np.all(np.diff(end.oxygen_pct) > 0)
    assert 7.0 < end.feo_pct[0] < 12.0 and 15.0 < end.feo_pct[5] < 23.0


def test_silicon_hardly_moves_iron_oxide_at_equal_carbon():
    """32, 55 and 93 kg of slag without iron per t: 0.2, 0.45 and 0.9 % Si. Iron oxide follows
    carbon: no more than 8 % apart at 0.04 % C and 4 % at 0.10 % (common practice, no source)."""
    at = np.array([[end_of_blow(slag(kg), c, T, FLOW).feo_pct for kg in (32, 55, 93)]
                   for c in (0.04, 0.10)])  # fmt: skip
    assert np.all(np.diff(at) < 0)  # more slag takes longer to fill
    assert np.ptp(at[0]) < 8.0 and np.ptp(at[1]) < 4.0


@pytest.mark.parametrize(
    "key, up",
    [
        ("slag_exchange", -1),
        ("slag_oxygen_pct", 1),
        ("critical_carbon_pct", 1),
        ("carbon_oxygen_product", 1),
    ],
)
def test_what_each_parameter_does(key, up):
    p = parameters()[key]
    low, high = (end_of_blow(USUAL, 0.05, T, FLOW, law={key: x}) for x in (p.low, p.high))
    assert np.sign(high.feo_pct - low.feo_pct) == up


def test_bath_at_equilibrium_with_its_slag_gets_nothing_back():
    """Where the bath's activity is that of the slag, nothing is exchanged."""
    law = start_values()
    activity = bath_activity(0.04, T)
    assert activity == pytest.approx(0.0024 / 0.04 / full_oxygen_pct(T))
    assert burning(0.2, 0.15, 0.1, 0.04, activity, T, law)[1] == 0.0
    assert burning(0.2, 0.15, 0.1, 0.04, activity + 0.1, T, law)[1] == pytest.approx(0.03)


def test_arrays_agree_with_single_heats():
    carbon, temp = np.array([0.03, 0.05, 0.2]), np.array([1890.0, 1930.0, 1950.0])
    many = end_of_blow(USUAL, carbon, temp, FLOW)
    for i in range(3):
        one = end_of_blow(USUAL, float(carbon[i]), float(temp[i]), FLOW)
        assert isinstance(one.feo_pct, float)
        assert many.feo_pct[i] == pytest.approx(one.feo_pct, rel=1e-9)
        assert many.carbon_share[i] == pytest.approx(one.carbon_share, rel=1e-9)


@pytest.mark.parametrize(
    "carbon, words",
    [(0.015, "more than the floor of 0.02 %"), (5.0, "allowed is 0.005 to 3 %"), ("x", "number")],
)
def test_refusals(carbon, words):
    with pytest.raises(InputError, match=words):
        end_of_blow(USUAL, carbon, T, FLOW)


def test_more_oxygen_goes_on_by_the_same_law():
    """From 0.08 % C down by oxygen, along time, against the way down to the carbon it ends at; in
    two lots as in one; none of it leaves all as it was."""
    for more in (0.0, 0.5, 1.5, 3.0):
        after = after_oxygen(USUAL, 0.08, T, more, FLOW)
        straight = end_of_blow(USUAL, after.carbon_pct, T, FLOW)
        assert after.feo_pct == pytest.approx(straight.feo_pct, abs=0.05)
        assert after.carbon_share == pytest.approx(straight.carbon_share, abs=2e-3)
    assert after_oxygen(USUAL, 0.08, T, 0.0, FLOW).carbon_pct == 0.08
    first = after_oxygen(USUAL, 0.08, T, 1.0, FLOW)
    rest = 55.0 / (100.0 - first.feo_pct - first.fe2o3_pct)
    slag = USUAL | {"FeO": first.feo_pct * rest, "Fe2O3": first.fe2o3_pct * rest}
    second = after_oxygen(slag, first.carbon_pct, T, 1.0, FLOW)
    once = after_oxygen(USUAL, 0.08, T, 2.0, FLOW)
    assert second.carbon_pct == pytest.approx(once.carbon_pct, rel=2e-3)
    assert second.feo_pct == pytest.approx(once.feo_pct, rel=2e-3)


def test_oxygen_is_shared_out_without_a_rest():
    """What is blown burns carbon or iron or dissolves: a balance of our own, per t of steel, to
    1 %: on the way the ferric share is a constant."""
    before, after = (after_oxygen(USUAL, 0.10, T, x, FLOW, pcr=0.1) for x in (0.0, 2.0))

    def held(end):  # kmol O
        rest = 55.0 / (100.0 - end.feo_pct - end.fe2o3_pct)
        iron = rest * (end.feo_pct / 71.844 + 3.0 * end.fe2o3_pct / 159.688)
        return iron + 10.0 * end.oxygen_pct / 15.999

    burnt = 10.0 * (before.carbon_pct - after.carbon_pct) / 12.011
    given = 2.0 * 2.0 / molar_volume_nm3_kmol()
    assert held(after) - held(before) + 1.1 * burnt == pytest.approx(given, rel=0.01)


def test_every_stage_asks_this_law_and_no_other(monkeypatch):
    """Better mixing in the one table of the law: the blow, the second blow, the decision and the
    sampled heats all move, iron oxide down, and so does the charge where it leaves its iron
    oxides to the law. A stage with a law of its own would stand still.
    """
    import dataclasses

    from steelthermo import blow, charge, end_point
    from steelthermo.blow import rates
    from steelthermo.trust import uncertainty
    from steelthermo.works.profile import parse_profile

    kept = (rates.parameters, uncertainty._way_down, uncertainty._as_planned)
    steel, slag = {"C": 0.08}, end_point.usual_slag_kg_t()
    rules = {"aim_temp_c": 1660.0, "aim_carbon_pct": 0.04, "steel_t": 180.0, "flow_nm3_min": 460.0}
    none = dict.fromkeys(uncertainty.inputs(), 0.0)
    left_open = parse_profile(law_text())

    def stages():
        for function in kept:
            function.cache_clear()
        heat = charge.solve(feo_pct=18.0, fe2o3_pct=5.0, end_pct={"C": 0.04, "P": 0.012})
        b = blow.solve(heat, step_min=0.5)
        after = end_point.second_blow(steel, 1640.0, slag, 1.0, 2.5)
        again = end_point.decide(1660.0, 0.08, slag_kg_t=slag, **rules)
        more = uncertainty.heats(n=50, spreads=none | {"oxygen_nm3": 1.0})
        return {
            "law": end_of_blow(USUAL, 0.05, T, FLOW).feo_pct,
            "charge": charge.solve(left_open).slag.analysis_pct["FeO"],
            "blow": np.interp(-0.05, -b.of("C"), b.of("FeO")),
            "second blow": after.slag_kg_t["FeO"],
            "decision": again.oxygen_nm3.value,
            "sampled heats": -more.spread("carbon"),
        }

    before = stages()
    mixing = parameters()["slag_exchange"]
    monkeypatch.setitem(parameters(), "slag_exchange", dataclasses.replace(mixing, start=0.6))
    after = stages()
    monkeypatch.undo()
    for function in kept:
        function.cache_clear()
    for stage, value in before.items():
        assert abs(after[stage] - value) > 1e-3 * abs(value), stage
    for stage in ("law", "charge", "blow", "second blow"):
        assert after[stage] < before[stage], stage


def test_nobody_else_computes_with_the_parameters_of_the_law():
    """Their names stand in this file, in what checks them and in what varies them, nowhere else."""
    from pathlib import Path

    import steelthermo

    root = Path(steelthermo.__file__).parent
    allowed = {
        "slag/end_of_blow.py",
        "blow/record.py",  # where the third period begins
        "blow/rates.py",  # hands them on with the stirring of the moment
        "end_point/way.py",  # the floor, and the mixing up and down by its uncertainty
        "trust/uncertainty.py",  # the spread of the critical carbon
    }
    for path in root.rglob("*.py"):
        name = path.relative_to(root).as_posix()
        if name in allowed or name.startswith(("course/", "heats/")):
            continue
        text = path.read_text(encoding="utf-8")
        for key in ("critical_carbon_pct", "carbon_floor_pct", "slag_exchange", "transport_share"):
            assert f'["{key}"]' not in text and f"{key}(" not in text, (name, key)
