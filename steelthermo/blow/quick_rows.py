"""What the rates of a blow ask of an Account at every step of the integrator: the declarations of
rows.py multiplied out beforehand, so that a step is two products of matrices.

Tested against state.Instant, which serves the records. A blow takes 25 ms by it.
"""

import numpy as np

from .rows import (
    CATIONS,
    DISSOLVES,
    ELEMENTS,
    EXCHANGED,
    HEAT,
    HEAT_ROWS,
    KNOWN,
    LIMITS,
    METAL_ROWS,
    SCRAP,
    SLAG,
    SLAG_KG,
    SLAG_ROWS,
    WEIGHT,
    bent,
)
from .temperature import grid, on_grid

_OUT, _ALL = (
    LIMITS.shape[1],
    METAL_ROWS.shape[1],
)  # rows of an Account, and those of bent() with them


class Rows:
    """The numbers of one step. account: Account; burns: elements of the metal that burn;
    metal_sums, slag_sums: sums wanted, weights (sums, ELEMENTS) of kmol in the metal and (sums,
    SLAG_NAMES) in the slag.

    After at(): scrap (twice the kg not yet melted) and burning (kmol in the metal of elements that
    burn), neither below zero; flux (kg of lime and dolomite fed and not yet dissolved), exchanged
    (kmol of Mn and P in metal and slag together), in_slag (kmol of them in the slag), lime (kmol
    CaO dissolved, sulphide apart), iron (kmol in the slag), metal_kg, slag_kg, metal_sums,
    slag_sums, T (K). Arrays end in (heats,): one instant.
    """

    def __init__(self, account, burns, metal_sums, slag_sums):
        metal = dict(zip(ELEMENTS, METAL_ROWS, strict=True))
        slag = dict(zip(CATIONS, np.eye(_ALL)[SLAG], strict=True))
        swap, nothing = EXCHANGED, np.zeros((1, _ALL))
        parts = {
            "scrap": nothing,
            "burning": [metal[e] for e in burns],
            "flux": np.zeros((2, _ALL)),
            "exchanged": [metal[e] + slag[e] for e in swap],
            "in_slag": [slag[e] for e in swap],
            "metal_sums": metal_sums @ METAL_ROWS,
            "limits": np.pad(LIMITS, ((0, 0), (0, _ALL - _OUT))),
            # from here on rows take part of what is not linear
            "kg": [WEIGHT @ METAL_ROWS, SLAG_KG @ SLAG_ROWS],
            "slag_sums": slag_sums @ SLAG_ROWS,
            "table": grid()[1] @ HEAT_ROWS - np.eye(_ALL)[HEAT],
        }
        ends = np.cumsum([len(part) for part in parts.values()]).tolist()
        self._at = dict(zip(parts, map(slice, [0, *ends], ends), strict=False))
        weights = np.concatenate(list(parts.values()))
        linear = weights[:, :_OUT]
        self._bent = np.ascontiguousarray(weights[self._at["kg"].start :, _OUT:])
        size = account.size
        self._matrix, self._known = (
            linear @ m[:, :, 0] if m.shape[2] == 1 else np.einsum("rw,wun->run", linear, m)
            for m in (account.matrix[:, :size], account.matrix[:, size:])
        )
        self._base = linear @ account.base[:, 0]

        def flat(x):
            return np.broadcast_to(x, account.base.shape[1:])[0]

        scrap = self._at["scrap"].start
        self._matrix[scrap, SCRAP] = -2.0
        self._base[scrap] = 2.0 * flat(account.planned_kg["scrap"])
        for row, (fed, column) in enumerate(DISSOLVES.items(), self._at["flux"].start):
            self._matrix[row, column], self._known[row, KNOWN.index(fed)] = -1.0, 1.0
        self._columns = np.arange(self._base.shape[1])
        self._bend = [flat(x) for x in account.bend]
        self.ferric = self._bend[-1]

    def fixed(self, known):
        """The part of the rows that is known at instants whatever the bath does, (instants, rows,
        heats), for at().
        """
        known = np.ascontiguousarray(known.transpose(1, 0, 2))
        out = (
            np.matmul(self._known, known)
            if self._known.ndim == 2
            else np.einsum("run,tun->trn", self._known, known)
        )
        out += self._base
        return out

    def at(self, fixed, state):
        """Bring all to one instant. fixed: (rows, heats); state: (rows, heats)."""
        rows = (
            self._matrix @ state
            if self._matrix.ndim == 2
            else np.einsum("run,un->rn", self._matrix, state)
        ) + fixed
        at = self._at
        positive = rows[: at["burning"].stop]
        np.maximum(positive, 0.0, out=positive)
        limits = rows[at["limits"]]
        not_linear = bent(limits, *self._bend)
        more = rows[at["kg"].start :]
        more += self._bent @ not_linear
        self.scrap, self.burning = positive[0], positive[1:]
        self.flux, self.exchanged, self.in_slag, self.metal_sums, self.slag_sums = (
            rows[at[name]] for name in ("flux", "exchanged", "in_slag", "metal_sums", "slag_sums")
        )
        self.lime, self.iron = limits[1] - not_linear[1], not_linear[2]
        self.metal_kg, self.slag_kg = more[:2]
        self.T = on_grid(rows[at["table"]], self._columns)
        return self
