"""The tool that runs and saves notebooks (tests/tools/save_notebooks.py): what it keeps, what it
removes, what it tells.
"""

import importlib.util
from pathlib import Path

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

_spec = importlib.util.spec_from_file_location(
    "save_notebooks", Path(__file__).parents[1] / "tools" / "save_notebooks.py"
)
tool = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(tool)

VIEW = "application/vnd.jupyter.widget-view+json"


def dirty():
    """A notebook as an editor leaves it after a run with a panel."""
    still = new_output(
        "display_data",
        data={
            "text/html": "<img alt='bars' src='data:image/png;base64,AAAA'>",
            "text/plain": "Title: 24 %",
        },
        metadata={"isolated": True},
    )
    live = new_output("display_data", data={VIEW: {"model_id": "abc"}, "text/plain": "VBox()"})
    result = new_output(
        "execute_result", data={"text/plain": "<thing at 0x7f0123456789>"}, execution_count=41
    )
    cells = [
        new_markdown_cell("# Title", metadata={"collapsed": True}),
        new_code_cell(
            "course.panel()  ",
            outputs=[still, live],
            execution_count=40,
            metadata={"execution": {"iopub.status.busy": "now"}, "tags": ["keep"]},
        ),
        new_code_cell("thing", outputs=[result], execution_count=41),
        new_code_cell("thing", outputs=[], execution_count=42),
    ]
    metadata = {
        "widgets": {"application/vnd.jupyter.widget-state+json": {"state": {}}},
        "kernelspec": {"name": "mine", "display_name": "Mine"},
        "vscode": 1,
    }
    return new_notebook(cells=cells, metadata=metadata)


def test_keeps_the_still_and_removes_the_traces_of_the_run():
    clean = tool.plain(dirty())
    nbformat.validate(clean)
    assert (
        set(clean.metadata) == {"kernelspec", "language_info"}
        and clean.metadata.kernelspec.name == "python3"
    )
    markdown, panel, thing, again = clean.cells
    assert (
        markdown.metadata == {}
        and panel.metadata == {"tags": ["keep"]}
        and panel.source == "course.panel()"
    )
    assert [sorted(out.data) for out in panel.outputs] == [
        ["text/html", "text/plain"]
    ]  # the still, not the live widget
    assert thing.outputs[0].data["text/plain"] == "<thing at 0x...>"
    assert [c.execution_count for c in clean.cells[1:]] == [1, 2, 3] and thing.outputs[
        0
    ].execution_count == 2
    assert again.id != thing.id and again.id.startswith(thing.id)
    assert tool.plain(clean) == clean  # nothing more to do the second time


def test_ids_depend_on_content_alone():
    first, second = tool.plain(dirty()), tool.plain(dirty())
    assert [c.id for c in first.cells] == [c.id for c in second.cells]
    changed = dirty()
    changed.cells.insert(1, new_markdown_cell("a word more"))
    assert [c.id for c in tool.plain(changed).cells if c.source != "a word more"] == [
        c.id for c in first.cells
    ]


def test_looks_and_pictures_are_not_compared_but_words_are():
    def lines(style, picture, alt):
        html = (
            f"<style>{style}</style><p>How much?</p><img src='data:image/png;base64,{picture}' "
            f"alt='{alt}'>"
        )
        return tool.text_of(
            new_notebook(
                cells=[
                    new_code_cell(
                        "panel", outputs=[new_output("display_data", data={"text/html": html})]
                    )
                ]
            )
        )

    assert (
        lines("p{margin:0}", "AAAA", "24 %")
        == lines("p{margin:1px}", "BBBB", "24 %")
        != lines("p{margin:0}", "AAAA", "25 %")
    )


@pytest.mark.parametrize(
    "path",
    sorted([*tool.ROOT.glob("lessons/*.ipynb"), *tool.ROOT.glob("exercises/*.ipynb")]),
    ids=lambda p: f"{p.parent.name}/{p.stem}",
)
def test_notebooks_of_the_kit_are_saved_by_the_tool(path):
    """No widget state, no one's kernel, no times: if this fails, run tests/tools/save_notebooks.py
    on the notebook.
    """
    saved = nbformat.read(path, as_version=4)
    assert tool.plain(saved) == saved
    assert all(
        cell.execution_count for cell in saved.cells if cell.cell_type == "code" and cell.source
    )


@pytest.fixture
def notebook(tmp_path):
    def write(*sources):
        path = tmp_path / "sample.ipynb"
        nbformat.write(new_notebook(cells=[new_code_cell(s) for s in sources]), path)
        return path

    (tmp_path / "folder").mkdir()
    return write


def test_saves_then_agrees_and_tells_a_changed_figure(notebook, tmp_path):
    path = notebook("import ipywidgets\nprint('scrap: 24 %')", "ipywidgets.IntSlider()")
    assert tool.treat(path, tmp_path / "folder", check=False) == (True, "sample.ipynb: saved")
    saved = nbformat.read(path, as_version=4)
    assert saved.cells[0].outputs[0].text == "scrap: 24 %\n" and saved.cells[1].outputs == []
    assert tool.treat(path, tmp_path / "folder", check=True) == (True, "sample.ipynb: as saved")
    path.write_text(path.read_text().replace('scrap: 24 %\\n"\n     ]', 'scrap: 25 %\\n"\n     ]'))
    good, text = tool.treat(path, tmp_path / "folder", check=True)
    assert (
        not good
        and "-cell 0, stdout: scrap: 25 %" in text
        and "+cell 0, stdout: scrap: 24 %" in text
    )


def test_a_notebook_that_does_not_run_is_not_saved(notebook, tmp_path):
    path = notebook("1 / 0")
    before = path.read_bytes()
    good, text = tool.treat(path, tmp_path / "folder", check=False)
    assert not good and "ZeroDivisionError" in text and path.read_bytes() == before
