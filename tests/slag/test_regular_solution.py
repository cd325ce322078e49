"""Slag as a solution: the 1993 regular-solution set against measured points that it was not fitted
to here, in tests/reference/ with paper, table and how they were read.
"""

import csv
import itertools
from pathlib import Path

import numpy as np
import pytest
from sample_slag import DEMO as USUAL

from steelthermo.base import ExtrapolationWarning, InputError, molar_mass, rows, value
from steelthermo.slag import iron_in_slag, lime_silicate_saturation, slag_solution
from steelthermo.slag.regular_solution import _energies, _gibbs, cation_moles
from steelthermo.thermo import solution_gibbs

REFERENCE = Path(__file__).parents[1] / "reference"
NAMES = _energies()[0]


def read(name):
    return list(csv.DictReader((REFERENCE / name).read_text(encoding="utf-8").splitlines()))


def at(moles, T):
    """ln gamma, activity of FetO, ferric share and oxygen of cations given in moles."""
    x = np.array([[float(moles.get(n, 0.0))] for n in NAMES])
    found = iron_in_slag(x / x.sum(), np.array([float(T)]))
    return [part[..., 0] for part in found]


def test_the_quick_form_is_the_printed_sum():
    """Ban-ya (1993), equation 4: R T ln gamma_i = sum alpha_ij xj^2 + sum of (alpha_ij + alpha_ik -
    alpha_jk) xj xk over pairs of others."""
    random = np.random.default_rng(3)
    x = random.dirichlet(np.ones(len(NAMES)))
    alpha = {frozenset((r["i"], r["j"])): r["alpha_j_mol"] for r in rows("regular_solution_pairs")}
    assert len(alpha) == 28
    T = 1873.15
    quick = _energies()[1] @ x - 0.5 * x @ _energies()[1] @ x
    for n, i in enumerate(NAMES):
        others = [(j, x[k]) for k, j in enumerate(NAMES) if j != i]
        a = {(p, q): alpha[frozenset((p, q))] for p, q in itertools.permutations(NAMES, 2)}
        printed = sum(a[i, j] * xj**2 for j, xj in others)
        printed += sum(
            (a[i, j] + a[i, k] - a[j, k]) * xj * xk
            for (j, xj), (k, xk) in itertools.combinations(others, 2)
        )
        assert quick[n] == pytest.approx(printed, rel=1e-12), (i, T)


def test_gibbs_and_duhem():
    """Sum of x d(ln gamma) is zero along any change: the law any solution obeys."""
    energies, random = _energies()[1], np.random.default_rng(4)
    x = random.dirichlet(np.ones(len(NAMES)))
    d = random.standard_normal(len(NAMES))
    d = 1e-6 * (d - d.mean())

    def ln_gamma(y):
        return energies @ y - 0.5 * y @ energies @ y

    change = ln_gamma(x + d) - ln_gamma(x - d)
    assert x @ change == pytest.approx(0.0, abs=1e-9 * np.abs(change).max() / 1e-6)


def test_iron_oxide_activity_measured():
    """Plante, Hastie and Kowalska (1992), table 2; Holzheid, Palme and Chakraborty (1997), tables
    3b to 3d: 16 points. Root mean square 0.10 in log, a factor of 1.26; none beyond two sigma but
    for activities above 0.75, which the kit warns of."""
    off = []
    for row in read("check_feo_activity.csv"):
        columns = zip(("x_FeO", "x_MgO", "x_SiO2", "x_CaO", "x_AlO1p5"),
                      ("Fe2+", "Mg2+", "Si4+", "Ca2+", "Al3+"), strict=True)  # fmt: skip
        moles = {cation: float(row[column]) for column, cation in columns}
        _, activity, _, _ = at(moles, row["T_k"])
        off.append(np.log10(activity / float(row["a_FeO_measured"])))
    assert len(off) == 16 and np.sqrt(np.mean(np.square(off))) < 0.11
    assert np.max(np.abs(off)) < 0.20 and abs(np.mean(off)) < 0.06


