"""Every lesson and exercise runs at every works that ships, without an error in a cell. Nothing
here needs an outside source. Long: the usual works has its turn in the short tests.
"""

import nbformat
import pytest
from nbclient import NotebookClient

from steelthermo.app.working_copy import shipped
from steelthermo.app.works_file import annotated
from steelthermo.works import PROFILE_FILE, WORKS

NOTEBOOKS = {name: path for name, path in shipped().items() if name.endswith(".ipynb")}


@pytest.mark.long
@pytest.mark.parametrize(
    "name, works", [(name, works) for name in NOTEBOOKS for works in WORKS[1:]]
)
def test_notebook(name, works, tmp_path, monkeypatch):
    (tmp_path / PROFILE_FILE).write_text(annotated(works), encoding="utf-8")
    monkeypatch.setenv("STEELTHERMO_FOLDER", str(tmp_path))
    notebook = nbformat.read(NOTEBOOKS[name], as_version=4)
    client = NotebookClient(notebook, timeout=300, kernel_name="python3")
    client.execute(cwd=str(tmp_path))  # raises where a cell does
