"""Gas record, calorific value, air and equilibrium against NIST-JANAF tables, general libraries,
and exact balances.
"""

import warnings
from pathlib import Path

import cantera as ct
import chemicals
import janaf
import numpy as np
import pytest
from chemicals import combustion
from fluids.atmosphere import ATMOSPHERE_NRLMSISE00
from hypothesis import example, given, settings
from hypothesis import strategies as st

from steelthermo.base import ExtrapolationWarning, InputError, sources, value
from steelthermo.streams import Gas, gas, gas_equilibrium
from steelthermo.thermo import substances

VM = 22.413969  # Nm3/kmol, exact constants of the SI worked out by hand


def janaf_row(index, T):
    """Row of a NIST-JANAF table (data files of the package janaf): Cp, S, -[G-H]/T, H-H(Tr), dfH,
    dfG, log Kf.
    """
    for line in (
        (Path(janaf.__file__).parent / "data" / f"{index}.txt").read_text().splitlines()[2:]
    ):
        cells = line.split("\t")
        if cells[0] == f"{T:g}":
            return [float(c) for c in cells[1:8]]
    raise AssertionError(f"no row {T} in {index}")


CO, CO2, H2O, N2 = "C-093", "C-095", "H-064", "N-023"
MOUTH = Gas({"CO": 60.0, "CO2": 15.0, "N2": 25.0}, 1600.0)


# ---- the record ----------------------------------------------------------------------------------


def test_masses_by_hand():
    """Molar masses 28.010, 44.009, 28.014 (IUPAC atomic weights) and 22.414 Nm3/kmol."""
    assert MOUTH.total_nm3 == 100.0
    assert MOUTH.mass_kg == pytest.approx((60 * 28.010 + 15 * 44.009 + 25 * 28.014) / VM, rel=1e-5)
    kg = MOUTH.element_kg()
    assert kg["C"] == pytest.approx(75 * 12.011 / VM, rel=1e-5)
    assert kg["O"] == pytest.approx(90 * 15.999 / VM, rel=1e-5)
    assert kg["N"] == pytest.approx(50 * 14.007 / VM, rel=1e-5)
    assert sum(kg.values()) == pytest.approx(MOUTH.mass_kg, rel=1e-12)
    assert MOUTH.mole_pct() == {"CO": 60.0, "CO2": 15.0, "N2": 25.0}
    assert MOUTH.pcr() == 0.2


@pytest.mark.parametrize("nm3, pcr", [({"CO": 2.0}, 0.0), ({"CO2": 2.0}, 1.0)])
def test_post_combustion_ratio_of_pure_gases(nm3, pcr):
    """None of it burnt, all of it burnt, half of it."""
    assert Gas(nm3, 25.0).pcr() == pcr
    assert Gas({"CO": 2.0, "CO2": 2.0}, 25.0).pcr() == 0.5


@pytest.mark.parametrize(
    "species, index",
    [("CO", CO), ("CO2", CO2), ("N2", N2), ("H2O", H2O), ("O2", "O-029"), ("SO2", "O-034")],
)
@pytest.mark.parametrize("T", [1000, 1200, 1800, 2000])
def test_sensible_heat_against_janaf(species, index, T):
    """NIST-JANAF, column H-H(Tr)."""
    one = Gas({species: VM / 1000.0}, T - 273.15)  # one mol
    assert one.sensible_kj() == pytest.approx(
        janaf_row(index, T)[3], abs=0.35 if species == "H2O" else 0.12
    )


@pytest.mark.parametrize("species, at_1500", [("CO", 2164.0), ("CO2", 3468.0), ("N2", 2140.0)])
def test_sensible_heat_per_nm3_by_another_data_set(species, at_1500):
    """GRI-Mech 3.0 as shipped with Cantera, at 1000, 1500 and 1600 degC: another set of
    polynomials; and the hand value at 1500 degC.
    """
    other = ct.Solution("gri30.yaml")
    for temp_c in (1000.0, 1500.0, 1600.0):
        other.TPX = 298.15, 101325.0, f"{species}:1"
        cold = other.enthalpy_mole
        other.TP = temp_c + 273.15, 101325.0
        assert Gas({species: 1.0}, temp_c).sensible_kj() == pytest.approx(
            (other.enthalpy_mole - cold) / VM / 1000.0, rel=0.002
        )
    assert Gas({species: 1.0}, 1500.0).sensible_kj() == pytest.approx(at_1500, abs=1.0)


