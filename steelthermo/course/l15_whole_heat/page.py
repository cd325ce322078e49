"""The page of the heat sheet (exercise 15): one entry after the other, the course of the heat as a
picture, the debrief, and the sign-off page.
"""

from datetime import date
from html import escape
from typing import NamedTuple

from ...coursekit.answers import number_text, quantity_text
from ...coursekit.page import ChainPage, debrief, image, printed_page
from ...coursekit.panel import INK, SERIES, Drawing, Picture
from ..adapter import STEEL
from .chain import CHAIN
from .entries import ENTRIES
from .sheet import path_of, reference_state
from .steps import givens

# What the picture compares: name in path_of, what it is drawn as
_TEMPERATURES = ("hot metal, °C", "charge ends at, °C", "at the vessel, °C", "in the ladle, °C")
_SHARES = ("carbon, %", "sulphur in steel, %", "aluminium, %", "silicon, %", "manganese, %")


class Paths(NamedTuple):
    """own: the learner's heat; reference: the same with every entry right; both by the names of
    path_of.
    """

    own: dict
    reference: dict


def _setup(fig):
    left, right = fig.subplots(
        1, 2, gridspec_kw={"left": 0.09, "right": 0.97, "bottom": 0.27, "top": 0.88, "wspace": 0.28}
    )
    left.set(
        xlim=(-0.3, 3.3),
        ylim=(1200, 1760),
        ylabel="temperature, °C",
        title="Temperature along the heat",
    )
    left.set_xticks(range(4), ["hot metal", "end as\ncharged", "at the\nvessel", "in the\nladle"])
    right.set(
        xlim=(-0.5, 4.5),
        ylim=(0.001, 3),
        yscale="log",
        ylabel="mass %, log scale",
        title="Analysis in the end",
    )
    right.set_xticks(range(5), ["C", "S", "Al", "Si", "Mn"])
    right.yaxis.set_major_formatter(lambda value, _: f"{value:g}")
    made = []
    for ax in (left, right):
        for look, size, face, name in (
            (SERIES[1], 11, "none", "every entry right"),
            (SERIES[0], 7, None, "your heat"),
        ):
            dash = look.dash if ax is left else "none"
            face = face or look.colour
            (line,) = ax.plot(
                [],
                [],
                linestyle=dash,
                marker=look.marker,
                markersize=size,
                color=look.colour,
                markerfacecolor=face,
                animated=True,
                label=name,
            )
            made.append(line)
    handles, labels = left.get_legend_handles_labels()
    fig.legend(handles, labels, loc="lower center", ncols=2, labelcolor=INK)
    return made


def _update(artists, record):
    for line, (path, names) in zip(
        artists,
        [(p, n) for n in (_TEMPERATURES, _SHARES) for p in (record.reference, record.own)],
        strict=True,
    ):
        known = [(k, path[name]) for k, name in enumerate(names) if name in path]
        line.set_data([k for k, _ in known], [max(value, 0.0011) for _, value in known])


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
    body = (
        f"<h1>Sign-off: one heat from hot metal to ladle</h1><p>{escape(sheet.learner)} · course "
        f"{escape(sheet.course)} · heat {sheet.set} · "
        f"{escape(sheet.works.name)} · {date.today().isoformat()}</p>"
        f"<p><strong>{right} of {len(ENTRIES)} entries right; the steel "
        f"{'meets' if met else 'does not meet'} its specification.</strong> {escape(words)}</p>"
        "<p class='small'>Drawn for this learner: "
        f"{escape(given)}.</p>{debrief(sheet, CHAIN.called)}{_image(sheet)}"
        "<p class='small'>Every entry was worked out anew from the answer sheet. The page shows "
        "what was entered under this name; "
        "it does not show who sat at the keyboard. It certifies calculation, not the running of a "
        "vessel: "
        "that is for the works' own procedures and licensed people.</p>"
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
