"""The page of the heat sheet (exercise 15): one entry after the other, the course of the heat as a
picture, the debrief, and the sign-off page.
"""

import base64
from datetime import date
from html import escape
from pathlib import Path
from types import SimpleNamespace

import ipywidgets as widgets
from IPython.display import display

from ...base import InputError
from ...coursekit.answers import clip, number_text, quantity_text, say
from ...coursekit.marking import printed_page
from ...coursekit.page import Page, guarded, markdown, paragraphs, soon, still, table
from ...coursekit.page.problem_view import _button, _of_class
from ...coursekit.panel import INK, SERIES, Drawing, Picture
from ...coursekit.problems import Choice, example
from ...coursekit.sheet import Journal, sheet_name
from ..adapter import STEEL
from .chain import CHAIN
from .entries import ENTRIES
from .lesson import QUESTION as TITLE
from .sheet import HeatSheet, path_of, reference_state
from .steps import givens

# What the picture compares: name in path_of, what it is drawn as
_TEMPERATURES = ("hot metal, °C", "charge ends at, °C", "at the vessel, °C", "in the ladle, °C")
_SHARES = ("carbon, %", "sulphur in steel, %", "aluminium, %", "silicon, %", "manganese, %")


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
        SimpleNamespace(own=own, reference=reference)
    ), f"Course of your heat beside the heat with every entry right: {told}."


def _image(sheet):
    png, alt = picture_of(sheet)
    data = base64.b64encode(png).decode()
    size = f'width="{DRAWING.width_px}" height="{DRAWING.height_px}"'
    return f'<img class="st-picture" {size} alt="{escape(alt)}" src="data:image/png;base64,{data}">'


def debrief_rows(sheet):
    """(title, lesson, what was entered, verdict in words, sentences about slips and what was right)
    of each entry carried on.
    """
    out = []
    for entry in ENTRIES[: len(sheet.verdicts)]:
        verdict = sheet.verdicts[entry.key]
        slips = [s for s in verdict.sentences[1:] if verdict.slips]
        if not verdict.done:
            slips.append(say("heat.right_here", answer=sheet.right[entry.key]))
        out.append(
            (entry.title, entry.lesson, _as_read(sheet, entry), verdict.word, " ".join(slips))
        )
    return out


def _debrief(sheet):
    rows = "".join(
        "<tr><th "
        f"scope='row'>{escape(title)}</th><td>{escape(clip(text, 40))}</td><td>{escape(word)}</td>"
        f"<td>{markdown(slips) if slips else ''}"
        f"{'' if word.startswith('right') else f'<p>Lesson {escape(lesson)} has this sum.</p>'}"
        "</td></tr>"
        for title, lesson, text, word, slips in debrief_rows(sheet)
    )
    return (
        "<table><thead><tr><th>stage</th><th>entered</th><th>verdict</th><th>what to look at "
        f"again</th></tr></thead><tbody>{rows}</tbody></table>"
    )


def _as_read(sheet, entry):
    """What was entered, as a person reads it: the words of a choice, a number with its unit."""
    text = clip(sheet.texts[entry.key], 40)
    if isinstance(entry.answer, Choice):
        return entry.answer.options[sheet.verdicts[entry.key].choice - 1].rstrip(".")
    return (
        text
        if entry.answer.unit == "1" or not text.strip()[-1:].isdigit()
        else f"{text} {entry.answer.unit}"
    )


def _entries_so_far(sheet):
    """What the heat goes on with: a later entry often needs an earlier one."""
    made = ENTRIES[: len(sheet.verdicts)]
    rows = [
        "<tr><th "
        f'scope="row">{escape(entry.title)}</th><td>{escape(_as_read(sheet, entry))}</td></tr>'
        for entry in made
    ]
    return table(rows, ("entry", "the heat goes on with"), say("heat.so_far"))


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
        f"{escape(given)}.</p>{_debrief(sheet)}{_image(sheet)}"
        "<p class='small'>Every entry was worked out anew from the answer sheet. The page shows "
        "what was entered under this name; "
        "it does not show who sat at the keyboard. It certifies calculation, not the running of a "
        "vessel: "
        "that is for the works' own procedures and licensed people.</p>"
        "<p>Trainer: <span class='blank'></span> Date: <span class='blank'></span></p>"
    )
    return printed_page(f"Sign-off {sheet.learner}", body)


