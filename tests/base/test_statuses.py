"""What a main result rests on at the weakest, told by the record that holds it."""

import pytest

from steelthermo import blow, charge, end_point, ladle, slag
from steelthermo.base import (
    STATUSES,
    VERIFIED,
    InputError,
    kelvin,
    language,
    registry,
    row_names,
    rows,
    sources,
    weakest,
)
from steelthermo.hot_metal import dose
from steelthermo.jet import Penetration
from steelthermo.streams import LiquidMetal
from steelthermo.thermo import reaction

HOLD_MAIN_RESULTS = (
    charge.Charge,
    blow.Blow,
    end_point.Decision,
    ladle.Path,
    slag.EndOfBlow,
    Penetration,
)


@pytest.mark.parametrize("key", dict.fromkeys(r["result"] for r in rows("what_moves")))
def test_the_status_told_is_the_worst_of_the_table(key):
    statuses = {r["status"] for r in rows("what_moves") if r["result"] == key}
    assert weakest(key).startswith(f"rests on {max(statuses, key=STATUSES.index)}: ")


def test_what_moves_most_stands_first():
    """Critical carbon, read from its own row of what_moves.csv; and two results by what each is
    over its own uncertainty: carbon and exchange move the end more than the tundish the tap.
    """
    row = next(
        r
        for r in rows("what_moves")
        if (r["result"], r["row"]) == ("end_temp_c", "critical_carbon_pct")
    )
    assert weakest("end_temp_c").startswith(
        f"rests on memory: critical carbon (end temperature {row['less']:+.2g} to "
        f"{row['more']:+.0f} °C), exchange of slag and bath (end temperature "
    )
    both = weakest("end_temp_c", "tap_temp_c")
    places = [both.index(x) for x in ("critical carbon", "exchange of slag", "tundish")]
    assert places == sorted(places)


@pytest.mark.parametrize("key", [r["key"] for r in rows("main_results")])
def test_what_moves_more_than_the_uncertainty_is_told_with_its_band(key):
    """Every row without a text behind it, with both ends."""
    result = next(r for r in rows("main_results") if r["key"] == key)
    beyond = {
        row_names()[r["table"], r["row"]]
        for r in rows("what_moves")
        if r["result"] == key
        and r["status"] not in VERIFIED
        and max(abs(r["less"]), abs(r["more"])) > result["uncertain_by"]
    }
    told = weakest(key)
    assert told.count(f" {result['unit']})") >= len(beyond)
    for name in beyond:
        assert name in told


def _can_be_told():
    """(table, row) of what_moves.csv without a text behind it, or of the worst status of a result
    that it moves.
    """
    found, worst = rows("what_moves"), {}
    for r in found:
        worst[r["result"]] = max(STATUSES.index(r["status"]), worst.get(r["result"], 0))
    for r in found:
        if r["status"] not in VERIFIED or STATUSES.index(r["status"]) == worst[r["result"]]:
            yield r["table"], r["row"]


def test_every_row_that_can_be_told_has_a_name():
    """In row_names.toml: a short one, in words and no key; of models one for a group of numbers."""
    names = row_names()
    without = {
        (table, row)
        for table, row in _can_be_told()
        if (table, row) not in names and (table, row.rpartition(" ")[0]) not in names
    }
    assert not without, f"rows without a name in data/trust/row_names.toml: {sorted(without)}"
    for name in names.values():
        assert "_" not in name and " " in name and len(name) <= 40, name


def test_status_name_and_result_are_told_in_another_language(monkeypatch):
    """Asked for twice over: no other test asks so, and what was told once is kept."""
    said = {
        "common practice": "practică",
        "efficiency of magnesium": "randament",
        "sulphur": "sulf",
    }
    for english, words in said.items():
        monkeypatch.setitem(language._words, english, words)
    told = weakest("hot_metal_s_pct", "hot_metal_s_pct")
    assert "practică: randament (sulf -" in told
    assert not any(english in told for english in said)


def test_a_name_is_that_of_a_row():
    told = registry()
    for table, row in row_names():
        keys = {" ".join(str(r[c]) for c in told[table]["key"].split()) for r in rows(table)}
        assert any(key == row or key.startswith(f"{row} ") for key in keys), (table, row)


@pytest.mark.parametrize("cls", HOLD_MAIN_RESULTS, ids=lambda c: c.__name__)
def test_records_of_main_results_tell_it(cls):
    assert weakest(*cls._main_results).startswith("rests on ")


