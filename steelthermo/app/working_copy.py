"""The learner's working copy of lessons and exercises: added to, never written over.

A record in the working folder (.steelthermo/copies.json) remembers which editions of each file were
handed out, so that a newer edition in the kit can be told from a lesson the learner has changed.
"""

import errno
import hashlib
import json
import os
import secrets
from dataclasses import dataclass
from pathlib import Path

GROUPS = ("lessons", "exercises")
TRAINER = "exercises/trainer.ipynb"  # plans and answers for discussion: copied when asked for
_PACKAGE = Path(__file__).resolve().parents[1]


class StartError(Exception):
    """The kit cannot be opened; the message is one sentence that says why and what to do."""


@dataclass(frozen=True, slots=True)
class Copied:
    """What working_copy() did. folder; added, left: names of files; newer: names whose newer
    edition the learner lacks;
    beside: names of the newer editions written beside the learner's files."""

    folder: Path
    added: tuple
    left: tuple
    newer: tuple
    beside: tuple

    def __str__(self):
        text = (
            f"Working copy in {self.folder}: {_count(self.added)} added, {_count(self.left)} "
            "already there and left as they are."
        )
        if self.beside:
            text += f"\nNewer editions written beside yours: {', '.join(self.beside)}."
        if self.newer:
            text += (
                f"\nThe kit ships another edition of {', '.join(self.newer)} than the one you "
                "have; yours is left alone."
                " Run `steelthermo --newer` (with the same --folder) to put the other edition "
                "beside it under a name of its own."
            )
        return text


def _count(names):
    return f"{len(names)} file{'' if len(names) == 1 else 's'}"


def shipped(package=_PACKAGE):
    """The files that travel with the kit, {'lessons/00_start_here.ipynb': Path, ...}, in order of
    name.

    They stand inside the package when it was installed (`_lessons`), beside it in a clone
    (`lessons`). Raises StartError if there is no lesson.
    """
    found = {}
    for group in GROUPS:
        inside, beside = package / f"_{group}", package.parent / group
        root = inside if inside.is_dir() else beside
        for path in sorted(root.rglob("*")):
            parts = path.relative_to(root).parts
            if path.is_file() and not any(part.startswith((".", "__")) for part in parts):
                found["/".join((group, *parts))] = path
    if not any(name.startswith("lessons/") and name.endswith(".ipynb") for name in found):
        raise StartError(
            f"No lesson was found in {package}: the kit is not installed whole; install it again."
        )
    return found


def _holds_the_kit(folder):
    return (folder / "steelthermo" / "__init__.py").is_file()


def default_folder():
    """Where the working copy goes if no folder is named: `steelthermo` in the home folder
    (`steelthermo-work` if the kit's own source stands there).
    """
    try:
        home = Path.home()
    except RuntimeError:
        raise StartError(
            "Your home folder could not be found: name a folder with --folder."
        ) from None
    folder = home / "steelthermo"
    return home / "steelthermo-work" if _holds_the_kit(folder) else folder


def _reason(folder, error):
    """One sentence for an OSError met while writing in folder."""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return (
            f"The disk that holds {folder} is full: free some space or name another folder with "
            "--folder; nothing of yours was touched."
        )
    if isinstance(error, (NotADirectoryError, FileExistsError)):
        at = next(
            (p for p in (folder, *folder.parents) if os.path.lexists(p) and not p.is_dir()),
            error.filename or folder,
        )
        return f"{at} is a file, and a folder is needed there: name another folder with --folder."
    return (
        f"Nothing can be written in {folder} ({error.strerror or error}): name a folder of your "
        "own with --folder."
    )


