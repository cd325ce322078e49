"""Measured heats: what the reader says of every kind of doubtful file, the comparison and the fit
against sums done otherwise and against SciPy.

All readings here are invented. The kit ships no measured heat, for none could be read.
"""

import numpy as np
import pytest
from scipy.optimize import curve_fit

from steelthermo import blow
from steelthermo.base import InputError, data_path
from steelthermo.blow import Fit, compare, fit, inside, least_squares, measured

HEAD = "time_min,quantity,value,unit,source,licence\n"


def read(*rows, head=HEAD):
    return measured.parse(head + "\n".join(rows) + "\n")


@pytest.fixture(scope="module")
def heat():
    return blow.solve()


@pytest.fixture(scope="module")
def invented():
    return measured.invented_heat()


# ---- reading -------------------------------------------------------------------------------------


def test_a_plain_file():
    m = read("2,C,4.1,%,lab A,own", "2,temperature,1355,°C,lab A,own", "10,C,2.0,%,lab A,own")
    assert (
        len(m) == 3
        and m.quantities == ("C", "temperature")
        and m.sources == ("lab A",)
        and m.notes == ()
    )
    time, value = m.of("C")
    assert time.tolist() == [2.0, 10.0] and value.tolist() == [4.1, 2.0]


def test_columns_in_any_order_remarks_blank_lines_and_more_columns():
    m = measured.parse(
        "# a remark\n\nUnit,Value,Time_min,who,Quantity,licence,SOURCE\n# "
        "another\n%,0.05,18,NN,C,own,lab\n\n"
    )
    assert m.of("C")[1].tolist() == [0.05] and "who" in m.notes[0]


def test_blanks_are_left_out_and_said():
    m = read("2,C,,%,lab,own", ",C,4,%,lab,own", "3,C,4,%,lab,own", ",,,,,", " , C , , %, lab, own")
    assert len(m) == 1 and "3 rows without time or value left out (lines 2, 3, 6)" in m.notes[0]


def test_a_blank_source_or_licence_is_said():
    m = read("3,C,4,%,,", "4,C,3.8,%,lab,own")
    assert m.source.tolist() == ["not stated", "lab"] and m.licence[0] == "not stated"
    assert any("name no source" in n for n in m.notes) and any(
        "name no licence" in n for n in m.notes
    )


def test_what_is_no_number_is_left_out_and_said():
    m = read(
        "3,P,<0.005,%,lab,own",
        "4,P,n.d.,%,lab,own",
        "5,P,0.01,%,lab,own",
        "6,P,nan,%,lab,own",
        "late,P,0.01,%,lab,own",
    )
    assert (
        len(m) == 1
        and "4 rows left out" in m.notes[0]
        and "'<0.005'" in m.notes[0]
        and "lines 2, 3, 5, 6" in m.notes[0]
    )


@pytest.mark.parametrize(
    "row, value, note",
    [
        ("5,temperature,1873.15,K,lab,own", 1600.0, "from K to °C"),
        ("5,P,120,ppm,lab,own", 0.012, "from ppm to %"),
        ("5,S,0.12,kg/t,lab,own", 0.012, "from kg/t to %"),
        ("5,gas flow,60000,Nm3/h,lab,own", 1000.0, "from Nm3/h to Nm3/min"),
        ("5,C,4.1,wt.%,lab,own", 4.1, None),
        ("5,CO,80,vol %,lab,own", 80.0, None),
        ("5,temperature,1600,degC,lab,own", 1600.0, None),
        ("5,CaO/SiO2,3.1,-,lab,own", 3.1, None),
        ("5,c,4.1,%,lab,own", 4.1, None),
    ],
)
def test_units_of_the_same_kind_are_converted(row, value, note):
    """By the kit's table of units: SI definitions."""
    m = read(row)
    assert m.value[0] == pytest.approx(value, rel=1e-9)
    assert (note is None and m.notes == ()) or note in m.notes[0]
    if note:
        assert m.notes[0].startswith("1 value of")
        assert read(row, row.replace("5", "6", 1)).notes[0].startswith("2 values of")


