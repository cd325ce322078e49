"""The works' own profile: vessel, hot metal, fluxes, oxygen, losses, read from a TOML file that a
trainer edits.

The profiles of three invented works ship with the kit: Heron Works, the usual one; Dunlin Works, a
small vessel with high-phosphorus hot metal; Plover Works, a large one with little silicon. Another
is found, in this order: the path given; the environment variable STEELTHERMO_PROFILE; a file
works.toml in the current folder or in one of the two folders above it.
"""

import os
import re
import tomllib
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType

from ..base import InputError, data_path, nearest, rows, shown, why_not
from .sections import Profile, Section, calibrated_keys, schema, unit_of

PROFILE_FILE = "works.toml"
WORKS = ("heron", "dunlin", "plover")  # profiles that ship
SUM_TOLERANCE = 1e-6  # %, by which shares that must add up to 100 % may miss it: rounding only
MATERIAL_KINDS = ("scrap", "lime", "dolomite", "coolant", "fuel")
_ANALYSES = ("hot_metal", "end_point")
_MATERIAL_KEYS = ("title", "kind", "analysis_pct", "rest", "temp_c")


def _line_of(text, section, key):
    """Number of the line on which a key stands in its section, else of the section's head, for the
    message; None if it can't be told.
    """
    current, head = "", None
    for number, line in enumerate(text.splitlines(), 1):
        header = re.match(r"\s*\[+\s*([^\]]+?)\s*\]", line)
        if header:
            current = header[1]
            if current == section:
                head = number
        elif (
            key is not None
            and current == section
            and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", line)
        ):
            return number
    return head


@cache
def _known(what):
    """Species that may stand in an analysis: 'metal' (elements with a heat of solution in iron) or
    'material' (substances with data, and P2O5).
    """
    if what == "metal":
        return {row["element"]: None for row in rows("solution")}
    return {row["formula"]: None for row in rows("phases")} | {"P2O5": None}


def _unknown(key, allowed, what="key"):
    """The phrase for a name that is not allowed, with the nearest one that is."""
    near = nearest(key, allowed)
    return (
        f"there is no such {what}; {f'did you mean {near[0]}? Allowed' if near else 'allowed'} "
        f"are {', '.join(allowed)}"
    )


def _is_number(x):
    return isinstance(x, (int, float)) and not isinstance(x, bool)


def _faults_of_number(row, number):
    """What is wrong with a number of the profile, as a list of phrases."""
    unit = unit_of(row)
    span = f"{row['low']:g} to {row['high']:g}{unit}"
    if not _is_number(number):
        return [f"{shown(number)} was given; a number is needed, allowed is {span}"]
    return (
        []
        if row["low"] <= number <= row["high"]
        else [f"{number:g}{unit} was given; allowed is {span}"]
    )


def _faults_of_analysis(analysis, rest, what):
    """What is wrong with an analysis in mass %: unknown species, sign, sum. A list of phrases.
    what: 'metal' or 'material', as for _known().
    """
    if not isinstance(analysis, dict):
        return ["an analysis such as { C = 4.5, Si = 0.4 } in mass % is needed"]
    faults, total = [], 0.0
    for species, pct in analysis.items():
        if species != rest and species not in _known(what):
            no = "no such element in liquid iron" if what == "metal" else "there are no data for it"
            faults.append(f"{shown(species)}: {no}")
        if not _is_number(pct) or not 0 <= pct <= 100:
            faults.append(f"{species} = {shown(pct)} was given; a share from 0 to 100 % is needed")
        else:
            total += pct
    if total > 100 + SUM_TOLERANCE:
        faults.append(f"the shares add up to {total:g} %; allowed is 100 %")
    if rest is None:
        if abs(total - 100) > SUM_TOLERANCE:
            faults.append(
                f"the shares add up to {total:g} % and there is no `rest`; 100 % is needed"
            )
    elif what == "material" and (not isinstance(rest, str) or rest not in _known(what)):
        faults.append(
            f"rest = {shown(rest)} was given; the formula of what takes the rest is needed, such "
            "as Fe or CaO"
        )
    elif rest in analysis:
        faults.append(f"{rest} stands in the analysis and is also the rest; one of them only")
    return faults


