"""Write steelthermo/data/blow/heat_heron_invented.csv: readings drawn from the kit's own model with
other parameters and scatter. No measurement.

It shows the format of a measured heat and gives the comparison and the fit something to do. Run:
python tests/tools/make_invented_heat.py
"""

import csv

import numpy as np
from given import given

from steelthermo import blow
from steelthermo.base import data_path

TARGET = data_path("heat_heron_invented.csv")
TRUTH = {
    "critical_carbon_pct": 0.30,
    "slag_oxygen_pct": 25.0,
    "exchange_per_min": 0.35,
    "lime_min": 4.5,
}
SOURCE, LICENCE = "invented for Heron Works, no measurement", "free to use"
SAMPLED = {
    "C": 3,
    "Si": 3,
    "Mn": 3,
    "P": 4,
    "temperature": 0,
    "FeO": 1,
    "CaO": 1,
    "SiO2": 1,
    "MnO": 1,
    "P2O5": 2,
}  # decimals of each
AT_MIN = (3.0, 6.0, 9.0, 12.0, 15.0, 18.5, 20.0)


def readings():
    """Rows of the file, without its head."""
    random = np.random.default_rng(180)
    heat, out = blow.solve(parameters=TRUTH), []
    rows = blow.quantities()

    def add(time, key, decimals):
        u = rows[key]["uncertainty"] * (
            0.5 if key in ("C", "Mn", "Si") and heat.at(time)[key] < 0.3 else 1.0
        )
        value = np.clip(
            heat.at(time)[key] + u * random.standard_normal(), rows[key]["low"], rows[key]["high"]
        )
        out.append([f"{time:g}", key, f"{value:.{decimals}f}", rows[key]["unit"], SOURCE, LICENCE])

    for time in AT_MIN:
        for key, decimals in SAMPLED.items():
            if key != "Si" or time < 8:
                add(time, key, decimals)
    for time in range(3, 21):
        for key in ("CO", "CO2"):
            add(float(time), key, 1)
    return sorted(out, key=lambda row: float(row[0]))


if __name__ == "__main__":
    given(__doc__)
    with TARGET.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["time_min", "quantity", "value", "unit", "source", "licence"])
        writer.writerows(readings())
    print(f"wrote {TARGET}")