def test_enthalpy_is_against_the_elements():
    """NIST-JANAF enthalpies of formation at 298.15 K; elements are zero there."""
    mol = VM / 1000.0
    for species, index in (("CO", CO), ("CO2", CO2), ("H2O", H2O)):
        assert Gas({species: mol}, 25.0).enthalpy_kj() == pytest.approx(
            janaf_row(index, 298.15)[4], abs=0.02
        )
    assert Gas({"O2": 1.0, "N2": 2.0, "H2": 3.0, "Ar": 4.0}, 25.0).enthalpy_kj() == pytest.approx(
        0.0, abs=1e-4
    )


def test_record_is_frozen_and_scales():
    with pytest.raises(TypeError):
        MOUTH.nm3["CO"] = 1.0
    with pytest.raises(AttributeError):
        MOUTH.temp_c = 20.0
    twice = MOUTH.scaled(2.0)
    assert twice.mass_kg == pytest.approx(2 * MOUTH.mass_kg)
    assert twice.enthalpy_kj() == pytest.approx(2 * MOUTH.enthalpy_kj())
    given_dict = {"CO": 1.0}
    made = Gas(given_dict, 20.0)
    given_dict["CO"] = 5.0
    assert made.total_nm3 == 1.0


def test_arrays_give_what_single_gases_give():
    co, temp = np.array([50.0, 60.0, 70.0]), np.array([[1200.0], [1600.0]])
    many = Gas({"CO": co, "CO2": 12.0}, temp)
    h = many.enthalpy_kj()
    assert h.shape == (2, 3)
    for i in range(2):
        for j in range(3):
            assert h[i, j] == pytest.approx(
                Gas({"CO": co[j].item(), "CO2": 12.0}, temp[i, 0].item()).enthalpy_kj(), rel=1e-12
            )
    assert gas.calorific_value_mj_nm3(many).shape == (3,)
    assert isinstance(MOUTH.enthalpy_kj(), float) and isinstance(
        gas.calorific_value_mj_nm3(MOUTH), float
    )


@settings(max_examples=30, deadline=None)
@given(co=st.floats(0.0, 100.0), co2=st.floats(0.1, 100.0), temp_c=st.floats(50.0, 3400.0))
def test_temperature_comes_back_from_enthalpy(co, co2, temp_c):
    g = Gas({"CO": co, "CO2": co2}, temp_c)
    assert g.at(100.0).at_enthalpy(g.enthalpy_kj()).temp_c == pytest.approx(temp_c, abs=1e-6)


def test_mixing_keeps_elements_and_enthalpy():
    """Exact balances."""
    cold = gas.air(40.0, 10.0, humidity_pct=1.0)
    both = gas.mix(MOUTH, cold)
    assert both.enthalpy_kj() == pytest.approx(MOUTH.enthalpy_kj() + cold.enthalpy_kj(), rel=1e-9)
    assert both.mass_kg == pytest.approx(MOUTH.mass_kg + cold.mass_kg, rel=1e-12)
    assert 10.0 < both.temp_c < 1600.0
    assert gas.mix(MOUTH, MOUTH).temp_c == 1600.0


# ---- air and burning -----------------------------------------------------------------------------


def test_air_against_an_atmosphere_model():
    """NRLMSISE-00 at sea level, by the general library fluids."""
    model = ATMOSPHERE_NRLMSISE00(0.0)
    share = dict(zip(model.components, model.zs, strict=True))
    parts = gas.air(100.0).nm3
    for species in ("O2", "N2", "Ar"):
        assert parts[species] == pytest.approx(100 * share[species], abs=0.01)
    assert sum(parts.values()) == pytest.approx(100.0, abs=1e-9)
    assert gas.air(100.0, humidity_pct=1.5).nm3["H2O"] == 1.5


def test_nitrogen_ballast():
    """Hand sum: 50 Nm3 of oxygen as air bring 50 x 79.05/20.95 = 188.7 Nm3 of nitrogen and argon,
    which carry off 434 MJ at 1600 degC.
    """
    air = gas.air(50.0 / (value("air_o2_pct") / 100.0))
    ballast = air.nm3["N2"] + air.nm3["Ar"]
    assert ballast == pytest.approx(188.7, abs=0.15)
    assert Gas({"N2": ballast}, 1600.0).sensible_kj() / 1000.0 == pytest.approx(434.0, abs=1.0)


