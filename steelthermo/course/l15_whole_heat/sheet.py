"""The heat sheet of lesson 15: one heat from hot metal to ladle, stage by stage, with what the
learner enters carried on.

An early error has its consequence later, but is not counted twice: each entry is checked against
where the learner's own heat stands.
It is a sheet of calculations, not a vessel.
"""

from ...coursekit.problems import DEFAULT_COURSE, ChainSheet, all_right, draw
from ...ladle import specification
from ...works import load_profile
from .entries import ENTRIES, heat_problem
from .steps import begin


class HeatSheet(ChainSheet):
    """One learner's heat. works: Profile, default the one in use. Raises InputError if no heat can
    be drawn for this works.
    """

    def __init__(self, learner, course=DEFAULT_COURSE, set=1, works=None):
        self.works = works or load_profile()
        self.given = draw(heat_problem(self.works), learner, course, set).given
        super().__init__(ENTRIES, begin(self.given, self.works), learner, course, set)

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


def reference_state(given, works):
    """The heat with every entry right."""
    return all_right(ENTRIES, begin(given, works))
