"""What a works profile holds: sections of figures, materials, and which of the figures a heat is
planned with.
"""

from dataclasses import dataclass
from functools import cache

from ..base import Record, row_provenance, rows
from .stirring import stirred_exchange


def unit_of(row):
    return "" if row["unit"] == "1" else f" {row['unit']}"


class Section(Record):
    """The numbers of one section of a profile, each an attribute: works.oxygen.purity_pct."""

    def __init__(self, name, values):
        vars(self).update(values, _name=name)

    def __setattr__(self, key, value):
        raise AttributeError(f"{self._name}.{key} can't be set; write it into a works profile.")

    def _shown(self):
        rows = []
        for key, x in self.items():
            row = schema().get(self._name, {}).get(key, {"unit": "1", "help": ""})
            for of, number in getattr(x, "items", {"": x}.items)():
                rows.append((f"{key} {of}".strip(), number, unit_of(row).strip(), row["help"]))
        return self._name, ("", "", "unit", "what it is"), rows

    def items(self) -> list:
        """Pairs of key and figure."""
        return [(key, x) for key, x in vars(self).items() if key != "_name"]

    @property
    def provenance(self) -> tuple:
        """Where its figures come from, by the table of what a profile holds."""
        return tuple(
            row_provenance(row, f"{self._name} {key}")
            for key, row in schema().get(self._name, {}).items()
        )


@dataclass(frozen=True, eq=False, repr=False)
class Profile(Record):
    """A works profile: name, path of its file, sections (each an attribute as well:
    works.hot_metal), materials (mapping of key to a dict of title, kind, analysis_pct, rest,
    temp_c).
    """

    name: str
    path: str
    sections: dict
    materials: dict

    def __post_init__(self):
        vars(self).update(self.sections)

    def _shown(self):
        rows = [(name, ", ".join(dict(x.items()))) for name, x in self.sections.items()]
        return self.name, ("section", ""), [*rows, ("materials", ", ".join(self.materials))]

    @property
    def provenance(self) -> tuple:
        """Where the figures of its sections come from."""
        return tuple(p for section in self.sections.values() for p in section.provenance)

    @property
    def oxygen_pct(self) -> dict:
        """Volume % of O2, N2 and Ar in the oxygen blown."""
        o2, ar = self.oxygen.purity_pct, self.oxygen.argon_pct
        return {"O2": o2, "Ar": ar, "N2": 100.0 - o2 - ar}


@cache
def schema():
    out = {}
    for row in rows("profile_schema"):
        out.setdefault(row["section"], {})[row["key"]] = row
    return out


@cache
def plan_limits() -> dict:
    """What a heat is planned with, and within which limits.

    Returns
    -------
    row of profile_schema.csv (section, key, unit, low, high, quantity, step) by figure of a
    charge.Plan

    Examples
    --------
    >>> row = plan_limits()["hot_metal_temp_c"]
    >>> row["low"], row["high"], row["unit"]
    (1130.0, 1500.0, '°C')
    """
    return {row["plan"]: row for row in rows("profile_schema") if row["plan"] != "none"}


def plan_values(works: Profile) -> dict:
    """What a works plans its heats with.

    Parameters
    ----------
    works : Profile

    Returns
    -------
    value by figure of a charge.Plan, analyses among them

    Examples
    --------
    >>> from steelthermo.works import load_profile
    >>> plan_values(load_profile("heron"))["hot_metal_temp_c"]
    1340.0
    """
    values = {
        name: getattr(works.sections[r["section"]], r["key"]) for name, r in plan_limits().items()
    }
    fitted = {k: x for k, x in calibrated(works).items() if k in values or k == "undissolved_pct"}
    return (values | fitted) | {
        "hot_metal_pct": works.hot_metal.analysis_pct,
        "end_pct": works.end_point.analysis_pct,
        "oxygen_pct": works.oxygen_pct,
    }


def calibrated(works: Profile) -> dict:
    """What a works fitted to its own heats, see steelthermo.heats.

    Parameters
    ----------
    works : Profile

    Returns
    -------
    number or text by key of its section [calibrated]; empty where it has none

    Examples
    --------
    >>> from steelthermo.works import load_profile
    >>> calibrated(load_profile("heron"))
    {}
    """
    return dict(works.sections["calibrated"].items()) if "calibrated" in works.sections else {}


@cache
def calibrated_keys():
    """{key of the section [calibrated]: row with low, high, unit; None for a text}."""
    out = {"first": None, "last": None}
    for row in rows("calibration"):
        any_sd = {"unit": row["unit"], "low": 0.0, "high": 1e4}
        out |= {row["key"]: row, f"{row['key']}_sd": any_sd}
    count = {"unit": "1", "low": 0.0, "high": 1e6}
    names = ("heats", "usual_wait_min", "usual_lining_heats")
    rms = (f"{q}_rms" for q in ("temperature", "oxygen", "steel", "phosphorus"))
    return out | dict.fromkeys((*names, *rms), count)


def law_figures(works: Profile) -> dict:
    """Figures of the law at the end of a blow that a works has of its own: fitted to its heats, or
    by the gas that it blows from below.

    Parameters
    ----------
    works : Profile

    Returns
    -------
    number by parameter of the law, empty where it has none

    Examples
    --------
    >>> from steelthermo.works import load_profile
    >>> law_figures(load_profile("heron"))
    {}
    """
    fitted = {key: x for key, x in calibrated(works).items() if key == "slag_exchange"}
    gas = works.oxygen.bottom_nm3_min_t
    return fitted or ({"slag_exchange": stirred_exchange(gas)} if gas else {})
