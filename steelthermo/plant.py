"""The works' own profile: vessel, hot metal, fluxes, oxygen, losses, read from a TOML file that a trainer edits.

The profile of the invented works Port Ardal ships with the kit. Another is found, in this order: the path given; the environment variable
STEELTHERMO_PROFILE; a file works.toml in the current folder or in the folders above it.
"""

import os
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from .elements import formula
from .errors import InputError
from .tables import data_path, rows

__all__ = ["FILE_NAME", "KINDS", "Profile", "Section", "find", "load", "parse"]

FILE_NAME = "works.toml"
KINDS = ("scrap", "lime", "dolomite", "coolant", "fuel")
_ANALYSES = ("hot_metal", "end_point")


class Section:
    """The numbers of one section of a profile, read as attributes: profile.oxygen.purity_pct."""

    def __init__(self, name, values):
        self._name, self._values = name, MappingProxyType(dict(values))

    def __getattr__(self, key):
        try:
            return self.__dict__["_values"][key]
        except KeyError:
            raise AttributeError(
                f"the section {self.__dict__.get('_name')} of a works profile has no {key}; it has {', '.join(self.__dict__.get('_values', ()))}"
            ) from None

    def __repr__(self):
        return f"{self._name}: " + ", ".join(f"{k} = {v}" for k, v in self._values.items())


@dataclass(frozen=True)
class Profile:
    """A works profile: name, one Section for each section, and materials (mapping of key to a dict of title, kind, analysis_pct, rest, temp_c)."""

    name: str
    path: str
    sections: dict
    materials: dict

    def __getattr__(self, key):
        sections = self.__dict__.get("sections", {})
        if key in sections:
            return sections[key]
        raise AttributeError(f"a works profile has no section {key!r}; it has {', '.join(sections)}")

    @property
    def oxygen_pct(self):
        """Volume % of O2, N2 and Ar in the oxygen blown."""
        o2, ar = self.oxygen.purity_pct, self.oxygen.argon_pct
        return {"O2": o2, "Ar": ar, "N2": 100.0 - o2 - ar}


def _line_of(text, section, key):
    """Number of the line on which a key stands in its section, for the message; None if it can't be told."""
    current = ""
    for number, line in enumerate(text.splitlines(), 1):
        header = re.match(r"\s*\[\s*([^\]]+?)\s*\]", line)
        if header:
            current = header[1]
            if key is None and current == section:
                return number
        elif key is not None and current == section and re.match(rf"\s*{re.escape(key)}\s*=", line):
            return number
    return None


@cache
def _schema():
    out = {}
    for row in rows("profile_schema"):
        out.setdefault(row["section"], {})[row["key"]] = row
    return out


def _faults_of_number(row, number):
    if isinstance(number, bool) or not isinstance(number, (int, float)):
        return f"{number!r} was given; a number in {row['unit']} from {row['low']:g} to {row['high']:g} is needed"
    if not row["low"] <= number <= row["high"]:
        return f"{number:g} {row['unit']} was given; allowed is {row['low']:g} to {row['high']:g} {row['unit']}"
    return None


def _faults_of_analysis(analysis, rest):
    """What is wrong with an analysis in mass %: unknown species, sign, sum. A list of phrases."""
    if not isinstance(analysis, dict):
        return ["an analysis such as { C = 4.5, Si = 0.4 } in mass % is needed"]
    faults, total = [], 0.0
    for species, pct in analysis.items():
        try:
            formula(species)
        except InputError as error:
            faults.append(str(error).rstrip("."))
        if isinstance(pct, bool) or not isinstance(pct, (int, float)) or not 0 <= pct <= 100:
            faults.append(f"{species} = {pct!r} was given; a share from 0 to 100 % is needed")
        else:
            total += pct
    if total > 100:
        faults.append(f"the shares add up to {total:g} %; allowed is 100 %")
    if rest is None:
        if abs(total - 100) > 0.01:
            faults.append(f"the shares add up to {total:g} % and there is no `rest`; 100 % is needed")
    else:
        try:
            formula(rest)
        except InputError as error:
            faults.append(f"rest: {error}".rstrip("."))
        if rest in analysis:
            faults.append(f"{rest} stands in the analysis and is also the rest; one of them only")
    return faults


