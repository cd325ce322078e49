"""The learner's working folder: who works here (answers/me.json) and what a trainer has laid down
(course.toml).

course.toml, in the working folder or beside a folder of sheets to be marked; where there is none,
the file that the variable <COMMAND>_COURSE of the environment names, one for all on a hub:

    key = "COURSE-A"          # the course key that learners' numbers are drawn with
    predict_first = false     # panels are free before the question above them is answered
    deadline = 2026-12-18     # what is answered later is marked and flagged; a day, or day and time
    try_cost = 0.1            # what each wrong try takes off a problem's graded score

    [learner]                 # whose folder this is (`class` writes it): no name need be typed
    name = "Ada Achterberg"
    id = "217"

    [[override]]              # a trainer's own numbers instead of drawn ones
    learner = "*"             # a name, or * for everyone
    problem = "oxygen_demand.carbon"
    set = 1                   # left out: every set
    carbon_pct = 4.2
"""

import json
import os
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime, time
from itertools import count
from pathlib import Path

from ...base import InputError, why_not
from ..adapter import in_use
from ..answers import clip, say
from ..problems import DEFAULT_COURSE, normalised

LONGEST_NAME = 80  # characters of a learner's name or a course key
_SETTINGS = {
    "key": (str, "a text in quotes"),
    "predict_first": (bool, "true or false"),
    "override": (list, "[[override]]"),
    "deadline": ((date, datetime), "a date such as 2026-12-18, or 2026-12-18T18:00:00+01:00,"),
    "try_cost": ((int, float), "a number from 0 to 1"),
    "learner": (dict, "a table [learner] with name and id, texts in quotes,"),
    "lock": (str, "the text that `class` wrote"),
}
TRY_COST = 0.1


@dataclass(frozen=True)
class Course:
    """What a trainer has laid down: course key, whether panels wait for a prediction, and numbers
    of their own. learner, id: whose folder it is, or ''; deadline: datetime with a time zone, or
    None; try_cost: see progress.Standing.graded; lock: see secret.py; file: where it was read, or
    ''.
    """

    key: str = DEFAULT_COURSE
    predict_first: bool = True
    overrides: tuple = ()
    learner: str = ""
    id: str = ""
    deadline: datetime | None = None
    try_cost: float = TRY_COST
    lock: str = ""
    file: str = field(default="", compare=False)

    @staticmethod
    def is_for(who, learner):
        """True if an override's learner is this one."""
        return who in ("*", normalised(learner))

    def fixed(self, learner, problem, set_number):
        """{quantity: value} laid down for this learner, problem and set; a name counts more than
        *.
        """
        out = {}
        for who, key, number, values in sorted(self.overrides, key=lambda o: o[0] != "*"):
            if key == problem and number in (None, set_number) and self.is_for(who, learner):
                out |= values
        return out


def working_folder(start: str | Path | None = None) -> Path:
    """The folder that holds lessons/, exercises/ and answers/: the nearest one above.

    Parameters
    ----------
    start : where to begin; None: where we are

    Returns
    -------
    its path

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> here = Path(mkdtemp()).resolve()
    >>> (here / "answers").mkdir()
    >>> working_folder(here / "answers") == here
    True
    """
    if start is None and os.environ.get("STEELTHERMO_FOLDER"):
        return Path(os.environ["STEELTHERMO_FOLDER"])
    start = Path(start or Path.cwd()).absolute()
    near = (start, *list(start.parents)[:3])
    for folder in near:
        if (folder / "exercises").is_dir() and (folder / "lessons").is_dir():
            return folder
    return next((folder for folder in near if (folder / "answers").is_dir()), start)


def course_for_all() -> Path | None:
    """The course.toml that the environment names.

    Returns
    -------
    its path, or None where it names none

    Raises
    ------
    InputError
        If it is not there.

    Examples
    --------
    >>> course_for_all() is None
    True
    """
    variable = f"{in_use().command.upper()}_COURSE"
    if not os.environ.get(variable):
        return None
    path = Path(os.environ[variable]).expanduser()
    if not path.is_file():
        raise InputError(say("course.for_all", variable=variable, file=path))
    return path


