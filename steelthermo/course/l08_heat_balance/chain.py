"""The planning sheet as a chain of lines: a heat planned with a pencil, lesson by lesson, and then
once more alone, with numbers of one's own.

A line is worked out from what its text prints and from the lines before it, as the learner entered
them: a slip carried on rightly is right further on.
"""

from dataclasses import dataclass, field, replace

from ...base import InputError, quietly, translated
from ...charge import end_heat_capacity_kj_c
from ...coursekit import Chain
from ...coursekit.answers import quantity_text
from ...coursekit.problems import (
    DEFAULT_COURSE,
    ChainSheet,
    Entry,
    Solution,
    Step,
    asked_of,
    draw,
    read_words,
    shown,
)
from ...works import load_profile
from .planned import BY_SUM, FIGURES, FULL, full_balance, known, own_problem, works_numbers

COURSE_SET = 1  # the course's one heat; later sets are one's own
_AIM_C = 10.0  # what a hand calculation can do: 120 drawn plans worked rightly end within 7 °C
_ROUNDED = {"tolerance_pct": 0.3, "why": "four figures on the way; a term left out is more"}


@dataclass(frozen=True)
class State:
    """A plan as far as it goes. known: figures that the texts print; entered: the lines made."""

    given: dict
    works: object
    known: dict
    entered: dict = field(default_factory=dict)

    def after(self, **changes):
        """The state with changes."""
        return replace(self, **changes)

    @property
    def values(self):
        """Figures and lines by name."""
        return self.known | self.entered


@dataclass(frozen=True, kw_only=True)
class Line(Entry):
    """One line of the sheet. step: how it is worked out."""

    step: Step

    def formula(self):
        """The calculation in words, with the names of figures and lines."""
        called = {name: translated(label) for name, (label, _) in FIGURES.items()}
        called |= {key: translated(line.title).lower() for key, line in _LINES.items()}
        return self.step.written_in_words(called)


def numbered():
    """What stands for each line that is not made."""
    return {line.key: shown(*[f"[line {n}]"] * 2) for n, line in enumerate(LINES, 1)}


def _figures(state):
    """The sheet's figures; a line not yet made is told by its number."""
    return numbered() | {
        name: shown(quantity_text(x, unit_of(name), 5), quantity_text(x, "1", 5))
        for name, x in state.values.items()
    }


def unit_of(name):
    """The unit of a figure or line."""
    return FIGURES[name][1] if name in FIGURES else _LINES[name].number.unit


def _line(key, words):
    words["answer"] = words["answer"] if "why" in words["answer"] else words["answer"] | _ROUNDED
    number = asked_of(words)["number"]
    step = Step(key, words["title"], words["sum"], number.unit)
    cautions = tuple(words.get("cautions", ()))
    return Line(
        key=key, title=words["title"], lesson=words["lesson"], template=words["text"],
        fields=_figures, right=lambda state: step.value(state.values), number=number,
        cautions=cautions, back=True, step=step,  # a pencil costs no minutes
    )  # fmt: skip


LINES = tuple(
    _line(key, words)
    for key, words in read_words(
        "heat_balance", __file__, dict.fromkeys(FULL, Solution(None))
    ).items()
)
_LINES = {line.key: line for line in LINES}


