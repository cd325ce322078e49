"""Run lessons and exercises and save them as they shall be kept: with outputs, without the traces
of this run.

    python tests/tools/save_notebooks.py [NOTEBOOK ...]            run and save (no notebook named:
    all of lessons/ and exercises/)
    python tests/tools/save_notebooks.py --check [NOTEBOOK ...]    run, change nothing, and tell
    where text differs from what is saved

Kept: every output that is no live widget, so that a still picture and its text remain for a reader
without a kernel. Removed: widget views and their state, times, addresses of objects in memory,
the folder of this tree, metadata of editors. Cells get ids made from their content, so that a
notebook made anew by a script differs only where it differs. A notebook with an error is told and
not saved.
"""

import argparse
import copy
import difflib
import hashlib
import os
import re
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError, CellTimeoutError, DeadKernelError

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from steelthermo.app.working_copy import working_copy

WIDGETS = ("application/vnd.jupyter.widget-view+json", "application/vnd.jupyter.widget-state+json")
TIMEOUT_S = 300
_ADDRESS = re.compile(r"\b0x[0-9a-fA-F]{6,}\b")
_KEPT_METADATA = ("tags", "jupyter", "slideshow", "editable", "deletable")


def plain(notebook):
    """The notebook without the traces of a run and of its editor; the argument is left as it is."""
    notebook = copy.deepcopy(notebook)
    notebook.nbformat, notebook.nbformat_minor = 4, 5
    kept = {
        key: notebook.metadata[key] for key in ("title", "steelthermo") if key in notebook.metadata
    }
    kernel = {"display_name": "Python 3", "language": "python", "name": "python3"}
    notebook.metadata = nbformat.from_dict(
        {**kept, "kernelspec": kernel, "language_info": {"name": "python"}}
    )
    ids = set()
    count = 0
    for cell in notebook.cells:
        cell.metadata = nbformat.from_dict(
            {key: cell.metadata[key] for key in _KEPT_METADATA if key in cell.metadata}
        )
        cell.source = "\n".join(
            line.rstrip() if cell.cell_type == "code" else line
            for line in cell.source.rstrip().split("\n")
        )
        cell.id = _new_id(cell, ids)
        if cell.cell_type != "code":
            continue
        if cell.source:
            count += 1
        cell.execution_count = count if cell.source else None
        cell.outputs = [
            _plain_output(out, count)
            for out in cell.outputs
            if not any(kind in out.get("data", {}) for kind in WIDGETS)
        ]
    return notebook


def _new_id(cell, taken):
    stem = hashlib.sha256(f"{cell.cell_type}\n{cell.source}".encode()).hexdigest()[:8]
    name, n = stem, 1
    while name in taken:
        n += 1
        name = f"{stem}-{n}"
    taken.add(name)
    return name


def _plain_output(out, count):
    if out.output_type == "execute_result":
        out.execution_count = count
    if "metadata" in out:
        out.metadata = nbformat.from_dict(
            {key: value for key, value in out.metadata.items() if "/" in key}
        )  # sizes of pictures and the like
    if out.output_type == "stream":
        out.text = _ADDRESS.sub("0x...", out.text).replace(f"{ROOT}{os.sep}", "")
    for kind, value in out.get("data", {}).items():
        if kind.startswith("text/") and isinstance(value, str):
            out.data[kind] = _ADDRESS.sub("0x...", value)
    return out


def text_of(notebook):
    """Lines of all textual outputs, with the cell each stands in; pictures are left out."""
    lines = []
    for number, cell in enumerate(notebook.cells):
        for out in cell.get("outputs", ()):
            if out.output_type == "stream":
                texts = {out.name: out.text}
            elif out.output_type == "error":
                texts = {"error": f"{out.ename}: {out.evalue}"}
            else:
                texts = {
                    kind: value
                    for kind, value in out.data.items()
                    if kind in ("text/plain", "text/markdown", "text/html", "text/latex")
                }
            for kind, text in texts.items():
                if (
                    kind == "text/html"
                ):  # neither its looks nor the picture inside it; a line for each tag
                    text = re.sub(r"<(style|script)\b.*?</\1>", "", text, flags=re.DOTALL)
                    text = (
                        re.sub(r'(src=["\']?data:)[^"\' >]+', r"\1...", text)
                        .replace("<", "\n<")
                        .lstrip()
                    )
                lines += [f"cell {number}, {kind}: {line}" for line in text.splitlines()]
    return lines


def run(notebook, name, folder):
    """Execute a copy of the notebook inside the working copy `folder`; returns it. Raises
    nbclient's errors.
    """
    notebook = copy.deepcopy(notebook)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    place = folder / name.parent
    place.mkdir(parents=True, exist_ok=True)
    client = NotebookClient(
        notebook,
        timeout=TIMEOUT_S,
        kernel_name="python3",
        resources={"metadata": {"path": str(place)}},
        store_widget_state=False,
        record_timing=False,
        coalesce_streams=True,
    )
    return client.execute()


def save(notebook, path):
    """Write the notebook whole or not at all; True if the file changed."""
    text = nbformat.writes(notebook) + "\n"
    if path.read_text(encoding="utf-8") == text:
        return False
    part = path.with_name(f"{path.name}.part")
    try:
        part.write_text(text, encoding="utf-8", newline="\n")
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return True


def treat(path, folder, check):
    """Run one notebook; returns (good, what to print)."""
    name = path.relative_to(ROOT) if path.is_relative_to(ROOT) else Path(path.name)
    saved = nbformat.read(path, as_version=4)
    try:
        fresh = plain(run(saved, name, folder))
    except (CellExecutionError, CellTimeoutError, DeadKernelError) as error:
        return False, f"{name}: not saved, it does not run:\n{error}"
    nbformat.validate(fresh)
    if not check:
        return True, f"{name}: {'saved' if save(fresh, path) else 'unchanged'}"
    before, after = text_of(plain(saved)), text_of(fresh)
    if before == after:
        return True, f"{name}: as saved"
    diff = list(difflib.unified_diff(before, after, "saved", "now", lineterm="", n=0))
    return False, "\n".join([f"{name}: text outputs differ from those saved", *diff[:60]])


def main(argv=None):
    """Run the command line; returns 0 if every notebook ran (and, with --check, says what is
    saved).
    """
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("notebook", nargs="*", type=Path)
    parser.add_argument(
        "--check",
        action="store_true",
        help="change nothing; tell where text outputs differ from those saved",
    )
    options = parser.parse_args(argv)
    paths = [p.resolve() for p in options.notebook] or sorted(
        [*ROOT.glob("lessons/*.ipynb"), *ROOT.glob("exercises/*.ipynb")]
    )
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, (str(ROOT), os.environ.get("PYTHONPATH")))
    )
    os.environ.pop("STEELTHERMO_FOLDER", None)
    good = True
    for path in paths:
        # a working copy for each: nobody's name and numbers, and no answer sheet left in the tree
        with tempfile.TemporaryDirectory() as folder:
            working_copy(folder)
            fine, text = treat(path, Path(folder).resolve(), options.check)
        print(text, flush=True)
        good &= fine
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
