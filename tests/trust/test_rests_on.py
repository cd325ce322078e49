"""What the main results rest on: a sample of the table worked out anew, and what it says."""

import numpy as np
import pytest
import what_moves
from shifted import figures

from steelthermo.base import STATUSES, VERIFIED, InputError, rows
from steelthermo.trust import main_results, rests_on

SAMPLE = (
    ("end_of_blow", "critical_carbon_pct"),
    ("constants", "electronic_zirconia_a"),
    ("plant_values", "mg_efficiency_pct"),
    ("lance", "decay_k"),
)


@pytest.fixture(scope="module")
def results():
    made = what_moves.Results()
    made.base = made.all()
    return made


def as_written(table, name):
    return {
        r["result"]: (r["less"], r["more"])
        for r in rows("what_moves")
        if (r["table"], r["row"]) == (table, name)
    }


def agree(results, table, row, name):
    found, written = what_moves.moved(results, table, row), as_written(table, name)
    assert set(found) == set(written), f"{name}: run tests/tools/what_moves.py"
    for key, changes in found.items():
        within = max(0.1 * max(map(abs, changes)), 0.02 * main_results()[key][2])
        np.testing.assert_allclose(changes, written[key], atol=within, err_msg=f"{name}, {key}")


@pytest.mark.parametrize(("table", "name"), SAMPLE)
def test_the_table_is_that_of_today(results, table, name):
    """Within a tenth of the change, or a fiftieth of what the result is uncertain by."""
    agree(results, table, next(r for r in rows(table) if r["key"] == name), name)


@pytest.mark.long
def test_every_line_is_that_of_today(results):
    written = {(r["result"], r["table"], r["row"]) for r in rows("what_moves")}
    assert {line[:3] for line in what_moves.lines()} == written


def test_a_shift_leaves_names_and_ranges_alone():
    row = next(r for r in rows("end_of_blow") if r["key"] == "slag_exchange")
    assert figures(row) == ("start",)
    row = next(r for r in rows("slag_oxygen") if r["key"] == "FetO")
    assert figures(row) == ("b_k", "c")


@pytest.mark.parametrize("key", main_results())
def test_what_a_result_rests_on(key):
    found = rests_on(key)
    assert sum(found.counts.values()) == len(found.moves) > 0
    assert found.worst == max((m.status for m in found.moves), key=STATUSES.index)
    sizes = [m.size for m in found.moves]
    assert sizes == sorted(sizes, reverse=True)
    assert all(m.status not in VERIFIED for m in found.unverified)
    assert repr(found) and found.unit in found.moves[0].told


def test_the_law_at_the_end_of_a_blow_is_the_weakest_of_a_charge():
    """Its critical carbon and exchange are the only figures not verified that move the end
    temperature by more than the spread of heats: law_band() tells them beside it.
    """
    beyond = {m.row for m in rests_on("end_temp_c").unverified if m.size > 1.0}
    assert beyond == {"critical_carbon_pct", "slag_exchange"}


def test_an_unknown_result_is_refused():
    with pytest.raises(InputError, match="main result"):
        rests_on("colour")


def test_the_end_of_a_blow_scatters_as_much_as_a_blow_is_fitted_to():
    """One figure each in two tables: what a main result is uncertain by, and how a works' heats
    scatter about their ends.
    """
    told, scatter = main_results(), {r["key"]: r["end_spread"] for r in rows("blow_quantities")}
    for key, quantity in (
        ("c_pct", "C"),
        ("p_pct", "P"),
        ("temp_c", "temperature"),
        ("feo_pct", "FeO"),
    ):
        assert scatter[quantity] == told[f"blow_{key}"][2]