def test_ferric_share_measured():
    """Kambayashi, Awaka and Kato (1985), table 4; Ohara, Nunoue and Kato (1987), table 2: FetO-P2O5
    with a fourth oxide in iron crucibles at 1370 degC. Root mean square 0.02."""
    cation = {"CaO": "Ca2+", "MgO": "Mg2+", "MnO": "Mn2+", "SiO2": "Si4+", "none": ""}
    off = []
    for row in read("check_ferric_and_p2o5_iron_saturated.csv"):
        if row["oxide"] not in cation:
            continue  # two oxides at once: shares not told apart
        p2o5, other = float(row["P2O5"]), float(row["oxide_molpct"] or 0.0)
        moles = {"P5+": 2.0 * p2o5, "Fe2+": 100.0 - p2o5 - other, cation[row["oxide"]]: other}
        _, _, ferric, _ = at(moles, row["T_k"])
        off.append(ferric - float(row["Fe3_share_measured"]))
    assert len(off) >= 12 and np.sqrt(np.mean(np.square(off))) < 0.025
    assert abs(np.mean(off)) < 0.01


@pytest.mark.parametrize(
    "slag, printed, tolerance",
    [
        ({"FeO": 92.5, "MgO": 7.5}, 0.213, 0.06),  # Shim and Ban-ya (1981), MgO-saturated
        ({"FeO": 61.5, "CaO": 38.5}, 0.088, 0.10),  # Hara (1992), lime-saturated
    ],
)
def test_oxygen_under_iron_oxide_slags(slag, printed, tolerance):
    """Mass % of oxygen in iron at 1600 degC by equation 16 of the set itself."""
    solution = slag_solution_quiet(slag, 1873.15)
    own = solution.shares["Fe2+"] * solution.gamma["Fe2+"] * np.exp(-_gibbs("oxygen", 1873.15))
    assert own == pytest.approx(printed, rel=tolerance)
    assert solution.oxygen_pct == pytest.approx(own, rel=0.12)  # by the kit's own line


def slag_solution_quiet(slag, T):
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)
        return slag_solution(slag, T)


def test_usual_slag():
    """A converter slag at 1550, 1600 and 1650 degC: ferric share near 0.19 at iron saturation."""
    T = np.array([1550.0, 1600.0, 1650.0]) + 273.15
    found = slag_solution(USUAL, T)
    assert found.ferric_share == pytest.approx([0.20, 0.19, 0.185], abs=0.015)
    assert found.feto_activity == pytest.approx(0.35, abs=0.02)
    assert np.all(np.diff(found.oxygen_pct) > 0)
    one = slag_solution(USUAL, float(T[1]))
    assert isinstance(one.feto_activity, float)
    assert one.feto_activity == pytest.approx(found.feto_activity[1], rel=1e-12)
    assert {p.source.key for p in one.provenance} == {"banya93"}


def test_iron_is_shared_out_at_equilibrium():
    """Equation 23 put in again: FeO1.5 = FeO + 1/4 O2 with the oxygen of the metal."""
    T = 1873.15
    s = slag_solution(USUAL, T)
    a2, a3 = (s.shares[c] * s.gamma[c] for c in ("Fe2+", "Fe3+"))
    quarter = 0.5 * (np.log(s.oxygen_pct) + solution_gibbs("O", T) / (value("gas_constant") * T))
    assert np.log(a2) + quarter - np.log(a3) == pytest.approx(-_gibbs("ferric", T), rel=1e-9)
    moles, _ = cation_moles(USUAL)
    assert moles[NAMES.index("Si4+")] / moles[NAMES.index("Ca2+")] == pytest.approx(
        14 / molar_mass("SiO2") / (45 / molar_mass("CaO"))
    )


