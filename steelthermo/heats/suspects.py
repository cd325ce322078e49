"""What could be behind heats that came out other than the rest: one wrong reading, or water that
came with what was charged.

The log weighs water as the material that holds it. Under liquid metal it is split: its oxygen burns
carbon, its hydrogen leaves with the gas. What dries off before leaves as steam, here as hot as the
gas; it takes a third of that heat energy, and no oxygen is missed. Lime holds it as slaked lime.
What oil brings burns above the charge and is not counted.

A probe is wrong by the same in each heat; a scale by a share of what it weighs, and water comes
with the mass of its material. Where it is known which heats are meant, that tells them apart too.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..base import InputError, Record, plus_minus, shown
from ..charge import steam_instead, wetted
from ..works import plant_value
from .compare import _size, effects, readings, usual_heat
from .log import Log, columns
from .model import QUANTITIES, UNITS, difference, expected, expected_with, residual
from .watch import step_of

_MISFIT = 3.0  # standard errors beyond which a cause does not fit what was seen
_APART = 9.0  # squared standard errors: neighbouring heats hang together, so three of them
_WET_STEP_PCT = 0.2  # water in a material, by which its effect is asked
_LOSS_STEP_MJ_T = 5.0
_LEAST = 5  # heats
_WAYS = {"split": "split by the bath", "steam": "gone as steam"}
_KINDS = ("scrap", "lime", "dolomite")
_WATER = ("H2O", "Ca(OH)2", "wet_material_pct")  # what water takes, and how much is usual


@dataclass(frozen=True, repr=False)
class Cause(Record):
    """One cause. key: the column read wrong or, of water, that of its material and how it left
    (split or steam); what: in words; by: how much too high it reads, or the water, of a usual heat,
    in unit; misfit: root mean square of what it leaves unexplained, in standard errors; behind: how
    much less likely than the best, in squared standard errors (9: as clear as three).
    """

    key: str
    what: str
    by: float
    unit: str
    misfit: float
    behind: float
    _sources = _WATER

    @property
    def water(self) -> bool:
        """Whether it is water, not a reading."""
        return ":" in self.key


@dataclass(frozen=True, repr=False)
class Suspects(Record):
    """What was seen ({quantity: (difference, its standard error)}) and what could be behind it, the
    likeliest cause first.
    """

    seen: dict
    causes: tuple
    _sources = _WATER

    @property
    def alike(self) -> tuple:
        """The causes that fit and that what was seen does not tell apart from the best."""
        return tuple(c for c in self.causes if c.misfit <= _MISFIT and c.behind < _APART)

    @property
    def told(self) -> tuple:
        """What follows, in sentences: which causes cannot be told apart, and what would tell."""
        alike = self.alike
        if not alike:
            return ("No single cause of these fits what was seen: look for two at once.",)
        names = "; ".join(c.what for c in alike[:4])
        more = f"; and {len(alike) - 4} more" if len(alike) > 4 else ""
        said = [f"One cause fits: {names}."]
        if len(alike) > 1:
            said = [f"Not told apart by this log: {names}{more}."]
            if not all(c.water for c in alike):
                said.append("A second instrument tells of a reading.")
        if any(c.water for c in alike):
            said.append(
                "Water ends with a delivery: dry a sample, or look for hydrogen in the gas."
            )
            said.append("Wet material explodes under liquid metal or slag: keep it out first.")
        return tuple(said)

    def _shown(self):
        rows = [
            (c.what, f"{c.by:+.4g} {c.unit}".removesuffix(" 1"), f"misfit {c.misfit:.1f}")
            for c in self.causes[:5]
        ]
        rows += [
            (f"seen: {q}", f"{plus_minus(by, error, '+')} {UNITS[q]}", "")
            for q, (by, error) in self.seen.items()
        ]
        return " ".join(self.told).rstrip("."), ("cause", "by", "standard errors left"), rows


def suspects(
    log: Log,
    seen: Mapping[str, tuple] | Sequence[str],
    figures: Mapping[str, float] | None = None,
) -> Suspects:
    """What could be behind heats that came out other than the rest.

    Parameters
    ----------
    log : Log
    seen : first and last day of the heats, such as ("2026-03-08", "2026-03-14"): then all that the
        log has is weighed, and whether the difference goes with the mass of a material; or
        {quantity of QUANTITIES: (difference from the rest, its standard error)}
    figures : by key of parameters(), instead of the works' own

    Returns
    -------
    Suspects
        Of causes as likely, that which is off by the least of its own spreads comes first. What
        the usual heat does not work out with is left out.

    Raises
    ------
    InputError
        Where nothing was seen, or no heat of the log lies in the days.

    Examples
    --------
    >>> from steelthermo.heats import invented_month
    >>> seen = {"temperature": (0.0, 1.0), "oxygen": (1.5, 0.1), "steel": (0.0, 0.05)}
    >>> suspects(invented_month(), seen).causes[0].key
    'oxygen_nm3'
    """
    left, inside = {}, None
    if not isinstance(seen, Mapping):
        left, inside, seen = _of_days(log, seen, figures)
    seen = {q: x for q, x in seen.items() if q in QUANTITIES}
    if not seen:
        raise InputError("suspects: nothing was seen; give days, or at least one quantity.")
    target = np.array([x for x, _ in seen.values()])
    error = np.array([max(e, 1e-9) for _, e in seen.values()])
    out = []
    for key, what, unit, size, moved in _effects(log, figures, list(seen)):
        weight = moved / error
        if not (weight**2).sum() > 0.0:
            continue  # moves nothing of it, or makes no heat either way
        times = (weight * target / error).sum() / (weight**2).sum()
        if ":" in key and times <= 0.0:
            continue  # there is no water below none
        rest = target / error - times * weight
        pattern = _by_mass(log, key) if left else None
        told = [q for q, w in zip(seen, weight, strict=True) if abs(times * w) > 2.0]
        chi2 = (rest**2).sum()
        if pattern is not None:
            chi2 += sum(_with_mass(left[q], inside, pattern) for q in told)
        misfit = float(np.sqrt((rest**2).mean()))
        out.append((float(chi2), abs(times), (key, what, float(times * size), unit, misfit)))
    if not out:
        raise InputError("suspects: nothing of the log moves what was seen in its usual heat.")
    best = min(chi2 for chi2, _, _ in out)
    out.sort(key=lambda item: (round((item[0] - best) / len(seen), 1), item[1]))
    return Suspects(seen, tuple(Cause(*about, chi2 - best) for chi2, _, about in out))


def _of_days(log, days, figures):
    """(what is left of each quantity, mask of the heats of the days, what is seen of them)."""
    inside = log.on(*_two(days))
    expect = expected(log, figures)
    left, seen = {}, {}
    for quantity in QUANTITIES:
        x = residual(log, expect, quantity)
        if min(x[inside].count(), x[~inside].count()) >= _LEAST:
            left[quantity] = x
            seen[quantity] = step_of(x.compressed(), inside[~np.ma.getmaskarray(x)])
    if not left:
        raise InputError(
            f"suspects: {int(inside.sum())} heats of {len(log)} lie in these days; {_LEAST} there "
            "and elsewhere are needed, with what can be compared."
        )
    return left, inside, seen


def _two(days):
    if isinstance(days, str) or len(days) != 2:
        raise InputError(f"suspects: {shown(days)} was given; a first and a last day are needed.")
    return days


def _by_mass(log, key):
    """What a wrong scale or water goes with, about its mean; None for what is always the same."""
    column = key.partition(":")[0]
    if not column.endswith(("_kg", "_nm3")):
        return None
    x = sum(log.solids("scrap").values()) if column == "scrap_kg" else log.of(column)
    x = np.ma.asarray(x)
    return (x / x.mean() - 1.0).filled(0.0)


def _with_mass(x, inside, pattern):
    """How much less likely heats are that differ by a share of a mass than by the same in each."""
    there = ~np.ma.getmaskarray(x)
    y, z, inside = x.compressed(), pattern[there], inside[there]
    same, share = (
        np.linalg.lstsq(np.column_stack([np.ones(y.size), z, by]), y, rcond=None)[1]
        for by in (inside, inside * (1.0 + z))
    )
    return float(y.size * np.log(share / same)[0]) if same.size and share.size else 0.0


def _effects(log, figures, of):
    """(key, what, unit, a size, what it moves of each quantity) of each cause."""
    known = columns(log.works)
    sizes = {
        key: 2.0 * _size(log, key, u) for key, u in readings(log.works).items() if log.given(key)
    }
    moved = effects(log, list(sizes.items()), figures, of)
    if any(np.isnan(x).any() for x in moved.values()):  # no heat comes out so far up: then down
        down = effects(log, [(key, -size) for key, size in sizes.items()], figures, of)
        moved = {q: np.where(np.isnan(x), -down[q], x) for q, x in moved.items()}
    for n, (key, size) in enumerate(sizes.items()):
        row = known[key]
        each = np.array([moved[q][n] for q in of])
        yield key, f"reading of {row['what']}", row["unit"], size, each
    usual = usual_heat(log)
    dry = expected(usual, figures)
    loss = {"heat_mj_t": dry.figures["heat_mj_t"] + _LOSS_STEP_MJ_T}
    c_per_mj_t = (expected(usual, dry.figures | loss).temp_c - dry.temp_c) / _LOSS_STEP_MJ_T
    for kind in _KINDS:
        kg = {key: float(x[0]) for key, x in usual.solids(kind).items() if x[0] > 0.0}
        wet = [((key,), f"{key}_kg", log.works.materials[key]["title"]) for key in kg]
        if len(kg) > 1:
            wet.append((tuple(kg), f"{kind}_kg", f"all {kind}"))
        for keys, column, title in wet:
            for way, kg_water, each in _water(dry, kind, kg, keys, c_per_mj_t, of):
                yield f"{column}:{way}", f"water in {title}, {_WAYS[way]}", "kg", kg_water, each


def _water(dry, kind, kg, keys, c_per_mj_t, of):
    """(way, usual water, kg, what it moves of each quantity) in some materials of a kind, split and
    as steam, in the usual heat.
    """
    works = dry.log.works
    pairs = [(wetted(k, _WET_STEP_PCT, works) if k in keys else k, x) for k, x in kg.items()]
    split = expected_with(dry.log, dry.figures, {kind: pairs})
    water_kg = _WET_STEP_PCT / 100.0 * sum(kg[key] for key in keys)
    burnt_mj, o2_nm3 = steam_instead(dry.charge.plan, water_kg)
    warmer_c = -c_per_mj_t * burnt_mj / (dry.steel_kg / 1000.0)
    steam = replace(split, temp_c=split.temp_c + warmer_c, oxygen_nm3=split.oxygen_nm3 + o2_nm3)
    usual_pct = plant_value("wet_material_pct").start
    for way, model in zip(_WAYS, (split, steam), strict=True):
        each = [float(difference(q, model.of(q), dry.of(q))[0]) for q in of]
        times = usual_pct / _WET_STEP_PCT
        yield way, water_kg * times, np.array(each) * times
