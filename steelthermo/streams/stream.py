"""What every stream can do: scale, change its temperature, weigh its elements, show itself."""

from dataclasses import replace
from types import MappingProxyType

from ..base import Amounts, InputError, Number, Record, mass_fractions, positive


class Stream(Record):
    """Base of what flows from stage to stage. Each has temp_c, mass_kg, analysis_pct,
    element_kg(), enthalpy_kj() (against the elements at 298.15 K) and provenance; _amount names the
    field that says how much there is, a number or a mapping of part to number.
    """

    _amount = "mass_kg"

    def scaled(self, factor: Number) -> "Stream":
        """The same, factor times as much (zero or more). Raises InputError."""
        amount, factor = getattr(self, self._amount), positive("factor", factor)
        if hasattr(amount, "items"):
            return replace(self, **{self._amount: {k: x * factor for k, x in amount.items()}})
        return replace(self, **{self._amount: amount * factor})

    def at(self, temp_c: Number) -> "Stream":
        """The same at another temperature, degC, without reaction. Raises InputError."""
        return replace(self, temp_c=temp_c)

    def _shown(self):
        try:
            parts = self.analysis_pct
        except InputError:  # of what has no mass
            parts = {}
        rows = [("mass", self.mass_kg, "kg"), ("temperature", self.temp_c, "°C")]
        return self._title, ("", "", "unit"), rows + [(part, x, "%") for part, x in parts.items()]


def frozen(record: Record, **values: object) -> None:
    """Set fields of a frozen record while it is made; mappings become read-only.

    Parameters
    ----------
    record : a frozen dataclass
    values : by field

    Examples
    --------
    >>> slag = Stream()
    >>> frozen(slag, oxides_kg={"CaO": 48.0}, temp_c=1650.0)
    >>> slag.oxides_kg["CaO"]
    48.0
    """
    for name, x in values.items():
        object.__setattr__(record, name, MappingProxyType(x) if isinstance(x, dict) else x)


def element_kg(species_kg: Amounts) -> dict:
    """Elements in some substances.

    Parameters
    ----------
    species_kg : kg by formula; scalars or arrays

    Returns
    -------
    kg by element

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(element_kg({"CaO": 100.0})["Ca"], 1)
    71.5
    """
    out = {}
    for species, kg in species_kg.items():
        for element, share in mass_fractions(species).items():
            out[element] = out.get(element, 0.0) + kg * share
    return out