@pytest.mark.parametrize(
    "row, words",
    [
        ("5,temperature,2912,°F,lab,own", "unit '°F' of temperature"),
        ("5,C,4.1,kg,lab,own", "unit 'kg' of C"),
        ("5,C,4.1,,lab,own", "unit '' of C"),
        ("5,FeO,18,vol %,lab,own", "unit 'vol %' of FeO"),
        ("5,C,410,%,lab,own", "Is the unit right"),
        ("5,temperature,1873,°C,lab,own", "°C or K"),
        ("5,carbon,4.1,%,lab,own", "quantity 'carbon' is not known"),
        ("5,temprature,1600,°C,lab,own", "did you mean temperature"),
        ("600,C,4.1,%,lab,own", "Are these seconds"),
        ("-1,C,4.1,%,lab,own", "allowed is 0 to 240"),
    ],
)
def test_what_cannot_be_right_is_refused_with_its_line(row, words):
    with pytest.raises(InputError, match="1 fault") as caught:
        read("1,C,4.4,%,lab,own", row)
    assert words in str(caught.value) and "line 3" in str(caught.value)


def test_many_faults_are_told_together():
    with pytest.raises(InputError, match="25 faults") as caught:
        read(*["5,C,410,%,lab,own"] * 25)
    assert str(caught.value).count("line ") == 10 and "and 15 more" in str(caught.value)


@pytest.mark.parametrize(
    "text, words",
    [
        ("", "it is empty"),
        ("# only a remark\n", "it is empty"),
        ("time,C\n1,4\n", "columns time_min, quantity, value, unit, source, licence are missing"),
        ("time_min,quantity,value,unit,source\n1,C,4,%,lab\n", "columns licence are missing"),
        (HEAD, "no reading is left"),
        (HEAD + "1,C,,%,lab,own\n", "no reading is left.*without time or value"),
    ],
)
def test_files_that_are_no_heat(text, words):
    with pytest.raises(InputError, match=words):
        measured.parse(text)


def test_unordered_times_are_sorted_and_said():
    m = read("10,C,2,%,lab,own", "2,C,4,%,lab,own", "5,C,3,%,lab,own")
    assert (
        m.time_min.tolist() == [2.0, 5.0, 10.0]
        and m.value.tolist() == [4.0, 3.0, 2.0]
        and "not in order" in m.notes[0]
    )


def test_doubles():
    m = read("2,C,4,%,lab,own", "2,C,4,%,lab,own", "2,C,4.1,%,lab,own", "2,C,4,%,other,own")
    assert len(m) == 3
    assert any("1 row that stood there twice" in n for n in m.notes) and any(
        "1 reading of the same quantity, time and source" in n for n in m.notes
    )


def test_two_sources_are_kept_apart():
    m = read("2,C,4,%,lab A,own", "2,C,4.3,%,lab B,own", "6,C,3,%,lab A,own")
    assert m.sources == ("lab A", "lab B") and "2 sources: lab A (2), lab B (1)" in m.notes[0]
    assert m.of("C", "lab B")[1].tolist() == [4.3]
    assert m.of("C", "lab A")[1].tolist() == [4.0, 3.0]


def test_semicolons_with_decimal_commas_and_tabs():
    a = measured.parse("time_min;quantity;value;unit;source;licence\n2,5;C;4,05;%;lab;own\n")
    b = measured.parse(
        "time_min\tquantity\tvalue\tunit\tsource\tlicence\n2.5\tC\t4.05\t%\tlab\town\n"
    )
    assert a.time_min[0] == b.time_min[0] == 2.5 and a.value[0] == b.value[0] == 4.05


@pytest.mark.parametrize(
    "encoding, note", [("utf-8", False), ("utf-8-sig", False), ("cp1252", True)]
)
def test_files_as_spreadsheets_save_them(tmp_path, encoding, note):
    path = tmp_path / "Wärme 1.csv"
    path.write_bytes((HEAD + "5,temperature,1600,°C,Labor Süd,own\r\n").encode(encoding))
    m = measured.load(path)
    assert m.value[0] == 1600.0 and m.source[0] == "Labor Süd" and bool(m.notes) == note
    with pytest.raises(InputError, match="can't be read"):
        measured.load(tmp_path / "none.csv")


def test_ten_thousand_rows_and_two_sources(heat):
    """Half from one source, half from another that reads 0.1 % C more: the comparison of each tells
    so.
    """
    random = np.random.default_rng(3)
    time = np.round(random.permutation(10_000) * 0.0018, 4)
    truth = np.interp(time, heat.time_min, heat.of("C"))
    rows = [
        f"{t:g},C,{x + 0.1 * (i % 2):.5f},%,lab {'AB'[i % 2]},own"
        for i, (t, x) in enumerate(zip(time, truth, strict=True))
    ]
    m = read(*rows)
    assert len(m) == 10_000 and np.all(np.diff(m.time_min) >= 0) and len(m.notes) >= 2
    a, b = (compare(heat, m, s)["C"] for s in m.sources)
    biases = sorted((a.bias, b.bias))
    assert biases[0] == pytest.approx(-0.1, abs=1e-4) and biases[1] == pytest.approx(0.0, abs=1e-4)


