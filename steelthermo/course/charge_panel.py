"""What the panels that solve a charge have in common: how well it closes, and other published data
for its heat.
"""

from ..charge import other_data
from ..coursekit.panel import OWN, data_choice


def closure(record):
    """Rows of the closure gauge from a record whose `closure` is that of a Charge."""
    worst = max((abs(e), e) for name, e in record.closure.items() if name not in ("heat", "O"))[1]
    return [
        ("Mass of every other element", worst),
        ("Oxygen", record.closure["O"]),
        ("Heat", record.closure["heat"]),
    ]


def heat_data(
    *keys, more=(), help="Heats of forming and dissolving and the heat of the slag; masses follow."
):
    """The choice among the kit's heats of forming and dissolving and other published ones. keys: of
    other_data(), none for all; more: (text, source);
    help: what they act on."""
    known = other_data("published")
    others = ((known[key]["what"], key) for key in keys or known)
    return data_choice((*others, *more), "published heats that differ", help)


def key_of(data):
    """The key that other_data.solve_by() takes, or None for the kit's own data."""
    return None if data == OWN else data