class HeatPage(Page):
    """The heat sheet for whoever signs in. sheet: the HeatSheet once somebody has; the answer sheet
    keeps every entry.
    """

    def __init__(self, folder=None):
        self.sheet = None
        self.asked = widgets.HTML()
        self.line = widgets.RadioButtons(options=[], description=say("page.choice"))
        self.box = widgets.Text(description=say("page.answer_plain"))
        self.box.on_msg(
            lambda _, content, __: soon(self.check) if content.get("event") == "submit" else None
        )
        self.check_button, self.on_button = (
            _button(say("page.check"), lambda: soon(self.check)),
            _button(say("heat.on"), lambda: soon(self.carry_on)),
        )
        self.off_button, self.again_button = (
            _button(say("heat.sign_off"), self.sign_off),
            _button(say("heat.again"), self.again),
        )
        self.said, self.so_far = (
            _of_class(widgets.HTML(), "st-sentence"),
            _of_class(widgets.HTML(), "st-more"),
        )
        self.course_of, self.end = (
            _of_class(widgets.HTML(), "st-more"),
            _of_class(widgets.Box([self.off_button, self.again_button]), "st-row"),
        )
        super().__init__(STEEL.lesson("whole_heat"), folder)

    def _start(self, learner, course, unsaved=""):
        self.journal = Journal(self.folder, learner, course)
        self.sign_in.layout.display, self.signed.layout.display = "none", ""
        self.signed.children[0].value = paragraphs(
            say("page.signed", learner=learner, course=course)
        )
        trouble = unsaved or self.journal.add("open", lesson=self.lesson.name)
        fields = [
            self.asked,
            self.line,
            self.box,
            _of_class(widgets.Box([self.check_button, self.on_button]), "st-row"),
        ]
        self.list.children = [
            _of_class(
                widgets.VBox([*fields, self.course_of, self.end, self.said, self.so_far]),
                "st-problem",
            )
        ]
        stuck = self._replay(learner, course)
        self.say(paragraphs(trouble, say("heat.stuck", reason=stuck) if stuck else ""))
        self.refresh()

    def _replay(self, learner, course):
        """The heat as the answer sheet has it; returns why it could not be followed to its last
        entry, or ''.
        """
        kept = CHAIN.kept(self.journal.records)
        number = max(kept, default=1)
        self.sheet, reason = CHAIN.replayed(kept.get(number, ()), learner, course, number)
        return reason

    def say(self, html):
        """Put something into the live region: that below the buttons once there is a heat."""
        where, other = (
            (self.feedback, self.said) if self.sheet is None else (self.said, self.feedback)
        )
        where.value, other.value = html, ""

    def typed(self):
        """The answer as it stands on the page."""
        return (
            ("" if self.line.value is None else str(self.line.value))
            if isinstance(self.sheet.next.answer, Choice)
            else self.box.value
        )

    @guarded
    def check(self):
        """Say what the checker makes of the entry; nothing is carried on."""
        if self.sheet is None or self.sheet.next is None:
            return
        verdict = self.sheet.check(self.typed())
        first, *more = verdict.sentences
        self.say(f"<p><strong>{escape(first)}</strong></p>" + "".join(markdown(s) for s in more))

    @guarded
    def carry_on(self):
        """Take the entry into the heat, right or wrong."""
        if self.sheet is None or self.sheet.next is None:
            return
        entry, text = self.sheet.next, self.typed()[:200]
        try:
            self.sheet.carry_on(text)
        except InputError as error:
            self.say(paragraphs(say("heat.stuck", reason=str(error))))
            return
        unsaved = self.journal.add(
            "predict", question=f"whole_heat.{self.sheet.set}.{entry.key}", text=text
        )
        self.say(
            paragraphs(
                say("heat.carried", title=entry.title, text=_as_read(self.sheet, entry)), unsaved
            )
        )
        self.box.value = ""
        self.refresh()

    @guarded
    def again(self):
        """Draw another heat; this one stays in the answer sheet."""
        number = self.sheet.set + 1
        unsaved = self.journal.add("predict", question="whole_heat.heat", text=str(number))
        self.sheet = HeatSheet(self.sheet.learner, self.sheet.course, number)
        self.say(paragraphs(say("heat.new"), unsaved))
        self.refresh()

    @guarded
    def sign_off(self):
        """Write the sign-off page beside the answers, under a name that is free."""
        folder = self.where() / "answers"
        folder.mkdir(exist_ok=True)
        number = 1
        name = Path(sheet_name(self.sheet.learner, self.sheet.course)).stem
        while True:
            path = folder / f"sign-off-{name}-{self.sheet.set}-{number}.html"
            try:
                with open(path, "x", encoding="utf-8") as file:
                    file.write(sign_off_html(self.sheet))
                break
            except FileExistsError:
                number += 1
        self.say(paragraphs(say("heat.signed_off", path=path)))

    def refresh(self):
        """Show the entry that is next, and the course of the heat so far."""
        if self.sheet is None:
            return
        done, entry = len(self.sheet.verdicts), self.sheet.next
        right = sum(v.done for v in self.sheet.verdicts.values())
        made = say("heat.progress", done=done, total=len(ENTRIES), right=right)
        self.progress.value = f"<p><strong>{escape(made)}</strong></p>"
        asked = entry is not None
        self.check_button.layout.display = self.on_button.layout.display = "" if asked else "none"
        chosen = asked and isinstance(entry.answer, Choice)
        self.line.layout.display, self.box.layout.display = (
            "" if chosen else "none",
            "" if asked and not chosen else "none",
        )
        self.end.layout.display = "none" if asked else ""
        self.so_far.value = _entries_so_far(self.sheet) if asked and done else ""
        if asked:
            number = None if chosen else entry.answer
            told = (
                ""
                if chosen
                else say("page.tolerance", tolerance=number.tolerance_text(), why=number.why)
            )
            self.asked.value = (
                f"<h3>{done + 1}. "
                f"{escape(entry.title)}</h3>{markdown(self.sheet.text())}<p "
                f"class='st-small'>{escape(told)}</p>"
            )
            if chosen:
                self.line.options = [
                    (f"{i}: {o}", i) for i, o in enumerate(entry.answer.options, 1)
                ]
                self.line.value = None
            else:
                self.box.description = (
                    say("page.answer_plain")
                    if number.unit == "1"
                    else say("page.answer_in", unit=number.unit)
                )
                self.box.placeholder = example(number)
            self.course_of.value = ""
        else:
            words, _ = self.sheet.outcome()
            self.asked.value = (
                f"<h3>{escape(say('heat.debrief'))}</h3>{paragraphs(words)}{_debrief(self.sheet)}"
            )
            self.course_of.value = _image(self.sheet)

    def _ipython_display_(self):
        titles = [entry.title for entry in ENTRIES]
        display(
            {"text/html": still(TITLE, titles), "text/plain": f"{TITLE}: {len(titles)} entries"},
            raw=True,
        )
        display(self.widget)