@pytest.mark.parametrize(
    "species, cas, atoms",
    [
        ("CO", "630-08-0", "CO"),
        ("H2", "1333-74-0", "H2"),
        ("CH4", "74-82-8", "CH4"),
        ("H2S", "7783-06-4", "H2S"),
    ],
)
def test_calorific_value_against_a_general_library(species, cas, atoms):
    """Package chemicals: enthalpy of formation (its own compilation) and lower heating value by
    stoichiometry; sulphur burns to SO2 there as well.
    """
    counts = {
        "CO": {"C": 1, "O": 1},
        "H2": {"H": 2},
        "CH4": {"C": 1, "H": 4},
        "H2S": {"H": 2, "S": 1},
    }[atoms]
    parts = combustion.combustion_stoichiometry(counts)
    higher = combustion.HHV_stoichiometry(parts, Hf=chemicals.Hfg(CASRN=cas))
    lower = combustion.LHV_from_HHV(higher, parts.get("H2O", 0))
    assert gas.calorific_value_mj_nm3(Gas({species: 1.0}, 0.0)) == pytest.approx(
        -lower / 1e6 / (VM / 1000.0), rel=0.001
    )
    assert gas.oxygen_to_burn_nm3(Gas({species: 1.0}, 0.0)) == pytest.approx(
        -parts["O2"], abs=1e-12
    )


def test_calorific_value_of_co_against_janaf():
    """NIST-JANAF: 393.522 - 110.527 kJ/mol; 12.625 MJ/Nm3. And what was burnt already, or never
    burns, adds nothing.
    """
    heat = janaf_row(CO, 298.15)[4] - janaf_row(CO2, 298.15)[4]
    assert gas.calorific_value_mj_nm3(Gas({"CO": 1.0}, 0.0)) == pytest.approx(heat / VM, rel=1e-4)
    for pct in (55, 60, 65, 70, 75):
        assert gas.calorific_value_mj_nm3(
            Gas({"CO": pct, "N2": 100 - pct}, 900.0)
        ) == pytest.approx(12.625 * pct / 100, abs=1e-3)
    assert gas.calorific_value_mj_nm3(
        Gas({"CO2": 1.0, "H2O": 1.0, "O2": 1.0, "Ar": 1.0, "SO2": 1.0}, 0.0)
    ) == pytest.approx(0.0, abs=1e-9)


def test_recovery_plant_figure():
    """JISF, closed-hood recovery (read on ctc-n.org): 100 Nm3 at 2000 kcal/Nm3 is 0.84 GJ per t,
    which takes a gas of 66 % CO. Trade texts name 55 to 60 % CO for recovered gas (ispatguru.com):
    10 to 17 % poorer. Sources differ; consistency only.
    """
    kcal = 4.184e-3
    assert 100 * gas.calorific_value_mj_nm3(
        Gas({"CO": 66.3, "N2": 33.7}, 0.0)
    ) / 1000 == pytest.approx(0.84, abs=0.005)
    poorer = [
        1 - gas.calorific_value_mj_nm3(Gas({"CO": pct, "N2": 100 - pct}, 0.0)) / (2000 * kcal)
        for pct in (60.0, 55.0)
    ]
    assert poorer == pytest.approx([0.10, 0.17], abs=0.007)


def test_inventory_defaults_fit_a_plausible_gas():
    """IPCC 2006 default of oxygen steel furnace gas (read in two texts that quote it): 7.06 GJ/t
    and 182 t CO2/TJ. Both fit CO 75.0, CO2 12.8, N2 12.2 %;
    consistency only, as the composition is solved for."""
    g = Gas({"CO": 75.0, "CO2": 12.8, "N2": 12.2}, 0.0)
    heat_mj = gas.calorific_value_mj_nm3(g) * g.total_nm3
    assert heat_mj / g.mass_kg == pytest.approx(7.06, abs=0.01)
    assert g.element_kg()["C"] * 44.009 / 12.011 / heat_mj * 1000 == pytest.approx(182.0, abs=0.5)
    assert gas.calorific_value_mj_nm3(g) == pytest.approx(9.47, abs=0.005)


# ---- equilibrium ---------------------------------------------------------------------------------


