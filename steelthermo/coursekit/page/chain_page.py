"""The page of a lesson's chain of entries: one entry after the other, the debrief, the sign-off."""

from html import escape
from itertools import count

import ipywidgets as widgets

from ...base import Html, InputError, table
from ..answers import bound, say
from ..caution import caution_box
from ..html import markdown, paragraphs
from ..parts import button, column, guarded, html, row, soon, submitted
from ..problems import example
from ..sheet import free, sheet_name
from .exercise import Page


def debrief(sheet, called):
    """HTML table of the entries made: what was entered, the verdict, slips and what was right."""
    rows = []
    for entry in sheet.made:
        verdict = sheet.verdicts[entry.key]
        again = list(verdict.sentences[1:]) if verdict.slips else []
        again += [sheet.notes[entry.key]] if entry.key in sheet.notes else []
        again += [] if verdict.done else [sheet.hindsight(entry, called)]
        checks = [sheet.checks[entry.key]] if sheet.checks else []
        shown = Html(markdown(" ".join(again)) if again else "")
        rows.append((entry.title, sheet.as_read(entry), verdict.word, *checks, shown))
    counted = ["checks"] if sheet.checks else []
    return table(("stage", "entered", "verdict", *counted, "what to look at again"), rows)


class ChainPage(Page):
    """The chain of a lesson for whoever signs in; the answer sheet keeps every entry. sheet: the
    learner's ChainSheet once somebody has signed in.

    A subclass gives picture() -> HTML of what the sheet came to, and sign_off_html(); checkable:
    whether an entry may be checked before it is carried on; cautions: keys of hazards told once,
    above all entries.
    """

    checkable, cautions = True, ()

    def __init__(self, lesson, folder=None):
        self.sheet, self.chain = None, lesson.chain
        self.asked = html()
        self.line = widgets.RadioButtons(options=[], description=say("page.choice"))
        self.box = submitted(widgets.Text(description=say("page.answer_plain")), self.check)
        self.check_button = button(say("page.check"), lambda: soon(self.check))
        self.on_button = button(say("chain.on"), lambda: soon(self.carry_on))
        self.back_button = button("", lambda: soon(self.take_back))
        self.end = row(
            "st-row",
            button(say("chain.sign_off"), self.sign_off),
            button(say("chain.again", called=self.chain.called), self.again),
        )
        self.said, self.so_far, self.course_of = (
            html("st-sentence"),
            html("st-more"),
            html("st-more"),
        )
        super().__init__(lesson, folder)
        self.intro.value += caution_box(self.cautions)

    def picture(self):
        """What the sheet came to, as HTML."""
        raise NotImplementedError

    def sign_off_html(self):
        """A page to print for the trainer's file."""
        raise NotImplementedError

    def which(self, kept):
        """The number of the sheet to go on with, of those kept."""
        return max(kept, default=1)

    def _shown(self):
        """The sheet as its records have it, in the place of the list of problems."""
        kept = self.chain.kept(self.journal.records)
        number = self.which(kept)
        who = self.journal.learner, self.journal.course
        self.sheet, stuck = self.chain.replayed(kept.get(number, ()), *who, number)
        buttons = row("st-row", self.check_button, self.on_button, self.back_button)
        parts = (self.asked, self.line, self.box, buttons, self.course_of, self.end)
        self.list.children = [column("st-problem", *parts, self.said, self.so_far)]
        return self._stuck(stuck) if stuck else ""

    def _stuck(self, reason):
        return say("chain.stuck", called=self.chain.called, reason=reason)

    def say(self, html):
        """Put something into the live region: that below the buttons once there is a sheet."""
        where, other = (
            (self.feedback, self.said) if self.sheet is None else (self.said, self.feedback)
        )
        where.value, other.value = html, ""

    def typed(self):
        """The answer as it stands on the page."""
        if not self.sheet.next.choice:
            return self.box.value
        return "" if self.line.value is None else str(self.line.value)

    @guarded
    def check(self):
        """Say what the checker makes of the entry; nothing is carried on."""
        if self.sheet is None or self.sheet.next is None:
            return
        text = self.typed()[:200]
        first, *more = self.sheet.check(text).sentences
        unsaved = self._keep("tried", self.sheet.next, text=text) if text.strip() else ""
        more += [unsaved] if unsaved else []
        self.say(f"<p><strong>{escape(first)}</strong></p>" + "".join(markdown(s) for s in more))

    @guarded
    def carry_on(self):
        """Take the entry into the sheet, right or wrong."""
        if self.sheet is None or self.sheet.next is None:
            return
        entry, text = self.sheet.next, self.typed()[:200]
        try:
            self.sheet.carry_on(text)
        except InputError as error:
            self.tell(self._stuck(str(error)))
            return
        unsaved = self._keep("entry", entry, text=text)
        told = {
            "called": self.chain.called,
            "title": entry.title,
            "text": self.sheet.as_read(entry),
        }
        note = self.sheet.notes.get(entry.key, "")
        how = "chain.entered" if entry.key in self.sheet.amended else "chain.carried"
        self.tell(f"{say(how, **told)} {note}".strip(), unsaved)
        self.box.value = ""
        self.refresh()

    def _keep(self, kind, entry, **text):
        where = {"lesson": self.lesson.name, "set": self.sheet.set, "entry": entry.key}
        return self.journal.add(kind, **where, **text)

    @guarded
    def take_back(self):
        """Take back the entry carried on last, at its price."""
        entry = self.sheet.take_back()
        title, words, minutes = self.sheet.prices[-1]
        told = say("chain.price", title=title, words=words, minutes=f"{minutes:g}")
        self.tell(told, self._keep("back", entry))
        self.refresh()

    @guarded
    def again(self):
        """Draw another sheet; this one stays in the answer sheet."""
        number = self.sheet.set + 1
        unsaved = self.journal.add("begin", lesson=self.lesson.name, set=number)
        self.sheet = self.chain.begin(self.sheet.learner, self.sheet.course, number)
        self.tell(say("chain.new", called=self.chain.called), unsaved)
        self.refresh()

    @guarded
    def sign_off(self):
        """Write the sign-off page beside the answers, under a name that is free."""
        folder = self.where() / "answers"
        folder.mkdir(exist_ok=True)
        of = sheet_name(self.sheet.learner, self.sheet.course).partition(".")[0]
        path = free(folder / f"sign-off-{of}-{self.sheet.set}-{n}.html" for n in count(1))
        with open(path, "x", encoding="utf-8") as file:
            file.write(self.sign_off_html())
        self.tell(say("chain.signed_off", path=path))

    def _so_far(self):
        """What the sheet goes on with: a later entry often needs an earlier one."""
        notes = self.sheet.notes
        made = [
            (e.title, ". ".join(filter(None, (self.sheet.as_read(e), notes.get(e.key)))))
            for e in self.sheet.made
        ]
        heads = ("entry", f"the {self.chain.called} goes on with")
        return table(heads, made, say("chain.so_far"))

    def heading(self, entry):
        """What stands above an entry."""
        return f"{len(self.sheet.made) + 1}. {entry.title}"

    def refresh(self):
        """Show the entry that is next, or how it ended."""
        if self.sheet is None:
            return
        done, entry = len(self.sheet.verdicts), self.sheet.next
        progress = escape(self.sheet.progress_words())
        self.progress.value = f"<p><strong>{progress}</strong></p>"
        chosen = entry and entry.choice
        for part, shown in (
            (self.check_button, entry and self.checkable),
            (self.on_button, entry),
            (self.back_button, entry and self.sheet.returnable),
            (self.line, chosen),
            (self.box, entry and not chosen),
            (self.end, entry is None),
        ):
            part.layout.display = "" if shown else "none"
        if (last := self.sheet.returnable) is not None:
            told = {"title": last.title.rstrip("?"), "minutes": f"{last.price_min:g}"}
            which = "chain.back" if last.price_min else "chain.back_free"
            self.back_button.description = bound(say(which, **told))
        self.so_far.value = self._so_far() if entry and done else ""
        self.course_of.value = "" if entry else self.picture()
        if entry is None:
            head, words = say("chain.debrief", called=self.chain.called), self.sheet.outcome()[0]
            made = debrief(self.sheet, self.chain.called)
            cost = paragraphs(self.sheet.cost_words())
            self.asked.value = f"<h3>{escape(head)}</h3>{paragraphs(words)}{cost}{made}"
            return
        told = ""
        if chosen:
            self.line.options = [
                (f"{i}: {bound(o)}", i) for i, o in enumerate(entry.choice.options, 1)
            ]
            self.line.value = None
        else:
            number = entry.number
            told = say("page.tolerance", tolerance=number.tolerance_text(), why=number.why)
            self.box.description = number.asked
            self.box.placeholder = example(number)
        self.asked.value = (
            f"<h3>{escape(self.heading(entry))}</h3>{caution_box(entry.cautions)}"
            f"{markdown(self.sheet.text())}"
            f'<p class="st-small">{escape(told)}</p>'
        )

    counted = "entries"

    def titles(self):
        """What stands on the page, in order."""
        return [entry.title for entry in self.chain.entries]
