"""What is charged as a solid: scrap, fluxes, coolants, fuels. Analyses are checked, mass of every
element and enthalpy come from one record.

Elements in scrap and alloys are counted as pure elements at the temperature of the material: the
small heats of mixing in solid steel are left out.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from ..base import (
    InputError,
    Number,
    Record,
    between,
    formula,
    kelvin,
    mass_fractions,
    molar_mass,
    one_of,
    positive,
    shown,
    value,
)
from ..thermo import carbonate_parts, counted_as, enthalpy, heat_capacity, substance
from ..works import MATERIAL_KINDS, SUM_TOLERANCE, Profile, load_profile
from .stream import Stream, element_kg, frozen


@dataclass(frozen=True, repr=False)
class Material(Record):
    """A solid material by its analysis. Shares and temperature may be arrays.

    Parameters
    ----------
    title : str
        Its name in words.
    analysis_pct : dict
        Mass % of elements and compounds, in plain formulas, adding up to 100 (use Material.of with
        a `rest`).
    temp_c : float or array
        Temperature when charged, -40 to 900 degC.
    kind : str
        One of MATERIAL_KINDS of the works.
    parts : dict
        Of a blend: share of each part by its title, adding up to 1.

    Raises
    ------
    InputError
        For a species without data, a sum other than 100 % or a temperature out of range.

    Examples
    --------
    >>> Material("lime", {"CaO": 95.0, "CaCO3": 5.0}, kind="lime").oxide_pct("CaO") < 98.0
    True
    """

    title: str
    analysis_pct: dict
    temp_c: Number = 25.0
    kind: str = "scrap"
    parts: dict = field(default_factory=dict, repr=False, compare=False)
    per_kg: dict = field(init=False, repr=False, compare=False)  # kg of each element in one kg
    carbonate_c: Number = field(
        init=False, repr=False, compare=False
    )  # kg of carbon bound in carbonates in one kg
    enthalpy_kj_kg: Number = field(init=False, repr=False, compare=False)

    def __post_init__(self):
        one_of(f"kind of {self.title}", self.kind, MATERIAL_KINDS)
        analysis = _checked(self.title, self.analysis_pct)
        total = np.asarray(sum(analysis.values()))
        off = np.abs(total - 100.0) > SUM_TOLERANCE
        if off.any():
            raise InputError(
                f"analysis of {self.title}: the shares add up to {total[off].flat[0]:g} %; 100 % "
                "is needed (name what the rest is)."
            )
        temp_c = between(f"temperature of {self.title}", self.temp_c, -40.0, 900.0, "°C")
        T = kelvin(temp_c)
        heat = sum(
            pct / 100.0 / molar_mass(species) * _solid_enthalpy(species, T)
            for species, pct in analysis.items()
        )
        frozen(
            self,
            analysis_pct=analysis,
            temp_c=temp_c,
            per_kg=element_kg({s: p / 100.0 for s, p in analysis.items()}),
            carbonate_c=sum(
                p / 100.0 * mass_fractions(s)["C"]
                for s, p in analysis.items()
                if carbonate_parts(s)
            ),
            enthalpy_kj_kg=heat,
        )

    def _shown(self):
        parts = [(species, x, "%") for species, x in self.analysis_pct.items()]
        return self.title, ("", "", "unit"), [("temperature", self.temp_c, "°C"), *parts]

    @classmethod
    def of(
        cls,
        title: str,
        analysis_pct: dict,
        rest: str | None = None,
        temp_c: Number = 25.0,
        kind: str = "scrap",
        **more: object,
    ) -> "Material":
        """A Material whose rest takes what the analysis leaves to 100 %.

        Parameters
        ----------
        title, analysis_pct, temp_c, kind
            As of Material.
        rest : str, optional
            A formula that does not stand in the analysis.
        **more
            Other fields.

        Returns
        -------
        Material

        Raises
        ------
        InputError
            Also where the analysis exceeds 100 %.

        Examples
        --------
        >>> round(Material.of("scrap", {"C": 0.1, "Mn": 0.4}, "Fe").pct("Fe"), 6)
        99.5
        """
        analysis = _checked(title, analysis_pct)
        if rest is not None:
            if rest in analysis:
                raise InputError(
                    f"analysis of {title}: {rest} stands in the analysis and is also the rest; one "
                    "of them only."
                )
            total = np.asarray(sum(analysis.values()))
            if np.any(total > 100.0 + SUM_TOLERANCE):
                raise InputError(
                    f"analysis of {title}: the shares add up to {np.max(total):g} %; allowed is "
                    "100 %."
                )
            left = np.maximum(100.0 - total, 0.0)
            analysis[rest] = left.item() if left.ndim == 0 else left
        return cls(title, analysis, temp_c, kind, **more)

    def pct(self, species: str) -> Number:
        """Mass % of a species as analysed; zero if it is not in the analysis."""
        return self.analysis_pct.get(species, 0.0)

    def oxide_pct(self, oxide: str) -> Number:
        """Mass % of an oxide counted from all that holds its element: CaCO3 counts as CaO. Not for
        iron, whose oxides differ.
        """
        metal = next(iter(formula(oxide)))
        return 100.0 * self.per_kg.get(metal, 0.0) / mass_fractions(oxide)[metal]

    @property
    def provenance(self) -> tuple:
        """Sources of the thermochemical data of its species."""
        species = dict.fromkeys(s for name in self.analysis_pct for s in counted_as(name))
        return tuple(p for s in species for p in substance(s).provenance)


def _checked(title, analysis_pct):
    """The analysis as a new dict of float or float array. Raises InputError for a species without
    data and for what is no share.
    """
    if not hasattr(analysis_pct, "items"):
        raise InputError(
            f"analysis of {title}: {shown(analysis_pct)} was given; shares in mass % such as "
            f"{{'CaO': 92, 'MgO': 2}} are needed."
        )
    for species in analysis_pct:
        for part in counted_as(species):
            substance(part)
    return {
        species: positive(f"{species} in {title}", pct, "%")
        for species, pct in analysis_pct.items()
    }


def _solid_enthalpy(species, T):
    """Enthalpy of a species in a solid material, J/mol, against the elements at 298.15 K.

    Below 25 degC, where many of the data end, the heat capacity at 25 degC is used: 65 K of frost
    are then wrong by 1 kJ/kg at most.
    """
    cold = value("reference_temperature")
    if isinstance(T, float) and T >= cold:
        return sum(n * enthalpy(s, T, _hot(s, T)) for s, n in counted_as(species).items())
    below = np.minimum(np.asarray(T) - cold, 0.0)
    return sum(
        n * (enthalpy(s, np.maximum(T, cold), _hot(s, T)) + below * heat_capacity(s, cold))
        for s, n in counted_as(species).items()
    )


def _hot(species, T):
    """Phase in which a species is counted: what would boil stays a liquid, bound as it is."""
    hottest, gas = substance(species).boils
    return "liquid" if gas and np.max(T) > hottest else None


@dataclass(frozen=True, repr=False)
class Solid(Stream):
    """A mass of a material.

    Parameters
    ----------
    mass_kg : float or array
        kg, zero or more.
    material : Material
    heat_kj_kg : float or array
        Heat of forming the material from what its analysis counts, kJ/kg (below zero: given off);
        zero where it is not known.

    Raises
    ------
    InputError

    Examples
    --------
    >>> Solid(2000.0, Material.of("scrap", {"C": 0.1}, "Fe")).element_kg()["C"]
    2.0
    """

    mass_kg: Number
    material: Material
    heat_kj_kg: Number = 0.0

    def __post_init__(self):
        if not isinstance(self.material, Material):
            raise InputError(
                f"material: {shown(self.material)} was given; a Material is needed, such as "
                "material('lime')."
            )
        frozen(self, mass_kg=positive(f"mass of {self.material.title}", self.mass_kg, "kg"))

    @property
    def _title(self):
        return self.material.title

    @property
    def analysis_pct(self) -> dict:
        """Mass % of each element and compound."""
        return self.material.analysis_pct

    @property
    def temp_c(self) -> Number:
        """Temperature, degC."""
        return self.material.temp_c

    def at(self, temp_c: Number) -> "Solid":
        """The same at another temperature, degC. Raises InputError."""
        return replace(self, material=replace(self.material, temp_c=temp_c))

    def element_kg(self) -> dict:
        """kg of each element, as a dict."""
        return {element: self.mass_kg * share for element, share in self.material.per_kg.items()}

    def enthalpy_kj(self) -> Number:
        """Enthalpy of the whole mass, kJ, against the elements at 298.15 K."""
        return self.mass_kg * (self.material.enthalpy_kj_kg + self.heat_kj_kg)

    @property
    def provenance(self) -> tuple:
        """Sources of the data of its species."""
        return self.material.provenance


def material(key: str, profile: Profile | None = None) -> Material:
    """A material of the works profile.

    Parameters
    ----------
    key : str
        Such as 'lime' or 'heavy_scrap'.
    profile : Profile, optional
        Default: the profile found by load_profile().

    Returns
    -------
    Material

    Raises
    ------
    InputError
        For an unknown key.

    Examples
    --------
    >>> material("lime").kind
    'lime'
    """
    profile = profile or load_profile()
    if not isinstance(key, str) or key not in profile.materials:
        raise InputError(
            f"material: {shown(key)} is not in the profile of {profile.name}; it has "
            f"{', '.join(profile.materials)}."
        )
    return _made(profile, key)


@lru_cache(maxsize=256)  # a charge asks for five of them, each 0.1 ms to make
def _made(profile, key):
    m = profile.materials[key]
    return Material.of(m["title"], m["analysis_pct"], m["rest"], m["temp_c"], m["kind"])


def blend(shares: Iterable[tuple[Material, Number]], title: str = "blend") -> Material:
    """One Material of several.

    Parameters
    ----------
    shares : iterable of (Material, float or array)
        Each with its share by mass, in any unit: they are brought to 100 %. The temperatures of the
        parts must agree.
    title : str

    Returns
    -------
    Material

    Raises
    ------
    InputError
        Also for an empty or negative blend.

    Examples
    --------
    >>> round(blend([(material("lime"), 3.0), (material("burnt_dolomite"), 1.0)]).oxide_pct("MgO"))
    10
    """
    parts = [(m, positive(f"share of {m.title}", x)) for m, x in shares]
    total = sum(x for _, x in parts)
    if np.any(np.asarray(total) <= 0):
        raise InputError(f"{title}: the shares add up to nothing; more than zero is needed.")
    temps = [m.temp_c for m, _ in parts]
    if not all(np.array_equal(t, temps[0]) for t in temps):
        raise InputError(
            f"{title}: its parts have the temperatures {', '.join(map(str, temps))} °C; one "
            "temperature is needed."
        )
    analysis = {}
    for m, x in parts:
        for species, pct in m.analysis_pct.items():
            analysis[species] = analysis.get(species, 0.0) + pct * x / total
    share = {m.title: x / total for m, x in parts}
    return Material(title, analysis, temps[0], parts[0][0].kind, share)
