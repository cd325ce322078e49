"""The hazards of the work that the course calculates, with their sources: data/trust/safety.csv and
safety_figures.csv are their only home. The rules of the site and local law come first.
"""

from dataclasses import dataclass
from functools import cache

from ..base import (
    Number,
    Record,
    Table,
    between,
    mol_to_nm3,
    molar_mass,
    plain,
    positive,
    translated,
)

_HAZARDS, _FIGURES = Table("safety"), Table("safety_figures")


@dataclass(frozen=True, repr=False)
class Caution(Record):
    """One hazard. what: its name; why: how it hurts; visitor: what a visitor does; site: what the
    site lays down; amounts: figures with their units, of limits the lowest first; figures: the same
    with their sources; acts: words of an act that has this hazard; status: of the words.
    """

    key: str
    what: str
    why: str
    visitor: str
    site: str
    acts: tuple
    status: str
    amounts: tuple
    figures: tuple
    provenance: tuple

    def __str__(self):
        return f"{self.what}. {self.why} {self.visitor}"


def _whose(row):
    """Of a figure that stands twice in a hazard: the text that has it, with its year."""
    same = [r for r in _FIGURES.rows if all(r[c] == row[c] for c in ("hazard", "what", "species"))]
    source = _FIGURES.provenance_of(row).source
    return f"{source.subject.partition(':')[0]}, {source.year}" if len(same) > 1 else ""


def _amount(row):
    """A figure of a hazard in words, with its unit, and whose it is where two texts have it."""
    unit = "" if row["unit"] == "1" else f"\u00a0{row['unit']}"
    burns = "flammable limit in air" in row["what"] or "ignition" in row["what"]
    told = row["species"] if burns and row["species"] != "none" else "", _whose(row)
    aside = f" ({', '.join(filter(None, told))})" if any(told) else ""
    group = "," if row["value"] >= 1e4 else ""  # as numbers stand everywhere in the kit
    number = f"{row['value']:{group}.10g}".replace(",", "\u202f")
    return f"{translated(row['what'])}{aside}: {number}{unit}"


def _figure(row):
    """The same with its source."""
    source = _FIGURES.provenance_of(row).source
    origin = "not verified" if row["source"] == "memory" else f"{source.subject}, {row['place']}"
    note = "" if row["note"] == "none" else f"; {translated(row['note'])}"
    return f"{_amount(row)} ({origin}{note})."


@cache
def cautions() -> dict:
    """All hazards by their keys.

    Returns
    -------
    Caution by key

    References
    ----------
    safety.csv, safety_figures.csv.

    Examples
    --------
    >>> cautions()["water_under_metal"].what
    'Water under liquid metal or slag'
    """
    found = {}
    for key, row in _HAZARDS.by_key.items():
        own = [r for r in _FIGURES.rows if r["hazard"] == key]
        found[key] = Caution(
            acts=tuple(w for w in row["acts"].split(" | ") if w != "none"),
            amounts=tuple(map(_amount, own)),
            figures=tuple(map(_figure, own)),
            provenance=(_HAZARDS.provenance_of(row), *map(_FIGURES.provenance_of, own)),
            **{name: row[name] for name in ("key", "what", "why", "visitor", "site", "status")},
        )
    return found


def caution(key: str) -> Caution:
    """The hazard of a key.

    Parameters
    ----------
    key : of cautions()

    Returns
    -------
    Caution

    Raises
    ------
    InputError
        That names the others.

    References
    ----------
    safety.csv, safety_figures.csv

    Examples
    --------
    >>> caution("oxygen_short").what
    'Argon, nitrogen and vacuum tanks'
    """
    return cautions()[_HAZARDS.get(key)["key"]]


def acetylene_nm3(carbide_kg: Number, carbide_pct: Number = 100.0) -> Number:
    """Acetylene that calcium carbide sets free from water.

    Parameters
    ----------
    carbide_kg : kg; arrays broadcast
    carbide_pct : CaC2 in it, 0 to 100 %

    Returns
    -------
    Nm3

    Raises
    ------
    InputError

    Examples
    --------
    >>> round(acetylene_nm3(100.0, 80.0), 1)
    28.0
    """
    share = between("CaC2 in carbide", carbide_pct, 0.0, 100.0, "%") / 100.0
    return plain(
        mol_to_nm3(positive("carbide", carbide_kg, "kg") * share * 1000.0 / molar_mass("CaC2"))
    )
