"""Write steelthermo/data/thermo/supplement.yaml from the published figures in
supplement_published.csv.

The published heat capacities Cp = a + b T + c/T^2 + d/T^0.5 + e/T^3, J/(mol K), become NASA-9
polynomials, which Cantera reads itself.
Without the terms d and e the conversion is exact; with them it is a least-squares fit whose largest
deviation is printed.
Cristobalite is fitted to the NIST-JANAF table (package janaf).

Run: python tests/tools/build_supplement.py [--check]
"""

import argparse
import math
import re
import sys
from pathlib import Path

import janaf
import numpy as np

from steelthermo.base import bibliography, data_path, formula, rows, value

R = value("gas_constant")
POWERS = np.arange(-2, 5)  # powers of T in Cp/R of the NASA-9 form


def published_cp(row, T):
    return (
        row["cp_a"]
        + row["cp_b"] * T
        + row["cp_c"] / T**2
        + row["cp_d"] / np.sqrt(T)
        + row["cp_e"] / T**3
    )


def fit(T, cp, powers):
    """Least-squares coefficients of Cp/R in the given powers of T; columns are scaled so that the
    fit is well conditioned.
    """
    columns = (T[:, None] / 1000.0) ** powers
    solution = np.linalg.lstsq(columns, cp / R, rcond=None)[0] / 1000.0 ** powers.astype(float)
    full = np.zeros(7)
    full[powers - POWERS[0]] = solution
    deviation = np.abs((T[:, None] ** POWERS.astype(float)) @ full * R - cp).max()
    return full, deviation


def cp_coefficients(row):
    """Seven coefficients of Cp/R and the largest deviation from the published values, J/(mol K)."""
    if row["species"] == "SiO2(crist)":
        return fit(*cristobalite(), POWERS)
    if row["cp_d"] == 0 and row["cp_e"] == 0:
        return np.array([row["cp_c"], 0, row["cp_a"], row["cp_b"], 0, 0, 0]) / R, 0.0
    T = np.linspace(row["low_k"], row["high_k"], 400)
    return fit(T, published_cp(row, T), POWERS)


def cristobalite():
    text = (Path(janaf.__file__).parent / "data" / "O-035.txt").read_text().splitlines()[2:]
    pairs = [
        tuple(map(float, line.split("\t")[:2]))
        for line in text
        if len(line.split("\t")) > 2 and line.split("\t")[1]
    ]
    T, cp = np.array([p for p in pairs if 500 <= p[0] <= 2000]).T
    return T, cp


def integrals(c, T):
    """Enthalpy/R and entropy/R of the seven Cp/R coefficients at T, without the integration
    constants.
    """
    h = -c[0] / T + c[1] * np.log(T) + sum(c[k] * T ** (k - 1) / (k - 1) for k in range(2, 7))
    s = (
        -c[0] / (2 * T**2)
        - c[1] / T
        + c[2] * np.log(T)
        + sum(c[k] * T ** (k - 2) / (k - 2) for k in range(3, 7))
    )
    return h, s


def build():
    lines = [
        "description: |-",
        "  Species that Cantera's NASA data lack. Written by tests/tools/build_supplement.py from "
        "supplement_published.csv,",
        "  where the published figures, their sources and statuses stand. Do not edit by hand. "
        "Entropies are those at 1 bar.",
        "",
        "species:",
    ]
    report = []
    previous = None
    for row in rows("supplement_published"):
        c, deviation = cp_coefficients(row)
        if row["anchor_k"] == "previous":
            T0 = row["low_k"]
            h_old, s_old = integrals(previous["c"], T0)
            h0 = (h_old + previous["a8"]) * R + row["anchor_h_kj"] * 1000
            s0 = (s_old + previous["a9"]) * R + row["anchor_h_kj"] * 1000 / T0
        else:
            T0, h0, s0 = row["anchor_k"], row["anchor_h_kj"] * 1000, row["anchor_s"]
        h, s = integrals(c, T0)
        a8, a9 = h0 / R - h, s0 / R - s
        previous = {"c": c, "a8": a8, "a9": a9}
        numbers = ", ".join(f"{x:.12e}" for x in [*c, a8, a9])
        atoms = ", ".join(f"{s}: {n:g}" for s, n in formula(row["formula"]).items())
        source = bibliography()[row["source"]]
        lines += [
            f"- name: {row['species']}",
            f"  composition: {{{atoms}}}",
            "  thermo:",
            "    model: NASA9",
            f"    temperature-ranges: [{row['low_k']:g}, {row['high_k']:g}]",
            "    reference-pressure: 1 bar",
            "    data:",
            f"    - [{numbers}]",
            f'  note: "{row["status"]}; {source.authors} {source.year}; {row["place"]}"',
        ]
        report.append((row["species"], deviation))
    return "\n".join(lines) + "\n", report


def same(before, now):
    """True if two texts agree word by word, numbers to 1e-10: the last digits of a fit are the
    processor's own.
    """
    a, b = (re.split(r"[\s,\[\]]+", text) for text in (before, now))
    return len(a) == len(b) and all(x == y or close(x, y) for x, y in zip(a, b, strict=True))


def close(x, y):
    """True if both texts are numbers that agree to 1e-10."""
    try:
        return math.isclose(float(x), float(y), rel_tol=1e-10)
    except ValueError:
        return False


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "--check", action="store_true", help="compare with the file instead of writing it"
    )
    args = parser.parse_args()
    text, report = build()
    target = Path(str(data_path("supplement_published.csv"))).with_name("supplement.yaml")
    if args.check:
        sys.exit(
            0
            if same(target.read_text(encoding="utf-8"), text)
            else "supplement.yaml does not match supplement_published.csv"
        )
    target.write_text(text, encoding="utf-8")
    for species, deviation in report:
        print(
            f"{species:18s} largest deviation of Cp from the published values {deviation:.4f} "
            "J/(mol K)"
        )


if __name__ == "__main__":
    main()