def test_the_heat_that_ships_is_marked_invented(invented):
    text = data_path("heat_heron_invented.csv").read_text(encoding="utf-8")
    assert text.startswith("time_min,quantity,value,unit,source,licence\n") and invented.notes == ()
    assert (
        all("invented" in s and "no measurement" in s for s in invented.sources)
        and len(invented.quantities) >= 10
    )


def test_the_heat_that_ships_is_what_its_maker_draws():
    import importlib.util
    from pathlib import Path

    path = Path(__file__).parents[1] / "tools" / "make_invented_heat.py"
    spec = importlib.util.spec_from_file_location("make_invented_heat", path)
    maker = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(maker)
    text = data_path("heat_heron_invented.csv").read_text(encoding="utf-8").splitlines()[1:]
    fresh = maker.readings()
    assert len(text) == len(fresh)
    for line, row in zip(text, fresh, strict=True):
        assert line.startswith(f"{row[0]},{row[1]},") and float(
            line.split(",")[2]
        ) == pytest.approx(float(row[2]), abs=0.11)


# ---- comparing -----------------------------------------------------------------------------------


def test_comparison_by_hand(heat):
    """Readings set 0.2 below, 0.1 above and on the line: bias (0.2 - 0.1 + 0)/3, root mean square
    sqrt(0.05/3), worst +0.2.
    """
    c = {t: heat.at(t)["C"] for t in (3.0, 8.0, 12.0)}
    m = read(
        f"3,C,{c[3.0] - 0.2:.9f},%,l,o",
        f"8,C,{c[8.0] + 0.1:.9f},%,l,o",
        f"12,C,{c[12.0]:.9f},%,l,o",
        "60,C,0.04,%,l,o",
    )
    found = compare(heat, m)["C"]
    assert found.count == 3 and found.worst_at_min == 3.0 and found.unit == "%"
    assert (found.bias, found.rms, found.worst) == pytest.approx(
        (0.1 / 3, np.sqrt(0.05 / 3), 0.2), abs=1e-8
    )
    with pytest.raises(InputError, match="no reading falls into the blow"):
        compare(heat, read("60,C,0.04,%,l,o"))


def test_readings_inside_the_band(invented):
    band = blow.band(step_min=0.5)
    wide, narrow = inside(band, invented), inside(band, invented, together=False)
    assert set(wide) == set(invented.quantities)
    assert all(narrow[k][0] <= wide[k][0] <= wide[k][1] for k in wide)
    assert {k: n for k, (_, n) in wide.items()} == {k: invented.of(k)[0].size for k in wide}
    far = read("10,C,5.9,%,l,o")
    assert inside(band, far)["C"] == (0, 1)


# ---- fitting -------------------------------------------------------------------------------------


def test_least_squares_against_scipy():
    """An exponential fall with scatter: parameters and covariance of SciPy's curve_fit (general
    library), which takes another route to the minimum.
    """
    random = np.random.default_rng(8)
    t = np.linspace(0, 5, 40)

    def curve(t, a, k, c):
        return a * np.exp(-k * t) + c

    y = curve(t, 4.0, 0.7, 0.3) + 0.05 * random.standard_normal(t.size)
    theirs, covariance = curve_fit(
        curve, t, y, p0=(2.0, 1.0, 0.0), sigma=np.full(t.size, 0.05), absolute_sigma=True
    )

    def residuals(points):
        return np.array([(curve(t, *p) - y) / 0.05 for p in points])

    mine, c, chi2, converged = least_squares(
        residuals, [2.0, 1.0, 0.0], [0.1, 0.1, -1.0], [10.0, 3.0, 1.0]
    )
    np.testing.assert_allclose(mine, theirs, rtol=1e-5)
    np.testing.assert_allclose(c, covariance, rtol=1e-3)
    assert converged and chi2 == pytest.approx(
        np.sum(((curve(t, *theirs) - y) / 0.05) ** 2), rel=1e-8
    )


