"""The page of the heat sheet (exercise 15): one entry after the other, the course of the heat as a
picture, the debrief, and the sign-off page.
"""

from datetime import date
from html import escape
from typing import NamedTuple

from ...base import table
from ...coursekit.answers import number_text, quantity_text
from ...coursekit.page import ChainPage, debrief, image, printed_page
from ...coursekit.panel import INK, SERIES, Drawing, Picture
from ...coursekit.sheet import check_line
from ..adapter import STEEL
from ..pictures import axes, dot, made_of
from .chain import CHAIN
from .entries import ENTRIES
from .sheet import IN_LADLE, path_of, reference_state
from .steps import givens

# What the picture compares: name in path_of, what it is drawn as
_TEMPERATURES = (
    "hot metal, °C",
    "charge ends at, °C",
    "first sample, °C",
    "tapped at, °C",
    "in the ladle, °C",
)
_SHARES = tuple(f"{name}, %" for name in IN_LADLE)


class Paths(NamedTuple):
    """own: the learner's heat; reference: the same with every entry right; both by the names of
    path_of.
    """

    own: dict
    reference: dict


def _course(left, limits, label, title, names, marks, dashed=False):
    """A chart of the values of those names, of both heats; marks: what stands below them."""

    def chart(fig):
        ax = axes(
            fig, (left, 0.27, 0.386, 0.61), "", label, (-0.3, len(names) - 0.7), limits, title
        )
        ax.set_xticks(range(len(names)), marks)
        lines = []
        for n, look in ((1, {"ring": True, "markersize": 11, "markeredgewidth": 1}), (0, {})):
            dash = SERIES[n].dash if dashed else ""
            lines.append(dot(ax, n, SERIES[n].marker, linestyle=dash, **look))
        if dashed:
            said = ("every entry right", "your heat")
            fig.legend(lines, said, loc="lower center", ncols=2, labelcolor=INK)
        else:
            ax.set_yscale("log")
            ax.yaxis.set_major_formatter(lambda value, _: f"{value:g}")

        def show(record):
            for line, path in zip(lines, (record.reference, record.own), strict=True):
                known = [(k, path[name]) for k, name in enumerate(names) if name in path]
                line.set_data([k for k, _ in known], [max(value, 0.0011) for _, value in known])

        return show

    return chart


_STAGES = "hot metal", "end as\ncharged", "first\nsample", "tapped", "in the\nladle"
_setup, _update = made_of(
    _course(
        0.09, (1200, 1760), "temperature, °C", "Temperature along the heat", _TEMPERATURES, _STAGES,
        dashed=True,
    ),
    _course(
        0.584, (0.001, 3), "mass %, log scale", "Analysis in the ladle", _SHARES,
        tuple(IN_LADLE.values()),
    ),
)  # fmt: skip
DRAWING = Drawing(_setup, _update, width_px=760, height_px=360)


def picture_of(sheet):
    """(PNG bytes, alt text) of a heat beside the same heat with every entry right (as far as the
    learner's heat has gone).
    """
    own = sheet.path()
    reference = {
        name: value
        for name, value in path_of(reference_state(sheet.given, sheet.works)).items()
        if name in own
    }
    told = "; ".join(
        f"{name} {number_text(value)} (right entries: {number_text(reference[name])})"
        for name, value in own.items()
    )
    return Picture(DRAWING).draw(
        Paths(own, reference)
    ), f"Course of your heat beside the heat with every entry right: {told}."


def _image(sheet):
    png, alt = picture_of(sheet)
    return image(png, alt, DRAWING.width_px, DRAWING.height_px, "st-picture")


def _path_table(sheet):
    """The heat's own path as a table."""
    rows = [(name, number_text(value)) for name, value in sheet.path().items()]
    return table(("along this heat", ""), rows)


def sign_off_html(sheet):
    """The sign-off page, to be printed for the trainer's file: what was shown, how, and what the
    page does and does not prove.
    """
    right = sum(v.done for v in sheet.verdicts.values())
    words, met = sheet.outcome() or ("The heat has not reached the ladle.", False)
    known = {g.name: g for g in givens(sheet.works)}
    given = ", ".join(
        f"{known[name].label} {quantity_text(value, known[name].unit)}"
        for name, value in sheet.given.items()
        if name != "off_plan_c"
    )
    facts = (
        f"heat {sheet.set}, {right} of {len(ENTRIES)} entries right, specification "
        f"{'met' if met else 'not met'}, {sheet.works.name}, {date.today().isoformat()}"
    )
    body = (
        f"<h1>Sign-off: one heat from hot metal to ladle</h1><p>{escape(sheet.learner)} · course "
        f"{escape(sheet.course)} · heat {sheet.set} · "
        f"{escape(sheet.works.name)} · {date.today().isoformat()}</p>"
        f"<p><strong>{right} of {len(ENTRIES)} entries right; the steel "
        f"{'meets' if met else 'does not meet'} its specification.</strong> {escape(words)}</p>"
        "<p class='small'>Drawn for this learner: "
        f"{escape(given)}.</p>{debrief(sheet, CHAIN.called)}"
        f"<p>{escape(sheet.cost_words())}</p>{_image(sheet)}{_path_table(sheet)}"
        "<p class='small'>Every entry was worked out anew from the answer sheet. The page shows "
        "what was entered under this name; "
        "it does not show who sat at the keyboard. It certifies calculation, not the running of a "
        f"vessel.</p><p class='note'>{escape(STEEL.deferral)}</p>"
        f"<p class='small'>{escape(check_line(sheet.learner, sheet.course, facts))}</p>"
        "<p>Trainer: <span class='blank'></span> Date: <span class='blank'></span></p>"
    )
    return printed_page(f"Sign-off {sheet.learner}", body)


class HeatPage(ChainPage):
    """The heat sheet for whoever signs in."""

    def __init__(self, folder=None):
        super().__init__(STEEL.lesson("whole_heat"), folder)

    def picture(self):
        return _image(self.sheet)

    def sign_off_html(self):
        return sign_off_html(self.sheet)
