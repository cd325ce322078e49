"""What stays English in another language.

    STEELTHERMO_LANGUAGE=pseudo.po python tests/tools/left_behind.py PART NAME ...

PART: panels, exercises, questions, sheets, commands, pages or notebooks; NAME: which of them, all
if none is named. The file is that of pseudo.py: each vowel of a translated word has an accent, so
a word with a plain one was left behind. Prints each, with what stands around it.
"""

import contextlib
import io
import json
import re
import sys
import tempfile
import warnings
from html import unescape
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import make_class
from given import given
from matplotlib.text import Text

from steelthermo import course
from steelthermo.app import cli, translate, working_copy
from steelthermo.coursekit import marking

# Stays as it is: the names of the invented works, of learners, of authors and of sets of data,
# units, what is typed into a terminal, chemical formulas.
KEPT = {"self"} | set(
    "Heron Works Ada Ide Fruehan Assis Healy Turkdogan Riboud Urbain Mills Park Dzo jsps msts kPa "
    "min mol kmol kcal atm bar tot liq Mach steelthermo toml html jupyter Enter Shift Ctrl usage "
    "JupyterLab options positional arguments show this help message and exit program version "
    "number study crowns molar volume log Mandal Mazumdar Guthrie Nakanishi".split()
)
_WORD = re.compile(r"(?<![\w.\-/={\[])[A-Za-z]{3,}(?![\w(=}\]])")
_FORMULA = re.compile(r"([A-Z][a-z]?\d*)+")
_SOURCE = re.compile(r"\((?:[^()]|\([^()]*\))*\)\.")  # of a figure of a caution: as printed


def plain(text):
    """HTML as a reader meets it: words, alternatives and names for those who listen."""
    text = re.sub(r"<style>.*?</style>|\son\w+=\"[^\"]*\"", "", str(text), flags=re.DOTALL)
    heard = re.findall(r'(?:alt|data-title|aria-label)="([^"]*)"', text)
    code = r"<code>.*?</code>|```.*?```|`[^`]*`|\$[^$]*\$|\]\([^)]*\)"
    text = re.sub(code, " ", text, flags=re.DOTALL)
    return unescape("\n".join([re.sub(r"<[^>]*>", "\n", text), *heard]))


def left(text):
    """Words of a text that nobody translated."""
    return [
        word
        for word in _WORD.findall(text)
        if re.search("[aeiouy]", word) and word not in KEPT and not _FORMULA.fullmatch(word)
    ]


def of_widget(widget):
    """All texts of a widget and those in it; the case to share has keys, no words."""
    kind = type(widget).__name__
    if "st-case" in widget._dom_classes:
        yield widget.description
        return
    for name in ("value", "description", "placeholder", "tooltip"):
        text = getattr(widget, name, None)
        if isinstance(text, str) and not (name == "value" and kind in ("Dropdown", "RadioButtons")):
            yield text
    yield from getattr(widget, "_options_labels", None) or ()
    for child in getattr(widget, "children", ()):
        yield from of_widget(child)


def _pressed(widget, *skipped):
    """Press every button that opens something, but those."""
    for child in getattr(widget, "children", ()):
        if hasattr(child, "click") and not any(word in child.description for word in skipped):
            child.click()
        _pressed(child, *skipped)


def panels(names):
    """Texts of panels: at rest, with all opened but the sources, at an edge, and refusing."""
    for name in names or course.steel().panels:
        panel = course.panel(name)
        _pressed(panel.widget, "Rését")
        for control in panel.controls:
            for value in control.probes() if control.choices else control.probes()[::2]:
                panel.set(**{control.name: value})
                yield name, plain(panel._say.value)
            panel.reset()
        panel._origin.value = ""  # titles of sources, as printed
        for text in of_widget(panel.widget):
            yield name, _SOURCE.sub("", plain(text))
        for text in panel._picture.figure.findobj(Text):
            yield f"picture of {name}", text.get_text()


def exercises(names):
    """Texts of exercises: problems, a right and a wrong answer, hints, the worked solution."""
    from steelthermo.coursekit.page import Home

    warnings.simplefilter("ignore")
    for lesson in course.steel().lessons:
        if not (lesson.problems or lesson.chain) or (names and lesson.name not in names):
            continue
        folder = Path(tempfile.mkdtemp())
        page = (
            course.exercise(lesson.name, folder) if lesson.problems else course.heat_sheet(folder)
        )
        page.name.value = "Ada"
        page.begin_button.click()
        for view in page.views.values():
            for answer in ("1234567", "12 kJ", "word", ""):
                view.box.value = answer
                if view.problem.choice:
                    view.choice.value = view.choice.options[0][1]
                view.check_button.click()
                yield lesson.name, plain(view.feedback.value).replace("word", "")
            view.box.value = "1"
            _pressed(view.widget, "Ánóthér", "Chéck", "Nót")
        for text in of_widget(page.widget):
            yield lesson.name, _SOURCE.sub("", plain(text)).replace(str(folder), "")
        yield lesson.name, plain(Home(folder)._repr_html_())


