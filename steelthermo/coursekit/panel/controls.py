"""The controls of a panel: what each one is, how its value is written, read and refused in words,
and a case as text.
"""

import csv
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

import ipywidgets as widgets

from ...base import InputError, convert, finite, translated
from ..answers import bound, read

_NUMBERS = ("low", "high", "step")
OWN = "own"  # value of a choice of data that stands for the kit's own

MOST_NAMED = 6  # choices that a sentence names one by one


def _decimals(number):
    return max(0, -Decimal(repr(number)).normalize().as_tuple().exponent)


@dataclass(frozen=True)
class Control:
    """One quantity that the learner can move.

    name: the argument of compute, with its unit as everywhere in the kit ('hot_metal_temp_c');
    label: what the learner reads ('Hot metal temperature'); unit: as printed ('°C'), '' for a pure
    number; low, high, step, default: numbers in that unit; why: where the range comes from, one
    phrase; choices: instead of a slider, a drop-down with these values (see choice()); help: one
    more sentence for the table, if the label needs it; used(settings) -> bool: False where this
    case does not ask for it, so that it stands grey (None: always used); folded: True where it
    stands behind the button "More controls", so that a newcomer sees few.
    Raises InputError if the declaration makes no sense.
    """

    name: str
    label: str
    unit: str
    low: float | None
    high: float | None
    step: float | None
    default: object
    why: str
    choices: tuple | None = None
    help: str = ""
    used: object = None
    folded: bool = False
    decimals: int = field(init=False, default=0)

    def __post_init__(self):
        if not (self.name.isidentifier() and self.label.strip() and self.why.strip()):
            raise InputError(
                f"control: name {self.name!r}, label {self.label!r}, why {self.why!r} were given; "
                "each needs a text, the name as in compute."
            )
        for what in ("label", "why", "help"):
            object.__setattr__(self, what, translated(getattr(self, what)))
        if self.choices is not None:
            pairs = (c if isinstance(c, tuple) else (str(c), c) for c in self.choices)
            pairs = tuple((translated(text), value) for text, value in pairs)
            object.__setattr__(self, "choices", pairs)
            if self.default not in [value for _, value in pairs]:
                raise InputError(
                    f"control {self.name}: the default {self.default!r} is not among its choices."
                )
            return
        for what in ("low", "high", "step", "default"):
            object.__setattr__(
                self,
                what,
                float(finite(f"control {self.name}, {what}", getattr(self, what), self.unit)),
            )
        if not (
            self.low < self.high
            and self.low <= self.default <= self.high
            and 0 < self.step <= self.high - self.low
        ):
            given = (
                f"low {self.low:g}, default {self.default:g}, high {self.high:g}, step "
                f"{self.step:g}"
            )
            raise InputError(
                f"control {self.name}: {given} were given; needed is low <= default <= high and a "
                "step that fits between."
            )
        object.__setattr__(self, "decimals", max(_decimals(self.step), _decimals(self.low)))

    @property
    def caption(self):
        """Label with unit, as it stands over the control."""
        return f"{self.label}, {translated(self.unit)}" if self.unit else self.label

    @property
    def range_text(self):
        """The allowed values in words."""
        if self.choices is not None:
            texts = [text for text, _ in self.choices]
            return (
                " or ".join(texts)
                if len(texts) <= MOST_NAMED
                else f"one of {len(texts)}, such as {texts[0]}"
            )
        return (
            f"{self.text(self.low)} to {self.text(self.high)}{f' {self.unit}' if self.unit else ''}"
        )

    def text(self, value):
        """The value as the learner reads and types it, without the unit."""
        if self.choices is not None:
            return next(text for text, known in self.choices if known == value)
        fixed = f"{value:.{self.decimals}f}"
        return fixed if abs(float(fixed) - value) < 1e-9 * max(1.0, abs(value)) else f"{value:.10g}"

    def check(self, value):
        """The value itself if it is allowed (numbers as float). Raises InputError."""
        if self.choices is not None:
            if value not in [known for _, known in self.choices]:
                raise InputError(f"{self.label}: {value!r} was given; choose {self.range_text}.")
            return value
        value = finite(self.label, value, self.unit)
        if not isinstance(value, float):
            raise InputError(
                f"{self.label}: a list was given; one number in {self.unit or 'plain figures'} is "
                "needed."
            )
        if not self.unit and self.step % 1.0 == 0.0 and value % 1.0:  # a count, such as holes
            raise InputError(
                f"{self.label}: {value:.10g} was given; a whole number from {self.range_text} is "
                "needed."
            )
        if not self.low <= value <= self.high:
            raise InputError(
                f"{self.label}: {value:.10g} {self.unit}".rstrip()
                + f" was given; allowed here is {self.range_text} ({self.why})."
            )
        return value

    def read(self, text):
        """The value a learner typed, read as the box of an answer reads it: of two readings of
        '1,250' the one within the range, another unit of the same quantity converted. Raises
        InputError.
        """
        given = text.strip()
        if self.choices is not None:
            for shown, value in self.choices:
                if given.casefold() in (shown.casefold(), str(value).casefold()):
                    return value
            raise InputError(f"{self.label}: {quoted(given)} was given; choose {self.range_text}.")
        try:
            reading = read(given.removesuffix(self.unit))
            unit = reading.unit or self.unit
            values = [
                x if unit == self.unit else convert(x, unit, self.unit) for x in reading.values
            ]
        except InputError:
            raise InputError(
                f"{self.label}: {quoted(given)} was given; a number from {self.range_text} is "
                "needed."
            ) from None
        return self.check(next((x for x in values if self.low <= x <= self.high), values[0]))

    def snap(self, value):
        """The nearest value on the slider's steps (the slider can show no other)."""
        steps = round((value - self.low) / self.step)
        return min(self.high, round(self.low + steps * self.step, self.decimals))

    def probes(self):
        """Values that a test should try: lowest, default and highest, or every choice."""
        return (
            [value for _, value in self.choices]
            if self.choices is not None
            else [self.low, self.default, self.high]
        )


