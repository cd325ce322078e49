"""The list of a class, in one file: number, name, e-mail and group of each person, as typed or as
other systems export it. Key, folders, page, marking and gradebook all go by it.
"""

import re
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

from ...base import InputError, table_of, text_of, why_not
from ..answers import clip, say
from ..problems import normalised
from .course import LONGEST_NAME

ROSTER = "class.csv"  # what it is called in a folder of sheets
MOST_BYTES = 2**20
# headings, as this kit asks for them and as systems and offices write them; the first found counts
_HEADS = {
    "id": (
        "id number",
        "student id",
        "student number",
        "sis user id",
        "matrikelnummer",
        "matriculation number",
        "personnel number",
        "number",
        "no.",
        "nr.",
        "nr",
        "id",
    ),
    "name": ("name", "full name", "learner", "student", "display name", "vollständiger name"),
    "first": ("first name", "firstname", "given name", "vorname", "prénom", "nombre"),
    "last": ("last name", "lastname", "surname", "family name", "nachname", "nom", "apellidos"),
    "email": ("email address", "e-mail address", "email", "e-mail", "mail", "e-mail-adresse"),
    "group": ("group", "groups", "section", "class", "gruppe", "groupe", "grupo"),
}


@dataclass(frozen=True)
class Person:
    """One of a class. signs: the name to sign in with; of namesakes it holds the number as well, or
    else the e-mail.
    """

    name: str
    id: str = ""
    email: str = ""
    group: str = ""
    signs: str = ""


@dataclass(frozen=True)
class Roster:
    """people: Persons in the order of the file; file: where it was read; told: sentences about what
    was read.
    """

    people: tuple
    file: str = ""
    told: tuple = ()

    def of_group(self, group):
        """The Roster of those of a group alone; None: all. Raises InputError that names the groups
        there are.
        """
        if group is None:
            return self
        own = tuple(one for one in self.people if normalised(one.group) == normalised(group))
        if not own:
            named = {normalised(one.group): clip(one.group) for one in self.people if one.group}
            groups = ", ".join(named.values()) or say("roster.no_groups")
            raise InputError(say("roster.group", file=self.file, group=clip(group), groups=groups))
        told = say("roster.of_group", count=len(own), group=own[0].group)
        return replace(self, people=own, told=(*self.told, told))

    def person(self, learner, file=""):
        """The Person who signed in by that name, or whose number the file's name begins with; None
        for nobody, or for more than one.
        """
        name = normalised(learner)
        for one in self.people:
            if name == normalised(one.signs):
                return one
        same = [one for one in self.people if name == normalised(one.name)]
        return same[0] if len(same) == 1 else self.numbered(file)

    def numbered(self, file):
        """The Person whose number a file's name begins with, or None."""
        stem = re.split(r"[\\/]", file.replace(" > ", "/"))[-1]
        found = [one for one in self.people if one.id and stem.startswith(f"{file_id(one.id)}_")]
        return found[0] if len(found) == 1 else None


def file_id(number: str) -> str:
    """A person's number as it stands in names of files and folders.

    Parameters
    ----------
    number : as the class list has it

    Returns
    -------
    text

    Examples
    --------
    >>> file_id("HS 26/017")
    'HS-26-017'
    """
    return re.sub(r"[^A-Za-z0-9.-]+", "-", number).strip("-.")[:40]


def _columns(heads):
    """{what: column} of a row of headings; empty if it is none."""
    heads = [re.sub(r"[*:\s]+", " ", head).strip().casefold() for head in heads]
    found = {
        what: next(heads.index(name) for name in names if name in heads)
        for what, names in _HEADS.items()
        if set(names) & set(heads)
    }
    return found if {"name", "first", "last"} & found.keys() else {}


def _text(path):
    try:
        with open(path, "rb") as file:
            head = file.read(4)
    except OSError as error:
        raise InputError(f"list of names: {path}: {why_not(error)}.") from None
    if head in (b"PK\3\4", b"\xd0\xcf\x11\xe0"):
        raise InputError(say("roster.workbook", file=path))
    text, notes = text_of(path, "list of names:", MOST_BYTES)
    if "\0" in text:
        raise InputError(say("roster.no_text", file=path))
    if text.count('"') % 2:
        raise InputError(say("roster.quote", file=path))
    return re.sub(r"\A\ufeff?sep=.\s*\n", "", text, flags=re.IGNORECASE), notes


def _signs(one, namesake):
    """The name to sign in with."""
    about = one.id or one.email
    if not (namesake and about):
        return one.name
    about = about[: LONGEST_NAME // 2]
    return f"{one.name[: LONGEST_NAME - len(about) - 3]} ({about})"


def load_roster(path: str | Path) -> Roster:
    r"""Read the list of a class.

    Parameters
    ----------
    path : of the file

    Returns
    -------
    Roster

    Raises
    ------
    InputError
        Says what is wrong, and in which line.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> names = Path(mkdtemp()) / "class.csv"
    >>> _ = names.write_text("name,id\nAda Lind,17\n", encoding="utf-8")
    >>> [person.signs for person in load_roster(names).people]
    ['Ada Lind']
    """
    text, notes = _text(path)
    delimiter, rows, _ = table_of(text)
    columns = _columns(rows[0][1]) if rows else {}
    wide = any(len([cell for cell in row if cell.strip()]) > 1 for _, row in rows)
    if not columns and wide and delimiter == ",":
        raise InputError(say("roster.no_head", file=path, line=clip(", ".join(rows[0][1]), 60)))
    people, faults = [], []
    for number, row in rows[bool(columns) :]:
        cell = {what: row[i].strip() for what, i in columns.items() if i < len(row)}
        if not columns:
            cell = {"name": row[0].strip()}
        name = cell.get("name") or f"{cell.get('first', '')} {cell.get('last', '')}".strip()
        if not normalised(name) and cell.get("id"):
            faults.append(say("roster.nameless", line=number))
        elif len(name) > LONGEST_NAME:
            limits = {"length": len(name), "limit": LONGEST_NAME}
            faults.append(say("roster.long", line=number, **limits))
        elif normalised(name) and normalised(name) != "points possible":
            about = {what: cell.get(what, "")[:LONGEST_NAME] for what in ("id", "email", "group")}
            people.append(Person(name, **about))
    ids = Counter(one.id for one in people if one.id)
    faults += [say("roster.same_id", id=clip(i), count=n) for i, n in ids.items() if n > 1]
    if faults:
        raise InputError("\n  ".join([say("roster.faults", file=path), *faults]))
    if not people:
        raise InputError(say("key.no_names", file=path))
    names = Counter(normalised(one.name) for one in people)
    people = tuple(
        replace(one, signs=_signs(one, names[normalised(one.name)] > 1)) for one in people
    )
    signs = Counter(normalised(one.signs) for one in people)
    same = {
        normalised(one.name): clip(one.name, 60)
        for one in people
        if signs[normalised(one.signs)] > 1
    }
    notes = [*notes, say("roster.namesakes", names="; ".join(same.values()))] if same else notes
    first, last = (clip(one.name, 60) for one in (people[0], people[-1]))
    read = say("roster.read", count=len(people), file=path, first=first, last=last)
    return Roster(people, str(path), (read, *notes))
