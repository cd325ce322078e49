"""The table of spreads; nothing here needs an outside source."""

import pytest

from steelthermo import sources
from steelthermo.base import InputError
from steelthermo.works import inputs, spreads


def test_every_input_has_a_spread_in_its_range_a_source_and_words():
    assert len(inputs()) >= 15 and set(inputs()) == set(spreads())
    for key, i in inputs().items():
        assert (
            i.low <= i.start <= i.high
            and i.what
            and i.group in ("measured", "weighed", "materials", "works")
        ), key
        assert i.status in ("memory", "common practice")  # none was published, and none says so
        assert sources(f"spread of {key}")[0].status == i.status
        assert i.relative == (key.endswith(("_kg", "_nm3")))


def test_spreads_instead_of_the_table():
    changed = spreads({"oxygen_nm3": 0.5, "scrap_kg": 0})
    assert (
        changed["oxygen_nm3"] == 0.5
        and changed["scrap_kg"] == 0.0
        and changed["heat_mj_t"] == inputs()["heat_mj_t"].start
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: spreads({"oxygen": 1.0}), "allowed are hot_metal_temp_c"),
        (lambda: spreads({"oxygen_nm3": -1.0}), "oxygen blown: -1 %"),
        (lambda: spreads({"oxygen_nm3": float("nan")}), "finite"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(InputError, match=words):
        call()