def place(data, target):
    """Write bytes to the path target, whole or not at all, unless something of that name exists.
    True if written.
    """
    if os.path.lexists(target):
        return False
    target.parent.mkdir(parents=True, exist_ok=True)
    temporary = target.with_name(f".{secrets.token_hex(6)}.part")
    try:
        with open(temporary, "xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        try:
            os.link(
                temporary, target
            )  # unlike a rename, refuses to replace what another process has put there meanwhile
        except FileExistsError:
            return False
        except OSError:  # a file system without hard links (memory stick, some network drives)
            return _place_exclusively(data, target)
    finally:
        temporary.unlink(missing_ok=True)
    return True


def _place_exclusively(data, target):
    try:
        file = open(target, "xb")
    except FileExistsError:
        return False
    try:
        with file:
            file.write(data)
    except BaseException:
        target.unlink()
        raise
    return True


def write_probe(folder):
    """Create the folder if need be and write a small file in it that is removed again. Raises
    OSError if that fails.
    """
    folder.mkdir(parents=True, exist_ok=True)
    probe = folder / f".{secrets.token_hex(6)}.probe"
    try:
        probe.write_bytes(b"x" * 4096)
    finally:
        probe.unlink(missing_ok=True)


def _read_record(path):
    """{name: [edition, ...]} of the files handed out; a damaged record is put aside and an empty
    one returned.
    """
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
        if isinstance(record, dict) and all(isinstance(v, list) for v in record.values()):
            return record
    except FileNotFoundError:
        return {}
    except ValueError:
        pass
    path.replace(path.with_name(f"{path.stem}.damaged-{secrets.token_hex(3)}{path.suffix}"))
    return {}


def _write_record(path, record):
    path.parent.mkdir(exist_ok=True)
    temporary = path.with_name(f".{secrets.token_hex(6)}.part")
    try:
        temporary.write_text(json.dumps(record, indent=1, sort_keys=True) + "\n", encoding="utf-8")
        temporary.replace(path)
    finally:
        temporary.unlink(missing_ok=True)


def _edition(data):
    return hashlib.sha256(data).hexdigest()[:16]


def _beside(data, target):
    """Write data beside target as NAME_newer.ipynb, NAME_newer_2.ipynb, ...; return the path."""
    for n in range(1, 1000):
        path = target.with_name(f"{target.stem}_newer{'' if n == 1 else f'_{n}'}{target.suffix}")
        if place(data, path):
            return path
    raise StartError(f"There are too many editions beside {target}: move some of them away.")


def _in_language_chosen(name, data):
    if not os.environ.get("STEELTHERMO_LANGUAGE"):
        return data
    from .translate import (
        in_language_chosen,
    )  # loads the kit, which a copy in English starts without

    return in_language_chosen(name, data)


def working_copy(folder, newer=False, trainer=False, package=_PACKAGE):
    """Bring lessons and exercises into folder; a file that exists there is never touched. Returns
    Copied.

    newer: also write each edition the learner does not have yet beside the learner's own file,
    under another name. trainer: the trainer's notebook too; once there, it is kept up to date.
    Raises StartError if the folder cannot be written to, is a file, or holds the kit itself.
    """
    folder = Path(os.path.abspath(Path(folder).expanduser()))
    if _holds_the_kit(folder):
        raise StartError(
            f"{folder} holds the kit itself: name another folder for your working copy with "
            "--folder."
        )
    sources = shipped(package)
    added, left, other, beside = [], [], [], []
    try:
        write_probe(folder)
        record_path = folder / ".steelthermo" / "copies.json"
        record = _read_record(record_path)
        before = json.dumps(record, sort_keys=True)
        for name, source in sources.items():
            if name == TRAINER and not trainer and name not in record:
                continue
            data, target = _in_language_chosen(name, source.read_bytes()), folder / name
            handed_out = record.setdefault(name, [])
            edition = _edition(data)
            if place(data, target):
                added.append(name)
            else:
                left.append(name)
                if edition not in handed_out and not (
                    target.is_file() and target.read_bytes() == data
                ):
                    if not newer:
                        other.append(name)
                        continue
                    beside.append(_beside(data, target).relative_to(folder).as_posix())
            if edition not in handed_out:
                handed_out.append(edition)
        if json.dumps(record, sort_keys=True) != before:
            _write_record(record_path, record)
    except OSError as error:
        raise StartError(_reason(folder, error)) from error
    return Copied(folder, tuple(added), tuple(left), tuple(other), tuple(beside))