class _Reader:
    """Collects the faults of one profile while it is read."""

    def __init__(self, text):
        self.text, self.faults = text, []

    def fault(self, section, key, words):
        line = _line_of(self.text, section, key)
        where = ".".join(part for part in (section, key) if part)
        self.faults.append((line or 0, f"{f'line {line}, ' if line else ''}{where}: {words}"))

    def section(self, name, keys, given):
        """One section of numbers (and, of a metal, its analysis)."""
        if not isinstance(given, dict):
            self.fault(name, None, f"this section is missing; it needs {', '.join(keys)}")
            return Section(name, {})
        values = {}
        for key, row in keys.items():
            if key not in given and row["left_out"] != "refused":
                values[key] = None if row["left_out"] == "law" else float(row["left_out"])
                continue
            if key not in given:
                self.fault(
                    name,
                    None,
                    f"{key} is missing ({row['help']}, {row['low']:g} to "
                    f"{row['high']:g}{unit_of(row)})",
                )
                continue
            faults = _faults_of_number(row, given[key])
            for words in faults:
                self.fault(name, key, words)
            if not faults:
                values[key] = float(given[key])
        allowed = [*keys, "analysis_pct"] if name in _ANALYSES else [*keys]
        if name in _ANALYSES:
            analysis = given.get("analysis_pct")
            faults = _faults_of_analysis(analysis, "Fe", "metal")
            if name == "end_point" and isinstance(analysis, dict) and "S" in analysis:
                faults.append(
                    "S is no aim: what stays in the steel follows from slag.sulphur_to_slag_pct"
                )
            for words in faults:
                self.fault(name, "analysis_pct", words)
            values["analysis_pct"] = MappingProxyType(
                {} if faults else {k: float(v) for k, v in analysis.items()}
            )
        for key in given:
            if key not in allowed:
                self.fault(name, key, _unknown(key, allowed))
        return Section(name, values)

    def calibrated(self, given):
        """What a works fitted to its own heats: figures by calibration.csv, and two dates."""
        known, values = calibrated_keys(), {}
        if not isinstance(given, dict):
            given = {}
            self.fault("", "calibrated", "a section [calibrated] with figures is needed")
        for key, x in given.items():
            if key not in known:
                self.fault("calibrated", key, _unknown(key, known))
                continue
            row = known[key]
            faults = [] if row is None else _faults_of_number(row, x)
            if row is None and not isinstance(x, str):
                faults = [f"{shown(x)} was given; a text is needed"]
            for words in faults:
                self.fault("calibrated", key, words)
            if not faults:
                values[key] = x if row is None else float(x)
        return Section("calibrated", values)

    def prices(self, given, materials):
        """Prices, all optional: per t of hot metal, of each material, reagent and of CO2, per Nm3
        of oxygen, per kWh, per t of steel for 0.001 % of sulphur beyond its limit; and the name of
        the currency.
        """
        known, values = ["hot_metal", "oxygen", "electricity", "co2", "sulphur"], {}
        known += [row["key"] for row in rows("reagents")]
        known += materials if isinstance(materials, dict) else []
        if not isinstance(given, dict):
            given = {}
            self.fault("", "prices", "a section [prices] is needed")
        for key, x in given.items():
            if key == "currency" and isinstance(x, str):
                values[key] = x
            elif key not in known:
                self.fault("prices", key, _unknown(key, ["currency", *known]))
            elif not _is_number(x) or not 0 <= x <= 1e6:
                words = f"{shown(x)} was given; a number is needed, allowed is 0 to 1 000 000"
                self.fault("prices", key, words)
            else:
                values[key] = float(x)
        return Section("prices", values)

    def material(self, key, given):
        """One material."""
        section = f"materials.{key}"
        if not isinstance(given, dict):
            self.fault(
                "materials",
                key,
                f"a section [{section}] with title, kind, analysis_pct and rest is needed",
            )
            return None
        for extra in given:
            if extra not in _MATERIAL_KEYS:
                self.fault(section, extra, _unknown(extra, _MATERIAL_KEYS))
        out = {
            "title": key.replace("_", " "),
            "kind": None,
            "analysis_pct": {},
            "rest": None,
            "temp_c": 25.0,
        } | given
        if out["kind"] not in MATERIAL_KINDS:
            self.fault(
                section,
                "kind",
                f"{shown(out['kind'])} was given; allowed are {', '.join(MATERIAL_KINDS)}",
            )
        if not isinstance(out["title"], str):
            self.fault(section, "title", f"{shown(out['title'])} was given; a text is needed")
        for words in _faults_of_analysis(given.get("analysis_pct"), out["rest"], "material"):
            self.fault(section, "analysis_pct", words)
        if not _is_number(out["temp_c"]) or not -40 <= out["temp_c"] <= 900:
            self.fault(
                section,
                "temp_c",
                f"{shown(out['temp_c'])} was given; a number is needed, allowed is -40 to 900 °C",
            )
        return MappingProxyType(out)


