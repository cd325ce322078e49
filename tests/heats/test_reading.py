"""Reading a shop's log. Rows are written out here; what is to come of them follows from the rules
stated in the docstrings (no published figures are involved)."""

import numpy as np
import pytest

from steelthermo.base import InputError
from steelthermo.heats import log as logs
from steelthermo.heats import open_heat, reading
from steelthermo.works import load_profile

HEAD = [
    "heat",
    "date",
    "hot_metal_kg",
    "hot_metal_temp_c",
    "hot_metal_c_pct",
    "hot_metal_si_pct",
    "heavy_scrap_kg",
    "lime_kg",
    "oxygen_nm3",
    "end_temp_c",
    "end_c_pct",
    "steel_kg",
]
ROW = [
    "1",
    "2026-03-01",
    "160000",
    "1340",
    "4.5",
    "0.4",
    "45000",
    "7000",
    "9300",
    "1655",
    "0.04",
    "188000",
]


def text(*rows, head=None, cut=","):
    return "\n".join(cut.join(r) for r in (head or HEAD, *rows))


def changed(heat, **cells):
    return [heat if k == "heat" else cells.get(k, c) for k, c in zip(HEAD, ROW, strict=True)]


def test_a_log_in_the_order_of_time():
    log = reading.parse(text(changed("b", date="2026-03-02"), changed("a")), load_profile("heron"))
    assert log.heat.tolist() == ["a", "b"]
    assert "sorted" in log.notes[-1]
    assert log.of("hot_metal_kg").tolist() == [160000.0, 160000.0]
    assert log.of("end_p_pct").mask.all()
    assert list(log.solids("scrap")) == ["heavy_scrap"]


@pytest.mark.parametrize("cut", [";", "\t"])
@pytest.mark.parametrize("codec", ["utf-8-sig", "utf-16", "latin-1"])
def test_encodings_and_decimal_commas(tmp_path, codec, cut):
    rows = [[c.replace(".", ",") for c in changed("Öfen", end_c_pct="0,041")]]
    path = tmp_path / "log.csv"
    path.write_bytes(text(*rows, cut=cut).encode(codec))
    log = reading.read(path, load_profile("heron"))
    assert (log.heat[0], log.of("end_c_pct")[0]) == ("Öfen", 0.041)


def test_units_and_other_names():
    units = ["text", "date", "t", "K", "%", "%", "t", "kg", "Nm3", "°C", "ppm", "kg"]
    row = changed("1", hot_metal_kg="160", hot_metal_temp_c="1613.15", heavy_scrap_kg="45")
    row[HEAD.index("end_c_pct")] = "400"
    head = ["Charge" if h == "heat" else h for h in HEAD]
    log = reading.parse(text(units, row, head=head), load_profile("heron"), {"Charge": "heat"})
    assert log.of("hot_metal_kg")[0] == pytest.approx(160_000)
    assert log.of("hot_metal_temp_c")[0] == pytest.approx(1340)
    assert log.of("end_c_pct")[0] == pytest.approx(0.04)
    again = reading.parse("# rename: Charge = heat\n" + text(row[:2] + ROW[2:], head=head))
    assert again.heat.tolist() == ["1"]


def test_every_fault_is_told_and_the_row_set_aside():
    log = reading.parse(
        text(
            changed("good"),
            changed("text", hot_metal_kg="much"),
            changed("span", end_temp_c="165"),
            changed("blank", oxygen_nm3=""),
            changed("two", hot_metal_si_pct="9", date="31.31.2026"),
            changed("", end_c_pct="0.04"),
            changed("formula", steel_kg="=1+1"),
            changed("more", steel_kg="300000"),
        )
    )
    assert log.heat.tolist() == ["good"]
    why = {x.line: x.reason for x in log.set_aside}
    assert why[3] == "hot_metal_kg: 'much' is no number"
    assert "end_temp_c: 165 °C was given; allowed is 1450 to 1800" in why[4]
    assert "oxygen_nm3: blank" in why[5]
    assert "hot_metal_si_pct" in why[6] and "date" in why[6]
    assert "heat: blank" in why[7] and "no number" in why[8]
    assert "more steel than hot metal and scrap" in why[9]


