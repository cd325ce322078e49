"""The command that plans a heat, as it is typed."""

import pytest

from steelthermo.app.cli import main
from steelthermo.heats import parse

pytestmark = pytest.mark.filterwarnings("ignore::steelthermo.base.ExtrapolationWarning")


def test_a_form_a_page_and_nothing_written_over(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["plan"]) == 0
    (tmp_path / "heat.toml").write_text(capsys.readouterr().out, encoding="utf-8")
    assert main(["plan", "heat.toml"]) == 0
    assert "Written: plan.html" in capsys.readouterr().out
    assert "local codes" in (tmp_path / "plan.html").read_text(encoding="utf-8")
    assert main(["plan", "heat.toml"]) == 1
    assert "File exists" in capsys.readouterr().err
    assert main(["plan", "none.toml"]) == 1 and "can't be read" in capsys.readouterr().err


def test_the_form_of_a_log_holds_no_heat_yet(capsys):
    assert main(["plan", "--log"]) == 0
    with pytest.raises(ValueError, match="no heat is left"):
        parse(capsys.readouterr().out)
