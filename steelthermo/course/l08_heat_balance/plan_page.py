"""The pages of the planning sheet: the lines of a lesson on the course's one heat, the whole sheet
with numbers of one's own, and the sheet on paper, blank or as far as it is filled.
"""

from html import escape

from ...base import Html, table, translated
from ...coursekit.answers import number_text, quantity_text
from ...coursekit.page import ChainPage, markdown, printed_page
from ..adapter import STEEL
from .chain import COURSE_SET, LINES, PlanSheet, numbered

# what the problems look up, for the formula sheet
_LOOKED_UP = {
    "atoms": "atoms of the element in one mol of oxide",
    "atoms_of_oxygen": "atoms of oxygen for one of the element",
    "weight": "atomic weight",
    "heat_of_formation": "heat of formation",
    "mol_of_o2": "mol of O2 in one mol of oxide",
    "low_kj": "heat of the row below",
    "high_kj": "heat of the row above",
    "low_c": "temperature of the row below",
    "high_c": "temperature of the row above",
    "feo_from_each": "FeO from one Fe2O3",
    "b": "slope of the equation",
    "c": "constant of the equation",
    "falls": "cooling by one kg per t",
    "k": "constant of the reaction",
    "n": "oxygens of the oxide",
    "pct": "content of the element",
    "e_c": "effect of carbon on it",
    "e_si": "effect of silicon on it",
    "cosine": "cosine of the angle",
    "p_upper": "share below the upper edge",
    "p_lower": "share below the lower edge",
    "p_carbon": "share below the limit of carbon",
    "at_1_atm": "content at 1 atm",
    "low": "head of the column before",
    "high": "head of the column after",
    "low_pct": "per cent of the column before",
    "high_pct": "per cent of the column after",
    "days_after": "days after the first",
    "too_much_pct": "what the scale shows too much",
    "colder_c": "how much colder they end",
    "low_by_c": "what the probe reads low",
    "less_pct": "carbon less in that shift",
}


def reconciliation(sheet):
    """HTML table: each line by hand beside the full balance of the same hot metal."""
    rows = []
    for line, entered, full, gap in sheet.reconciled():
        told = "" if gap is None else f"{gap:+.1f} %"
        hand, kit = ("" if x is None else number_text(x, 4) for x in (entered, full))
        unit = line.number.unit.removesuffix("1")  # a plain number has none
        rows.append((line.title, hand, kit, unit, told))
    heads = ("line", "your sheet", "full balance", "unit", "gap")
    told = (
        "Your plan beside the full balance, which the panel of lesson 08 has. Heat energy and "
        "oxygen of single lines are worked out as on the sheet, with the masses of the balance."
    )
    return table(heads, rows, told)


class PlanPage(ChainPage):
    """The planning sheet for whoever signs in. lesson: number of the one whose lines are worked
    out, on the course's one heat; None: the whole sheet, with numbers of one's own.
    """

    def __init__(self, lesson=None, folder=None):
        self.taught = STEEL.lesson(lesson).number if lesson else ""
        super().__init__(STEEL.lesson("heat_balance"), folder)
        if self.taught and not self.fault:
            self.intro.value = ""  # of numbers of one's own: this heat is everybody's

    counted = "lines"

    def question(self):
        if self.taught:
            return f"Planning sheet: the lines of lesson {self.taught}"
        return "Planning sheet: a heat of your own"

    def which(self, kept):
        if self.taught:
            return COURSE_SET
        return max((n for n in kept if n != COURSE_SET), default=COURSE_SET + 1)

    @property
    def _lines(self):
        return [line for line in LINES if line.lesson == self.taught or not self.taught]

    def titles(self):
        """The lines that stand on the page, in order."""
        return [line.title for line in self._lines]

    def stills(self):
        """Of the course's one heat with what is asked; numbers of one's own come with a name."""
        if not self.taught:
            return super().stills()
        state, called = blank_sheet().state, numbered()
        return [
            f"<strong>{called[line.key]} {escape(translated(line.title))}</strong>"
            f"{markdown(line.text(state))}"
            for line in self._lines
        ]

    def heading(self, entry):
        place = f"{len(self.sheet.made) + 1}. {entry.title}"
        return place if entry.lesson == self.taught else f"{place} (lesson {entry.lesson})"

    def refresh(self):
        """Show the line that is next, and where its lesson's lines are done, what was made."""
        super().refresh()
        entry = self.sheet.next if self.sheet else None
        if not (self.taught and entry and entry.lesson > self.taught):
            return
        for part in (self.check_button, self.on_button, self.line, self.box):
            part.layout.display = "none"
        words = (
            f"The lines of this lesson are done. The next one, *{entry.title}*, comes in lesson "
            f"{entry.lesson}."
        )
        outcome = self.sheet.outcome()
        self.asked.value = markdown(words) + (f"<p>{escape(outcome[0])}</p>" if outcome else "")
        self.course_of.value = self.picture() if outcome else ""

    def picture(self):
        return reconciliation(self.sheet)

    def sign_off_html(self):
        return sheet_html(self.sheet)


