"""Remarks on solved charges: the slips that passed without a word are told, ordinary heats are not
remarked on, and of many heats it is said of how many.
"""

import numpy as np
import pytest

from steelthermo.charge import checks, solve
from steelthermo.works import load_profile

USUAL = {"C": 0.04, "Mn": 0.12, "P": 0.012}


@pytest.mark.parametrize(
    "asked, words",
    [
        ({"end_pct": USUAL | {"P": 0.0005}}, "phosphorus: 0.0005 % is out of reach"),
        (
            {"end_pct": USUAL | {"C": 0.8, "P": 0.005}, "feo_pct": 18.0, "fe2o3_pct": 5.0},
            "18.0 % FeO does not go with 0.800 % C",
        ),
        (
            {"end_pct": USUAL | {"C": 0.02}, "feo_pct": 5.0, "fe2o3_pct": 1.0},
            "5.0 % FeO does not go with 0.020 % C",
        ),
        ({"hot_metal_pct": {"C": 6.0, "Si": 0.5, "Mn": 0.4, "P": 0.1}}, "graphite falls out"),
        ({"hot_metal_temp_c": 1135.0}, "graphite falls out"),
        (
            {
                "hot_metal_pct": {"C": 3.2, "Si": 0.9, "Mn": 0.4, "P": 0.1},
                "hot_metal_temp_c": 1230.0,
            },
            "below its liquidus",
        ),
        ({"mgo_pct": 18.0}, "18.0 % MgO is more than"),
        ({"basicity": 5.5}, "CaO/SiO2 of the slag: 5.5 lies outside"),
        ({"unused_o2_pct": 0.0, "co2_pct": 0.0}, "oxygen blown: 4"),
        (
            {"hot_metal_temp_c": 1450.0, "heat_mj_t": 0.0, "co2_pct": 20.0},
            "scrap in the metallic charge: 3",
        ),
    ],
)
def test_what_a_melter_would_say(asked, words):
    found = solve(load_profile("heron"), infeasible="mark", **asked).checks()
    assert any(words in remark for remark in found), found


def test_ordinary_heats_pass():
    for works in ("heron", "dunlin"):
        assert solve(load_profile(works)).checks() == ()
    few = solve(load_profile("plover")).checks()  # little silicon: little slag and oxygen
    assert all("little silicon" in remark for remark in few) and len(few) == 3


def test_three_thousand_random_heats():
    """Of each remark the number of heats is that counted here; few heats of such a wild draw are
    ordinary, and none beyond a limit goes without a word.
    """
    rng, n = np.random.default_rng(4), 3000
    heat = solve(
        load_profile("heron"),
        hot_metal_pct={
            e: rng.uniform(*ends, n)
            for e, ends in {
                "C": (3.0, 5.5),
                "Si": (0.1, 1.2),
                "Mn": (0.1, 1),
                "P": (0.03, 0.2),
            }.items()
        },
        hot_metal_temp_c=rng.uniform(1200, 1450, n),
        end_temp_c=rng.uniform(1600, 1720, n),
        end_pct={"C": rng.uniform(0.02, 0.8, n), "P": rng.uniform(0.0003, 0.03, n)},
        basicity=rng.uniform(1.5, 5.5, n),
        mgo_pct=rng.uniform(2, 16, n),
        feo_pct=rng.uniform(5, 35, n),
        fe2o3_pct=4.0,
        infeasible="mark",
    )
    found = " ".join(checks(heat))
    ok = heat.feasible
    assert ok.sum() > 1000
    for words, outside in (
        ("oxygen blown", (heat.per_t("oxygen") < 49.5) | (heat.per_t("oxygen") > 70.0)),
        ("slag:", heat.slag.analysis_pct["MgO"] > 9.0),
        ("CaO/SiO2", (heat.slag.basicity() < 2.5) | (heat.slag.basicity() > 4.5)),
        ("scrap in the", heat.scrap_share_pct > 30.0),
        ("steel per metallic", (heat.yield_pct < 88.0) | (heat.yield_pct > 93.0)),
    ):
        assert words in found and f"({int((outside & ok).sum())} of {n} heats)" in found, words
    for words in ("out of reach", "does not go with", "graphite falls out", "below its liquidus"):
        assert words in found
