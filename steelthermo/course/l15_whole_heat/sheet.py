"""The heat sheet of lesson 15: one heat from hot metal to ladle, stage by stage, with what the
learner enters carried on.

An early error has its consequence later, but is not counted twice: each entry is checked against
where the learner's own heat stands.
It is a sheet of calculations, not a vessel.
"""

from ...base import InputError
from ...coursekit.problems import DEFAULT_COURSE, Choice, Draw, check, draw
from ...ladle import specification
from ...works import load_profile
from .entries import ENTRIES, heat_problem
from .steps import begin


class HeatSheet:
    """One learner's heat. state: where the learner's heat stands; verdicts: {entry key: Verdict of
    the entry carried on}; texts: as entered; right: what would have been, in words.

    works: Profile, default the one in use. Raises InputError if no heat can be drawn for this
    works.
    """

    def __init__(self, learner, course=DEFAULT_COURSE, set=1, works=None):
        self.works = works or load_profile()
        self.learner, self.course, self.set = learner, course, set
        self.given = draw(heat_problem(self.works), learner, course, set).given
        self.state, self.verdicts, self.texts, self.right = (
            begin(self.given, self.works),
            {},
            {},
            {},
        )

    @property
    def next(self):
        """The Entry to be filled in next, or None when the sheet is full."""
        return ENTRIES[len(self.verdicts)] if len(self.verdicts) < len(ENTRIES) else None

    def text(self):
        """What is asked next."""
        return self.next.text(self.state)

    def check(self, text):
        """Verdict on an answer to the next entry; nothing is carried on."""
        return check(_draw_of(self.next, self.state, self.learner), text)

    def carry_on(self, text):
        """Take an answer into the heat, right or wrong, and go on. Returns the Verdict. Raises
        InputError if the heat cannot go on with it.
        """
        entry, verdict = self.next, self.check(text)
        if not verdict.readable:
            raise InputError(verdict.sentences[0])
        value = verdict.choice if verdict.choice is not None else verdict.number
        if verdict.choice is None and value < 0:
            raise InputError(
                f"{entry.title}: {value:g} was entered; nothing less than zero can be charged or "
                "blown."
            )
        self.right[entry.key] = _in_words(entry, entry.right(self.state))
        state = self.state.after(entered={**self.state.entered, entry.key: value})
        self.state = entry.then(state) if entry.then else state
        self.verdicts[entry.key], self.texts[entry.key] = verdict, text
        return verdict

    def path(self):
        """What the heat came to, as a dict of name to value: temperatures, contents and masses as
        far as it has gone.
        """
        return path_of(self.state)

    def outcome(self):
        """(words, met) of the steel in the ladle against EN 10025-2 S355J2 and the customer's
        sulphur; None before the ladle.
        """
        if self.state.ladle is None:
            return None
        pct = self.state.ladle.steel.solutes_pct
        found = specification("EN 10025-2", "S355J2", thickness_mm=20).check(pct)
        sulphur = pct["S"] <= self.given["s_max_pct"]
        words = (
            f"{found.words} Sulphur {pct['S']:.4f} %, the customer allows "
            f"{self.given['s_max_pct']:.3f} %: {'met' if sulphur else 'not met'}."
        )
        return words, bool(found.ok and sulphur)


def _in_words(entry, value):
    return (
        entry.answer.options[int(value) - 1].rstrip(".")
        if isinstance(entry.answer, Choice)
        else entry.answer.show(value)
    )


def path_of(state):
    """Name to value of a state, for the picture and the sign-off page."""
    out = {
        "hot metal, °C": state.metal.temp_c,
        "sulphur in hot metal, %": state.metal.analysis_pct["S"],
    }
    if state.heat is not None:
        out |= {
            "scrap, %": state.heat.scrap_share_pct,
            "charge ends at, °C": state.heat.temp_c,
            "CaO/SiO2": state.heat.slag.basicity(),
            "sulphur in steel, %": state.heat.steel.analysis_pct["S"],
        }
    if state.steel is not None:
        out |= {
            "at the vessel, °C": state.steel.temp_c,
            "carbon, %": state.steel.analysis_pct["C"],
            "oxygen, ppm": state.oxygen_ppm,
        }
    if state.ladle is not None:
        pct = state.ladle.steel.analysis_pct
        out |= {
            "in the ladle, °C": state.ladle.steel.temp_c,
            "aluminium, %": pct.get("Al", 0.0),
            "silicon, %": pct.get("Si", 0.0),
            "manganese, %": pct.get("Mn", 0.0),
        }
    return out


def _draw_of(entry, state, learner):
    """The Draw that the checker needs, with right value and slips worked out from the state."""
    problem = entry.problem(state)
    right = entry.right(state)
    slips = {}
    for slip in problem.slips:
        wrong = float(slip.solve())
        if wrong == wrong and abs(wrong - right) > 2.0 * problem.number.tolerance(right):
            slips[slip.key] = (None, wrong)
    choice = int(right) if isinstance(entry.answer, Choice) else None
    return Draw(
        problem,
        learner,
        DEFAULT_COURSE,
        1,
        {},
        None if choice is not None else float(right),
        choice,
        slips,
        0,
    )


def reference_state(given, works):
    """The heat with every entry right."""
    state = begin(given, works)
    for entry in ENTRIES:
        state = state.after(entered={**state.entered, entry.key: entry.right(state)})
        state = entry.then(state) if entry.then else state
    return state
