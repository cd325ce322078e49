"""Typed tables: encodings, delimiters, decimal commas, units. Expected values are written out by
hand; codecs are those of the standard library."""

import pytest

from steelthermo.base import InputError, number_in, table_of, text_of, unit_in


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_text_of_common_encodings(tmp_path, codec):
    path = tmp_path / "a.csv"
    path.write_bytes("Öfen;1,5 °C".encode(codec))
    text, notes = text_of(path, "log")
    assert text == "Öfen;1,5 °C"
    assert bool(notes) == (codec == "cp1252")


def test_text_of_refuses_what_cannot_be_read(tmp_path):
    with pytest.raises(InputError, match="log .*none.csv: it can't be read"):
        text_of(tmp_path / "none.csv", "log")
    (tmp_path / "big").write_bytes(b"x" * 2**20 + b"x")
    with pytest.raises(InputError, match="more than 1 MB"):
        text_of(tmp_path / "big", "log", 2**20)


def test_table_of_parts_head_rows_and_remarks():
    delimiter, rows, remarks = table_of("# rename: a = b\n\nx;y\n1,5;2\n")
    assert (delimiter, rows) == (";", [(3, ["x", "y"]), (4, ["1,5", "2"])])
    assert remarks == [(1, "rename: a = b")]
    assert table_of("")[1] == []
    with pytest.raises(InputError, match="CSV"):
        table_of('a,b\n"' + "x" * 200_000)


def test_numbers_and_units():
    assert (number_in("1,5", True), number_in("1,5", False), number_in("nan", False)) == (
        1.5,
        None,
        None,
    )
    assert (unit_in("wt%"), unit_in("degC"), unit_in("vol%", gas=True), unit_in("bar")) == (
        "%",
        "°C",
        "%",
        "bar",
    )
