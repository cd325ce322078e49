"""Every lesson and exercise runs without an error in a cell at every works that ships, and at five
drawn ones that are sound: any vessel, hot metal and end point within what works have. Nothing here
needs an outside source. Long, but for two lessons of each works; the usual works has its turn in
the notebooks' own tests.

Cells are run in this process, one after the other, as a kernel would: a kernel of its own for each
works and lesson takes longer than the lesson.
"""

import random
import re

import nbformat
import pytest

from steelthermo.app.working_copy import shipped
from steelthermo.app.works_file import annotated
from steelthermo.base import InputError
from steelthermo.course import steel, usual_heat
from steelthermo.coursekit.problems import draw
from steelthermo.works import PROFILE_FILE, WORKS, load_profile

NOTEBOOKS = {name: path for name, path in shipped().items() if name.endswith(".ipynb")}
DRAWN = 5
EVERY_DAY = ("01_charge_materials", "11_the_blow", "13_end_point", "15_whole_heat")  # two of them
# what a drawn works has otherwise than Heron Works: pattern in its file, low, high, decimals
_RANGES = (
    (r"tap_t = ", 60, 340, 0),
    (r"share_pct = ", 72, 84, 0),
    (r"(?<=\[hot_metal\])(?s:.*?)temp_c = ", 1290, 1400, 0),
    (r"\{ C = ", 4.1, 4.7, 2),
    (r"Si = ", 0.2, 0.9, 2),
    (r"Mn = ", 0.2, 0.8, 2),
    (r"P = ", 0.05, 0.15, 3),
    (r"S = ", 0.004, 0.03, 3),
    (r"purity_pct = ", 98.5, 99.8, 1),
    (r"(?<=\[end_point\])(?s:.*?)temp_c = ", 1630, 1690, 0),
    (r"(?<=\[end_point\])(?s:.*?)C = ", 0.03, 0.08, 3),
    (r"basicity = ", 2.8, 3.8, 1),
    (r"co2_pct = ", 8, 15, 0),
    (r"heat_mj_t = ", 30, 90, 0),
)


def drawn(seed):
    """Text of a sound works of its own, drawn."""
    rng = random.Random(f"a works {seed}")
    while True:
        text = annotated(WORKS[0])
        for pattern, low, high, decimals in _RANGES:
            value = f"{rng.uniform(low, high):.{decimals}f}"
            text, found = re.subn(rf"({pattern})[\d.]+", rf"\g<1>{value}", text, count=1)
            assert found, pattern
            if pattern.startswith("tap_t"):
                flow = float(value) * rng.uniform(2.3, 3.4)
        text = re.sub(r"flow_nm3_min = [\d.]+", f"flow_nm3_min = {flow:.0f}", text, count=1)
        text = text.replace('name = "Heron Works"', f'name = "Drawn Works {seed}"')
        yield text


def sound(seed, folder):
    """Write the first drawn works of a seed that makes a heat."""
    for text in drawn(seed):
        (folder / PROFILE_FILE).write_text(text, encoding="utf-8")
        try:
            usual_heat(load_profile(folder / PROFILE_FILE))
        except InputError:
            continue
        return


def run(name, works, folder, monkeypatch):
    """Run the cells of a notebook at a works: the name of one that ships, or a seed. Then the
    problems of an exercise are drawn, and the first entry of its chain.
    """
    if works in WORKS:
        (folder / PROFILE_FILE).write_text(annotated(works), encoding="utf-8")
    else:
        sound(works, folder)
    monkeypatch.setenv("STEELTHERMO_FOLDER", str(folder))
    monkeypatch.chdir(folder)
    names = {"__name__": "__main__"}
    for cell in nbformat.read(NOTEBOOKS[name], as_version=4).cells:
        if cell.cell_type == "code":
            exec(compile(cell.source, name, "exec"), names)  # raises where a cell does
    if name.startswith("exercises/") and name[len("exercises/")].isdigit():
        lesson = steel().lesson(name[len("exercises/") :].removesuffix(".ipynb"))
        for problem in lesson.problems:
            assert draw(problem, "Ada").text(problem.text)
        if lesson.chain:
            sheet = lesson.chain.begin("Ada", "K1", 1, None)
            assert sheet.text() and sheet.next.right(sheet.state) is not None


ALL = [*WORKS[1:], *range(DRAWN)]
PAIRS = [(name, works) for name in NOTEBOOKS for works in ALL]


def _daily(name, works):
    i = ALL.index(works)
    return any(f"lessons/{EVERY_DAY[(i + k) % len(EVERY_DAY)]}" in name for k in (0, 1))


@pytest.mark.parametrize("name, works", [pair for pair in PAIRS if _daily(*pair)])
def test_two_lessons_of_each(name, works, tmp_path, monkeypatch):
    run(name, works, tmp_path, monkeypatch)


@pytest.mark.long
@pytest.mark.parametrize("name, works", [pair for pair in PAIRS if not _daily(*pair)])
def test_all(name, works, tmp_path, monkeypatch):
    run(name, works, tmp_path, monkeypatch)
