"""Where an answer is typed or chosen: a box, the lines of a choice, or both."""

import ipywidgets as widgets

from ..answers import say
from ..parts import submitted
from ..problems import example


class AnswerBox:
    """The widgets for the answer to a problem: box, choice; parts: those that it needs. submit:
    called after Enter; numbered: the lines of a choice bear their numbers.
    """

    def __init__(self, problem, submit, numbered=True):
        self.problem, self.numbered = problem, numbered
        self.choice = widgets.RadioButtons(options=[], description=say("page.choice"))
        self.box = submitted(widgets.Text(placeholder=example(problem.number)), submit)
        if problem.number:
            self.box.description = problem.number.asked
        needed = (problem.choice and self.choice, problem.number and self.box)
        self.parts = [part for part in needed if part]

    def show(self, draw):
        """The lines of the choice as this draw has them; nothing is chosen."""
        if self.problem.choice:
            lines = [draw.text(line) for line in draw.problem.choice.options]
            numbers = range(1, len(lines) + 1)
            shown = [f"{i}: {line}" for i, line in enumerate(lines, 1)] if self.numbered else lines
            self.choice.options = list(zip(shown, numbers, strict=True))
            self.choice.value = None

    def typed(self):
        """The answer as it goes into the sheet: choice, number, or both, a semicolon between."""
        line = "" if self.choice.value is None else str(self.choice.value)
        if not self.problem.choice:
            return self.box.value
        if self.problem.number is None:
            return line
        typed_line, semicolon, number = self.box.value.partition(";")
        if (
            semicolon and typed_line.strip().isdigit() and line in ("", typed_line.strip())
        ):  # the line typed as on a sheet, not chosen
            return f"{typed_line.strip()}; {number.strip()}"
        return f"{line}; {self.box.value}"

    def fill(self, text):
        """Show an answer that was typed before."""
        line, semicolon, number = text.partition(";")
        if self.problem.choice and line.strip().isdigit():
            known = [value for _, value in self.choice.options]
            self.choice.value = int(line) if int(line) in known else None
        self.box.value = number.strip() if semicolon else text

    def hold(self, held):
        """Take no more answers, or take them again."""
        self.box.disabled = self.choice.disabled = held
