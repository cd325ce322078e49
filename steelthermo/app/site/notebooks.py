"""A saved notebook as a page of the book: its code folded where it only shows a panel, what waits
for a click written out, and names of files made links.
"""

import ast
import json
import re

from ...course import sample_problems_html

_NAMED = re.compile(r"`(lessons|exercises)/((\d\d)_\w+\.ipynb)`")
_LESSON = re.compile(r"\b([Ll]esson|[Ee]xercise) (\d\d)\b(?!\])")
_WARNED = re.compile(r"^\S.*?Warning: (.*)$", re.MULTILINE)
_START = re.compile(r"<p>[^<]*start here: menu Run, then Run All Cells\.</p>")
_NO_KERNEL = """```{{note}}
In the book pictures stand still and answers are not checked. To move the sliders, {live}.
```"""
_TO_NOTEBOOK = re.compile(r'(href="[^":]*)\.ipynb')  # of a page that lists the course
_SAMPLE = "<p>Here they are with the numbers of one made-up reader.</p>"


def page(path: str, notebook: dict, names: list, live: str) -> dict:
    """A notebook, as read from its file, made a page.

    Parameters
    ----------
    path : of the notebook, such as lessons/08_heat_balance.ipynb
    notebook : its JSON, which is left as it is
    names : paths of all notebooks, for links
    live : what to do to run the same notebook, in Markdown

    Returns
    -------
    JSON of the notebook that the book is built from
    """
    cells = [_cell(path, cell, names) for cell in json.loads(json.dumps(notebook["cells"]))]
    title, text = cells[0]["source"].split("\n", 1)
    cells[0]["source"] = f"{title}\n\n{_NO_KERNEL.format(live=live)}\n{text}"
    cells = [c for one in cells for c in _written_out(one)]
    return notebook | {"cells": [c | {"id": f"cell-{n}"} for n, c in enumerate(cells)]}


def _cell(path, cell, names):
    source = "".join(cell["source"])
    if cell["cell_type"] == "markdown":
        return cell | {"source": linked(source, path, names)}
    cell["source"] = source
    shows = any("data" in output for output in cell.get("outputs", ()))
    if "course." in source or shows:
        cell["metadata"]["tags"] = [*cell["metadata"].get("tags", ()), "hide-input"]
    for output in cell.get("outputs", ()):
        if output.get("name") == "stderr":  # a warning's words, without the line that it came from
            output["text"] = "\n".join(_WARNED.findall("".join(output["text"])))
        if "text/html" in output.get("data", {}):
            text = _START.sub("", "".join(output["data"]["text/html"]))
            text = _TO_NOTEBOOK.sub(r"\1.html", text)
            output["data"]["text/html"] = text.replace(" width=", ' loading="lazy" width=')
    return cell


def linked(text: str, path: str, names: list) -> str:
    """Markdown in which names of notebooks, and lessons called by number, are links.

    Parameters
    ----------
    text : Markdown
    path : of the page it stands on
    names : paths of all notebooks
    """
    by_number = {(n.split("/")[0], n.split("/")[1][:2]): n for n in names}

    def to(name, shown):
        return f"[{shown}](../{name})" if name in names and name != path else shown

    def called(match):
        kind, number = match[1].lower(), match[2]
        name = by_number.get((f"{kind}s", number))
        return to(name, match[0]) if name else match[0]

    out = []
    for line in text.split("\n"):
        if not line.startswith("#"):
            line = _LESSON.sub(called, line)
        out.append(_NAMED.sub(lambda m: to(f"{m[1]}/{m[2]}", f"{m[1][:-1]} {m[3]}"), line))
    return "\n".join(out)


def _written_out(cell):
    """The cell, and after it what a reader would otherwise have to run it for."""
    yield cell
    if cell["cell_type"] != "code":
        return
    for call in _calls(cell["source"]):
        if call.func.attr == "exercise":
            cell["outputs"] = []  # the list of their titles
            yield _html(_SAMPLE + sample_problems_html(ast.literal_eval(call.args[0])))


def _calls(source):
    """Calls of functions of a module in a cell, as `course.exercise(...)`."""
    return [
        node
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    ]


def _html(text):
    """A cell that holds HTML, which Markdown leaves alone as long as no line in it is blank."""
    kept = re.sub(r"\n\s*\n+", "\n", text)
    return {"cell_type": "markdown", "metadata": {}, "source": kept}
