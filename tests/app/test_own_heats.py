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
    assert "it is there already" in capsys.readouterr().err


NAMED = [
    "plan none.toml", "plan --works none.toml", "profile --check none.toml", "class none.csv",
    "key --class none.csv", "key --learner Ada --exam none.toml", "mark . --class none.csv",
    "mark none", "words --known none.po", "--language none.po", "card --no-browser --out none/x",
]  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "there"),
    [(one, there) for one in NAMED for there in ("nothing", "folder")]
    # lists of names are read in old letters too
    + [(one, "other letters") for one in NAMED if one.rpartition(".")[2] in ("toml", "po")],
)
def test_a_file_that_cannot_be_read_is_told_in_words(typed, there, tmp_path, monkeypatch, capsys):
    """Never by a number of the system or by the name of an error."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("STEELTHERMO_SECRET", str(tmp_path / "secret.txt"))
    (tmp_path / "secret.txt").write_text("a secret of more than twenty characters")
    name = next(word for word in typed.split() if word.startswith("none"))
    if there == "folder":
        (tmp_path / name).mkdir(parents=True)
    if there == "other letters":
        (tmp_path / name).write_bytes(b"\xff\xfe\xfa = Gr\xfc\xdf")
    assert main(typed.split()) == 1
    told = capsys.readouterr().err
    assert name in told and not any(x in told for x in ("Errno", "Error", "codec", "Traceback"))


def test_the_form_of_a_log_holds_no_heat_yet(capsys):
    assert main(["plan", "--log"]) == 0
    with pytest.raises(ValueError, match="no heat is left"):
        parse(capsys.readouterr().out)