def test_silica_of_acid_slags():
    """FeO-SiO2 is saturated with silica at a mole fraction of 0.45 to 0.47 (as printed in the phase
    diagram that Ban-ya compares with): the set gives an activity of 1 there, within 10 %. Ladle
    slag, Kang and others (2007): factor 6 too high, so it is refused."""
    x = 0.46
    slag = {"SiO2": x * molar_mass("SiO2"), "FeO": (1 - x) * molar_mass("FeO")}
    assert slag_solution_quiet(slag, 1873.15).silica_activity() == pytest.approx(1.0, rel=0.1)
    with pytest.raises(InputError, match="8 times"):
        slag_solution_quiet(USUAL, 1873.15).activity("MnO")
    ladle = {"CaO": 49, "Al2O3": 40, "SiO2": 11, "FeO": 0.5}
    with pytest.raises(InputError, match="acid slags only"):
        slag_solution_quiet(ladle, 1873.15).silica_activity()


def test_manganese_oxide_of_acid_slags():
    """MnO-SiO2 holds no more silica from a mole fraction of 0.55 to 0.58 on (0.57 in
    inclusions.csv): the set says 0.563. Activity of MnO is offered for acid slags alone.
    """
    found = slag_solution_quiet({"SiO2": 25, "CaO": 7.5, "MnO": 10, "FeO": 57.5}, 1643.15)
    x = found.shares["Mn2+"] * found.gamma["Mn2+"]
    own = x * np.exp((-32470.0 + 26.143 * 1643.15) / (value("gas_constant") * 1643.15))
    assert found.activity("MnO") == pytest.approx(own, rel=1e-9)  # Ban-ya (1993), table 3
    edge = {"SiO2": 0.563 * molar_mass("SiO2"), "MnO": 0.437 * molar_mass("MnO"), "FeO": 0.1}
    assert slag_solution_quiet(edge, 1873.15).silica_activity() == pytest.approx(1.0, rel=0.05)
    acid = {"SiO2": 30, "CaO": 15, "MnO": 10, "FeO": 45}
    assert slag_solution_quiet(acid, 1700.0).activity("MnO") < found.activity("MnO")


def cations(row):
    """Moles of cations of mass % by oxide in a row of a reference file."""
    pct = {o: float(row[o]) for o in ("CaO", "SiO2", "MgO", "Al2O3") if o in row}
    moles, _ = cation_moles(pct | {"FeO": 1e-4})  # the set stands beside iron
    return dict(zip(NAMES, moles, strict=True))


def solid_activity(row, cation, a_j_mol, b_j_mol_k):
    """Activity against the solid oxide, whose step to the solution is that of Ban-ya's table 3."""
    T, moles = float(row.get("t_k") or float(row.get("t_c", 1600.0)) + 273.15), cations(row)
    x = moles[cation] / sum(moles.values())
    ln_gamma = at(moles, T)[0][NAMES.index(cation)]
    return x * np.exp(ln_gamma + (a_j_mol + b_j_mol_k * T) / (value("gas_constant") * T))


def test_magnesia_and_lime_fail_and_are_refused():
    """Guo and others (2021), table 5: a_MgO of eight slags; Görnerup and Wijk (1996), table 1:
    slags saturated with lime, activity 1. In transcriptions; the comparison is our own.
    """
    found = [
        float(row["a_MgO_solid"]) / solid_activity(row, "Mg2+", 34350.0, -16.736)
        for row in read("check_mgo_activity_guo2021.csv")
    ]
    assert (min(found), max(found)) == pytest.approx((17.0, 47.0), rel=0.05)
    found = [
        1.0 / solid_activity(row, "Ca2+", 18160.0, -23.309)
        for row in read("check_lime_silicate_saturation_gornerup1996.csv")
        if row["saturated_with"] == "CaO"
    ]
    assert (min(found), max(found)) == pytest.approx((24.0, 60.0), rel=0.05)
    usual = slag_solution(USUAL, 1873.15)
    for of, words in (
        ("MgO", "17 to 47"),
        ("CaO", "24 to 60"),
        ("MnO", "8 times"),
        ("heat", "250 kJ"),
    ):
        with pytest.raises(
            InputError, match=f"{of} of a slag: the set of 1993 is refused.*{words}"
        ):
            usual.activity(of)
    with pytest.raises(InputError, match="6 times too high for a ladle's"):
        usual.activity("SiO2")
    assert usual.activity("FetO") == usual.feto_activity