def load_course(path: str | Path) -> Course:
    """Read course.toml. Where there is none, that for all counts, else the defaults.

    Parameters
    ----------
    path : the file, or the folder that may hold it

    Returns
    -------
    Course

    Raises
    ------
    InputError
        Names the fault.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> load_course(mkdtemp()).key
    'self-study'
    """
    path = Path(path)
    path = path / "course.toml" if path.is_dir() else path
    if not path.is_file():
        hidden = path.with_name("course.toml.txt")  # Windows hides the last ending
        if hidden.is_file():
            raise InputError(f"{hidden}: {say('hand.setting', name='course.toml')}.")
        path = course_for_all()
    if path is None:
        return Course()
    try:
        table = tomllib.loads(path.read_bytes()[: 2**20].decode("utf-8-sig"))
    except (
        OSError,
        ValueError,
        RecursionError,
    ) as error:  # TOMLDecodeError and UnicodeDecodeError are ValueErrors
        raise InputError(
            say("course.toml", file=path.name, reason=clip(why_not(error), 120))
        ) from None
    faults, overrides, file = [], [], path.name
    for key, value in table.items():
        if key not in _SETTINGS:
            faults.append(say("course.key", file=file, key=clip(key), known=", ".join(_SETTINGS)))
            continue
        kind, wanted = _SETTINGS[key]
        if not _fits(key, kind, value):
            told = {"key": key, "value": clip(value), "wanted": wanted}
            faults.append(say("course.type", file=file, **told))
        elif kind is list:
            overrides = list(map(_override, value))
    faults += [
        say("course.override", file=file, number=number)
        for number, one in enumerate(overrides, 1)
        if one is None
    ]
    if faults:
        raise InputError("\n  ".join(faults))
    key, first = table.get("key", DEFAULT_COURSE), table.get("predict_first", True)
    who = table.get("learner", {})
    return Course(
        key,
        first,
        tuple(overrides),
        who.get("name", ""),
        who.get("id", ""),
        _moment(table.get("deadline")),
        float(table.get("try_cost", TRY_COST)),
        table.get("lock", ""),
        str(path),
    )


def _fits(key, kind, value):
    """True for a value of a setting that makes sense."""
    if type(value) not in (kind if isinstance(kind, tuple) else (kind,)):
        return False
    if key == "try_cost":
        return 0 <= value <= 1
    if key == "learner":
        texts = all(isinstance(x, str) and len(x) <= LONGEST_NAME for x in value.values())
        return texts and value.keys() <= {"name", "id"} and bool(normalised(value.get("name", "")))
    return True


def _moment(deadline):
    """A day ends at midnight; a time without a zone is that of this computer."""
    if deadline is None:
        return None
    if not isinstance(deadline, datetime):
        deadline = datetime.combine(deadline, time(23, 59, 59))
    return deadline if deadline.tzinfo else deadline.astimezone()


def _override(entry):
    """(learner, problem, set or None, values) of an entry of course.toml; None if it is none."""
    if not isinstance(entry, dict):
        return None
    values = dict(entry)
    learner, problem, number = (values.pop(key, None) for key in ("learner", "problem", "set"))
    kinds = {type(value) for value in values.values()}
    words = isinstance(learner, str) and isinstance(problem, str)
    if not (kinds and kinds <= {int, float, str} and words and type(number) in (int, type(None))):
        return None
    return "*" if learner.strip() == "*" else normalised(learner), problem, number, values


def load_me(folder: str | Path) -> tuple | None:
    """Who signed in here last.

    Parameters
    ----------
    folder : the working folder

    Returns
    -------
    (learner, course key), or None

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> load_me(mkdtemp()) is None
    True
    """
    try:
        me = json.loads((Path(folder) / "answers" / "me.json").read_bytes()[:4096])
        learner, course = me["learner"], me["course"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    good = all(
        isinstance(x, str) and len(x) <= LONGEST_NAME and normalised(x) for x in (learner, course)
    )
    return (learner, course) if good else None


def save_me(folder: str | Path, learner: str, course: str) -> None:
    """Remember who works here.

    Parameters
    ----------
    folder : the working folder
    learner, course : name and course key

    Raises
    ------
    OSError
        If it cannot be written.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> here = mkdtemp()
    >>> save_me(here, "Ada", "self-study")
    >>> load_me(here)
    ('Ada', 'self-study')
    """
    path = Path(folder) / "answers" / "me.json"
    path.parent.mkdir(exist_ok=True)
    if path.exists() and load_me(folder) is None:
        kept_aside(path)
    part = path.with_name("me.json.part")
    part.write_text(
        json.dumps({"learner": learner, "course": course}, ensure_ascii=False),
        encoding="utf-8",
        errors="replace",
    )
    os.replace(part, path)


def free(paths: Iterable) -> Path:
    """The first of some paths that is not there yet.

    Parameters
    ----------
    paths : of Path; one of them is free

    Returns
    -------
    Path

    Examples
    --------
    >>> free([Path("/"), Path("/no such file")]).name
    'no such file'
    """
    return next(path for path in paths if not path.exists())


def kept_aside(path: Path) -> Path:
    """Copy a damaged file to the first free <name>.damaged-<n>.

    Parameters
    ----------
    path : of the file

    Returns
    -------
    the new path

    Raises
    ------
    OSError
        If it cannot be done.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> torn = Path(mkdtemp()) / "me.json"
    >>> _ = torn.write_text("{")
    >>> kept_aside(torn).name
    'me.json.damaged-1'
    """
    aside = free(path.with_name(f"{path.name}.damaged-{n}") for n in count(1))
    with open(path, "rb") as source, open(aside, "xb") as copy:
        copy.write(source.read())
    return aside
