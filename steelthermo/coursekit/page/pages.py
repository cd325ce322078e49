"""A long table in a notebook: searched, filtered, shown twenty rows at a time, with an optional
picture that follows. Plain HTML and ipywidgets.

Nothing here knows what the rows are.
"""

import base64

import ipywidgets as widgets
from IPython.display import display

from ...base import one_of, table, translated
from ..answers import say
from ..html import hook, paragraphs
from ..html import still as still_of
from ..panel import sentence, small
from ..panel import still as still_picture
from ..parts import button, column, html, of_class, row

PAGE = 20  # rows shown at once
ANY = "any"


class Pages:
    """The table to browse. Shown when it is the last line of a cell.

    title; heads: of the columns; menus: list of (name, label, options), options as (words, value),
    to which 'any' is added; orders: (words, value) of the menu of orders, or (); picture: a Picture
    drawn with the rows found, or None; width_px, height_px: of the picture; notes: HTML below the
    table.
    A subclass gives select(text, **menus) -> rows, row(r) -> HTML, counts(rows) -> words, and alt()
    -> the picture in words.
    chosen: rows that fit, in the order shown; start: number of the first one shown; text: the
    sentence that says so; png: the picture.
    """

    def __init__(
        self, title, heads, menus, orders=(), picture=None, width_px=0, height_px=0, notes=""
    ):
        self.title, self.heads = title, heads
        self.picture, self.size_px, self.png = picture, (width_px, height_px), b""
        words = translated("Search words (press Enter)")
        self.search = widgets.Text(description=words, continuous_update=False)
        self.menus = {name: _menu(label, [(ANY, ANY), *options]) for name, label, options in menus}
        self.order = _menu("Order", orders) if orders else None
        self.filters = tuple(filter(None, (self.search, *self.menus.values(), self.order)))
        self._quiet = False
        for control in self.filters:
            control.observe(self._changed, "value")
        size = {"width": str(width_px), "height": str(height_px)}
        self._image = of_class(widgets.Image(format="url", **size), "st-picture")
        self._say, self._body = html("st-sentence"), html("st-more")
        self.earlier = button("Earlier rows", lambda: self._turn(-PAGE))
        self.later = button("Later rows", lambda: self._turn(PAGE))
        self.everything = button("Show all rows", self.choose)
        self.widget = column(
            "st-panel st-pages",
            html("st-hook", hook(title, "panel")),
            column("st-frame", self._image) if picture else None,
            row("st-controls", *(row("st-row", control) for control in self.filters)),
            self._say,
            row("st-buttons", self.earlier, self.later, self.everything),
            self._body,
            html("st-more", notes) if notes else None,
        )
        self.refresh()

    # what a subclass gives

    def select(self, text, order, **menus):
        """Rows that fit, in order."""
        raise NotImplementedError

    def row(self, r):
        """HTML of one row."""
        raise NotImplementedError

    def counts(self, rows):
        """What is said of the rows found."""
        return ""

    def alt(self):
        """The picture in words."""
        return ""

    # what it does with it

    def choose(self, text="", order=None, **menus):
        """Set all filters at once, those not named to 'any'. Raises InputError for a menu or a
        value that is not there.
        """
        for name, value in menus.items():
            one_of("filter", name, self.menus)
            known = [v for _, v in self.menus[name].options[1:]]
            if value is not None:
                one_of(name, value, known)
        self._quiet = True
        self.search.value = str(text)
        for name, control in self.menus.items():
            control.value = ANY if menus.get(name) is None else menus[name]
        if self.order:
            self.order.value = self.order.options[0][1] if order is None else order
        self._quiet = False
        self.refresh()

    def refresh(self):
        """Filter anew, from the first row."""
        values = {  # None itself would be no choice at all
            name: None if control.value == ANY else control.value
            for name, control in self.menus.items()
        }
        order = self.order.value if self.order else None
        self.chosen, self.start = tuple(self.select(self.search.value, order, **values)), 0
        if self.picture:
            self.png = self.picture.draw(self.chosen)
            self._image.value = b"data:image/png;base64," + base64.b64encode(self.png)
        self._show()

    def _changed(self, _):
        if not self._quiet:
            self.refresh()

    def _turn(self, by):
        self.start = min(max(self.start + by, 0), max((len(self.chosen) - 1) // PAGE * PAGE, 0))
        self._show()

    def _show(self):
        shown = self.chosen[self.start : self.start + PAGE]
        if shown:
            range_ = f"Rows {self.start + 1} to {self.start + len(shown)}"
            count = len(self.chosen)
            fit = "row fits" if count == 1 else "rows fit"
            self.text = f"{count} {fit}: {self.counts(self.chosen)}. {range_}."
            self._body.value = table(self.heads, [self.row(r) for r in shown], range_)
        else:
            self.text = "No row fits. Take fewer search words, or set a filter back to 'any'."
            self._body.value = ""
        self._say.value = sentence(self.text, self.alt())
        self.earlier.disabled = self.start == 0
        self.later.disabled = self.start + PAGE >= len(self.chosen)

    def _ipython_display_(self):
        rows = say("page.count_rows", count=len(self.chosen))
        said = f"{self.title}: {rows}, {self.counts(self.chosen)}."
        if self.picture:
            still = still_picture(small(self.png), self.size_px[0], self.alt(), said, self.title)
        else:
            first = table(self.heads, [self.row(r) for r in self.chosen[:8]], "The first rows")
            told = "To search all rows, start here: menu Run, then Run All Cells."
            still = still_of("st-pages-still", "st-panel", said, first + paragraphs(told))
        display({"text/html": still, "text/plain": said}, raw=True)
        display(self.widget._repr_mimebundle_() | {"text/plain": self.title}, raw=True)


def _menu(label, options):
    options = [(translated(words), value) for words, value in options]
    return widgets.Dropdown(description=translated(label), options=options)
