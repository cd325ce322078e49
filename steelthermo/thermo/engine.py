"""The engine under pure substances and gases: Cantera, or tables written from it where it cannot
be installed, as in a browser. This file alone knows which.

A species here is a record with min_temp and max_temp, K, and cp(T), h(T), s(T), J/kmol and
J/(kmol K), for one T.
"""

from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np

from ..base import InputError, data_files, find_root, molar_mass, rows
from . import exported

_FIRST_GUESS = 1500.0  # K: a burnt gas has an equilibrium there, whatever its enthalpy


@cache
def _cantera():
    """The library, or None where the kit has tables instead."""
    if exported.PATH.is_file():
        return None
    import cantera

    return cantera


@cache
def _records(file):
    """Cantera's Species of a file.

    The file is named in full because Cantera looks in the present folder first, and read here where
    the name holds letters outside ASCII because Cantera drops those from the name of its data
    folder.
    """
    ct = _cantera()
    path = data_files().get(file) or files("cantera") / "data" / file
    if not path.is_file():
        raise InputError(
            f"data file: {file!r} was asked for; there is no such file in steelthermo/data nor "
            "among Cantera's."
        )
    if str(path).isascii():
        return ct.Species.list_from_file(str(path))
    return ct.Species.list_from_yaml(path.read_text(encoding="utf-8"), section="species")


@cache
def species(file: str) -> dict:
    """Species of a file in Cantera's YAML format.

    Parameters
    ----------
    file : one of steelthermo/data, else one that comes with Cantera

    Returns
    -------
    species by name

    Raises
    ------
    InputError
        If there is no such file.

    Examples
    --------
    >>> species("nasa_gas.yaml")["CO"].cp(1000.0)  # J/(kmol K)
    33162.861936004...
    """
    if _cantera() is None:
        return exported.species(file)
    return {s.name: s.thermo for s in _records(file)}


def segments(thermo):
    """(low, high, nine NASA-9 coefficients) of each polynomial of a species, K and R units."""
    if isinstance(thermo, exported.Polynomials):
        return thermo.segments
    c = thermo.coeffs
    if isinstance(thermo, _cantera().NasaPoly2):
        upper = np.nextafter(c[0], np.inf)  # Cantera counts the middle temperature to the lower one
        both = [(thermo.min_temp, c[0], c[8:15]), (upper, thermo.max_temp, c[1:8])]
        return [(low, high, np.concatenate(([0.0, 0.0], a))) for low, high, a in both if high > low]
    return [
        (c[1 + 11 * k], c[2 + 11 * k], np.asarray(c[3 + 11 * k : 12 + 11 * k]))
        for k in range(int(c[0]))
    ]


def gas_at_equilibrium(
    formulas: Sequence[str],
    kmol: np.ndarray,
    pascal: np.ndarray,
    T: np.ndarray | None = None,
    enthalpy_j: np.ndarray | None = None,
    within: tuple | None = None,
) -> tuple:
    """Ideal gases at chemical equilibrium, solids left out.

    Parameters
    ----------
    formulas : species of nasa_gas.yaml that may be there
    kmol : what is there, an array of species by points
    pascal : pressure at which the data count, by point
    T : K, by point, or None
    enthalpy_j : of the whole gas, J, by point, where T is None
    within : two temperatures, K; an enthalpy that leads outside ends at or beyond the nearer one

    Returns
    -------
    T in K by point, and kmol

    Raises
    ------
    InputError
        Where none is found, as for a heat far outside.

    Examples
    --------
    >>> T, kmol = gas_at_equilibrium(
    ...     ["O2", "O"], np.array([[1.0], [0.0]]), np.array([1e5]), T=np.array([3000.0])
    ... )
    >>> print(f"{kmol[1, 0]:.3f}")
    0.114
    """
    points = np.size(pascal)
    given = T if enthalpy_j is None else enthalpy_j
    if np.shape(kmol) != (len(formulas), points) or np.shape(given) != (points,):
        raise InputError(
            f"gas: amounts of shape {np.shape(kmol)} were given; {len(formulas)} species by "
            f"{points} points are needed, and a temperature or a heat for each point."
        )
    if _cantera() is None:
        return exported.gas_at_equilibrium(formulas, kmol, pascal, T, enthalpy_j, within)
    phase, temps, out = _phase(tuple(formulas)), np.empty(kmol.shape[1]), np.empty(kmol.shape)
    mass = np.array([molar_mass(s) for s in formulas])
    for n, point in enumerate(kmol.T):
        kg = point @ mass
        try:
            phase.TPX = _FIRST_GUESS if T is None else T[n], pascal[n], point
            phase.equilibrate("TP", rtol=1e-10)
            if T is None:
                _heat(phase, point, pascal[n], enthalpy_j[n] / kg, within)
        except _cantera().CanteraError:
            raise InputError("equilibrium: none was found for this gas and heat.") from None
        temps[n], out[:, n] = phase.T, phase.X * (kg / phase.mean_molecular_weight)
    return temps, out


@cache
def _phase(formulas):
    found = {s.name: s for s in _records("nasa_gas.yaml")}
    return _cantera().Solution(thermo="ideal-gas", species=[found[s] for s in formulas])


def _heat(phase, point, pascal, enthalpy_j_kg, within):
    """Bring a phase at equilibrium to an enthalpy; slowly for cool gases, on which Cantera's own
    search gives up.
    """

    def surplus(T):
        phase.TPX = float(T), pascal, point
        phase.equilibrate("TP", rtol=1e-10)
        return phase.enthalpy_mass - enthalpy_j_kg

    try:
        phase.HP = enthalpy_j_kg, pascal
        phase.equilibrate("HP", rtol=1e-10)
    except _cantera().CanteraError:
        surplus(find_root(surplus, *within))


def write_tables(path: Path) -> None:
    """Write a JSON file that stands in for Cantera: the species that phases.csv names.

    Parameters
    ----------
    path : of the file

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     write_tables(Path(folder) / "tables.json")
    ...     len((Path(folder) / "tables.json").read_text()) // 10000
    2
    """
    wanted = dict.fromkeys((row["file"], row["species"]) for row in rows("phases"))
    exported.write(path, {(f, name): segments(species(f)[name]) for f, name in wanted})
