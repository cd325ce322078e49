"""Pages of the book that no notebook holds: the start, what is printed, sources, reference."""

import re
from importlib import import_module
from pathlib import Path

from ...base import bibliography, data_files, rows
from ...course import (
    formula_sheet_html,
    glossary_html,
    planning_sheet_html,
    steel,
    visit_card_html,
)

ROOMS = (
    "thermo streams works charge slag jet blow hot_metal end_point ladle trust base".split()
)  # of the reference, in the order of use
_KIT = __package__.partition(".")[0]


def write(folder: Path, try_it: str) -> list:
    """Write the pages into the folder of the book's source; returns their names in order.

    try_it : what to do to run a lesson, in Markdown
    """
    printed = {
        "formulas": ("Formulas", formula_sheet_html()),
        "planning_sheet": ("Planning sheet", planning_sheet_html()),
        "glossary": ("Glossary", glossary_html()),
        "visit_card": ("Visit card", visit_card_html()),
    }
    made = {name: _printed(title, f"{name}.html", page) for name, (title, page) in printed.items()}
    made |= {"sources": _sources(), "reference": _reference()}
    for name, text in made.items():
        (folder / f"{name}.md").write_text(text, encoding="utf-8")
    for name, (_, page) in printed.items():
        (folder / f"{name}.html").write_text(page, encoding="utf-8")
    names = list(made)
    (folder / "index.md").write_text(_index(names, try_it), encoding="utf-8")
    return names


def _index(names, try_it):
    lessons = "\n".join(
        f"| {one.number} | [{one.name.replace('_', ' ')}](lessons/{one.number}_{one.name}.ipynb) "
        f"| {one.question} |"
        for one in steel().lessons
    )
    return _START.format(lessons=lessons, try_it=try_it, more="\n".join(names))


_START = """# The thermochemistry of oxygen steelmaking

How much hot metal, scrap, lime and oxygen make a heat that comes out at the right carbon and
temperature, why the vessel needs no fuel, and what has gone wrong when a heat does not come out:
one heat of 180 t is followed through a works, one question a lesson. It needs school chemistry.

This book is for reading, on paper or on a telephone. In it pictures stand still, code is folded
away, and each exercise shows its problems with the numbers of one made-up reader, with hints and
worked steps to unfold. To move the sliders and have your own answers checked, {try_it}.

**A training aid, not an instruction for running a vessel.** At a works, the site's own procedures
and the people licensed for the work decide.

| number | lesson | question |
|---|---|---|
{lessons}

```{{toctree}}
:caption: Lessons
:hidden:
:glob:

lessons/*
```

```{{toctree}}
:caption: Exercises
:hidden:
:glob:

exercises/*
```

```{{toctree}}
:caption: To look up
:hidden:

{more}
```
"""


def _cell(text):
    return str(text).replace("|", "\\|").replace("<", "&lt;")


def _printed(title, alone, page):
    """A page to print without its frame, which the book has itself."""
    body = re.search(r"<body[^>]*>(.*)</body>", page, re.DOTALL)[1]
    body = re.sub(r"<h1[^>]*>.*?</h1>", "", body, count=1, flags=re.DOTALL)
    body = re.sub(r"\n\s*\n", "\n", body)
    return (
        f"# {title}\n\n{{download}}`To print it alone <{alone}>`\n\n"
        f"<div class='st-card'>{body}</div>\n"
    )


def _sources():
    used = {}
    for path in data_files().values():
        if path.suffix == ".csv" and not path.stem.endswith("_invented"):
            for row in rows(path.stem):
                if path.stem != "sources" and "source" in row:
                    used.setdefault(row["source"], set()).add(path.stem.replace("_", " "))
    lines = []
    for key, one in sorted(bibliography().items(), key=lambda item: item[1].authors.casefold()):
        tables = ", ".join(sorted(used.get(key, ())))
        lines.append(f"**{key}**\n: {_cell(one)}" + (f" *Used in: {tables}.*" if tables else ""))
    return (
        "# Sources\n\nEvery constant of the kit names one of these, with the place in it and a "
        "status. The words in front are the keys: `sources(KEY)` in a notebook shows an entry.\n\n"
        + "\n\n".join(lines)
        + "\n"
    )


def _reference():
    parts = [
        "# Reference\n\nWhat a notebook may call, room by room: `from steelthermo import thermo`, "
        "and so on. Temperatures are in kelvin up to `thermo` and in °C from `streams` on.\n"
    ]
    for name in ROOMS:
        room = import_module(f"{_KIT}.{name}")
        about = " ".join((room.__doc__ or "").split())
        entries = [_entry(name, what, getattr(room, what)) for what in sorted(_offered(room))]
        parts.append(f"## {name}\n\n{about}\n\n" + "\n".join(filter(None, entries)))
    return "\n".join(parts)


def _offered(room):
    return [n for n in vars(room) if not n.startswith("_") and _home(getattr(room, n))]


def _home(thing):
    """Functions and classes of the kit; modules and constants have no page of their own."""
    home = getattr(thing, "__module__", "") or ""
    return callable(thing) and home.split(".")[0] == _KIT and bool(thing.__doc__)


def _entry(room, name, thing):
    kind = "autoclass" if isinstance(thing, type) else "autofunction"
    members = "\n   :members:\n" if kind == "autoclass" else "\n"
    return "\n".join(("```{eval-rst}", f".. {kind}:: {_KIT}.{room}.{name}{members}```", ""))
