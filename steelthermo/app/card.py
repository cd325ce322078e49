"""The command `steelthermo card`: the visit card as a page to print."""

import argparse
import webbrowser
from pathlib import Path

from ..base import InputError


def main(argv=None):
    """Write the card and open it. Raises InputError if the file is there already."""
    parser = argparse.ArgumentParser(
        prog="steelthermo card", description="Writes the visit card: one page to print and fill in."
    )
    parser.add_argument("--out", type=Path, default=Path("visit-card.html"), help="where to")
    parser.add_argument("--no-browser", action="store_true", help="write the file and stop")
    options = parser.parse_args(argv)
    from ..course import visit_card_html

    try:
        with open(options.out, "x", encoding="utf-8") as file:
            file.write(visit_card_html())
    except OSError as error:
        raise InputError(f"visit card, {options.out}: not written, {error.strerror}.") from None
    print(f"Written: {options.out}. Print it from the browser.")
    if not options.no_browser:
        webbrowser.open(options.out.resolve().as_uri())
    return 0