def test_dissociation_of_co2_against_janaf():
    """NIST-JANAF log Kf at 2000 K: CO2 = CO + 1/2 O2 at 1 bar. The degree is met within 0.5 %; with
    entropies taken as those at 1 atm it would be 0.9 % off. The kit's own Gibbs energies (1 bar)
    are met exactly.
    """
    log_k = janaf_row(CO, 2000)[6] - janaf_row(CO2, 2000)[6]
    low, high = 1e-6, 0.5
    for _ in range(80):  # degree of dissociation, by hand
        a = 0.5 * (low + high)
        k = a / (1 - a) * np.sqrt(0.5 * a / (1 + 0.5 * a))
        low, high = (a, high) if k < 10**log_k else (low, a)
    e = gas_equilibrium(Gas({"CO2": 1.0}, 2000 - 273.15), pressure_kpa=100.0)
    assert e.nm3["CO"] == pytest.approx(a, rel=0.006)
    x = {s: v / e.total_nm3 for s, v in e.nm3.items()}
    change = (
        substances.gibbs("CO", 2000.0, "g")
        + 0.5 * substances.gibbs("O2", 2000.0, "g")
        - substances.gibbs("CO2", 2000.0, "g")
    )
    assert x["CO"] * np.sqrt(x["O2"]) / x["CO2"] == pytest.approx(
        np.exp(-change / (8.31446261815324 * 2000.0)), rel=1e-6
    )


@pytest.mark.parametrize("T", [1200, 1800])
def test_water_gas_shift_against_janaf(T):
    """NIST-JANAF log Kf: CO + H2O = CO2 + H2."""
    log_k = janaf_row(CO2, T)[6] - janaf_row(CO, T)[6] - janaf_row(H2O, T)[6]
    e = gas_equilibrium(Gas({"CO": 70.0, "H2O": 20.0, "CO2": 10.0}, T - 273.15)).nm3
    assert np.log10(e["CO2"] * e["H2"] / (e["CO"] * e["H2O"])) == pytest.approx(log_k, abs=0.006)


def test_oxygen_of_a_co_gas_against_janaf():
    """NIST-JANAF log Kf at 1800 K: the oxygen pressure over 60 CO / 15 CO2 / 25 N2."""
    log_k = janaf_row(CO2, 1800)[6] - janaf_row(CO, 1800)[6]
    e = gas_equilibrium(MOUTH, 1800 - 273.15, pressure_kpa=100.0)
    o2 = e.nm3["O2"] / e.total_nm3
    assert np.log10(o2) == pytest.approx(2 * (np.log10(15 / 60) - log_k), abs=0.01)


def test_burnt_gas_temperature_by_another_data_set():
    """GRI-Mech 3.0 as shipped with Cantera: adiabatic burning of converter gas with its air, within
    5 K.
    """
    fuel = Gas({"CO": 60.0, "CO2": 15.0, "N2": 25.0}, 25.0)
    other = ct.Solution("gri30.yaml")
    for factor in (0.5, 1.0, 1.5):
        air = gas.air(factor * 30.0 / (value("air_o2_pct") / 100.0))
        e = gas_equilibrium(gas.mix(fuel, air), enthalpy_kj=fuel.enthalpy_kj() + air.enthalpy_kj())
        other.TPX = 298.15, 101325.0, {s.upper(): v for s, v in gas.mix(fuel, air).nm3.items()}
        other.equilibrate("HP")
        assert e.temp_c + 273.15 == pytest.approx(other.T, abs=5.0)


@example(
    co=5.0, co2=0.0, o2=0.0, h2=6.0, temp_c=520.0
)  # Cantera's own search from an enthalpy gives up on this one
@settings(max_examples=20, deadline=None)
@given(
    co=st.floats(1.0, 100.0),
    co2=st.floats(0.0, 50.0),
    o2=st.floats(0.0, 60.0),
    h2=st.floats(0.0, 20.0),
    temp_c=st.floats(520.0, 2600.0),
)
def test_equilibrium_keeps_elements_and_enthalpy(co, co2, o2, h2, temp_c):
    start = Gas({"CO": co, "CO2": co2, "O2": o2, "H2": h2, "N2": 10.0}, temp_c)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExtrapolationWarning)
        e = gas_equilibrium(start)
        h = gas_equilibrium(start.at(25.0), enthalpy_kj=e.enthalpy_kj())
    for element, kg in start.element_kg().items():
        assert e.element_kg().get(element, 0.0) == pytest.approx(kg, rel=1e-9, abs=1e-9)
    assert h.temp_c == pytest.approx(temp_c, abs=0.01)


