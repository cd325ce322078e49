"""What is charged as a solid: scrap, fluxes, coolants, fuels. Analyses are checked, mass of every element and enthalpy come from one record.

Elements in scrap and alloys are counted as pure elements at the temperature of the material: the small heats of mixing in solid steel are left out.
"""

from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from . import plant
from .elements import formula, mass_fractions, molar_mass
from .errors import InputError, between, positive
from .substances import enthalpy, substance
from .units import kelvin

__all__ = ["Material", "Solid", "blend", "element_kg", "material"]


@dataclass(frozen=True)
class Material:
    """A solid material by its analysis.

    title: its name in words. analysis_pct: mass % of elements and compounds, in plain formulas, adding up to 100 (use Material.of with a `rest`).
    temp_c: temperature when charged, degC. kind: one of plant.KINDS.
    """

    title: str
    analysis_pct: dict
    temp_c: float = 25.0
    kind: str = "scrap"
    per_kg: dict = field(init=False, repr=False, compare=False)  # kg of each element in one kg
    carbonate_c: float = field(init=False, repr=False, compare=False)  # kg of carbon bound in carbonates in one kg
    enthalpy_kj_kg: float = field(init=False, repr=False, compare=False)

    def __post_init__(self):
        total = 0.0
        for species, pct in self.analysis_pct.items():
            substance(species) if species != "P2O5" else formula(species)
            total = total + positive(f"{species} in {self.title}", pct, "%")
        if np.any(np.abs(np.asarray(total) - 100.0) > 1e-6):
            raise InputError(f"analysis of {self.title}: the shares add up to {np.max(total):g} %; 100 % is needed (name what the rest is).")
        T = kelvin(between(f"temperature of {self.title}", self.temp_c, -40.0, 900.0, "°C", "Was kelvin given? temp_c is degrees Celsius."))
        heat = 0.0
        for species, pct in self.analysis_pct.items():
            heat = heat + pct * 10.0 / molar_mass(species) * _solid_enthalpy(species, T) / 1000.0
        object.__setattr__(self, "analysis_pct", MappingProxyType(dict(self.analysis_pct)))
        object.__setattr__(self, "per_kg", MappingProxyType(element_kg({s: p / 100.0 for s, p in self.analysis_pct.items()})))
        carbonates = sum(p / 100.0 * mass_fractions(s)["C"] for s, p in self.analysis_pct.items() if "CO3" in s)
        object.__setattr__(self, "carbonate_c", carbonates)
        object.__setattr__(self, "enthalpy_kj_kg", heat)

    @classmethod
    def of(cls, title, analysis_pct, rest=None, temp_c=25.0, kind="scrap"):
        """A Material whose `rest` (a formula) takes what the analysis leaves to 100 %. Raises InputError if the analysis exceeds 100 %."""
        analysis = dict(analysis_pct)
        if rest is not None:
            if rest in analysis:
                raise InputError(f"analysis of {title}: {rest} stands in the analysis and is also the rest; one of them only.")
            total = sum(positive(f"{s} in {title}", p, "%") for s, p in analysis.items())
            if np.any(np.asarray(total) > 100.0):
                raise InputError(f"analysis of {title}: the shares add up to {np.max(total):g} %; allowed is 100 %.")
            analysis[rest] = 100.0 - total
        return cls(title, analysis, temp_c, kind)

    def pct(self, species):
        """Mass % of a species as analysed; zero if it is not in the analysis."""
        return self.analysis_pct.get(species, 0.0)

    def oxide_pct(self, oxide):
        """Mass % of an oxide counted from all that holds its element: CaCO3 counts as CaO. Not for iron, whose oxides differ."""
        metal = next(iter(formula(oxide)))
        return 100.0 * self.per_kg.get(metal, 0.0) / mass_fractions(oxide)[metal]

    @property
    def provenance(self):
        """Sources of the thermochemical data of its species."""
        return tuple(p for s in self.analysis_pct if s != "P2O5" for p in substance(s).provenance)


# P2O5 of ores and fluxes: counted as the phosphate it is in (3CaO.P2O5 less its lime), for P2O5 alone has no sensible standard state.
def _solid_enthalpy(species, T):
    if species == "P2O5":
        return enthalpy("Ca3(PO4)2", T) - 3 * enthalpy("CaO", T)
    return enthalpy(species, T)


def element_kg(species_kg):
    """kg of each element in a mapping of formula to kg."""
    out = {}
    for species, kg in species_kg.items():
        for element, share in mass_fractions(species).items():
            out[element] = out.get(element, 0.0) + kg * share
    return out


@dataclass(frozen=True)
class Solid:
    """A mass of a material: mass_kg (scalar or array, not negative) of a Material."""

    mass_kg: float
    material: Material

    def __post_init__(self):
        positive(f"mass of {self.material.title}", self.mass_kg, "kg")

    def element_kg(self):
        """kg of each element, as a dict."""
        return {element: self.mass_kg * share for element, share in self.material.per_kg.items()}

    def enthalpy_kj(self):
        """Enthalpy of the whole mass, kJ, against the elements at 298.15 K."""
        return self.mass_kg * self.material.enthalpy_kj_kg

    @property
    def provenance(self):
        """Sources of the data of its species."""
        return self.material.provenance


def material(key, profile=None):
    """A material of the works profile by its key, such as 'lime' or 'heavy_scrap'. Raises InputError for an unknown key."""
    profile = profile or plant.load()
    if key not in profile.materials:
        raise InputError(f"material: {key!r} is not in the profile of {profile.name}; it has {', '.join(profile.materials)}.")
    m = profile.materials[key]
    return Material.of(m["title"], m["analysis_pct"], m["rest"], m["temp_c"], m["kind"])


def blend(shares, title="blend"):
    """One Material from pairs of (Material, share by mass); the shares may be in any unit, they are brought to 100 %.

    The temperature is that of the parts, which must agree. Raises InputError for an empty or negative blend.
    """
    parts = [(m, positive(f"share of {m.title}", x)) for m, x in shares]
    total = sum(x for _, x in parts)
    if np.any(np.asarray(total) <= 0):
        raise InputError(f"{title}: the shares add up to nothing; more than zero is needed.")
    temps = {m.temp_c for m, _ in parts}
    if len(temps) > 1:
        raise InputError(f"{title}: its parts have the temperatures {sorted(temps)} °C; one temperature is needed.")
    analysis = {}
    for m, x in parts:
        for species, pct in m.analysis_pct.items():
            analysis[species] = analysis.get(species, 0.0) + pct * x / total
    return Material(title, analysis, temps.pop(), parts[0][0].kind)
