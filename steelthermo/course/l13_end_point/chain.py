"""The case drill of lesson 13 as a chain of twenty decisions: each is played out on the steel as it
is, and costs minutes, iron and, at the worst, a heat off grade.
"""

from dataclasses import dataclass, field, replace
from functools import partial

from ...base import kelvin
from ...coursekit import Chain
from ...coursekit.problems import (
    DEFAULT_COURSE,
    ChainSheet,
    Entry,
    Solution,
    asked_of,
    draw,
    read_words,
)
from ...slag import bath_oxygen_pct, end_of_blow_parameters
from ...works import load_profile, plant_value
from .cases import COUNT, U_CARBON_SHARE, U_P_SHARE, U_TEMP_C, cases_of, drill_problem, order_of
from .outcomes import ACTIONS, outcomes


@dataclass(frozen=True)
class State:
    """Where a drill stands: order: what is ordered; cases; played: what comes of each decision, a
    dict of action to Outcome for each case; entered: the decisions.
    """

    order: object
    cases: tuple
    played: tuple
    entered: dict = field(default_factory=dict)

    def after(self, **changes):
        """The state with changes."""
        return replace(self, **changes)


def _best(case, state):
    """The decision that costs least on the average of what the readings leave open."""
    played = state.played[case]
    return ACTIONS.index(min(played, key=lambda a: played[a].average_min)) + 1


def _readings(case, state):
    """What the text of a case is filled with."""
    order, (temp, carbon, p) = state.order, state.cases[case].read
    return {
        "order": order,
        "low_c": order.aim_c - order.band_c,
        "high_c": order.aim_c + order.band_c,
        "temp_c": temp,
        "u_temp_c": U_TEMP_C,
        "oxygen_ppm": _oxygen_ppm(carbon, temp),
        "planned_ppm": _oxygen_ppm(order.plan_c_pct, order.aim_c),
        "carbon_pct": carbon,
        "u_carbon_pct": U_CARBON_SHARE * carbon,
        "p_pct": p,
        "u_p_pct": U_P_SHARE * p,
        "wait_min": plant_value("drill_wait_min").start,
        "loss_c_min": plant_value("drill_loss_c_min").start,
    }


def _oxygen_ppm(carbon_pct, temp_c):
    product = end_of_blow_parameters()["carbon_oxygen_product"].start
    return 1e4 * bath_oxygen_pct(carbon_pct, kelvin(temp_c), product)


def _entries():
    words = read_words("end_point", __file__, {"case": Solution(None)})["case"]
    title, text, lesson = (words[key] for key in ("title", "text", "lesson"))
    choice = asked_of(words)["choice"]
    return tuple(
        Entry(
            key=f"case_{i + 1:02d}", title=title.format(number=i + 1), lesson=lesson, template=text,
            fields=partial(_readings, i), right=partial(_best, i), choice=choice,
        )
        for i in range(COUNT)
    )  # fmt: skip


ENTRIES = _entries()


class DrillSheet(ChainSheet):
    """One learner's drill. works: Profile, default the one in use. Raises InputError if no cases
    can be drawn for this works.
    """

    def __init__(self, learner, course=DEFAULT_COURSE, set=1, works=None):
        works = works or load_profile()
        given = draw(drill_problem(works), learner, course, set).given
        cases = cases_of(given, works)
        state = State(order_of(works), cases, tuple(outcomes(works, cases)))
        super().__init__(ENTRIES, state, learner, course, set)

    def carry_on(self, text):
        """As of any chain; what came of the decision is noted."""
        entry, index = self.next, len(self.made)
        verdict = super().carry_on(text)
        case, action = self.state.cases[index], ACTIONS[verdict.choice - 1]
        self.notes[entry.key] = _came(self.state, case, self.state.played[index][action])
        return verdict

    def _sums(self, actions):
        """Minutes, iron (kg), heats off grade, of an action for each case."""
        found = [self.state.played[i][action] for i, action in enumerate(actions)]
        return (
            round(sum(x.minutes for x in found)),
            round(sum(x.iron_kg for x in found)),
            sum(x.off_grade for x in found),
        )

    def figures(self):
        """What the decisions cost, by name."""
        chosen = [ACTIONS[self.verdicts[e.key].choice - 1] for e in self.made]
        return dict(zip(CHAIN.figures, self._sums(chosen), strict=True))

    def progress_words(self):
        """How many cases are decided, and what they cost so far."""
        cost = _cost(*self.figures().values())
        return f"{len(self.made)} of {COUNT} cases decided. So far: {cost}."

    def hindsight(self, entry, called):
        """The decision that costs least on the average."""
        return f"Best by the readings: {self.right[entry.key]}."

    def cost_words(self):
        """What the decisions cost, beside what the best by the same readings would have."""
        best = self._sums([ACTIONS[e.right(self.state) - 1] for e in self.made])
        return (
            f"Your decisions cost {_cost(*self.figures().values())}. The best by these readings "
            f"would have cost {_cost(*best)}, for luck has its part in every single case."
        )

    def outcome(self):
        """(words, whether no heat went off grade); None before the last case."""
        if self.next:
            return None
        best, off_grade = sum(v.done for v in self.verdicts.values()), self.figures()["off_grade"]
        words = (
            f"In {best} of {COUNT} cases you decided as costs least on the average of what the "
            "readings leave open."
        )
        return words, off_grade == 0


def _cost(minutes, iron_kg, off_grade):
    heats = {0: "no heat", 1: "one heat"}.get(off_grade, f"{off_grade} heats")
    return f"{minutes} min, {iron_kg} kg of iron, and {heats} off grade"


def _came(state, case, outcome):
    """What came of a decision, in words."""
    order, (temp, carbon, p) = state.order, case.true
    broken = [
        what
        for what, x, most in (
            ("carbon", outcome.carbon_pct, order.most_c_pct),
            ("phosphorus", outcome.p_pct, order.most_p_pct),
        )
        if x > most
    ]
    grade = f"Off grade by {' and '.join(broken)}" if outcome.off_grade else "In its grade"
    if outcome.carbon_pct < order.least_c_pct and not outcome.off_grade:
        grade = "In its grade, with carbon added in the ladle"
    iron = f" and {outcome.iron_kg:.0f} kg of iron" if outcome.iron_kg else ""
    return (
        f"The steel was {temp:.0f} °C, {carbon:.3f} % C, {p:.4f} % P. Tapped with "
        f"{outcome.temp_c:.0f} °C, {outcome.carbon_pct:.3f} % C, {outcome.p_pct:.4f} % P. {grade}. "
        f"It cost {outcome.minutes:.0f} min{iron}."
    )


CHAIN = Chain(
    "end_point",
    ENTRIES,
    DrillSheet,
    called="drill",
    result="grade",
    met="in {count} no heat went off grade",
    figures={"minutes": "minutes", "iron_kg": "iron, kg", "off_grade": "heats off grade"},
)
