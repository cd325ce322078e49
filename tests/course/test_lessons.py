"""The question of a lesson stands in its lesson.py; wherever else it is printed it is the same."""

import json
import re
from pathlib import Path

import pytest

from steelthermo import course
from steelthermo.course.adapter import STEEL

ROOT = Path(__file__).parents[2]
NAMES = [one.name for one in STEEL.lessons]


def heading(notebook):
    """First line of a notebook's first cell, or None without the notebook."""
    if not notebook.exists():
        return None
    first = json.loads(notebook.read_text(encoding="utf-8"))["cells"][0]
    return "".join(first["source"]).splitlines()[0]


def test_the_course_has_its_lessons_in_order():
    numbers = [STEEL.lesson(name).number for name in NAMES]
    assert numbers == [f"{n:02d}" for n in range(len(NAMES))] and len(NAMES) >= 17
    assert all(STEEL.lesson(name).question.endswith("?") for name in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_notebooks_ask_the_question_of_the_lesson(name):
    said = f"{STEEL.lesson(name).number} · {STEEL.lesson(name).question}"
    file = f"{STEEL.lesson(name).number}_{name}.ipynb"
    assert heading(ROOT / "lessons" / file) == f"# {said}"
    if name != "start_here":  # nothing to work out there
        assert heading(ROOT / "exercises" / file) == f"# Exercise {said}"


def test_the_readme_lists_the_questions():
    rows = re.findall(
        r"^\| (\d\d) \| `(\w+)` \| (.*?) \|", (ROOT / "README.md").read_text("utf-8"), re.M
    )
    assert rows == [(STEEL.lesson(n).number, n, STEEL.lesson(n).question) for n in NAMES]


def test_the_map_of_lesson_00_names_lessons_there_are():
    boxes = STEEL.lesson("start_here").part("panel")
    named = {n for *_, names in boxes.BOXES for n in names} | {n for _, n in boxes.BESIDES}
    assert named == set(NAMES) - {"start_here"}


def test_what_notebooks_call_is_there():
    notebooks = [*ROOT.glob("lessons/*.ipynb"), *ROOT.glob("exercises/*.ipynb")]
    called = {
        name
        for path in notebooks
        for name in re.findall(r"\bcourse\.(\w+)\(", path.read_text(encoding="utf-8"))
    }
    assert {"panel", "predict", "exercise"} < called
    assert all(callable(getattr(course, name)) for name in called)


def test_links_lead_from_page_to_page():
    """Lesson to exercise and next lesson, exercise back and on; every link to a notebook exists."""
    for one in STEEL.lessons:
        name = f"{one.number}_{one.name}.ipynb"
        for place, wanted in (
            ("lessons", f"](../exercises/{name})"),
            ("exercises", f"](../lessons/{name})"),
        ):
            path = ROOT / place / name
            if place == "exercises" and not path.exists():
                continue
            text = path.read_text(encoding="utf-8")
            assert wanted in text or not (ROOT / "exercises" / name).exists(), path
            for link in re.findall(r"\]\(([^)\s]+\.ipynb)\)", text):
                assert (path.parent / link).resolve().exists(), (path, link)


def test_no_file_of_the_course_hides_a_function_of_it():
    """An imported file becomes a name of its folder, in the place of a function of that name."""
    files = {p.stem for p in Path(course.__file__).parent.glob("*.py")}
    assert not files & {name for name in vars(course) if callable(getattr(course, name))}


@pytest.mark.parametrize(
    ("number", "folded"),
    [
        ("03", ("Two sets of coefficients", "The set of 1993 treats")),
        ("06", ("Two common formulas", "Published trends")),
        ("07", ("five equations differ", "Two questions are open")),
        ("13", ("The constant of carbon and oxygen", "Neither follows from the other")),
        ("16", ("Agreement with a table",)),
    ],
)
def test_doubt_of_the_data_is_folded_away(number, folded):
    """A first week goes by what a shop uses; sets, spreads and open questions open on demand. What
    is seen at first stays a lesson of 400 to 950 words.
    """
    (path,) = (ROOT / "lessons").glob(f"{number}_*.ipynb")
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(c["source"]) for c in cells if c["cell_type"] == "markdown")
    folds = re.findall(r"\n<details><summary>(.*?)</summary>\n\n(.*?)\n\n</details>", text, re.S)
    (doubt,) = (told for title, told in folds if title == "If you doubt the data")
    seen = re.sub(r"<details>.*?</details>|<[^>]*>", " ", text, flags=re.S)
    for words in folded:
        assert words in doubt and words not in seen
    assert 400 <= len(seen.split()) <= 950
