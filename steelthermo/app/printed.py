"""The commands `card`, `glossary`, `formulas` and `planning-sheet`: pages to print."""

import argparse
import webbrowser
from pathlib import Path

from ..base import InputError, why_not


def card(argv=None):
    """Write the visit card and open it. Raises InputError if the file is there already."""
    from ..course import visit_card_html

    return _written(argv, "card", "the visit card: one page to print and fill in", visit_card_html)


def glossary(argv=None):
    """Write the glossary and open it. Raises InputError if the file is there already."""
    from ..course import glossary_html

    return _written(argv, "glossary", "the words of the trade, to print", glossary_html)


def formulas(argv=None):
    """Write the formula sheet and open it. Raises InputError if the file is there already."""
    from ..course import formula_sheet_html

    return _written(argv, "formulas", "the formulas of the course, to print", formula_sheet_html)


def planning_sheet(argv=None):
    """Write the planning sheet and open it. Raises InputError if the file is there already."""
    from ..course import planning_sheet_html

    what = "the planning sheet, blank, to print and fill in"
    return _written(argv, "planning-sheet", what, planning_sheet_html)


def _written(argv, name, what, page):
    parser = argparse.ArgumentParser(
        prog=f"steelthermo {name}", description=f"Writes {what}, and opens it in the browser."
    )
    parser.add_argument("--out", type=Path, default=Path(f"{name}.html"), help="file to write")
    parser.add_argument("--no-browser", action="store_true", help="write the file and stop")
    options = parser.parse_args(argv)
    write_page(name, options.out, page())
    if not options.no_browser:
        webbrowser.open(options.out.resolve().as_uri())
    return 0


def write_page(name, path, page):
    """Write a page of HTML and say so. Raises InputError if the file is there already."""
    try:
        with open(path, "x", encoding="utf-8") as file:
            file.write(page)
    except OSError as error:
        raise InputError(f"{name}, {path}: not written, {why_not(error)}.") from None
    print(f"Written: {path}. Print it from the browser.")
