"""The gate: ranges read from the data, warned of or refused."""

import pytest

from steelthermo.base import (
    ExtrapolationWarning,
    InputError,
    beyond,
    gate,
    language,
    ranges,
    rows,
    say,
)
from steelthermo.base.limits import BASES

CARRY = ("interactions", "solution", "equilibria", "slag_oxygen", "slag_partitions")


@pytest.mark.parametrize("table", CARRY)
def test_every_row_carries_its_ranges_and_their_basis(table):
    for row in rows(table):
        held = ranges(row["holds"])
        assert any(r.name == "T" for r in held), row
        assert all(r.low < r.high and r.basis in BASES for r in held), row
        if table == "interactions":  # of what it is multiplied by, or what it was measured on
            names = {row["i"], row["j"], row["k"]}
            assert len(held) > 1 and {r.name for r in held} - {"T"} <= names, row


def test_inside_at_the_edge_and_outside():
    assert beyond("x", "C 0 0.5 own", {"C": [0.0, 0.5]}) == ()
    assert beyond("x", "C 0 0.5 own", {"Si": 3.0}) == ()
    (said,) = beyond("x", "C 0.1 0.5 published; Si 0 1 own", {"C": [0.2, 0.05], "Si": 1.0})
    assert said == "x: C 0.05 % was given, known for 0.1 to 0.5 % (published)"
    (said,) = beyond("x", "T 1823 1873 published", {"T": 1900.0})
    assert "1627 °C (1900 K)" in said and "1550 to 1600 °C (1823 to 1873 K)" in said
    for whole in (1900, [1850, 1900]):
        assert beyond("x", "T 1823 1873 published", {"T": whole}) == (said,)
    assert beyond("x", "T 1823 1873 published", {"T": []}) == ()


def test_warned_refused_and_unknown():
    with pytest.warns(ExtrapolationWarning, match="no range is printed"):
        assert gate("x", "Al 0 0.1 unknown; Al! 0 1 own", {"Al": 0.5})
    with pytest.raises(InputError, match="no result beyond"):
        gate("x", "Al 0 0.1 unknown; Al! 0 1 own", {"Al": 1.5})
    with pytest.raises(InputError, match="basis"):
        ranges("Al 0 1 guessed")


def test_many_remarks_are_one_warning():
    with pytest.warns(ExtrapolationWarning, match="a; b; c; d; and 2 more") as caught:
        assert say(tuple("abcdef")) == tuple("abcdef")
    assert len(caught) == 1


def test_the_head_of_a_warning_is_in_the_language_chosen(monkeypatch):
    monkeypatch.setitem(language._words, "deoxidation of the steel", "dezoxidare")
    with pytest.warns(ExtrapolationWarning, match="^dezoxidare: x; the result is extrapolated"):
        say(("x",), "deoxidation of the steel")
