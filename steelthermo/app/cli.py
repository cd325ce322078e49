"""The command `steelthermo` (also `python -m steelthermo`).

Without a command it brings lessons and exercises into a folder of the learner's and opens them in
JupyterLab.
The other commands live in the rooms they belong to and are loaded only when called, so that this
one starts quickly.
"""

import argparse
import importlib
import os
import subprocess
import sys
from pathlib import Path

from .working_copy import StartError, default_folder, working_copy

# command: (module, and its function where that is not main: (argv) -> exit code or None; what it
# does)
_COMMANDS = {
    "check": (
        "steelthermo.app.check",
        "check that this computer has all the kit needs, and say what to do if not",
    ),
    "class": (
        "steelthermo.app.class_folders",
        "make a folder for each learner of a class, from the list of their names",
    ),
    "mark": ("steelthermo.coursekit.marking:mark_command", "mark answer sheets"),
    "key": ("steelthermo.coursekit.marking:key_command", "print an answer key"),
    "exam": (
        "steelthermo.coursekit.marking:exam_command",
        "draw an exam with the trainer's secret",
    ),
    "card": ("steelthermo.app.printed:card", "write the visit card: one page to print"),
    "glossary": (
        "steelthermo.app.printed:glossary",
        "write the words of the trade, to print",
    ),
    "formulas": ("steelthermo.app.printed:formulas", "write the formulas of the course, to print"),
    "planning-sheet": (
        "steelthermo.app.printed:planning_sheet",
        "write the planning sheet, blank, to print and fill in",
    ),
    "plan": ("steelthermo.app.own_heats", "plan a heat on one page; forms for it and for a log"),
    "site": ("steelthermo.app.site", "build the web book, and the lessons for a browser"),
    "words": ("steelthermo.app.words", "write all that the kit says for a translator"),
    "profile": ("steelthermo.app.works_file", "write or check a works profile"),
}


def _parser():
    from ..course import __version__

    parser = argparse.ArgumentParser(
        prog="steelthermo",
        description=(
            "Brings the lessons and exercises into a folder of yours and opens them in "
            "JupyterLab. A file that exists there is never touched."
        ),
        epilog="commands (each has its own --help):\n"
        + "\n".join(f"  steelthermo {name:<14} {what}" for name, (_, what) in _COMMANDS.items())
        + (
            "\n\nWhat follows -- goes to JupyterLab as it is; from a container, for one: "
            "steelthermo "
            "-- --ip=0.0.0.0"
        ),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument(
        "--folder",
        type=Path,
        help="folder of your working copy (default: steelthermo in your home folder)",
    )
    parser.add_argument(
        "--newer",
        action="store_true",
        help="put newer editions of lessons beside yours, under names of their own",
    )
    parser.add_argument(
        "--language",
        type=Path,
        help="a translator's file (see steelthermo words): lessons, panels and problems in it",
    )
    parser.add_argument("--trainer", action="store_true", help="bring the trainer's notebook too")
    parser.add_argument(
        "--copy-only",
        action="store_true",
        help="bring the files and stop, without starting JupyterLab",
    )
    parser.add_argument(
        "--no-browser", action="store_true", help="print the address instead of opening a browser"
    )
    parser.add_argument("--version", action="version", version=f"steelthermo {__version__}")
    return parser


def _function(place):
    module, _, function = place.partition(":")
    return getattr(importlib.import_module(module), function or "main")


def _run_command(name, argv):
    run = _function(_COMMANDS[name][0])
    from ..base import InputError

    if name in ("mark", "key", "class", "exam"):
        from ..course import steel

        steel()
    try:
        return run(argv) or 0
    except InputError as error:
        raise StartError(str(error)) from None


def _open(argv):
    extra = []
    if "--" in argv:
        cut = argv.index("--")
        argv, extra = argv[:cut], argv[cut + 1 :]
    options = _parser().parse_args(argv)
    if options.language:
        return _in_language(options.language, argv, extra)
    copied = working_copy(
        options.folder or default_folder(), newer=options.newer, trainer=options.trainer
    )
    print(copied, flush=True)
    if options.copy_only:
        return 0
    from .lab import first_lesson, start

    opens = first_lesson((*copied.added, *copied.left))
    print(f"Opening {opens}. To stop: close the browser tab and press Ctrl+C here.", flush=True)
    return start(copied.folder, opens, browser=not options.no_browser, extra=extra)


def _in_language(path, argv, extra):
    """Run the same command in a process of its own that asks for the words from its start."""
    from ..base import LANGUAGE, read_po, why_not

    try:
        found, wrong = read_po(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise StartError(
            f"{path} cannot be read as a translator's file: {why_not(error)}."
        ) from None
    print(f"{path}: {len(found)} texts.", *wrong, sep="\n", flush=True)
    at = next(k for k, part in enumerate(argv) if part.startswith("--language"))
    rest = argv[:at] + argv[at + (1 if "=" in argv[at] else 2) :]
    command = [sys.executable, "-m", "steelthermo", *rest, *(["--", *extra] if extra else [])]
    return subprocess.call(command, env=os.environ | {LANGUAGE: str(path.resolve())})


def main(argv=None):
    """Run the command line; argv: arguments without the program's name (default: those of this
    process). Returns the exit code.
    """
    argv = list(sys.argv[1:] if argv is None else argv)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(
                errors="backslashreplace"
            )  # a folder's name may hold letters the terminal cannot show
    try:
        if argv and not argv[0].startswith("-"):
            if argv[0] in _COMMANDS:
                return _run_command(argv[0], argv[1:])
            print(
                f"steelthermo: there is no command {argv[0]!r}; the commands are "
                f"{', '.join(_COMMANDS)}, or none to open the lessons.",
                file=sys.stderr,
            )
            return 2
        return _open(argv)
    except StartError as error:
        print(f"steelthermo: {error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