def parse(text, path="profile"):
    """Profile from the text of a TOML file. Raises InputError with every fault at once, each with line, key and allowed range."""
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"works profile {path}: it can't be read as TOML: {error}.") from None
    faults, sections, schema = [], {}, _schema()

    def fault(section, key, words):
        line = _line_of(text, section, key)
        faults.append(f"{f'line {line}, ' if line else ''}{section}{f'.{key}' if key else ''}: {words}")

    for section, keys in schema.items():
        given = raw.get(section)
        if not isinstance(given, dict):
            fault(section, None, "this section is missing")
            continue
        values = {}
        for key, row in keys.items():
            if key not in given:
                fault(section, None, f"{key} is missing ({row['help']}, {row['unit']}, {row['low']:g} to {row['high']:g})")
            elif words := _faults_of_number(row, given[key]):
                fault(section, key, words)
            else:
                values[key] = float(given[key])
        if section in _ANALYSES:
            for words in _faults_of_analysis(given.get("analysis_pct"), "Fe"):
                fault(section, "analysis_pct", words)
            values["analysis_pct"] = MappingProxyType({k: float(v) for k, v in given["analysis_pct"].items()} if not faults else {})
        for key in given.keys() - keys.keys() - ({"analysis_pct"} if section in _ANALYSES else set()):
            fault(section, key, f"there is no such key; allowed are {', '.join(keys)}")
        sections[section] = Section(section, values)
    materials = {}
    for key, given in (raw.get("materials") or {}).items():
        section = f"materials.{key}"
        if not isinstance(given, dict):
            fault("materials", key, "a section with title, kind, analysis_pct and rest is needed")
            continue
        if given.get("kind") not in KINDS:
            fault(section, "kind", f"{given.get('kind')!r} was given; allowed are {', '.join(KINDS)}")
        for words in _faults_of_analysis(given.get("analysis_pct"), given.get("rest")):
            fault(section, "analysis_pct", words)
        for extra in given.keys() - {"title", "kind", "analysis_pct", "rest", "temp_c"}:
            fault(section, extra, "there is no such key; allowed are title, kind, analysis_pct, rest, temp_c")
        temp = given.get("temp_c", 25.0)
        if isinstance(temp, bool) or not isinstance(temp, (int, float)) or not -40 <= temp <= 900:
            fault(section, "temp_c", f"{temp!r} was given; allowed is -40 to 900 °C")
        materials[key] = MappingProxyType({"title": key.replace("_", " "), "temp_c": 25.0, "rest": None} | given)
    for extra in raw.keys() - schema.keys() - {"name", "materials"}:
        fault(extra, None, f"there is no such section; allowed are name, {', '.join(schema)}, materials")
    for kind in ("scrap", "lime", "dolomite"):
        if not any(m.get("kind") == kind for m in materials.values()):
            faults.append(f"materials: none of kind {kind!r}; at least one is needed")
    if "oxygen" in sections and not faults and sections["oxygen"].purity_pct + sections["oxygen"].argon_pct > 100:
        fault("oxygen", "argon_pct", "purity and argon add up to more than 100 %")
    if faults:
        raise InputError(f"works profile {path}: {len(faults)} fault{'s' if len(faults) > 1 else ''}:\n  " + "\n  ".join(faults))
    return Profile(str(raw.get("name", "unnamed works")), str(path), MappingProxyType(sections), MappingProxyType(materials))


def find():
    """Path of the profile that load() takes when none is given, or None for the one that ships."""
    named = os.environ.get("STEELTHERMO_PROFILE")
    if named:
        return Path(named)
    here = Path.cwd()
    return next((folder / FILE_NAME for folder in (here, *list(here.parents)[:2]) if (folder / FILE_NAME).is_file()), None)


def load(path=None):
    """The works profile: from path, or found (see the head of this module), or Port Ardal's. Raises InputError with every fault in it."""
    path = Path(path) if path is not None else find()
    if path is None:
        return _shipped()
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"works profile {path}: it can't be read: {error}.") from None
    return parse(text, path)


@cache
def _shipped():
    return parse(data_path("port_ardal.toml").read_text(encoding="utf-8"), "port_ardal.toml")
