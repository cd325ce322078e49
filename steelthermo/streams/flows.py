"""What goes in and what comes out of a heat or a stage of it: read by name, weighed, and closed
element by element.

A record that flows (LiquidMetal, Solid, Slag, Gas, ...) knows its element_kg() and its
enthalpy_kj() against the elements at 298.15 K.
"""

import numpy as np

from ..base import plain


class Flows:
    """Base of whatever has `inputs` and `outputs`, mappings of a name to a record. Each can be read
    as an attribute: heat.hot_metal, stage.slag_left.
    """

    def __getattr__(self, name):
        for group in ("outputs", "inputs"):
            records = self.__dict__.get(group, {})
            if name.replace("_", " ") in records:
                return records[name.replace("_", " ")]
        raise AttributeError(f"a {type(self).__name__.lower()} has no {name}")

    def mass_account(self):
        """kg of each input and output, as two dicts."""

        def weigh(records):
            return {name: sum(r.element_kg().values()) for name, r in records.items()}

        return weigh(self.inputs), weigh(self.outputs)

    def element_closure(self, tiny_kg):
        """Relative difference of out to in for each element, as a dict; zero where neither side
        holds more than tiny_kg.
        """
        come, go = {}, {}
        for records, side in ((self.inputs, come), (self.outputs, go)):
            for record in records.values():
                for element, kg in record.element_kg().items():
                    side[element] = side.get(element, 0.0) + kg
        out = {}
        for element in {**come, **go}:
            a, b = come.get(element, 0.0), go.get(element, 0.0)
            size = np.maximum(np.abs(a), np.abs(b))
            out[element] = plain(
                np.where(size > tiny_kg, (b - a) / np.where(size > tiny_kg, size, 1.0), 0.0)
            )
        return out

    def heat_gained_kj(self):
        """Enthalpy of all outputs less that of all inputs, kJ."""
        return sum(r.enthalpy_kj() for r in self.outputs.values()) - sum(
            r.enthalpy_kj() for r in self.inputs.values()
        )