def test_more_pressure_less_dissociation():
    """Le Chatelier; and an equilibrium gas is left as it is by another equilibrium at the same
    temperature.
    """
    e = gas_equilibrium(Gas({"CO2": 1.0}, 2200.0), pressure_kpa=np.array([50.0, 100.0, 400.0]))
    assert np.all(np.diff(e.nm3["CO"]) < 0)
    once = gas_equilibrium(MOUTH)
    again = gas_equilibrium(once)
    for species, nm3 in once.nm3.items():
        assert again.nm3[species] == pytest.approx(nm3, rel=1e-6, abs=1e-12)


def test_carbon_deposit_is_warned_of():
    """NIST-JANAF log Kf, 2 CO = C + CO2: 80 CO / 20 CO2 has a carbon activity of 1.8 at 1000 K and
    0.06 at 1200 K.
    """
    g = Gas({"CO": 80.0, "CO2": 20.0}, 25.0)
    for T, activity in ((1000, 1.83), (1200, 0.061)):
        k = 10 ** (janaf_row(CO2, T)[6] - 2 * janaf_row(CO, T)[6])
        assert k * 0.8**2 / 0.2 == pytest.approx(activity, rel=0.01)
    with pytest.warns(ExtrapolationWarning, match="deposit carbon"):
        gas_equilibrium(g, 1000 - 273.15, pressure_kpa=100.0)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        gas_equilibrium(g, 1200 - 273.15, pressure_kpa=100.0)


# ---- bad input -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "make, words",
    [
        (lambda: Gas({"CO": -1.0}, 25.0), "CO in the gas: -1"),
        (lambda: Gas({"CO": float("nan")}, 25.0), "finite"),
        (lambda: Gas({"Co": 1.0}, 25.0), "'Co' was given"),
        (lambda: Gas({"SiO2": 1.0}, 25.0), "no data"),
        (lambda: Gas([1.0], 25.0), "mapping"),
        (lambda: Gas({"CO": 1.0}, -100.0), "temperature of the gas"),
        (lambda: Gas({"CO": 1.0}, "hot"), "temperature of the gas"),
        (lambda: Gas({"CO": [1.0, 2.0], "CO2": [1.0, 2.0, 3.0]}, 25.0), "cannot be combined"),
        (lambda: Gas({"CO": 0.0}, 25.0).mole_pct(), "volume is zero"),
        (lambda: Gas({"N2": 1.0}, 25.0).pcr(), "neither CO nor CO2"),
        (lambda: MOUTH.scaled(-1.0), "factor"),
        (lambda: MOUTH.at_enthalpy(1e9), "outside 27 to 3500"),
        (lambda: MOUTH.at_enthalpy(-1e9), "outside 27 to 3500"),
        (lambda: gas.mix(), "no gas"),
        (lambda: gas.air(-1.0), "air: -1"),
        (lambda: gas.air(1.0, humidity_pct=40.0), "humidity"),
        (lambda: gas.calorific_value_mj_nm3(Gas({"Mg": 1.0}, 1500.0)), "holds Mg"),
        (lambda: gas.calorific_value_mj_nm3(Gas({"CO": 0.0}, 25.0)), "zero"),
        (lambda: gas_equilibrium(Gas({"CO": 0.0}, 1500.0)), "zero"),
        (lambda: gas_equilibrium(MOUTH, 100.0), "temperature of equilibrium"),
        (lambda: gas_equilibrium(MOUTH, 1500.0, enthalpy_kj=0.0), "both"),
        (lambda: gas_equilibrium(MOUTH, pressure_kpa=1.0), "pressure of equilibrium"),
        (lambda: gas_equilibrium(Gas({"SiO": 1.0, "CO": 1.0}, 1500.0)), "holds Si"),
        (lambda: gas_equilibrium(MOUTH, enthalpy_kj=1e9), "equilibrium"),
        (
            lambda: gas_equilibrium(MOUTH, [1500.0, 1600.0], [100.0, 101.0, 102.0]),
            "cannot be combined",
        ),
    ],
)
def test_bad_gases_are_refused_in_words(make, words):
    with pytest.raises(InputError, match=words):
        make()


def test_where_the_data_come_from():
    assert {p.source.key for p in sources(MOUTH)} == {"nasa93"}
    assert sources("air_o2_pct")[0].source.key == "msise"
