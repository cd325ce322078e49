"""How fast things happen in a blow: few named rates, each a structure that is published and a
number that is not.

Decarburisation runs in three periods: carbon waits while silicon burns; then every atom of oxygen
that is left burns carbon, and the rate stands at a ceiling that stoichiometry gives exactly; below
a critical carbon its transport in the bath limits, and what oxygen is left burns iron. What slag
gives back is the law of the end of a blow (slag/end_of_blow.py), all along. Manganese and
phosphorus move towards equilibrium with the slag by first-order mass transfer. No rate constant
could be read in a source: blow_parameters.csv.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..base import (
    InputError,
    Number,
    Parameter,
    Table,
    atomic_weight,
    between,
    kelvin,
    molar_mass,
    one_of,
    shown,
)
from ..slag import (
    DEFAULTS,
    bath_oxygen_pct,
    burning,
    cations_of,
    end_of_blow_parameters,
    iron_oxide_at,
    linear_partition,
    log_chromium,
)
from ..thermo import iron_liquidus_terms
from .quick_rows import Rows
from .rows import (
    BURNT,
    CARBON,
    DISSOLVED,
    ELEMENTS,
    EXCHANGED,
    FLUX,
    POST_COMBUSTION,
    SCRAP,
    SHARED,
    SLAG_KG,
    SLAG_NAMES,
)


@cache
def parameters() -> dict:
    """All parameters of the blow: those of the law at the end of a blow, then the rates.

    Returns
    -------
    Parameter by key

    References
    ----------
    end_of_blow.csv, blow_parameters.csv

    Examples
    --------
    >>> asked = parameters()["critical_carbon_pct"]
    >>> asked.low, asked.high, asked.unit
    (0.2, 0.8, '%')
    """
    return end_of_blow_parameters() | Table("blow_parameters").records(Parameter)


def allowed():
    """(lowest, highest) value allowed of each parameter, as a dict: beyond the band by its own
    width above, and to a quarter of its low end below.
    """
    return {key: (p.low / 4.0, 2.0 * p.high - p.low) for key, p in parameters().items()}


def start(given=None, own=None):
    """All parameters as a dict of key to number or array: the start values, and what is given
    instead of them. own: what the works fitted to its heats, instead of start values.

    given: mapping of key to number or array; a works that knows its own may leave the band, within
    allowed().
    Raises InputError for an unknown key (with the nearest) and for a value out of reason.
    """
    out = {key: p.start for key, p in parameters().items()} | (own or {})
    if given is not None and not hasattr(given, "items"):
        raise InputError(
            f"parameters of the blow: {shown(given)} was given; a mapping such as "
            f"{{'critical_carbon_pct': 0.5}} is needed."
        )
    for key, value in (given or {}).items():
        p = parameters()[one_of("parameter of the blow", key, out)]
        out[key] = between(
            f"{p.what} ({key})", value, *allowed()[key], "" if p.unit == "1" else p.unit
        )
    critical, floor = np.asarray(out["critical_carbon_pct"]), np.asarray(out["carbon_floor_pct"])
    if np.any(critical < 1.5 * floor):
        raise InputError(
            f"critical carbon: {np.min(critical):g} % was given; at least 1.5 times the floor of "
            f"{np.max(floor):g} % is needed."
        )
    return out


# ---- rates of the model --------------------------------------------------------------------------


@dataclass
class Drive:
    """What the lance does at an instant, arrays that broadcast to (1, heats). o2: kmol O2 per
    minute; stir: oxygen flow over the works' usual one;
    pcr: share of burnt carbon that leaves as CO2; to_slag: share of the oxygen that burns iron to
    slag.
    """

    o2: np.ndarray
    stir: np.ndarray
    pcr: np.ndarray
    to_slag: np.ndarray

    def step(self, i):
        """The Drive of one instant."""
        return Drive(
            *(
                x[i : i + 1] if len(x) > 1 else x
                for x in (self.o2, self.stir, self.pcr, self.to_slag)
            )
        )


def softness(height_m: Number, flow_share: Number, reference_m: Number) -> Number:
    """How soft a lance blows: (momentum number)^(-1/3) against that at the reference height and the
    usual flow, where it is 1; held to 0.5 to 2. Unchecked.

    The momentum number of a given head (see jet.at_bath) goes with flow over height cubed.

    Parameters
    ----------
    height_m, reference_m : m; arrays broadcast
    flow_share : flow over the usual one

    Returns
    -------
    1

    Examples
    --------
    >>> print(round(softness(2.2, 1.0, 1.8), 2))
    1.22
    """
    return np.clip(height_m / reference_m * np.maximum(flow_share, 1e-3) ** (-1.0 / 3.0), 0.5, 2.0)


class Kinetics:
    """Rates of change of the state of an Account. p: parameters of the blow, arrays (1, heats);
    pcr: share of burnt carbon that leaves as CO2 at softness 1.
    """

    def __init__(self, account, p, pcr):
        self.account, self.p, self.pcr = account, p, pcr

        def flat(x):
            return np.broadcast_to(x, account.minutes.shape)[0]

        self.flat = {key: flat(x) for key, x in p.items()}
        self.melting = flat(account.planned_kg["scrap"]) / (
            100.0 * self.flat["scrap_min"]
        )  # kg per minute and K
        burns = [e for e in account.reacts if e not in ("C", *EXCHANGED)]  # BURNT
        self.atoms = np.array([account.atoms[e] for e in burns])
        self.exchanged_atoms = np.array([account.atoms[e] for e in EXCHANGED])
        shares, self.b, c, self.power = (
            np.stack(x)
            for x in zip(
                *(linear_partition(DEFAULTS[e], SLAG_NAMES) for e in ("Mn", "P")), strict=True
            )
        )
        # rows of iron and lime among the cations of slag
        self.fe, self.ca = (int(np.argmax(cations_of((oxide,)))) for oxide in ("FeO", "CaO"))
        self.per_lime = shares[:, [SLAG_NAMES.index("CaO")]]
        factors = self.flat["mn_partition_factor"], self.flat["p_partition_factor"]
        self.c = c + np.log10(factors)
        base_c, weights = iron_liquidus_terms(_DRAWN)
        self.liquidus = kelvin(base_c)[:, None]
        pct = np.array(
            [[100.0 * atomic_weight(e) * (d == e) for e in ELEMENTS] for d in _DRAWN]
        )  # mass % times kg of metal
        self.rows = Rows(
            account,
            burns,
            np.concatenate([pct[:1], weights @ pct]),
            np.concatenate([shares * SLAG_KG, cations_of(SLAG_NAMES)]),
        )
        # oxygen that the slag can give, per atom of its iron
        self.holds = 1.0 + 0.5 * self.rows.ferric

    def fastest_per_min(self, flow_share):
        """Largest rate constant at work, 1/min, with the oxygen flow at most flow_share times the
        usual one.
        """
        p = self.p
        by_flow = np.max([np.max(p[key]) for key in ("silicon_per_min", "exchange_per_min")])
        return max(2.0, flow_share * by_flow, 2.5 / np.min(p["lime_min"]))

    def drive(self, o2, height_m, flow_share):
        """The Drive of instants. o2: kmol per minute; height_m; flow_share: flow over the usual
        one. Arrays (instants, 1 or heats).
        """
        p = self.p
        above, below = (
            softness(height_m, flow_share, p[key]) ** p[power]
            for key, power in (
                ("reference_height_m", "pcr_lance_power"),
                ("end_height_m", "slag_lance_power"),
            )
        )
        to_slag = np.minimum(p["slag_oxygen_pct"] / 100.0 * below, 0.8)
        return Drive(o2, flow_share, np.minimum(self.pcr * above, 0.6), to_slag)

    def pace(self, drive):
        """What the rates take from a Drive, (instants, numbers, heats), for at(): worked out for
        all instants at once.
        """
        p = self.p
        oxygen = (
            2.0 * (1.0 - self.account.unused) - self.account.dust_per_o2
        ) * drive.o2  # kmol O per minute, what fume takes apart
        to_bath = oxygen * (1.0 - drive.to_slag)
        silicon, exchange = p["silicon_per_min"] * drive.stir, p["exchange_per_min"] * drive.stir
        # times the oxygen left over: the boil, that makes the emulsion
        boil = p["slag_exchange"] / 1000.0 * drive.stir / np.maximum(to_bath, 1e-12)
        even = np.minimum(drive.stir, 1.0)
        dissolving = even / p["lime_min"] / (20.0 * _IRON_IN_FEO)
        out = (
            oxygen,
            to_bath,
            drive.pcr,
            silicon,
            boil,
            exchange,
            dissolving,
            _EVEN_PER_MIN * even,
        )
        return np.stack(np.broadcast_arrays(*out, self.account.minutes)[:-1], axis=1)

    def rates(self, drive, known, state):
        """Rates of the state per minute. drive: Drive; known, state: as for Account.at()."""
        pace, fixed = self.pace(drive), self.rows.fixed(known)
        return np.stack(
            [self.at(pace[i], fixed[i], state[:, i]) for i in range(state.shape[1])], axis=1
        )

    def at(self, pace, fixed, state):
        """Rates of the state per minute at one instant. pace: from pace(); fixed: from
        Rows.fixed(); state. All (rows, heats).
        """
        now = self.rows.at(fixed, state)
        oxygen, to_bath, pcr, silicon, boil, exchange, dissolving, even = pace
        metal_kg, slag_kg = now.metal_kg, now.slag_kg
        sums = now.metal_sums / metal_kg
        per_slag = 100.0 / np.maximum(slag_kg, 1e-9)
        in_slag = np.maximum(now.iron, 0.0)
        iron = _IRON * in_slag * per_slag  # T.Fe, %
        out = np.empty_like(state)

        # scrap melts as its surface takes heat from a bath above its own liquidus: as plates, whose
        # surface stays until the last half minute
        liquidus = sums[1:] + self.liquidus
        above = np.maximum(now.T - np.minimum(liquidus[0], liquidus[1]), 0.0)
        np.minimum(self.melting * above, now.scrap, out=out[SCRAP])
        np.multiply(np.minimum(iron, _ENOUGH_IRON) * dissolving, now.flux, out=out[FLUX])

        # oxygen, kmol O per minute: slag, silicon and its like, carbon; what nobody takes burns
        # iron
        wanted = silicon * now.burning
        asked = self.atoms @ wanted
        share = to_bath / np.maximum(
            np.hypot(asked, to_bath), 1e-12
        )  # little silicon gets what it asks for; much of it leaves carbon the lesser part
        np.multiply(wanted, share, out=out[BURNT])
        taken = asked * share
        free = to_bath - taken
        # the slag's oxygen goes back to carbon by the law of the end of a blow, in the emulsion
        # that the boil makes: none while silicon takes the oxygen
        held = self.holds * in_slag
        cations = now.slag_sums[2:]
        cations[self.fe] = np.maximum(in_slag, 1e-9)
        all_cations = np.sum(cations, axis=0)
        active = iron_oxide_at(cations / all_cations, self.rows.ferric, now.T)
        law = self.flat | {"slag_exchange": boil * free * metal_kg}
        direct, back = burning(oxygen, free, pcr, sums[0], active, now.T, law)
        carbon = out[CARBON] = direct + np.minimum(back, _MOST_PER_MIN * held)
        np.multiply(pcr, carbon, out=out[POST_COMBUSTION])
        # the bath's oxygen goes with its carbon, also while that falls fast
        dissolved = bath_oxygen_pct(sums[0], now.T, self.flat["carbon_oxygen_product"])
        follows = dissolved / _PCT_PER_KMOL_O * metal_kg
        falls = _PCT_PER_KMOL_C * carbon / (metal_kg * np.maximum(sums[0], 0.005))
        comes = even * (follows - state[DISSOLVED]) + follows * falls
        np.minimum(comes, _MOST_PER_MIN * held, out=out[DISSOLVED])

        # Mn, P, Cr towards the share-out at equilibrium; no phosphate without the lime it needs
        lime = cations[self.ca] * _LIME * per_slag  # what the liquid does not hold takes no part
        solid = np.maximum(lime - self.flat["lime_liquid_pct"], 0.0)
        log_l = (
            now.slag_sums[:2] * per_slag
            - self.per_lime * solid
            + self.b / now.T
            + self.c
            + self.power * np.log10(iron + 1e-99)
        )
        gamma = self.flat["cr_oxide_activity"]
        chromium = log_chromium(active, now.T, all_cations * per_slag, gamma)
        log_l = np.concatenate([log_l, chromium[None]])
        takes = 10.0 ** np.minimum(log_l, 6.0) * slag_kg  # beyond a million it makes no difference
        aim = now.exchanged * (takes / (metal_kg + takes))
        phosphate = aim[EXCHANGED.index("P")]
        np.minimum(phosphate, np.maximum(0.5 * now.lime, 0.0), out=phosphate)
        moves = exchange * (aim - now.in_slag)
        # what they are oxidised with is the slag's: what comes in, and what it holds within half a
        # minute
        at_hand = np.maximum(oxygen - taken - carbon * (1.0 + pcr) + 2.0 * held, 0.0)
        rise = np.maximum(moves, 0.0)
        needs = self.exchanged_atoms @ rise
        allowed = np.minimum(at_hand / np.maximum(needs, 1e-12), 1.0)
        np.add(rise * allowed, np.minimum(moves, 0.0), out=out[SHARED])
        return out


_DRAWN = ("C", "Si", "Mn", "P")  # what lowers the liquidus of the bath
_IRON = atomic_weight("Fe")
_LIME = molar_mass("CaO")
_MOST_PER_MIN = 4.0  # of what a thin slag holds can be taken from it
_EVEN_PER_MIN = 3.0  # the oxygen of the bath follows its carbon within a third of a minute
# times kmol over kg of metal
_PCT_PER_KMOL_O, _PCT_PER_KMOL_C = (100.0 * atomic_weight(e) for e in ("O", "C"))
_IRON_IN_FEO = atomic_weight("Fe") / molar_mass("FeO")
_ENOUGH_IRON = 50.0 * _IRON_IN_FEO  # % iron in slag from which more of it dissolves lime no faster
