"""The command `steelthermo profile`: writes an annotated works profile to edit, or checks one. A
file that exists is never overwritten.
"""

import argparse
import re
from pathlib import Path

from ..base import InputError, data_path, rows, why_not
from ..course import usual_heat, works_files


def annotated(works="heron"):
    """Text of a profile that ships, with unit, allowed range, help and status above every number.
    works: one of those that ship.
    """
    _, shipped, _ = works_files()
    if works not in shipped:
        raise InputError(f"works: {works!r} was given; those that ship are {', '.join(shipped)}.")
    told = {(row["section"], row["key"]): row for row in rows("profile_schema")}
    section, out = "", []
    for line in data_path(f"{works}.toml").read_text(encoding="utf-8").splitlines():
        header, key = re.match(r"\[([\w.]+)\]", line), re.match(r"(\w+) *=", line)
        section = header[1] if header else section
        row = told.get((section, key[1])) if key else None
        if row:
            unit = "" if row["unit"] == "1" else f" {row['unit']}"
            out.append(
                f"# {row['help']}; {row['low']:g} to {row['high']:g}{unit}; {row['status']}: "
                f"{row['place']}"
            )
            line = line.split("#")[0].rstrip()
        elif section.startswith("materials.") and header:
            out.append(
                "# analysis in mass % of elements or compounds; `rest` takes what it leaves to "
                "100; temp_c (25 if left out) from -40 to 900 °C"
            )
        out.append(line)
    return "\n".join(out) + "\n"


def main(argv):
    """Command line of `steelthermo profile`. Returns the exit code."""
    name, shipped, load = works_files()
    parser = argparse.ArgumentParser(
        prog="steelthermo profile",
        description=(
            f"Writes a works profile to edit. Put it as {name} in your folder, and "
            "every lesson, problem and answer key uses its numbers."
        ),
    )
    parser.add_argument(
        "file",
        nargs="?",
        type=Path,
        default=Path(name),
        help=f"file to write or check (default: {name} here)",
    )
    parser.add_argument(
        "--works",
        choices=shipped,
        default="heron",
        help="which invented works to begin from (default: heron)",
    )
    parser.add_argument(
        "--check",
        action="store_true",
        help="check the file instead of writing it: every fault at once, with its line",
    )
    options = parser.parse_args(argv)
    if options.check:
        works = load(options.file)
        print(
            f"{options.file}: the profile of {works.name} is sound; {len(works.materials)} "
            f"materials. {usual_heat(works)}"
        )
        return 0
    text = annotated(options.works)
    try:
        with open(options.file, "x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise InputError(
            f"profile: {options.file} exists already and is left as it is; name another file, or "
            "check it with --check."
        ) from None
    except OSError as error:
        raise InputError(f"profile: {options.file} can't be written: {why_not(error)}.") from None
    print(
        f"{options.file} is written. Edit it, then check it: steelthermo profile --check "
        f"{options.file}"
    )
    return 0
