"""The command `steelthermo class`: from the list of a class to a folder or zip for each learner."""

import json
import re
import shutil
import unicodedata
import zipfile
from itertools import count
from pathlib import Path

from ..base import InputError, data_path
from ..coursekit import in_use
from ..coursekit.marking import (
    exam_file,
    ground,
    load_secret,
    lock_of,
    run_command,
    secret_path,
)
from ..coursekit.sheet import ROSTER, file_id, load_roster

LEARNERS, HANDED_IN = "for-learners", "handed-in"


def course_text(course, person=None, lock=""):
    """A course.toml: of a person, with what is laid down for them or for everybody; of nobody, the
    trainer's own.
    """
    lines = [f"key = {_quoted(course.key)}"]
    lines += [] if course.predict_first else ["predict_first = false"]
    lines += [f"deadline = {course.deadline.isoformat()}"] if course.deadline else []
    lines += [f"try_cost = {course.try_cost}", f"lock = {_quoted(lock)}"]
    for who, problem, number, values in course.overrides:
        if person and not course.is_for(who, person.signs):
            continue
        lines += ["", "[[override]]", f"learner = {_quoted(who)}", f"problem = {_quoted(problem)}"]
        lines += [] if number is None else [f"set = {number}"]
        lines += [f"{name} = {_quoted(value)}" for name, value in values.items()]
    if person:
        lines += ["", "[learner]", f"name = {_quoted(person.signs)}"]
        lines += [f"id = {_quoted(person.id)}"] if person.id else []
    return "\n".join(lines) + "\n"


def _quoted(value):
    """A value as TOML writes it."""
    if not isinstance(value, str):
        return repr(value)
    return json.dumps(value.replace("\x7f", " "), ensure_ascii=False)


def folder_names(people):
    """{Person: name of their folder}: number and name in letters every system can store; no two
    differ by case alone.
    """
    out, taken = {}, set()
    for place, one in enumerate(people, 1):
        plain = unicodedata.normalize("NFKD", one.name).encode("ascii", "ignore").decode()
        plain = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-").lower()[:40] or "learner"
        first = f"{file_id(one.id) or f'{place:03d}'}_{plain}"
        names = (first if n == 1 else f"{first}-{n}" for n in count(1))
        out[one] = next(name for name in names if name.casefold() not in taken)
        taken.add(out[one].casefold())
    return out


def _declare(parser):
    parser.add_argument("names", type=Path, help="the list of the class: id, name, email, group")
    parser.add_argument("--group", help="only the folders of this group of the list")
    parser.add_argument("--out", type=Path, default=Path("class"), help="where to (default: class)")
    parser.add_argument("--zip", action="store_true", help="a zip for each learner, no folder")
    parser.add_argument("--exam", type=Path, help="exam.toml of an exam, for each folder")
    parser.add_argument(
        "--force", action="store_true", help="write over what is there; no work of a learner's goes"
    )


def _work(options):
    everybody = load_roster(options.names)
    roster = everybody.of_group(options.group)
    by = ground(Path.cwd(), options.course, options.works)
    files = _works_file(by.works) | exam_file(options.exam, by.course, options.secret)
    if options.out.exists() and any(options.out.iterdir()) and not options.force:
        raise InputError(f"{options.out} is there and not empty; --force writes over it.")
    lock = lock_of(load_secret(options.secret, make=True), by.course.key)
    out = options.out / LEARNERS
    out.mkdir(parents=True, exist_ok=True)
    (options.out / HANDED_IN).mkdir(exist_ok=True)
    _write(options.out, _files(by.course, None, lock) | files)
    shutil.copyfile(options.names, options.out / ROSTER)
    names = folder_names(everybody.people)
    for one in roster.people:
        name = names[one]
        mine = _files(by.course, one, lock) | files
        if options.zip:
            with zipfile.ZipFile(out / f"{name}.zip", "w", zipfile.ZIP_DEFLATED) as archive:
                for file, data in mine.items():
                    archive.writestr(file, data)
        else:
            _write(out / name, mine)
    print(*roster.told, *by.told, sep="\n")
    kind = "zip" if options.zip else "folder"
    print(f"Written: a {kind} for each of {len(roster.people)} learners in {out}.")
    here = {f"{name}.zip" if options.zip else name for name in names.values()}
    if left := sorted({path.name for path in out.iterdir()} - here):
        print(
            f"Left as they are, for somebody may have worked there: {', '.join(left)}. They are of "
            "an earlier list, or of the other kind (folder, zip); move them yourself."
        )
    print(
        f"Each takes theirs as the folder they work in (steelthermo --folder). Put what they "
        f"hand in into {options.out / HANDED_IN}, then: steelthermo mark {options.out / HANDED_IN}"
    )
    print(
        f"Your secret is in {secret_path(options.secret)}. Answer keys and pseudonyms need it: "
        "keep a copy, and keep it from learners."
    )


def _files(course, person, lock):
    """{file name: bytes} of a person's course.toml."""
    return {"course.toml": course_text(course, person, lock).encode()}


def _works_file(works):
    """{file name: bytes} of a works.toml; empty where it is the works that the kit takes by
    itself.
    """
    if works is None or works.path == f"{in_use().home_works}.toml":
        return {}
    path = Path(works.path)
    path = path if path.is_file() else data_path(path.name)  # or one that ships
    return {"works.toml": path.read_bytes()}


def _write(folder, files):
    folder.mkdir(exist_ok=True)
    for name, data in files.items():
        (folder / name).write_bytes(data)


def main(argv=None):
    """The command `class`: see --help. Returns the exit code."""
    what = "A folder or zip for each learner of a class, with course.toml and works.toml in it."
    return run_command("class", what, _declare, _work, argv)
