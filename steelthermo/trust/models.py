"""How far the models of the kit are checked against what none of their data were made from: the
published checks of each, counted, and in words what could not be read.
"""

from dataclasses import dataclass

from ..base import Provenance, Record
from .published import VERDICTS, WORTH, results

ENOUGH = 3  # checks of a model from outside its data, the least
_NO = "None could be read: "
# What the checks leave open; for a model with fewer than ENOUGH, which could not be read
MODELS = {
    "activity": "carbon by its assessment is same data, sulphur a course's; no alloy of Si or Mn",
    "deoxidation": "oxygen beside titanium and at the corner of alumina and hercynite; others by "
    "their constants alone",
    "order": "where lines cross by other tables and by measured constants; no measured sequence of "
    "a blow could be read",
    "partition": "one printed limit of a works against five equations; sulphide capacity of slags "
    "for the ladle. No measured partition in limy converter slag",
    "slag activity": "slags to 25 % CaO, and iron oxide with phosphorus; none with 40 % CaO",
    "lime dissolution": _NO + "rates of dissolution stand in figures alone",
    "jet": "nozzles of a patent; no measured depth of the dent could be read",
    "end point": "carbon beside a reading of oxygen; no series of readings and samples",
    "blow": "ends of other works beside an invented one whose figures are ordinary: order of size. "
    "Every measured heat along time was out of reach",
    "charge": "masses of a course's heat, heat of steel; no complete heat balance of a works",
    "ladle temperature": "a course's liquidus, tap temperature and cooling by scrap; no measured "
    "ladle could be read",
    "off-gas": "volumes and heating values that plants name; no analysis of a hood with its air "
    "could be read",
    "uncertainty": "spreads of works that stop by a reading or by experience; none with the "
    "spreads of its own readings could be read",
    "viscosity": "silicates with manganese or ferric oxide; no fully liquid converter slag could "
    "be read",
    "density": "volumes of silicate melts by others; no measured converter slag could be read",
    "stirring": _NO + "mixing times stand in correlations alone, which the kit shows side by side",
}


@dataclass(frozen=True, repr=False)
class ModelChecks(Record):
    """Checks of a model from outside its data. model: key of MODELS; agree, disagree: how many;
    notice: how many of both would notice a wrong model; remark: what they leave open; provenance:
    of the printed values.
    """

    model: str
    agree: int
    disagree: int
    notice: int
    remark: str
    provenance: tuple[Provenance, ...] = ()

    @property
    def enough(self) -> bool:
        """True with at least ENOUGH checks."""
        return self.agree + self.disagree >= ENOUGH


def model_checks() -> tuple[ModelChecks, ...]:
    """The published checks from outside the data of each model, counted.

    Returns
    -------
    of ModelChecks, in the order of MODELS

    Examples
    --------
    >>> [m.model for m in model_checks() if not m.enough]
    ['lime dissolution', 'stirring']
    """
    out = []
    for model, remark in MODELS.items():
        found = [r for r in results() if r.check.model == model]
        numbers = [sum(r.verdict == v for r in found) for v in VERDICTS]
        numbers.append(sum(r.check.worth == "model" for r in found))
        read = tuple({r.check.provenance: None for r in found})
        out.append(ModelChecks(model, *numbers, remark, read))
    return tuple(out)


def worth_counts() -> dict[str, int]:
    """Number of published checks by what an agreement is worth.

    Returns
    -------
    number by key of WORTH

    Examples
    --------
    >>> worth_counts()["same data"] > 150
    True
    """
    return {w: sum(r.check.worth == w for r in results()) for w in WORTH}
