"""The heat sheet of lesson 15: one heat from hot metal to ladle, stage by stage, with what the
learner enters carried on.

An early error has its consequence later, but is not counted twice: each entry is checked against
where the learner's own heat stands.
It is a sheet of calculations, not a vessel.
"""

from ...coursekit.problems import DEFAULT_COURSE, ChainSheet, all_right, draw
from ...ladle import specification
from ...works import load_profile
from .cost import cost_of, cycle_min
from .entries import ENTRIES, heat_problem
from .follows import held_min, held_words
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
        self.costs = {}  # Cost of what was entered wrong, by entry key

    def carry_on(self, text):
        """As of any chain; what a wrong entry costs is noted."""
        entry, before = self.next, self.state
        verdict = super().carry_on(text)
        if not verdict.done and (cost := cost_of(entry.key, entry.right(before), self.state)):
            self.costs[entry.key] = cost
        return verdict

    def take_back(self):
        """As of any chain; what was not used costs nothing but the minutes."""
        entry = super().take_back()
        self.costs.pop(entry.key, None)
        return entry

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
        return words + held_words(self.state), bool(found.ok and sulphur)

    def figures(self):
        """As of any chain; heating or waiting of the ladle and a wrong plan count as minutes lost;
        money: what wrong entries cost more than right ones ('' where the works has no prices).
        """
        known, costs = super().figures(), self.costs.values()
        lost = held_min(self.state) + sum(cost.minutes for cost in costs)
        money = round(sum(cost.money or 0.0 for cost in costs)) if self._currency else ""
        return known | {"minutes_lost": known["minutes_lost"] + round(lost), "money": money}

    @property
    def _currency(self):
        """What the prices of the works are in, or '' without any."""
        prices = dict(self.works.prices.items())
        currency = prices.pop("currency", "money")
        return currency if prices else ""

    def cost_words(self):
        """As of any chain, with each wrong entry in money, and the minutes in heats."""
        titles, told = {entry.key: entry.title for entry in ENTRIES}, [super().cost_words()]
        for key, cost in self.costs.items():
            tail = "" if cost.money is None else f", {cost.money:+.0f} {self._currency}"
            told.append(f"{titles[key]}: {cost.words}{tail}.")
        lost, heats = self.figures()["minutes_lost"], cycle_min()
        if lost:
            told.append(
                f"{lost} min are {lost / heats:.1f} of a heat ({heats:.0f} min tap to tap)."
            )
        return " ".join(told)


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
