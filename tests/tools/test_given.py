"""Tools that are run by hand: asked for help, they tell what they do and do nothing."""

import runpy
import sys
from pathlib import Path

import pytest

TOOLS = sorted(p for p in Path(__file__).parent.glob("*.py") if "\nif __name__" in p.read_text())


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: tool.stem)
def test_help_does_no_work(tool, monkeypatch, tmp_path, capsys):
    text = tool.read_text(encoding="utf-8")
    assert "given(__doc__" in text or "ArgumentParser(" in text  # else it would work now
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "argv", [str(tool), "--help"])
    monkeypatch.setattr(sys, "path", [*sys.path])
    with pytest.raises(SystemExit) as end:
        runpy.run_path(str(tool), run_name="__main__")
    assert not end.value.code and "usage:" in capsys.readouterr().out
    assert not list(tmp_path.iterdir())
