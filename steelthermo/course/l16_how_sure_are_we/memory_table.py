"""What rests on memory or common practice, to browse: every such row of every table, the largest
effect on a heat first.
"""

from html import escape

from ...base import STATUSES, table
from ...coursekit.page import Pages
from ...trust import main_results, rests_on, unverified

TITLE = "What rests on memory or on common practice"
_HEADS = ("what", "value", "status", "effect on a heat", "feeds", "table", "key")


MAP = "What the main results rest on: how many figures of each status move them"


def map_of_results():
    """The map as a table: a line for each main result of a heat of Heron Works."""
    lines = []
    for key in main_results():
        found = rests_on(key)
        largest = found.unverified[0].told if found.unverified else "none"
        lines.append((found.what, *found.counts.values(), found.worst, largest))
    heads = ("result", *STATUSES, "rests on", "largest of those not verified")
    return table(heads, lines, "Each figure shifted, one at a time")


class UnverifiedTable(Pages):
    """The rows to browse. Shown when it is the last line of a cell. choose(text, table=...,
    status=..., effect=...) sets the filters.
    """

    def __init__(self):
        self.rows = unverified()
        tables = dict.fromkeys(r.table for r in sorted(self.rows, key=lambda r: r.table))
        menus = [
            ("table", "Table", [(t.replace("_", " "), t) for t in tables]),
            ("status", "Status", [(s, s) for s in ("memory", "common practice")]),
            ("effect", "Effect on a heat", [("worked out", True), ("none known", False)]),
        ]
        notes = f"<details><summary>{MAP}</summary>{map_of_results()}</details>"
        super().__init__(TITLE, _HEADS, menus, notes=notes)

    def select(self, text, order, table=None, status=None, effect=None):
        """Rows that fit."""
        words = str(text).casefold().split()
        for r in self.rows:
            if (
                table not in (None, r.table)
                or status not in (None, r.status)
                or effect not in (None, r.effect != "none known")
            ):
                continue
            if all(
                w in f"{r.table} {r.name} {r.what} {r.effect} {r.feeds}".casefold() for w in words
            ):
                yield r

    def row(self, r):
        """HTML of one row."""
        unit = "" if r.unit in ("none", "1") else r.unit
        value = "" if r.value is None else f"{r.value:g} {unit}".strip()
        cells = (value, r.status, r.effect, r.feeds, r.table.replace("_", " "))
        return (
            f'<tr><th scope="row">{escape(r.what)}</th>'
            f"{''.join(f'<td>{escape(c)}</td>' for c in cells)}"
            f"<td><code>{escape(r.name)}</code></td></tr>"
        )

    def counts(self, rows):
        """How many of each status."""
        n = {s: sum(r.status == s for r in rows) for s in ("memory", "common practice")}
        return (
            f"{n['memory']} from memory, {n['common practice']} common practice; "
            f"{sum(r.effect != 'none known' for r in rows)} with their effect on a heat"
        )


def show():
    """The rows to browse, shown when it is the last line of a cell: a UnverifiedTable for the works
    profile that load_profile() finds.
    """
    return UnverifiedTable()
