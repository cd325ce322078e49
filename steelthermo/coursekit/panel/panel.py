"""A panel of the course: controls from a table, one picture of fixed size, one sentence with the
result, the numbers on demand.

A panel is declared, not programmed: compute(**settings) -> record knows no widget, the Drawing
knows no widget, and this module alone joins them. Whatever goes wrong in them becomes a sentence in
the panel, and the last good picture stays.
"""

import base64
import re
import warnings
from collections.abc import Callable
from dataclasses import dataclass

import ipywidgets as widgets
from IPython.display import display

from ... import base
from ...base import ExtrapolationWarning, InputError
from ..answers import say
from ..caution import caution_box
from ..html import hook
from ..opener import Opener
from ..parts import button, column, html, of_class, row
from . import markup
from .cases import case_text, read_case
from .controls import Control, Row
from .picture import Drawing, Picture, small

NONE_KNOWN = "No second published value is known to the kit for the figures of this panel."

_NOT_A_NUMBER = re.compile(r"\b(nan|inf)\b", re.IGNORECASE)
_FIGURES = re.compile(r"\d+(\.\d+)?")


def _alike(remarks):
    """Of remarks that differ in their figures alone, as stage after stage makes them, the first."""
    kinds = {}
    for remark in dict.fromkeys(remarks):
        kinds.setdefault(_FIGURES.sub("", remark), []).append(remark)
    return tuple(
        f"{first} {say('panel.alike', count=len(more))}" if more else first
        for first, *more in kinds.values()
    )


