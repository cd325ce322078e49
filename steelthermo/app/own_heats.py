"""The command `steelthermo plan`: the plan of a heat on one page to print, and forms to fill in."""

import argparse
from pathlib import Path

from ..base import InputError, shown, why_not
from .printed import write_page


def main(argv=None):
    """Print a form, or write the page. Raises InputError if the page is there already."""
    parser = argparse.ArgumentParser(
        prog="steelthermo plan",
        description=(
            "Plans a heat on one page to print. Without a file it prints the form to fill in: "
            "steelthermo plan > heat.toml"
        ),
    )
    parser.add_argument("file", nargs="?", type=Path, help="the form, filled in")
    parser.add_argument("--log", action="store_true", help="print the form for a month of heats")
    parser.add_argument(
        "--works", help="the works profile (default: works.toml here, else Heron Works)"
    )
    parser.add_argument("--out", type=Path, default=Path("plan.html"), help="file to write")
    options = parser.parse_args(argv)
    from ..course import form, heat_plan, works_files

    works = works_files()[-1](options.works)
    if options.file is None:
        print(form("log" if options.log else "heat", works), end="")
        return 0
    try:
        text = options.file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(
            f"plan: {shown(str(options.file))} can't be read: {why_not(error)}."
        ) from None
    plan, page = heat_plan(text, works)
    write_page("plan", options.out, page)
    print(plan)
    return 0
