"""What the rates of a blow ask of an Account at every step of the integrator: all that is linear in
the state by one product, the rest by a second one.

The same balance as blow_account.Instant, which serves the records, and tested against it; this one
is quick.
"""

import numpy as np

from .state import (
    CATIONS,
    ELEMENTS,
    HEAT,
    LINING,
    LUMPS,
    METAL,
    OXYGEN,
    SLAG,
    SLAG_KG,
    WEIGHT,
    grid,
    on_grid,
)

_M, _S = {e: i for i, e in enumerate(ELEMENTS)}, {e: i for i, e in enumerate(CATIONS)}
_OUT = LINING + 1  # rows of an Account's matrix; after them what is not linear in the state:
_SILICATE, _SULPHIDE, _IRON, _FERRIC = range(
    _OUT, _OUT + 4
)  # kmol: 2CaO.SiO2, CaS, iron in the slag, its part that is Fe3+


def _symbols():
    """Metal (ELEMENTS), slag (as slag_rows) and heat (as heat_rows) of an Instant, and half the
    lime free for silica in slag and lumps, as rows of weights:
    of an Account's rows, then of the four that are not linear."""
    unit = np.eye(_OUT + 4)
    metal, slag, lumps = (unit[part].copy() for part in (METAL, SLAG, LUMPS))
    sulphide, feo, fe2o3 = unit[_SULPHIDE], unit[_IRON] - unit[_FERRIC], 0.5 * unit[_FERRIC]
    metal[_M["S"]] -= sulphide
    metal[_M["Fe"]] -= unit[_IRON]
    phosphate, silicate, both = 0.5 * slag[_S["P"]], unit[_SILICATE], slag + lumps
    half_lime = 0.5 * (slag[_S["Ca"]] - 3.0 * phosphate), 0.5 * lumps[_S["Ca"]]
    slag[_S["Ca"]] -= sulphide
    lime = slag[_S["Ca"]] + lumps[_S["Ca"]] - 3.0 * phosphate - 2.0 * silicate
    oxides = [
        phosphate,
        silicate,
        both[_S["Si"]] - silicate,
        lime,
        feo,
        fe2o3,
        both[_S["Mg"]] - unit[LINING],
        both[_S["Mn"]],
    ]
    heat = np.array(
        [*metal, *oxides, 0.5 * both[_S["Al"]], both[_S["Ti"]], 0.5 * both[_S["V"]], sulphide]
    )
    return metal, np.array([*slag, feo, fe2o3, sulphide]), heat, half_lime


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
        metal, slag, heat, half_lime = _symbols()
        unit = np.eye(_OUT + 4)
        table = grid()[1] @ heat - unit[HEAT]
        plain, self._at = [], {}

        def add(name, *weights):
            self._at[name] = slice(len(plain), len(plain) + len(weights))
            plain.extend(weights)

        nothing = np.zeros(_OUT + 4)
        add("scrap", nothing)
        add("burning", *(metal[_M[e]] for e in burns))
        add("flux", nothing, nothing)
        add("exchanged", *(metal[_M[e]] + slag[_S[e]] for e in ("Mn", "P")))
        add("in_slag", slag[_S["Mn"]], slag[_S["P"]])
        add("sums", *(metal_sums @ metal))
        add("limits", unit[METAL][_M["S"]], unit[SLAG][_S["Ca"]], unit[OXYGEN])
        add("silica", unit[SLAG][_S["Si"]], unit[LUMPS][_S["Si"]])
        add("half lime", *half_lime)
        self._bent = len(plain)  # rows from here on take part of what is not linear
        weights = np.array([*plain, WEIGHT @ metal, SLAG_KG @ slag, *(slag_sums @ slag), *table])
        self._table = self._bent + 2 + len(slag_sums)
        linear, self._bend = weights[:, :_OUT], np.ascontiguousarray(weights[self._bent :, _OUT:])
        size = 4 + len(account.reacts)
        parts = account.matrix[:, :size], account.matrix[:, size:]
        self._matrix, self._known = (
            linear @ m[:, :, 0] if m.shape[2] == 1 else np.einsum("rw,wun->run", linear, m)
            for m in parts
        )
        self._base = linear @ account.base[:, 0]

        def flat(x):
            return np.broadcast_to(x, account.base.shape[1:])[0]

        scrap, lime, dolomite = 0, *range(self._at["flux"].start, self._at["flux"].stop)
        self._matrix[scrap, 0], self._base[scrap] = -2.0, 2.0 * flat(account.planned_kg["scrap"])
        for row, fed in ((lime, 0), (dolomite, 1)):
            self._matrix[row, 1 + fed], self._known[row, fed] = -1.0, 1.0
        self._columns = np.arange(self._base.shape[1])
        self._sulphur, self._lime = flat(account.sulphur_per_lime), flat(account.lime_planned)
        self.ferric, self._per_oxygen = (
            flat(account.ferric),
            flat(1.0 / (1.0 + 0.5 * account.ferric)),
        )

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
        self.scrap, self.burning = positive[0], positive[1:]
        sulphur, lime, oxygen = rows[at["limits"]]
        bent = np.empty((4, rows.shape[1]))
        sulphide = np.multiply(self._sulphur * np.minimum(lime, self._lime), sulphur, out=bent[1])
        iron = np.multiply(
            oxygen + sulphide, self._per_oxygen, out=bent[2]
        )  # oxygen that nothing else took is held by iron
        np.multiply(iron, self.ferric, out=bent[3])
        half_lime = rows[at["half lime"]]
        half_lime[0] -= 0.5 * sulphide
        np.add(*np.minimum(rows[at["silica"]], half_lime), out=bent[0])
        more = rows[self._bent :]
        more += self._bend @ bent
        self.flux, self.exchanged, self.in_slag, self.metal_sums = (
            rows[at["flux"]],
            rows[at["exchanged"]],
            rows[at["in_slag"]],
            rows[at["sums"]],
        )
        self.lime, self.iron = lime - sulphide, iron
        self.metal_kg, self.slag_kg, self.slag_sums = (
            more[0],
            more[1],
            rows[self._bent + 2 : self._table],
        )
        self.T = on_grid(rows[self._table :], self._columns)
        return self