def parse_profile(text: str, path: str | Path = "profile") -> Profile:
    """A works profile from the text of a TOML file.

    Parameters
    ----------
    text : of the file
    path : names it in messages

    Returns
    -------
    Profile

    Raises
    ------
    InputError
        With every fault at once, each with line, key and allowed range.

    Examples
    --------
    >>> text = data_path("dunlin.toml").read_text(encoding="utf-8")
    >>> parse_profile(text).hot_metal.analysis_pct["P"]
    0.14
    """
    text = text.removeprefix("\ufeff")
    try:
        raw = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise InputError(f"works profile {path}: it can't be read as TOML: {error}.") from None
    reader, known = _Reader(text), schema()
    sections = {name: reader.section(name, keys, raw.get(name)) for name, keys in known.items()}
    if "calibrated" in raw:
        sections["calibrated"] = reader.calibrated(raw["calibrated"])
    sections["prices"] = reader.prices(raw.get("prices", {}), raw.get("materials"))
    oxygen = raw.get("oxygen") if isinstance(raw.get("oxygen"), dict) else {}
    purity, argon = oxygen.get("purity_pct", 0.0), oxygen.get("argon_pct", 0.0)
    if _is_number(purity) and _is_number(argon) and purity + argon > 100:
        reader.fault(
            "oxygen",
            "argon_pct",
            f"purity and argon add up to {purity + argon:g} %; allowed is 100 %",
        )
    given = raw.get("materials", {})
    if not isinstance(given, dict):
        reader.fault("", "materials", "sections such as [materials.lime] are needed")
        given = {}
    materials = {
        key: m for key, one in given.items() if (m := reader.material(key, one)) is not None
    }
    for kind in ("scrap", "lime", "dolomite"):
        if not any(m["kind"] == kind for m in materials.values()):
            reader.fault("materials", None, f"none of kind {kind!r}; at least one is needed")
    name = raw.get("name", "unnamed works")
    allowed = ["name", *known, "calibrated", "prices", "materials"]
    if not isinstance(name, str):
        reader.fault("", "name", f"{shown(name)} was given; a text is needed")
    for extra, value in raw.items():
        if extra not in allowed:
            section = isinstance(value, dict)
            reader.fault(
                extra if section else "",
                None if section else extra,
                _unknown(extra, allowed, "section" if section else "key"),
            )
    if reader.faults:
        words = [words for _, words in sorted(reader.faults, key=lambda fault: fault[0])]
        raise InputError(
            f"works profile {path}: {len(words)} fault{'s' if len(words) > 1 else ''}:\n  "
            + "\n  ".join(words)
        )
    return Profile(name, str(path), MappingProxyType(sections), MappingProxyType(materials))


def find_profile() -> Path | None:
    """Where load_profile() looks when no path is given: see the head of this module.

    Returns
    -------
    path; None for the profile that ships

    Raises
    ------
    InputError
        Where there is a works.toml.txt alone: Windows hides the last ending.

    Examples
    --------
    >>> find_profile()
    """
    named = os.environ.get("STEELTHERMO_PROFILE")
    if named:
        return Path(named).expanduser()
    here = Path.cwd()
    for folder in (here, *list(here.parents)[:2]):
        if (folder / PROFILE_FILE).is_file():
            return folder / PROFILE_FILE
        if (hidden := folder / f"{PROFILE_FILE}.txt").is_file():
            raise InputError(f"{hidden}: not read, it must be called {PROFILE_FILE}, without .txt.")
    return None


def load_profile(path: str | Path | None = None) -> Profile:
    """The profile of a works.

    Parameters
    ----------
    path : a file, or a key of WORKS for one that ships; None: found (see the head of this module),
        else that of Heron Works

    Returns
    -------
    Profile

    Raises
    ------
    InputError
        With every fault in it.

    Examples
    --------
    >>> load_profile("heron").hot_metal.analysis_pct["C"]
    4.5
    """
    if path in WORKS:
        return _shipped(path)
    path = Path(path) if path is not None else find_profile()
    if path is None:
        return _shipped(WORKS[0])
    try:
        seen = path.stat()
        return _read(path, seen.st_mtime_ns, seen.st_size)
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(
            f"works profile {path}: it can't be read: {why_not(error)}. Those that ship are "
            f"{', '.join(WORKS)}."
        ) from None


@lru_cache(maxsize=8)
def _read(path, changed, size):
    """The profile in a file; `changed` and `size` make an edited file be read anew."""
    return parse_profile(path.read_text(encoding="utf-8-sig"), path)


@cache
def _shipped(works):
    return parse_profile(data_path(f"{works}.toml").read_text(encoding="utf-8"), f"{works}.toml")