def test_least_squares_of_a_straight_line():
    """Closed form of the straight line: slope and its uncertainty by the normal equations, written
    out.
    """
    x, y = np.array([1.0, 2.0, 3.0, 4.0]), np.array([2.1, 3.9, 6.2, 7.8])
    mine, c, _, _ = least_squares(
        lambda p: p[:, :1] + p[:, 1:] * x - y, [0.0, 1.0], [-5.0, -5.0], [5.0, 5.0]
    )
    slope = np.sum((x - x.mean()) * (y - y.mean())) / np.sum((x - x.mean()) ** 2)
    assert mine == pytest.approx([y.mean() - slope * x.mean(), slope], abs=1e-7)
    assert c[1, 1] == pytest.approx(1 / np.sum((x - x.mean()) ** 2), rel=1e-6)


def synthetic(truth, noise, keys, seed=0):
    """Readings drawn from the model itself, with known parameters: a check of the fit, not of the
    model.
    """
    heat, random = blow.solve(parameters=truth), np.random.default_rng(seed)
    rows = []
    for t in np.linspace(2, 18, 17):
        at = heat.at(t)
        for key in keys:
            u = blow.quantities()[key]["uncertainty"]
            rows.append(
                f"{t:g},{key},{max(at[key] + noise * u * random.standard_normal(), 0.0):.6f},"
                f"{blow.quantities()[key]['unit']},model,own"
            )
    return read(*rows)


@pytest.fixture(scope="module")
def fitted():
    truth = {"slag_oxygen_pct": 26.0, "exchange_per_min": 0.35}
    found = fit(synthetic(truth, 1.0, ("C", "Mn", "P", "FeO")), tuple(truth), step_min=0.4)
    return truth, found


def test_a_fit_finds_what_made_the_readings(fitted):
    """Own synthetic readings with scatter: the known parameters lie within three standard
    uncertainties, chi2 near its freedom.
    """
    truth, found = fitted
    assert isinstance(found, Fit) and found.freedom == 17 * 4 - 2
    for name, value in truth.items():
        assert abs(found.values[name] - value) < 3 * found.u[name] and found.u[name] < 0.15 * value
    assert 0.5 < found.chi2 / found.freedom < 1.7
    assert found.compared_after["C"].rms < found.compared_before["C"].rms
    assert abs(found.correlation[0, 1]) < 0.95 and found.correlation[0, 0] == pytest.approx(1.0)
    assert "slag_oxygen_pct = 2" in str(found) and "±" in str(found)


def test_without_scatter_the_fit_is_exact():
    found = fit(synthetic({"lime_min": 6.0}, 0.0, ("CaO", "SiO2")), "lime_min")
    assert found.values["lime_min"] == pytest.approx(6.0, rel=2e-3) and found.chi2 < 0.05


def test_what_a_fit_says_in_words(heat, invented):
    away = read(
        *(
            f"{t},temperature,{min(heat.at(t)['temperature'] + 90, 1790):.0f},°C,l,o"
            for t in range(2, 18)
        )
    )
    found = fit(away, "scrap_min", step_min=0.5)
    words = " ".join(found.words)
    assert "limit of what is allowed" in words or "outside its band" in words
    assert "misses the readings" in words
    with pytest.raises(InputError, match="do not depend on parameter 1"):
        fit(read(*(f"{t},oxygen,{460 * t},Nm3,l,o" for t in range(1, 9))), "lime_min", step_min=0.5)


@pytest.mark.parametrize(
    "names, kwargs, words",
    [
        ((), {}, "one to 3"),
        (("critical_carbon_pct", "lime_min", "scrap_min", "exchange_per_min"), {}, "one to 3"),
        (("lime_min", "lime_min"), {}, "different"),
        (("rust",), {}, "rust"),
        (("lime_min",), {"use": ("colour",)}, "colour"),
        (("lime_min",), {"uncertainty": {"C": 0.0}}, "uncertainty of C"),
        (("lime_min",), {"uncertainty": {"colour": 1.0}}, "colour"),
        (("lime_min",), {"use": ("Si",)}, "more than"),
    ],
)
def test_fits_that_cannot_be(names, kwargs, words):
    few = read("3,C,3.7,%,l,o", "5,C,3.2,%,l,o", "8,C,2.5,%,l,o", "3,Si,0.1,%,l,o")
    with pytest.raises(InputError, match=words):
        fit(few, names, step_min=0.5, **kwargs)


def test_the_invented_heat_can_be_fitted(invented):
    """The first worked example of lesson and panel: the misfit shrinks, the uncertainties are
    told.
    """
    found = fit(
        invented, ("critical_carbon_pct", "slag_oxygen_pct", "exchange_per_min"), step_min=0.5
    )
    assert found.chi2 / found.freedom < 2.0 and all(u > 0 for u in found.u.values())
    assert found.compared_after["FeO"].rms < found.compared_before["FeO"].rms