def test_double_heats_second_blows_and_outliers():
    head = [*HEAD, "second_blow_nm3"]
    rows = [[*changed(str(i), end_temp_c=str(1650 + i % 9)), ""] for i in range(40)]
    rows += [[*changed("7"), ""], [*changed("again"), "150"]]
    rows += [[*changed("wild", end_temp_c="1790"), "0"]]
    log = reading.parse(text(*rows, head=head))
    why = {}
    for x in log.set_aside:
        why.setdefault(x.reason.split(":")[0][:20], []).append(x.heat)
    assert why == {
        "its number stands th": ["7", "7"],
        "temperature at the e": ["wild"],
    }
    # a heat blown again keeps what was read before: without the cold heats the mean is too warm
    assert len(log) == 40 and "1 heat blown again: again." in log.notes[-1]
    again = log.heat == "again"
    assert not log.of("end_temp_c").mask[again] and not log.of("oxygen_nm3").mask[again]
    assert log.of("steel_kg").mask.tolist() == again.tolist()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("", "it is empty"),
        ("Schmelze,Eisen\n1,2", "hot_metal_kg is missing.*rename: Schmelze = "),
        (text(ROW, head=[*HEAD[:-1], "heat"]), "heat stands there twice"),
        (text(changed("1", end_temp_c="cold")), "no heat is left.*'cold' is no number"),
        ("# rename: x\n" + text(ROW), "rename: your name = our name"),
        (text(["text", "date", "m"] + ["kg"] * 9, ROW), r"line 2 \(units\): hot_metal_kg"),
        (
            "Schmelze;Roheisen t;O2\n1;160;9300",
            "heat is missing.*hot_metal_kg is missing.*'Schmelze",
        ),
        ("炉号,铁水\n1,2", "end_temp_c is missing.*# rename: 炉号 = heat"),
        ("PK\x03\x04\x14", "a spreadsheet's own file; save it as CSV"),
        (text(['"1', *ROW[1:]], ROW), "is a quotation mark left open"),
        (text(changed("1", hot_metal_kg="160")), "160 kg was given; allowed is 1000 to 500000"),
        (text(changed("1", end_temp_c="3011")), "3011 °C was given; allowed is 1450 to 1800"),
    ],
)
def test_what_cannot_be_read_is_told(given, told):
    with pytest.raises(InputError, match=f"(?s){told}"):
        reading.parse(given)


def test_a_million_rows_are_refused_in_words():
    with pytest.raises(InputError, match="more than 100000 rows"):
        reading.parse("heat\n" + "1\n" * 1_000_000)


def test_the_form_can_be_filled_in_and_read():
    lines = logs.template(load_profile("heron")).splitlines()
    head, units = (x.split(",") for x in lines[-2:])
    row = dict(zip(HEAD, ROW, strict=True))
    filled = "\n".join([*lines, ",".join(row.get(h, "") for h in head)])
    log = reading.parse(filled, load_profile("heron"))
    assert (len(log), len(units), log.notes, log.set_aside) == (1, len(head), (), ())
    units[head.index("hot_metal_kg")], row["hot_metal_kg"] = (
        "t",
        "160",
    )  # the form's own row of units
    other = [*lines[:-1], ",".join(units), ",".join(row.get(h, "") for h in head)]
    log = reading.parse("\n".join(other), load_profile("heron"))
    assert log.of("hot_metal_kg")[0] == 160_000.0 and not log.set_aside
    assert all(f"# {key}: " in "\n".join(lines) for key in head)


def test_a_wrong_column_is_told_with_those_near_it():
    log = reading.parse(text(ROW))
    with pytest.raises(InputError, match="near it: end_temp_c"):
        log.of("end_temp")
    assert "1 heat" in repr(log)
    assert not logs.outlying(np.ones(30)).any()


def test_formulas_and_markup_in_a_name_stay_text():
    names = ['=HYPERLINK("x")', "<script>alert(1)</script>", "@SUM(1)"]
    log = reading.parse(text(*(changed(n.replace(",", "")) for n in names)))
    assert log.heat.tolist() == names
    opened = open_heat(log, names[1])
    assert "<script>" not in opened._repr_html_() and "&lt;script&gt;" in opened._repr_html_()
    cells = ["=A1*2", "@SUM(1)", "-2+3", "nan", "1e400", "0x10"]
    log = reading.parse(text(changed("good"), *(changed(c, oxygen_nm3=c) for c in cells)))
    assert log.heat.tolist() == ["good"]
    assert all("is no number" in x.reason or "allowed is" in x.reason for x in log.set_aside)
    assert [x.line for x in log.set_aside] == [3, 4, 5, 6, 7, 8]


def test_progress_is_told():
    told = []
    rows = [changed(str(i)) for i in range(2500)]
    assert len(reading.parse(text(*rows), progress=told.append)) == 2500
    assert told == [1000, 2000]
