"""What a blow was: the records of metal, slag, gas and dust along its time, their closure, and the
same heat solved anew by the charge balance.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..base import (
    InputError,
    Number,
    Table,
    atomic_weight,
    between,
    celsius,
    figure,
    mass_fractions,
    molar_mass,
    molar_volume_nm3_kmol,
    plain,
)
from ..charge import TEMP_HIGH_C, TEMP_LOW_C, Charge
from ..charge import solve as solve_charge
from ..streams import Dust, Gas, LiquidMetal, Material, Slag, Solid, Stage, total_iron
from ..thermo import elements_with
from .decarburisation import oxygen_ceiling_pct_min
from .rates import parameters
from .rows import ELEMENTS, FED, GASES
from .temperature import slag_temp_c


def quantities() -> Mapping:
    """What can be drawn, measured and compared.

    Returns
    -------
    rows of blow_quantities.csv (what, of, unit, low, high, uncertainty) by key

    Examples
    --------
    >>> quantities()["temperature"]["unit"]
    '°C'
    """
    return Table("blow_quantities").by_key


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class Blow(Stage):
    """A blow along its time: a Stage, a model, not a measurement. The last axis of every array is
    time; for one heat it is the only one.

    charge: the charge.Charge blown; parameters: those used; time_min; height_m (lance),
    flow_nm3_min (oxygen).
    inputs: hot metal, scrap, coolant, fuel, lime, dolomite, oxygen, lining, each as fed until then
    (scrap and hot metal from the start).
    outputs: steel, ejected, slag (dissolved), lumps (flux not yet dissolved), scrap left, gas (all
    that has left), dust. heat_loss_kj: until then.
    carbon_rate_pct_min: decarburisation; gas_nm3_min: flow at the mouth of each species, Nm3/min.
    feasible: True where nothing impossible happens (see reasons, sentences).
    """

    _main_results = ("blow_temp_c", "blow_c_pct", "blow_feo_pct", "blow_p_pct")

    title: str = "blow"
    charge: Charge
    parameters: dict
    time_min: np.ndarray
    height_m: np.ndarray
    flow_nm3_min: np.ndarray
    carbon_rate_pct_min: np.ndarray
    gas_nm3_min: dict
    feasible: bool | np.ndarray
    reasons: tuple

    def _shown(self):
        title, head, rows = super()._shown()
        ends = self.time_min, self.of("C"), self.temp_c
        minutes, c_pct, temp_c = (figure(x[..., -1]) for x in ends)
        return f"{title} of {minutes} min, to {c_pct} % C and {temp_c} °C", head, rows

    def scaled(self, factor: Number) -> None:
        """Refused (InputError): lance and time do not scale with the heat."""
        raise InputError("blow: it can't be scaled; scale its charge and solve the blow of that.")

    @cached_property
    def slag_pct(self) -> dict:
        """Mass % of each component of the dissolved slag; the first analysis there is stands for
        the moments before, zeros for a heat without slag.
        """
        kg = self.slag.oxides_kg
        total = np.asarray(sum(kg.values()))
        there = total > 1e-7 * self.steel.mass_kg
        first = np.argmax(there, axis=-1)[..., None]
        keep = np.maximum(np.arange(total.shape[-1]), first)

        def pick(x):
            return np.take_along_axis(np.broadcast_to(x, total.shape), keep, -1)

        total, any_slag = pick(total), there.any(axis=-1, keepdims=True)
        return {
            o: np.where(any_slag, 100.0 * pick(x) / np.where(any_slag, total, 1.0), 0.0)
            for o, x in kg.items()
        }

    def of(self, key: str) -> np.ndarray:
        """A quantity along time, array, by its key in quantities(). Raises InputError for an
        unknown one.
        """
        row = Table("blow_quantities").get(key)
        if key == "temperature":
            return self.temp_c
        if row["of"] == "metal":
            return np.broadcast_to(self.steel.analysis_pct.get(key, 0.0), self.time_min.shape)
        if key == "T.Fe":
            return total_iron(self.slag_pct)
        if key == "CaO/SiO2":
            lime, silica = self.slag_pct["CaO"], self.slag_pct["SiO2"]
            return np.minimum(lime / np.maximum(silica, 1e-9), 10.0)
        if row["of"] == "slag":
            return self.slag_pct[key]
        if key == "oxygen":
            return self.oxygen.total_nm3
        flow = sum(self.gas_nm3_min.values())
        return flow if key == "gas flow" else 100.0 * self.gas_nm3_min[key] / np.maximum(flow, 1e-9)

    def at(self, time_min: float) -> dict:
        """Every quantity of one heat at a time, min, as a dict of key to float: straight between
        the steps. Raises InputError outside the blow.
        """
        self._single("at()")
        t = between("time", time_min, 0.0, self.time_min[-1].item(), "min")
        out = {key: np.interp(t, self.time_min, self.of(key)).item() for key in quantities()}
        steps = {"lance height": self.height_m, "oxygen flow": self.flow_nm3_min}
        i = min(np.searchsorted(self.time_min, t, "right") - 1, self.time_min.size - 1)
        more = {
            "carbon rate": self.carbon_rate_pct_min,
            "scrap left": self.scrap_left.mass_kg,
            "slag": self.slag.mass_kg,
            "lime left": self.lumps.mass_kg,
        }
        return (
            out
            | {k: np.interp(t, self.time_min, x).item() for k, x in more.items()}
            | {k: x[i].item() for k, x in steps.items()}
        )

    def end(self) -> dict:
        """Every quantity at the end of the blow, as a dict of key to float or array of heats."""
        return {key: plain(self.of(key)[..., -1]) for key in quantities()}

    def ceiling_pct_min(self) -> np.ndarray:
        """Greatest rate of decarburisation that the oxygen blown allows, % per minute, array:
        exact, see blow.oxygen_ceiling_pct_min().
        """
        co, co2 = self.gas_nm3_min["CO"], self.gas_nm3_min["CO2"]
        pure = self.flow_nm3_min * _lifted(np.asarray(self.oxygen_pct()["O2"])) / 100.0
        pure = pure - self.gas_nm3_min["O2"]  # what leaves unused
        return oxygen_ceiling_pct_min(
            pure,
            (self.steel.mass_kg + self.ejected.mass_kg) / 1000.0,
            co2 / np.maximum(co + co2, 1e-9),
        )

    def periods(self) -> tuple:
        """(end of the first, end of the second period of decarburisation), min, of one heat: when
        the rate first comes to 90 % of the ceiling that its oxygen sets, and when carbon passes the
        critical carbon. Each is the end of the blow where it does not happen.
        """
        self._single("periods()")
        last = self.time_min.size - 1
        fast = (self.carbon_rate_pct_min >= 0.9 * self.ceiling_pct_min()) & (self.flow_nm3_min > 0)
        low = self.of("C") <= np.max(self.parameters["critical_carbon_pct"])
        first = int(np.argmax(fast)) if fast.any() else last
        second = max(int(np.argmax(low)) if low.any() else last, first)
        return self.time_min[first].item(), self.time_min[second].item()

    def _single(self, what):
        if self.time_min.ndim != 1:
            raise InputError(
                f"{what}: this blow holds {self.time_min.shape[:-1]} heats; it needs one."
            )

    def as_charge(self) -> tuple:
        """The heat as it stands at every instant, solved anew by charge.solve(): (mask of instants,
        Charge with one heat for each of them).

        Charge is given what has been fed and melted, the analysis of the steel, the iron oxides of
        the slag (lumps counted in), gas, dust and losses so far; masses of steel, slag, oxygen and
        gas and the temperature are its own. Where lumps of lime lie in a slag that is short of
        lime, it lets them bind the silica, and the temperature comes out some tenths of a degree
        higher. Instants below 1500 or above 1726 degC, outside charge's range, are left out.
        For one heat. Raises InputError.
        """
        self._single("as_charge()")
        mask = (self.temp_c >= TEMP_LOW_C) & (self.temp_c <= TEMP_HIGH_C)
        if not mask.any():
            raise InputError(
                "as_charge(): the bath is never between 1500 and 1726 °C, where the charge balance "
                "holds."
            )

        def at(x):
            return np.broadcast_to(x, self.time_min.shape)[mask]

        steel_t = at(self.steel.mass_kg) / 1000.0
        slag_kg = at(self.slag.mass_kg) + at(self.lumps.mass_kg)
        oxides = {o: at(kg) for o, kg in self.slag.oxides_kg.items()}
        fed = {name: self.inputs[name] for name in FED}
        carbonate = (
            sum(at(solid.mass_kg) * solid.material.carbonate_c for solid in fed.values())
            / atomic_weight("C")
            * molar_volume_nm3_kmol()
        )
        co, co2 = at(self.gas.nm3["CO"]), at(self.gas.nm3["CO2"]) - carbonate
        melted = at(self.inputs["scrap"].mass_kg) - at(self.scrap_left.mass_kg)
        sulphur = at(
            sum(r.element_kg().get("S", 0.0) for r in self.inputs.values())
            - self.scrap_left.element_kg().get("S", 0.0)
        )
        sulphide = oxides["CaS"] * mass_fractions("CaS")["S"]
        solved = solve_charge(
            find="temperature",
            hot_metal=self.charge.hot_metal,
            **{n.replace(" ", "_"): self.charge.inputs[n] for n in self.charge.plan.slags()},
            scrap=self.charge.scrap.material,
            scrap_kg=melted,
            **{name: solid.material for name, solid in fed.items()},
            **{f"{name}_kg": at(solid.mass_kg) for name, solid in fed.items()},
            end_pct={
                e: at(x)
                for e, x in self.steel.analysis_pct.items()
                if e not in ("Fe", "S", *elements_with(stays="yes"))
            },
            feo_pct=100.0 * oxides["FeO"] / slag_kg,
            fe2o3_pct=100.0 * oxides["Fe2O3"] / slag_kg,
            co2_pct=100.0 * co2 / (co + co2),
            unused_o2_pct=100.0 * at(self.gas.nm3["O2"]) / at(self.oxygen.nm3["O2"]),
            post_heat_pct=100.0,  # what the gas takes of it is among the losses already
            fuel_use_pct=100.0,
            beads_pct=0.0,
            skull_kg_t=0.0,
            gas_temp_c=self.gas.temp_c,
            dust_fe_kg_t=at(self.dust.mass_kg) * mass_fractions("FeO")["Fe"] / steel_t,
            ejected_kg_t=at(self.ejected.mass_kg) / steel_t,
            heat_mj_t=at(self.heat_loss_kj) / 1000.0 / steel_t,
            lining_mgo_kg_t=at(self.lining.mass_kg) / steel_t,
            sulphur_to_slag_pct=100.0 * sulphide / np.maximum(sulphur, 1e-12),
            oxygen_pct=self.oxygen_pct(),
        )
        return mask, solved

    def oxygen_pct(self) -> dict:
        """Volume % of O2, N2 and Ar in the oxygen blown."""
        blown = self.charge.oxygen.nm3
        return {s: 100.0 * v / sum(blown.values()) for s, v in blown.items()}

    def agreement(self) -> dict:
        """The blow against as_charge(), at the last instant that charge reaches: relative
        difference of steel, slag (lumps counted in), oxygen and gas, and the difference of
        temperature in degC; as a dict.
        """
        mask, solved = self.as_charge()

        def pick(x):
            return np.broadcast_to(x, self.time_min.shape)[mask][-1].item()

        mine = {
            "steel": self.steel.mass_kg,
            "slag": self.slag.mass_kg + self.lumps.mass_kg,
            "oxygen": self.oxygen.total_nm3,
            "gas": self.gas.total_nm3,
        }
        theirs = {
            "steel": solved.steel.mass_kg,
            "slag": solved.slag.mass_kg,
            "oxygen": solved.oxygen_nm3,
            "gas": solved.gas.total_nm3,
        }
        out = {k: pick(x) / np.asarray(theirs[k])[-1].item() - 1.0 for k, x in mine.items()}
        return out | {"temperature": pick(self.temp_c) - np.asarray(solved.temp_c)[-1].item()}

    @property
    def provenance(self) -> tuple:
        """Sources of the parameters, then of everything in the heat."""
        return (*(x for p in parameters().values() for x in p.provenance), *self.charge.provenance)


def _lifted(x):
    """A number, or an array of heats with a time axis of one instant."""
    return x if np.ndim(x) == 0 else np.asarray(x)[..., None]


def _lifted_material(material):
    if all(np.ndim(x) == 0 for x in (*material.analysis_pct.values(), material.temp_c)):
        return material
    return Material(
        material.title,
        {s: _lifted(x) for s, x in material.analysis_pct.items()},
        _lifted(material.temp_c),
        material.kind,
    )


def records(charge, account, course, now, T, melted, fed, heats):
    """(inputs, outputs, heat loss in kJ) of a Blow. now: Instant at all nodes; T: K, (nodes,
    heats); melted: kg; fed: kg by name; heats: their shape.
    """

    def out(x):
        return np.broadcast_to(np.asarray(x), T.shape).T.reshape(*heats, T.shape[0])

    def kept(x):  # rounding below zero is cut
        return np.maximum(out(x), 0.0)

    temp_c = out(celsius(T))
    slag_c, gas_c = slag_temp_c(temp_c), _lifted(charge.gas.temp_c)
    steel_kmol = dict(zip(ELEMENTS, now.metal, strict=True))
    steel_kg = {
        e: np.maximum(n, 0.0) * atomic_weight(e)
        for e, n in steel_kmol.items()
        if e == "Fe" or np.any(n > 0)
    }
    total = sum(steel_kg.values())
    pct = {e: out(100.0 * kg / total) for e, kg in steel_kg.items() if e != "Fe"}
    ejected = np.asarray(charge.ejected.mass_kg) / (
        np.asarray(charge.steel.mass_kg) + charge.ejected.mass_kg
    )
    lost = total * course.flat(ejected) * (course.oxygen_nm3 / course.flat(charge.oxygen.total_nm3))
    solids = {name: _lifted_material(charge.inputs[name].material) for name in ("scrap", *FED)}
    hot, analysis = (
        charge.hot_metal,
        {e: _lifted(x) for e, x in charge.hot_metal.solutes_pct.items()},
    )
    blown = {
        s: _lifted(np.asarray(v) / charge.oxygen.total_nm3) for s, v in charge.oxygen.nm3.items()
    }
    inputs = {
        "hot metal": LiquidMetal(
            out(course.flat(hot.mass_kg)), analysis, _lifted(hot.temp_c), hot.coefficients
        ),
        "scrap": Solid(out(account.planned_kg["scrap"]), solids["scrap"]),
        **{name: Solid(out(fed[name]), solids[name]) for name in FED},
        **{
            name: Slag(
                {o: out(course.flat(kg)) for o, kg in charge.inputs[name].oxides_kg.items()},
                _lifted(charge.inputs[name].temp_c),
            )
            for name in charge.plan.slags()
        },
        "oxygen": Gas({s: out(course.oxygen_nm3) * share for s, share in blown.items()}, 25.0),
        "lining": Slag({"MgO": out(now.lining * molar_mass("MgO"))}, slag_c),
    }
    outputs = {
        "steel": LiquidMetal(out(total - lost), pct, temp_c, hot.coefficients),
        "ejected": LiquidMetal(out(lost), pct, temp_c, hot.coefficients),
        "slag": Slag({o: kept(kg) for o, kg in now.oxides_kg().items()}, slag_c),
        "lumps": Slag({o: kept(kg) for o, kg in now.lumps_kg().items()}, slag_c),
        "scrap left": Solid(kept(account.planned_kg["scrap"] - melted), solids["scrap"]),
        "gas": Gas(
            {
                s: kept(kmol) * molar_volume_nm3_kmol()
                for s, kmol in zip(GASES, now.gas, strict=True)
            },
            gas_c,
        ),
        "dust": Dust({"FeO(liquid)": out(now.dust * molar_mass("FeO"))}, gas_c),
    }
    return inputs, outputs, out(account.loss_kj_min * course.time_min)