@dataclass(eq=False, repr=False)
class Panel:
    """One panel. Shown when it is the last line of a cell.

    name: the lesson's name ('heat_balance'), which a shared case begins with
    title: what the panel answers
    controls: the Control records, in the order in which they stand and are reached by keyboard;
    those folded stand behind a button
    compute: compute(**settings) -> record; may raise InputError and warn ExtrapolationWarning
    drawing: the Drawing that shows a record
    sentence: sentence(record) -> str, the result with numbers and units
    numbers: numbers(record) -> rows (name, value, unit) or (name, value, unit, note)
    alt: what the picture shows, in words: a text or alt(record) -> str
    closure: closure(record) -> rows (name, relative error); closure_limit: largest called closed
    sources: what base.sources can answer for, or sources(record) of the record first shown
    data: where published values disagree, a choice() among them, the last of the controls, beside
    the sources; its default is the kit's own data, every other value a text that base.sources can
    answer for. Or a text that stands there instead, such as NONE_KNOWN
    moved: needed with data: moved(record) -> pairs (what the data move, its value with unit)
    cautions: keys of the hazards told in the box above
    Raises InputError, or whatever compute or drawing raise, for defaults that cannot be shown.
    """

    name: str
    title: str
    controls: tuple
    compute: Callable
    drawing: Drawing
    sentence: Callable
    numbers: Callable
    alt: str | Callable
    closure: Callable | None = None
    closure_limit: float = 1e-6
    sources: tuple | Callable = ()
    data: str | Control = ""
    moved: Callable | None = None
    cautions: tuple = ()

    def __post_init__(self):
        self._no_data = ""
        if isinstance(self.data, str):
            self._no_data, self.data = self.data, None
        elif not (self.moved and self.sources and self.data.choices):
            raise InputError(
                f"panel {self.name}: data stand beside the sources and move something; it needs "
                "sources, moved, and data made by choice()."
            )
        self.controls = (*self.controls, *filter(None, [self.data]))
        self.caution = caution_box(self.cautions)
        self.result = None  # the record that the picture shows
        self.png = b""  # the picture now shown
        self.error = None  # the sentence shown instead of a result, or None
        self.alt_text = ""  # what the picture shows, in words
        self.remarks = ()  # why the result is extrapolated
        self._settings = {c.name: c.default for c in self.controls}
        self._lock_reason = None
        self.watch = ()  # functions called after the panel has shown another case
        self._picture = Picture(self.drawing)
        found = self._work()
        self.sources = tuple(self.sources(found[0]) if callable(self.sources) else self.sources)
        self._build()
        self._take(*found)

    # ---- what lessons and tests use --------------------------------------------------------------

    @property
    def settings(self):
        """Where the controls stand, by name (a copy)."""
        return dict(self._settings)

    def set(self, **settings):
        """Move controls by name. Raises InputError for an unknown name or a value that is not
        allowed; nothing moves then.
        """
        rows = {c.name: c for c in self.controls}
        for name in settings:
            if name not in rows:
                raise InputError(
                    f"panel {self.name}: {name!r} was given; its controls are {', '.join(rows)}."
                )
        moved = {name: rows[name].check(value) for name, value in settings.items()}
        if any(
            rows[n].folded and x not in (self._settings[n], rows[n].default)
            for n, x in moved.items()
        ):
            self._more.show(True)  # what moves is seen
        self._settings |= moved
        self._refresh()

    def reset(self):
        """Back to the defaults."""
        self.set(**{c.name: c.default for c in self.controls})

    def share(self):
        """The case as one line of text, for load() and for the case box of another learner's
        panel.
        """
        return case_text(self.name, self.controls, self._settings)

    def load(self, text):
        """Set the controls to a shared case. Raises InputError, in words, if it is none of this
        panel's.
        """
        self.set(**read_case(text, self.name, self.controls))

    def lock(self, reason):
        """Hold the controls still until unlock(); reason: what the learner has to do first."""
        self._lock_reason = reason
        self._hold()

    def unlock(self):
        """Free the controls."""
        self.lock(None)

    @property
    def locked(self):
        """True while lock() holds."""
        return self._lock_reason is not None

    @property
    def text(self):
        """The sentence now shown: the result, or what is wrong."""
        return self.error or self._sentence

    def still(self):
        """The picture as small PNG bytes, and its alt text."""
        return small(self.png), self.alt_text

    # ---- the page --------------------------------------------------------------------------------

    def _build(self):
        self._rows = tuple(Row(c, self._moved, self._refuse) for c in self.controls)
        size = {"width": str(self.drawing.width_px), "height": str(self.drawing.height_px)}
        self._image = of_class(widgets.Image(format="url", **size), "st-picture")
        self._say, self._gauge = html("st-sentence"), html("st-gauge")
        self._table, self._origin = html("st-more"), html("st-more")
        choice = self._rows[-1].widget if self.data else None
        shown = self._rows[:-1] if self.data else self._rows
        self._readout = column("st-readout", choice, self._origin)
        case = base.translated("This case (copy it, or paste another and press Enter)")
        self._case = of_class(widgets.Text(description=case, continuous_update=False), "st-case")
        self._case.observe(self._pasted, "value")
        # written by panel.js: pixels of the screen per pixel of the page
        self._density = of_class(widgets.Text(), "st-density")
        self._density.observe(self._fit, "value")
        self._reset_button = button(say("panel.reset"), self.reset)
        status = base.worst(self._provenances()).status if self.sources else ""
        shows = [
            (say(f"panel.show_{part}", status=status), say(f"panel.hide_{part}"))
            for part in ("controls", "numbers", "case", "sources")
        ]
        openers = (
            Opener(shows[1], self._table, self._fill_table),
            Opener(shows[2], self._case, self._fill_case),
            *((Opener(shows[3], self._readout, self._fill_sources),) if self.sources else ()),
        )
        more = row("st-controls", *(r.widget for r in shown if r.control.folded))
        self._more = Opener(shows[0], more) if more.children else None
        self.widget = column(
            "st-panel",
            html("st-hook", hook(self.title, "panel")),
            self._density,
            html(value=self.caution) if self.caution else None,
            row("st-controls", *(r.widget for r in shown if not r.control.folded)),
            row("st-buttons", self._more.button) if self._more else None,
            more if self._more else None,
            column("st-frame", self._image),
            self._say,
            self._gauge if self.closure else None,
            row("st-buttons", self._reset_button, *(o.button for o in openers)),
            self._case,
            self._table,
            self._readout,
        )

    def _fill_table(self):
        self._table.value = markup.numbers_table(
            self.numbers(self.result), self.controls, self._shown_settings
        )

    def _fill_case(self):
        self._case.value = self.share()

    def _fill_sources(self):
        def listed(sources):
            return dict.fromkeys(str(p) for source in sources for p in base.sources(source))

        chosen = self._chosen(self._shown_settings)
        remarks = " ".join(filter(None, (self._rests_on(), self._no_data)))
        self._origin.value = markup.sources_list(
            listed(self.sources),
            remarks,
            chosen and self.data.text(chosen),
            listed([chosen] if chosen else []),
        )

    def _provenances(self):
        """Where everything behind the panel comes from, each once."""
        return tuple(dict.fromkeys(p for source in self.sources for p in base.sources(source)))

    def _rests_on(self):
        """How many figures have no text behind them, and which is the weakest, in words."""
        found = self._provenances()
        weakest = base.worst(found)
        unverified = sum(p.status not in base.VERIFIED for p in found)
        told = {"n": len(found), "what": weakest.what, "status": weakest.status}
        if not unverified:
            return say("panel.rests_on_all", count=len(found), **told)
        return say("panel.rests_on", unverified=unverified, **told)

    def _ipython_display_(self):
        # Two outputs: a notebook opened without a kernel has the first, a running one shows the
        # second and hides the first.
        picture, alt = self.still()
        told = self._sentence, self.title, self.caution
        page = markup.still(picture, self.drawing.width_px, alt, *told)
        display({"text/html": page, "text/plain": f"{self.title}: {self._sentence}"}, raw=True)
        display(self.widget._repr_mimebundle_() | {"text/plain": f"Panel {self.name}"}, raw=True)

    # ---- what happens when a control moves -------------------------------------------------------

    def _moved(self, row, value):
        self._settings[row.control.name] = value
        self._refresh()

    def _refuse(self, text):
        self.error = text
        self._say.value = markup.fault(text, self.alt_text)

    def _pasted(self, change):
        if change.new.strip() == self.share():
            return
        try:
            if self.locked:
                raise InputError(self._lock_reason)
            self.load(change.new)
        except InputError as fault:
            self._refuse(str(fault))

    def _fit(self, change):
        """Draw with as many pixels as the screen has: fewer are faster, more are crisper."""
        try:
            scale = min(2.0, max(1.0, float(change.new)))
        except ValueError:
            return
        if scale != self._picture.scale:
            self._picture.rescale(scale)
            self._show(self._picture.draw(self.result, extrapolated=bool(self.remarks)))

    def _show(self, png):
        """Send the picture. As a data address it is on the screen a frame sooner than as bytes, for
        which the page makes an address itself.
        """
        self.png = png
        self._image.value = b"data:image/png;base64," + base64.b64encode(png)

    def _work(self):
        """Everything that can go wrong, before anything on the page changes: (record, picture,
        sentence, alt, remarks).
        """
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always")
            record = self.compute(**self._settings)
            sentence = self.sentence(record) + self._compared(record)
            alt = self.alt(record) if callable(self.alt) else self.alt
        remarks = []
        for w in caught:
            if issubclass(w.category, ExtrapolationWarning):
                remarks.append(str(w.message))
            else:
                warnings.warn_explicit(w.message, w.category, w.filename, w.lineno)
        if _NOT_A_NUMBER.search(sentence):
            raise InputError("This case has no finite result.")
        picture = self._picture.draw(record, extrapolated=bool(remarks))
        return record, picture, sentence, alt, _alike(remarks)

    def _chosen(self, settings):
        """The data chosen, or None where they are the kit's own."""
        chosen = settings[self.data.name] if self.data else None
        return chosen if self.data and chosen != self.data.default else None

    def _compared(self, record):
        """While other data than the kit's own are chosen, one more sentence: what they move, by
        both.
        """
        chosen = self._chosen(self._settings)
        if chosen is None:
            return ""
        theirs, what = self.moved(record), f"with the data chosen ({self.data.text(chosen)})"
        try:
            ours = self.moved(self.compute(**self._settings | {self.data.name: self.data.default}))
        except InputError as fault:
            return f" With the kit's own data: no result. {fault}"
        pairs = [(a, b) for a, b in zip(ours, theirs, strict=True) if a != b]
        if not pairs:
            return f" With the kit's own data: the same as {what}."
        own, other = (
            ", ".join(f"{name} {value}" for name, value in told)
            for told in zip(*pairs, strict=True)
        )
        return f" With the kit's own data: {own}; {what}: {other}."

    def _take(self, record, picture, sentence, alt, remarks):
        """Show what _work found, the picture first: it is what the learner waits for."""
        self._show(picture)
        self.result, self.remarks, self.error = record, remarks, None
        self._sentence, self.alt_text = sentence, f"{alt} {sentence}"
        self._shown_settings = dict(self._settings)
        self._say.value = markup.sentence(sentence, self.alt_text, remarks)
        for one in self._rows:
            one.show(self._settings[one.control.name])
        self._grey()
        if self.closure:
            self._gauge.value = markup.gauge(self.closure(record), self.closure_limit)
        if self._table.layout.display != "none":
            self._fill_table()
        if self._case.layout.display != "none":
            self._fill_case()
        if self.data and self._readout.layout.display != "none":
            self._fill_sources()

    def _refresh(self):
        try:
            self._take(*self._work())
            for told in self.watch:
                told()
            return
        except InputError as fault:
            self._refuse(str(fault))
        # a learner sees a sentence, never a traceback in a log they do not know of
        except Exception as fault:
            self._refuse(f"This case could not be computed ({type(fault).__name__}: {fault}).")
        for one in self._rows:
            one.show(self._settings[one.control.name])
        self._grey()

    def _grey(self):
        """Hold the controls that this case does not use, and free the others, unless the whole
        panel is locked.
        """
        if not self.locked:
            for one in self._rows:
                used = one.control.used
                one.disable(used is not None and not used(self._settings))

    def _hold(self):
        for one in self._rows:
            one.disable(self.locked)
        self._grey()
        self._reset_button.disabled = self._case.disabled = self.locked
        remarks = () if self.locked else self.remarks
        told = self._lock_reason or self._sentence
        self._say.value = markup.sentence(told, self.alt_text, remarks)