def questions(names):
    """Texts of the questions asked in place: as asked, wrong, right, and with their reason."""
    for lesson in course.steel().lessons:
        if lesson.questions and (not names or lesson.name in names):
            for part in ("notice", "check"):
                for view in course.ask(lesson.name, part, tempfile.mkdtemp()).views.values():
                    for answer in (1, 2, 3, 3):
                        if not view.over:
                            view.box.value = f"{answer}0"
                            if view.problem.choice:
                                lines = view.choice.options
                                view.choice.value = lines[min(answer, len(lines)) - 1][1]
                            view.check()
                        yield from ((lesson.name, plain(text)) for text in of_widget(view.widget))


def sheets(names):
    """Texts of the sheets of dependent entries, filled in to the end, and each on paper."""
    folder = Path(tempfile.mkdtemp())
    pages = {
        "drill": course.drill(folder),
        "planning_sheet": course.planning_sheet(None, folder),
        "lines of lesson 14": course.planning_sheet("14", folder),
        "heat_sheet": course.heat_sheet(folder),
    }
    for name, page in pages.items():
        if not page.sheet:
            page.name.value = "Ada"
            page.begin_button.click()
        while page.sheet.next and page.on_button.layout.display != "none":
            entry = page.sheet.next
            right = entry.right(page.sheet.state)
            if entry.choice:
                page.line.value = int(right)
            else:
                page.box.value = f"{right:.6g}"
            if page.checkable:
                page.check()
                yield name, plain(page.said.value)
            page.carry_on()
            for text in of_widget(page.widget):
                yield name, _SOURCE.sub("", plain(text)).replace(str(folder), "")
        if not page.sheet.next:
            yield name, _SOURCE.sub("", plain(page.sign_off_html()))


def commands(names):
    """Help of the commands, and what they say to a mistake."""
    for name in names or ["", *cli._COMMANDS]:
        for argv in ([name, "--help"], [name, "nowhere"]):
            said = io.StringIO()
            here = contextlib.chdir(tempfile.mkdtemp())  # some write a file
            with here, contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
                with contextlib.suppress(SystemExit):
                    cli.main([part for part in argv if part])
            # what argparse and the system say themselves
            own = r"\w+: error:.*|Expected '='.*|^ {10,}\w+$"
            keys = r"(?:\b[a-z_0-9]+, ){3,}[a-z_0-9]+"  # as a file has them
            text = re.sub(f"{own}|{keys}", " ", said.getvalue(), flags=re.MULTILINE)
            text = re.sub(r"--?[\w-]+(?: [A-Z_]+)?|\{[^}]*\}|\[[^\]]*\]", " ", text)
            text = re.sub(r"`[^`]*`|\b[\w-]+\.(toml|csv)|> \w+|name = .*", " ", text)
            text = re.sub(r"^(usage:.*|  \w+\s)|nowhere|'\w+'", " ", text, flags=re.MULTILINE)
            yield name or "steelthermo", re.sub(rf"\b({'|'.join(cli._COMMANDS)})\b", " ", text)


def pages(names):
    """The pages to print, and those of a class: problem sheets, answer keys, the report."""
    for name in ("glossary", "visit_card", "planning_sheet", "formula_sheet"):
        text = _SOURCE.sub("", plain(getattr(course, f"{name}_html")()))
        yield name, re.sub(r"Réád fór.*Línés wíth", "", text)  # titles of sources, as printed
    for lesson in course.steel().lessons:
        if lesson.problems:
            page = course.sample_problems_html(lesson.name)
            yield "sample_problems", _SOURCE.sub("", plain(page))
    yield from _of_a_class()


def _of_a_class():
    """What a trainer gets of a class of learners called Ada, of whom some left nothing to mark."""
    people, folder = ["Ada", "Ada Ada", "Ada Ada Ada"], Path(tempfile.mkdtemp())
    problems = course.steel().problems
    make_class.make(folder, problems, 14, 10)
    draws = marking.draws_for(people, problems=problems)
    yield "problem_sheets", _SOURCE.sub("", plain(marking.problem_sheets_html(draws)))
    for worked in (True, False):
        page = marking.answer_key_html(draws, "Ada", worked)
        yield "answer_key", re.sub(r"\([\w.]+\)", "", plain(page))  # names that overrides call
    for pseudonyms in (True, False):
        report = marking.mark(folder, pseudonyms=pseudonyms)
        called = "|".join((*make_class.FIRST, *make_class.LAST, r"[\w.-]+\.\w{3,5}\b"))
        yield "report", re.sub(called, " ", plain(report.html))


def notebooks(names):
    """Markdown of the notebooks in a working copy, sources and code left out."""
    for name, path in working_copy.shipped().items():
        if name.endswith(".ipynb") and (not names or name in names):
            for cell in json.loads(translate.in_language_chosen(name, path.read_bytes()))["cells"]:
                if cell["cell_type"] == "markdown":
                    yield name, plain("".join(cell["source"]))


def main(part, *names):
    count = 0
    for name, text in globals()[part](names):
        text, found = " ".join(text.split()), left(text)
        if found:
            at = re.search(rf"(?<![\w.\-/]){found[0]}(?!\w)", text).start()
            print(f"{name}: {sorted(set(found))} in …{text[max(0, at - 50) : at + 80]}…"[:300])
        count += 1
    print(f"{count} texts looked at", file=sys.stderr)


if __name__ == "__main__":
    options = given(__doc__, "part", "names...")
    main(options.part, *options.names)
