"""Safety facts for the lessons, with their sources, and the sums behind the usual warnings. The
rules of the site and local law come first.
"""

from dataclasses import dataclass

from ..base import (
    InputError,
    between,
    mol_to_nm3,
    molar_mass,
    plain,
    positive,
    row_provenance,
    rows,
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact: where it matters (stage), the hazard, the words, its status and source."""

    stage: str
    hazard: str
    words: str
    status: str
    provenance: tuple

    def __str__(self):
        return self.words


def safety_facts(stage: str | None = None, hazard: str | None = None) -> tuple[Fact, ...]:
    """Facts of one stage or one hazard, or all.

    Limits for carbon monoxide stand in off_gas.co_hazards().

    Parameters
    ----------
    stage : 'pretreatment', 'tapping', 'ladle', 'blowing', 'charging', 'furnace', 'gas'
    hazard : as in the table

    Raises
    ------
    InputError
        If there is none.

    References
    ----------
    safety.csv.

    Examples
    --------
    >>> {fact.stage for fact in safety_facts("tapping")}
    {'tapping'}
    """
    table = rows("safety")
    found = [
        r
        for r in table
        if (stage is None or r["stage"] == stage) and (hazard is None or r["hazard"] == hazard)
    ]
    if not found:
        known = ", ".join(dict.fromkeys(r["stage"] for r in table))
        hazards = ", ".join(dict.fromkeys(r["hazard"] for r in table))
        raise InputError(
            f"safety facts: stage {stage!r}, hazard {hazard!r} was asked for; stages are {known}; "
            f"hazards are {hazards}."
        )
    return tuple(
        Fact(r["stage"], r["hazard"], r["fact"], r["status"], (row_provenance(r, r["hazard"]),))
        for r in found
    )


def acetylene_nm3(carbide_kg: float, carbide_pct: float = 100.0) -> float:
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
