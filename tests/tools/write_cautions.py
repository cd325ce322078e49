"""Writes the section *Cautions* of README.md from the table of hazards, so that both agree.

python tests/tools/write_cautions.py
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from given import given

from steelthermo.course.adapter import DEFERRAL
from steelthermo.trust import caution

README = ROOT / "README.md"
HEAD, END = "## Cautions\n", "\n## Sources\n"
TOLD = (
    "water_under_metal water_leak carbon_monoxide gas_explosion oxygen_rich oxygen_pressure "
    "oxygen_short magnesium_fire carbide_acetylene lime_burns oxidised_slag slopping "
    "hot_metal_pouring vessel_moves sampling tapping"
).split()


def section():
    """The section as Markdown."""
    lines = []
    for one in map(caution, TOLD):
        lines.append(f"- **{one.what}.** {one.why} {one.visitor}")
        if one.amounts:
            lines[-1] += f" *Figures:* {'; '.join(one.amounts)}."
    intro = (
        "**This kit is a training aid for calculation, no instruction for running a vessel.** "
        f"{DEFERRAL.partition('. ')[2]} Where they differ from anything here, they are right. "
        "`steelthermo card` writes a card for visits, one page to print. Each figure here has "
        "its source in `steelthermo/data/trust/safety_figures.csv`; where limits differ by "
        "country, the lowest stands first, and local law decides."
    )
    return "\n".join([HEAD, intro, "", *lines, ""])


def replaced(text):
    """The README with its section written anew."""
    before, _, rest = text.partition(HEAD)
    return before + section() + END + rest.partition(END)[2]


if __name__ == "__main__":
    given(__doc__)
    README.write_text(replaced(README.read_text(encoding="utf-8")), encoding="utf-8")
