"""The command `mark`: a folder of answer sheets to a gradebook and a report."""

from functools import partial
from itertools import count
from pathlib import Path

from ...base import InputError
from ..answers import say
from ..sheet import free, verified
from .ground import lessons_named, run_command
from .marking import mark
from .secret import load_secret


def _declare(parser):
    parser.add_argument(
        "folder",
        type=Path,
        nargs="?",
        help="folder with what was handed in: sheets, zips, folders below it",
    )
    parser.add_argument(
        "--verify",
        nargs="+",
        metavar="PAGE",
        help="say whether the check code of sign-off pages fits (a page, or its check line)",
    )
    parser.add_argument(
        "--pseudonyms",
        action="store_true",
        help="write pseudonyms, and who is who in a file of its own",
    )
    parser.add_argument(
        "--class",
        dest="roster",
        type=Path,
        metavar="NAMES.CSV",
        help="the list of the class (default: class.csv in the folder or the one above)",
    )
    parser.add_argument("--force", action="store_true", help="write over results that are there")
    parser.add_argument(
        "--out",
        type=Path,
        help="folder for the results (default: marks, marks-2, ... in the folder)",
    )


def _work(options):
    if options.verify:
        found = [verified(one) for one in options.verify]
        print(*(text for _, text in found), sep="\n")
        if not all(fits for fits, _ in found):
            raise InputError(say("check.not_all"))
        return
    if options.folder is None:
        raise InputError(say("mark.no_folder", folder="nothing"))
    problems, chained = lessons_named(options.lesson)
    secret = load_secret(options.secret)
    report = mark(
        options.folder,
        options.course,
        options.pseudonyms and (secret or True),
        partial(print, flush=True),
        (*problems, *chained),
        options.works,
        options.roster,
        secret,
    )
    names = ("marks" if n == 1 else f"marks-{n}" for n in count(1))
    out = options.out or free(options.folder / name for name in names)
    files = report.write(out, options.force)
    print(*report.told, report.summary(), sep="\n")
    print(say("mark.written", files=", ".join(map(str, files))))


def main(argv=None):
    """The command `mark`: see --help. Returns the exit code."""
    what = "Mark a folder of answer sheets: a gradebook (CSV) and a report (HTML)."
    return run_command("mark", what, _declare, _work, argv)