def test_lime_silicate_is_a_comparison():
    """Görnerup and Wijk (1996), table 1, slags saturated with 2CaO.SiO2, which is 1: without iron
    oxide and alumina 0.69 to 0.79, with alumina 0.08 to 0.59 and told so. In a transcription.
    """
    without, with_alumina = [], []
    for row in read("check_lime_silicate_saturation_gornerup1996.csv"):
        T = float(row["t_c"]) + 273.15
        if row["saturated_with"] != "2CaO.SiO2" or T > 2000.0:
            continue
        pct = {o: float(row[o]) for o in ("CaO", "SiO2", "Al2O3")}
        if pct["Al2O3"] == 0.0:
            without.append(lime_silicate_saturation(pct, T))
        else:
            with pytest.warns(ExtrapolationWarning, match="alumina of a slag near 2CaO.SiO2"):
                with_alumina.append(lime_silicate_saturation(pct, T))
    assert (len(without), len(with_alumina)) == (3, 12)
    assert (min(without), max(without)) == pytest.approx((0.69, 0.79), abs=0.005)
    assert (min(with_alumina), max(with_alumina)) == pytest.approx((0.08, 0.59), abs=0.005)
    with pytest.warns(ExtrapolationWarning, match="iron oxide of a slag near 2CaO.SiO2"):
        assert lime_silicate_saturation(USUAL, 1873.15) < 0.5
    both = lime_silicate_saturation({"CaO": 56.9, "SiO2": 43.1}, np.array([1873.15, 1923.15]))
    assert both == pytest.approx([0.789, 0.701], abs=0.001)
    assert lime_silicate_saturation({"SiO2": 40.0, "MnO": 60.0}, 1700.0) == 0.0
    with pytest.raises(InputError, match="temperature of the slag"):
        lime_silicate_saturation({"CaO": 56.9, "SiO2": 43.1}, 1600.0 - 273.15)


def test_silica_of_a_ladle_comes_out_six_times_too_high():
    """Kang and others (2007), tables 2 and 3, as printed, a factor of 2 allowed by its reader."""
    ratios = []
    for row in read("check_ladle_slag_silica_activity.csv"):
        ratio = solid_activity(row | {"t_k": row["T_k"]}, "Si4+", 27030.0, -1.983)
        ratios.append(np.log10(ratio / float(row["a_SiO2_measured"])))
    assert 10.0 ** np.mean(ratios) == pytest.approx(6.0, rel=0.35)


def test_nothing_else_reads_the_energies_of_the_set():
    """No heat, no saturation and no ladle is counted by it: its tables are read in one file."""
    import steelthermo

    package = Path(steelthermo.__file__).parent
    files = [
        p for p in package.rglob("*.py") if "regular_solution_" in p.read_text(encoding="utf-8")
    ]
    assert [p.name for p in files] == ["regular_solution.py"]


@pytest.mark.parametrize(
    "slag, T, words",
    [
        (USUAL, 1600.0 - 273.15, "temperature of the slag"),
        ({"CaO": 50.0, "SiO2": 50.0}, 1873.15, "iron oxide of the slag"),
        ({"FeO": 50.0, "CaF2": 5.0} | {"CaO": 45.0}, 1873.15, "slag: 'CaF2' was given"),
        ({}, 1873.15, "it holds nothing"),
    ],
)
def test_refusals(slag, T, words):
    with pytest.raises(InputError, match=words):
        slag_solution(slag, T)


def test_remarks():
    with pytest.warns(ExtrapolationWarning, match="activity of FetO"):
        slag_solution({"FeO": 99.0, "MgO": 1.0}, 1873.15)
    with pytest.warns(ExtrapolationWarning, match="temperature of the slag"):
        slag_solution(USUAL, 2050.0)
