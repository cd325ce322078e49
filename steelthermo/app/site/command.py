"""The command `steelthermo site`."""

import argparse
import importlib.util
import sys
from pathlib import Path

from ..working_copy import StartError
from .place import CONFIGURATION

_NEEDED = {"book": ("sphinx", "myst_nb", "sphinx_book_theme"), "browser": ("jupyterlite_core",)}


def _parser():
    parser = argparse.ArgumentParser(
        prog="steelthermo site",
        description=(
            "Builds the course to be read or run without an installation. It needs a clone of the "
            "kit, and the extra packages `pip install -e '.[site]'`."
        ),
    )
    parser.add_argument(
        "what",
        choices=("book", "browser", "all"),
        help="book: pages to read, and a handout to print; browser: lessons that run in a browser",
    )
    parser.add_argument(
        "--out", type=Path, default=Path("site"), help="folder for the pages (default: site)"
    )
    parser.add_argument(
        "--runtime",
        default="",
        help="Python for browsers (Pyodide), as an archive, a wheel, a folder or a web address; "
        "default: the address of the edition that fits",
    )
    parser.add_argument("--no-pdf", action="store_true", help="leave out the handout to print")
    return parser


def main(argv: list) -> int:
    """Build what is asked for; returns the exit code. Raises StartError where something is
    missing.
    """
    options = _parser().parse_args(argv)
    asked = ("book", "browser") if options.what == "all" else (options.what,)
    if not CONFIGURATION.is_dir():
        raise StartError(
            "The pages are built from a clone of the kit, installed so that it stays where it is: "
            "in its folder, `pip install -e '.[site]'`."
        )
    for package in (p for what in asked for p in _NEEDED[what]):
        if importlib.util.find_spec(package) is None:
            raise StartError(f"{package} is missing: install the kit's extra, .[site], first.")
    if "browser" in asked:
        from .browser import build

        build(options.out / "try", options.runtime)
    if "book" in asked:
        from .book import build

        build(options.out / "read", try_it="browser" in asked, pdf=not options.no_pdf)
    print(f"To look at it: {sys.executable} -m http.server --directory {options.out}")
    return 0
