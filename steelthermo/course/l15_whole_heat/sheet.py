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
from .follows import held_min
from .steps import begin

# of the steel in the ladle: name on the path, element
IN_LADLE = {
    "carbon": "C",
    "phosphorus": "P",
    "sulphur": "S",
    "aluminium": "Al",
    "silicon": "Si",
    "manganese": "Mn",
}


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
        if "ferromanganese" not in self.state.entered:
            return None
        # what nobody added is none: without aluminium the steel is not killed, not "not analysed"
        pct = {"Al": 0.0} | self.state.ladle.steel.solutes_pct
        found = specification("EN 10025-2", "S355J2", thickness_mm=20).check(pct)
        sulphur = pct["S"] <= self.given["s_max_pct"]
        words = (
            f"{found.words} Sulphur {pct['S']:.4f} %, the customer allows "
            f"{self.given['s_max_pct']:.3f} %: {'met' if sulphur else 'not met'}."
        )
        if self.state.held_c:
            how = "waited to cool" if self.state.held_c > 0 else "was heated"
            words += (
                f" The ladle {how} by {abs(self.state.held_c):.0f} °C, "
                f"{held_min(self.state):.0f} min."
            )
        return words, bool(found.ok and sulphur)

    def figures(self):
        """As of any chain; heating or waiting of the ladle counts as minutes lost."""
        known = super().figures()
        lost = known["minutes_lost"] + round(held_min(self.state))
        return known | {"minutes_lost": lost}


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
        }
    if state.steel is not None:
        out |= {
            "first sample, °C": state.sampled.temp_c,
            "carbon at the first sample, %": state.sampled.analysis_pct["C"],
            "tapped at, °C": state.steel.temp_c,
            "carbon at the tap, %": state.steel.analysis_pct["C"],
            "oxygen at the tap, ppm": state.oxygen_ppm,
            "iron oxide of the slag, %": sum(state.slag.analysis_pct[o] for o in ("FeO", "Fe2O3")),
            "steel tapped, t": state.steel_t,
        }
    if state.ladle is not None:
        pct = state.ladle.steel.analysis_pct
        out |= {"in the ladle, °C": state.ladle.steel.temp_c}
        out |= {f"{name}, %": pct.get(e, 0.0) for name, e in IN_LADLE.items()}
    return out


def reference_state(given, works):
    """The heat with every entry right."""
    return all_right(ENTRIES, begin(given, works))