def test_text_and_table_tell_it():
    heat = charge.solve()
    told = weakest(*charge.Charge._main_results)
    assert told in " ".join(repr(heat).split()) and told in heat._repr_html_()
    path = ladle.tap_path({"C": 0.05})
    assert "rests on memory: loss from ladle to tundish" in " ".join(repr(path).split())
    assert "status memory" in repr(
        slag.partition({"CaO": 45.0, "SiO2": 15.0, "FeO": 20.0, "MgO": 8.0}, 1873.15, "Healy")
    )


def test_a_dose_of_magnesium_tells_it_and_one_of_carbide_does_not():
    """The efficiency of magnesium was shifted, and no other."""
    metal = LiquidMetal(1000.0, {"C": 4.5, "S": 0.04}, 1350.0)
    assert dose(metal, 0.005, {"magnesium": 1, "lime_powder": 4}).rests_on == weakest(
        "hot_metal_s_pct"
    )
    assert dose(metal, 0.005, "carbide").rests_on == ""


def test_the_probe_and_the_killed_steel_tell_it():
    """By the law and the set that were shifted; by another they say nothing that was not tried."""
    T = kelvin(1600.0)
    high, low = end_point.read_probe(150.0, T), end_point.read_probe(-150.0, T)
    assert high.rests_on == weakest("probe_600_ppm") and high.rests_on in high._repr_html_()
    assert low.ppm < 50.0 and low.rests_on == weakest("probe_3_ppm")
    assert end_point.read_probe(150.0, T, "hafnia").rests_on == ""
    bath = {"Fe": 999.6, "Al": 0.6, "O": 0.3}
    assert ladle.deoxidise(bath, T).rests_on == weakest("killed_o_ppm")
    assert ladle.deoxidise(bath, T, "msts").rests_on == ""
    silicon = ladle.deoxidise({"Fe": 996.0, "Si": 3.0, "O": 0.3}, T)
    assert silicon.oxides_kg["SiO2"] > 0.0 and silicon.rests_on == ""


def test_a_reading_of_the_probe_by_both_laws():
    """The other law gives what it gives by itself; where it gives none, none is told."""
    T = kelvin(1600.0)
    read = end_point.read_probe(150.0, T)
    ours, theirs = (
        1e4 * end_point.oxygen_activity(150.0, T, electrolyte=e)
        for e in ("zirconia", "zirconia, Nagatani")
    )
    assert (read.ppm, read.other_ppm) == (ours, theirs) and theirs > ours
    assert end_point.read_probe(150.0, T, "ideal").other is None
    assert end_point.read_probe(-250.0, T).other_ppm is None


def test_an_unknown_result_is_refused():
    with pytest.raises(InputError, match="main result"):
        weakest("colour")


EQUATIONS = {  # tables whose rows are worked out from substances and solutes, by which columns
    "equilibria": ("equation",),
    "oxidations": ("cold", "hot", "dissolved"),
    "coolants": ("equation",),
}


def _paths():
    """(row, statuses of what it is worked out from)."""
    solutes = {(r["set"], r["element"]): r["status"] for r in rows("solution")}
    for table, columns in EQUATIONS.items():
        for row in rows(table):
            if row.get("line", "gibbs") != "gibbs":
                continue
            sets = [s for s in row.get("sets", "none").split() if s in ("jsps", "msts")]
            for column in columns:
                solved = {t.formula for t in reaction(row[column]).terms if t.dissolved} - {"Fe"}
                for each in sets or ("jsps", "msts"):
                    if all((each, e) in solutes for e in solved):
                        yield (
                            row,
                            [
                                p.status
                                for p in sources(reaction(row[column], each))
                                if not p.place.startswith(
                                    "species "
                                )  # printed; ours is where it ends
                            ],
                        )
    for row in rows("other_data"):
        if row["kind"] == "solution":
            yield (
                row,
                [
                    s
                    for (c, e), s in solutes.items()
                    if c == row["source"] and row["of"] in (e, "all")
                ],
            )


def test_what_is_worked_out_claims_no_more_than_the_weakest_on_its_path():
    """The status of a row that is a sum of other rows is no better than the worst of those."""
    found = list(_paths())
    assert len({str(row) for row, _ in found}) > 40
    claimed = [
        (row["key"], row["status"], on_path)
        for row, on_path in found
        if STATUSES.index(row["status"]) < max(map(STATUSES.index, on_path), default=0)
    ]
    assert not claimed