def sheet_html(sheet):
    """The sheet on paper: each line with its text, formula, figure or blank, and, once scrap is
    known, the full balance beside it.
    """
    rows, blank = [], Html("<span class='blank'></span>")
    for n, line in enumerate(LINES, 1):
        entered = sheet.state.entered.get(line.key)
        shown = blank if entered is None else quantity_text(entered, line.number.unit, 5)
        asked = Html(
            f"<strong>{escape(line.title)}</strong> (lesson {line.lesson})"
            f"{markdown(line.text(sheet.state))}<p class='small'>{escape(line.formula())}</p>"
        )
        rows.append((str(n), asked, shown))
    told, beside = sheet.outcome(), ""
    if told:
        beside = f"<p>{escape(told[0])}</p>{reconciliation(sheet)}"
    who = f"{sheet.learner} · course {sheet.course} · plan {sheet.set}"
    body = (
        f"<h1>Planning sheet: one heat by hand</h1><p>{escape(who)} · "
        f"{escape(sheet.state.works.name)}</p>"
        f"<p class='note'>{escape(STEEL.deferral)}</p>"
        f"{table(('no.', 'line', 'figure'), rows)}{beside}"
    )
    return printed_page(f"Planning sheet {sheet.learner}", body)


FORMULAS = "Formulas of the course"
_FORMULAS_TOLD = (
    "<p>Contents stand in mass %, as numbers: 4.5, not 0.045. Gas stands in Nm3, at 0 °C and "
    "101.325 kPa.</p>"
)


def formula_sheet_html():
    """The formulas of the course as a page to print."""
    head = f"<h1>{escape(translated(FORMULAS))}</h1><p class='note'>{escape(STEEL.deferral)}</p>"
    return printed_page(FORMULAS, head + formulas(), wide=True)


def formulas():
    """The formulas of the planning sheet and of the worked steps of all problems, lesson by lesson,
    as HTML.
    """
    parts = [_FORMULAS_TOLD]
    for lesson in STEEL.lessons:
        rows = [(line.title, line.formula(), line.number.unit) for line in LINES
                if line.lesson == lesson.number]  # fmt: skip
        for problem in lesson.problems:
            called = _LOOKED_UP | {given.name: given.label for given in problem.given}
            called = {name: translated(label) for name, label in called.items()}
            called |= {step.called: _as_name(step.say) for step in problem.steps}
            rows += [(s.say.rstrip("."), s.written_in_words(called), s.unit) for s in problem.steps]
        rows = [(what, how, "" if unit == "1" else unit) for what, how, unit in rows]
        if rows:
            heads = ("what", "formula", "unit")
            parts.append(
                f"<h2>{lesson.number} · {escape(lesson.question)}</h2>{table(heads, rows)}"
            )
    return "".join(parts)


def _as_name(said):
    """What a step works out, as a name in a later formula."""
    name = said.partition(":")[0].partition(";")[0].rstrip(".")
    first = name.split(maxsplit=1)[0]
    is_word = first == "A" or first[1:].islower()  # and no CO, CaO or T.Fe
    return name[:1].lower() + name[1:] if is_word else name


def blank_sheet():
    """The course's one heat with nothing entered."""
    return PlanSheet(f"name: {24 * '_'}", set=COURSE_SET)