class PlanSheet(ChainSheet):
    """One learner's planning sheet: set 1 plans the course's one heat, later ones a hot metal of
    the learner's own. works: Profile, default the one in use. Raises InputError if no plan can be
    drawn for this works.
    """

    def __init__(self, learner, course=DEFAULT_COURSE, set=COURSE_SET, works=None):
        works = works or load_profile()
        given = works_numbers(works)
        if set != COURSE_SET:
            drawn = draw(own_problem(works), learner, course, set - COURSE_SET, works=works).given
            given = given | drawn
        super().__init__(LINES, State(given, works, known(given, works)), learner, course, set)

    def cost_words(self):
        """Nothing: a pencil costs no minutes."""
        return ""

    def reconciled(self):
        """(line, entered or None, by the full balance or None, gap in % or None) for each line of
        the sheet.
        """
        full, out = self._by_full_balance()[0], []
        full |= {"end_c": self._end_or_none("scrap_t")}
        for line in LINES:
            entered, kit = self.state.entered.get(line.key), full.get(line.key)
            both = entered is not None and kit and line.key != "end_c"
            gap = 100.0 * (entered - kit) / kit if both else None
            out.append((line, entered, kit, gap))
        return out

    def _by_full_balance(self):
        """({line: what the full balance says}, its Charge): heat energy and oxygen by the sums of
        the sheet, with the masses of the balance.
        """
        full, works = {}, self.state.works
        with quietly():  # a band of equations: lesson 07 tells how far each is known
            heat = full_balance(self.state.given, works)
            for line in LINES:
                how = FULL[line.key]
                if how == BY_SUM:
                    full[line.key] = line.step.value(self.state.known | full)
                elif how:
                    full[line.key] = float(how(heat, works))
        return full, heat

    def left_out(self):
        """(heat energy that the lines leave out, MJ; what it is worth at the end, °C): what the
        scrap takes in the full balance beyond what the lines have for it, by the same masses.
        """
        full, heat = self._by_full_balance()
        by_lines_t = _LINES["melts_t"].step.value(self.state.known | full)
        left_mj = (full["melts_t"] - by_lines_t) * self.state.known["scrap_mj"]
        return left_mj, 1000.0 * left_mj / end_heat_capacity_kj_c(heat)

    def ends_c(self, scrap="melts_t"):
        """Temperature at which the full balance ends the heat with the scrap of a line as entered,
        degC; None before that line. Raises InputError where it makes no heat.
        """
        entered = self.state.entered
        if scrap not in entered:
            return None
        scrap_kg = 1000.0 * entered[scrap] / entered["hot_metal_t"]
        with quietly():
            return full_balance(
                self.state.given, self.state.works, "temperature", scrap_kg=scrap_kg
            ).temp_c

    def _end_or_none(self, scrap):
        try:
            return self.ends_c(scrap)
        except (InputError, ZeroDivisionError):
            return None

    def outcome(self):
        """(words, whether it ends near its aim) of the plan in the full balance; None before the
        scrap.
        """
        if "melts_t" not in self.state.entered:
            return None
        aim, entered = self.state.known["end_temp_c"], self.state.entered
        plan = f"{entered['melts_t']:.1f} t of scrap to {entered['hot_metal_t']:.1f} t of hot metal"
        end = self._end_or_none("melts_t")
        if end is None:
            return f"Of {plan} the full balance makes no heat.", False
        gap, (left_mj, left_c) = end - aim, self.left_out()
        off = f"{abs(gap):.0f} °C too {'hot' if gap > 0 else 'cold'} for"
        how = "just at" if abs(gap) < 0.5 else off
        words = (
            f"By the full balance {plan} ends at {end:.0f} °C, {how} the aim of {aim:.0f} °C. "
            "Melting the slag takes heat energy, silicates and phosphates give some as they form, "
            "and the gas leaves colder than the bath. The lines leave these out; together they "
            f"{'give' if left_mj > 0 else 'take'} {abs(left_mj):.0f} MJ, {abs(left_c):.0f} °C. "
            "The rest of the gap comes from the masses, which begin with a first guess. Silica and "
            "slag come out a few per cent low: the silica that lime and dolomite bring themselves "
            "is left out. "
        )
        share = entered["hot_metal_t"] / (entered["hot_metal_t"] + entered["melts_t"])
        hot_metal_t = entered["charge_t"] * share
        words += (
            f"To tap all the steel, charge both in this ratio: {hot_metal_t:.1f} t of hot metal "
            f"and {entered['charge_t'] - hot_metal_t:.1f} t of scrap, {entered['charge_t']:.1f} t "
            "together."
        )
        return words, abs(gap) <= _AIM_C


CHAIN = Chain(
    "heat_balance",
    LINES,
    PlanSheet,
    called="plan",
    result="aim",
    met="the plan of {count} ends within 10 °C of its aim",
)