def quoted(text):
    """What was typed, quoted and cut to a length that fits in a sentence."""
    return "nothing" if not text else repr(text if len(text) <= 40 else text[:37] + "...")


def choice(
    name: str, label: str, choices: Iterable, default: object, why: str, help: str = ""
) -> Control:
    """A drop-down control.

    Parameters
    ----------
    name, label, why, help : as in Control
    choices : texts, or pairs of (text shown, value passed to compute)
    default : one of the values

    Returns
    -------
    Control

    Examples
    --------
    >>> choice("cup", "Cup", ("small", "large"), "small", "two sizes").probes()
    ['small', 'large']
    """
    return Control(name, label, "", None, None, None, default, why, tuple(choices), help)


def read_controls(path: Path, figure: Callable | None, more: Mapping) -> tuple:
    r"""The controls in a table.

    Parameters
    ----------
    path : of a CSV file with the columns name, label, unit, low, high, step, default, why and help,
        as Control has them, and folded: `yes` where it is (the column may be left out)
    figure : function of a text, finds a default that is no number, such as a figure of a works by
        its path
    more : what the table leaves out, {name: {field: value}}. A default in it is brought to the
        nearest step; where there are choices it is the first unless said

    Returns
    -------
    Controls, each default within its range; those without a row come first

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import mkdtemp
    >>> path = Path(mkdtemp()) / "panel.csv"
    >>> lines = "name,label,unit,low,high,step,default,why,help", "hot_c,Coffee,°C,60,95,1,,a cup,"
    >>> _ = path.write_text("\n".join(lines), encoding="utf-8")
    >>> read_controls(path, None, {"hot_c": {"default": 84.7}})[0].default
    85.0
    """
    with path.open(encoding="utf-8", newline="") as file:
        rows = {row["name"]: row for row in csv.DictReader(file)}
    names = [*(name for name in more if name not in rows), *rows]
    return tuple(_of_row({"name": n} | rows.get(n, {}) | more.get(n, {}), figure) for n in names)


def _of_row(row, figure):
    default, row = row["default"], row | {"folded": bool(row.get("folded"))}
    if "choices" in row:
        first = next(iter(row["choices"]))
        first = first[1] if isinstance(first, tuple) else first
        return Control(**row | dict.fromkeys(_NUMBERS) | {"default": default or first})
    low, high, step = (float(row[key]) for key in _NUMBERS)
    if isinstance(default, str):
        default = figure(default) if default[:1].isalpha() else float(default)
    else:
        default = round(round(default / step) * step, 6)
    numbers = {"low": low, "high": high, "step": step, "default": min(max(default, low), high)}
    return Control(**row | numbers)


def data_choice(others: Iterable, why: str, help: str = "") -> Control:
    """The choice that a Panel takes as its `data`: the kit's own, or others.

    Parameters
    ----------
    others : pairs of (text shown, what base.sources() can answer for)
    why, help : as in Control

    Returns
    -------
    Control

    Examples
    --------
    >>> data_choice([("another half-life", "half_life_2")], "two disagree").default
    'own'
    """
    return choice(
        "data", "Published data to use", (("the kit's own", OWN), *others), OWN, why, help
    )


class Row:
    """The widgets of one control: a box to type in and a slider that always agree, or a drop-down.

    control: the Control; moved(control, value): called when the learner chose an allowed value;
    refused(sentence):
    called when what was typed cannot be used (the text stays in the box, to be mended).
    """

    def __init__(self, control, moved, refused):
        self.control, self._moved, self._refused = control, moved, refused
        self._showing = False  # True while the panel itself, not the learner, moves the widgets
        if control.choices is not None:
            self._menu = widgets.Dropdown(
                options=list(control.choices), value=control.default, description=control.caption
            )
            self._menu.observe(self._chosen, "value")
            self._parts = (self._menu,)
        else:
            self._box = widgets.Text(
                value=control.text(control.default),
                description=control.caption,
                continuous_update=False,
            )
            self._slider = widgets.FloatSlider(
                value=control.default,
                min=control.low,
                max=control.high,
                step=control.step,
                readout=False,
                tooltip=bound(control.help or control.caption),
            )
            self._at = control.snap(control.default)
            self._box.observe(self._typed, "value")
            self._slider.observe(self._slid, "value")
            self._parts = (self._box, self._slider)
        self.widget = widgets.Box(self._parts)
        self.widget.add_class("st-row")

    def show(self, value):
        """Set the widgets to a value without calling back."""
        self._showing = True
        try:
            if self.control.choices is not None:
                self._menu.value = value
            else:
                # The page moves a slider to its nearest step and reports that back; told the step
                # itself it stays quiet.
                # A slider that stands there already is left alone: the learner may have moved it on
                # by now.
                self._at = self.control.snap(value)
                if self.control.snap(self._slider.value) != self._at:
                    self._slider.value = self._at
                self._box.value = self.control.text(value)
        finally:
            self._showing = False

    def disable(self, disabled):
        """Lock (True) or free the widgets."""
        for part in self._parts:
            part.disabled = disabled

    def _slid(self, change):
        value = self.control.snap(change.new)
        if not self._showing and value != self._at:
            self._at = value
            self._moved(self, value)

    def _typed(self, change):
        if self._showing:
            return
        try:
            value = self.control.read(change.new)
        except InputError as fault:
            self._refused(str(fault))
        else:
            self._moved(self, value)

    def _chosen(self, change):
        if not self._showing:
            self._moved(self, change.new)
