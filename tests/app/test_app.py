"""The commands of the kit: working copy, quiet JupyterLab, environment check, wheel. Nothing here
needs an outside source.
"""

import errno
import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path
from types import SimpleNamespace

import pytest

from steelthermo import __version__
from steelthermo.app import check, cli, lab
from steelthermo.app import working_copy as copies
from steelthermo.app.working_copy import StartError, place, shipped, working_copy

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def kit(tmp_path):
    """A small kit with its package, as it looks in a clone; kit.edit(name, text) ships a file."""

    class Kit:
        package = tmp_path / "kit" / "steelthermo"

        @classmethod
        def edit(cls, name, text):
            path = cls.package.parent / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")

    Kit.package.mkdir(parents=True)
    Kit.edit("lessons/00_start_here.ipynb", "zero")
    Kit.edit("lessons/08_heat_balance.ipynb", "eight")
    Kit.edit("lessons/img/map.png", "picture")
    Kit.edit("lessons/.ipynb_checkpoints/00_start_here-checkpoint.ipynb", "not to be shipped")
    Kit.edit("exercises/08_heat_balance.ipynb", "problems")
    return Kit


NAMES = (
    "lessons/00_start_here.ipynb",
    "lessons/08_heat_balance.ipynb",
    "lessons/img/map.png",
    "exercises/08_heat_balance.ipynb",
)


def tree(folder):
    return {
        p.relative_to(folder).as_posix(): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file()
    }


# --- the working copy -----------------------------------------------------------------------------


def test_copies_all_that_is_shipped_and_nothing_else(kit, tmp_path):
    copied = working_copy(tmp_path / "mine", package=kit.package)
    assert copied.added == NAMES and copied.left == copied.newer == copied.beside == ()
    assert set(tree(tmp_path / "mine")) == {*NAMES, ".steelthermo/copies.json"}
    assert "4 files added, 0 files already there" in str(copied)


def test_the_trainers_notebook_is_copied_when_asked_and_then_kept(kit, tmp_path):
    kit.edit(copies.TRAINER, "plans")
    mine = tmp_path / "mine"
    assert working_copy(mine, package=kit.package).added == NAMES
    assert working_copy(mine, trainer=True, package=kit.package).added == (copies.TRAINER,)
    kit.edit(copies.TRAINER, "plans, second edition")
    assert working_copy(mine, package=kit.package).newer == (copies.TRAINER,)


def test_from_a_wheel_the_notebooks_inside_the_package_are_taken(kit, tmp_path):
    (kit.package / "_lessons").mkdir()
    (kit.package / "_lessons" / "00_start_here.ipynb").write_text("inside")
    assert shipped(kit.package)["lessons/00_start_here.ipynb"].read_text() == "inside"


def test_never_touches_what_exists(kit, tmp_path):
    mine = tmp_path / "mine"
    (mine / "lessons").mkdir(parents=True)
    (mine / "lessons" / "00_start_here.ipynb").write_text("my own words")
    before = (mine / "lessons" / "00_start_here.ipynb").stat()
    copied = working_copy(mine, package=kit.package)
    after = (mine / "lessons" / "00_start_here.ipynb").stat()
    assert (before.st_mtime_ns, before.st_ino, before.st_size) == (
        after.st_mtime_ns,
        after.st_ino,
        after.st_size,
    )
    assert copied.left == NAMES[:1] and copied.added == NAMES[1:]


@pytest.mark.skipif(os.name == "nt", reason="making links takes rights of its own on Windows")
def test_even_a_link_that_leads_nowhere_is_the_learners(kit, tmp_path):
    link = tmp_path / "mine" / NAMES[1]
    link.parent.mkdir(parents=True)
    os.symlink(tmp_path / "nowhere", link)
    assert working_copy(tmp_path / "mine", package=kit.package).left == NAMES[1:2]
    assert os.readlink(link) == str(tmp_path / "nowhere") and not (tmp_path / "nowhere").exists()


def test_second_start_adds_nothing_and_a_changed_lesson_is_not_called_old(kit, tmp_path):
    mine = tmp_path / "mine"
    working_copy(mine, package=kit.package)
    (mine / NAMES[1]).write_text("eight, with my notes")
    before = tree(mine)
    copied = working_copy(mine, package=kit.package)
    assert copied.added == () and copied.newer == () and copied.left == NAMES
    assert tree(mine) == before


def test_newer_edition_is_told_and_put_beside_on_request(kit, tmp_path):
    mine = tmp_path / "mine"
    working_copy(mine, package=kit.package)
    (mine / NAMES[1]).write_text("eight, with my notes")
    kit.edit(NAMES[1], "eight, second edition")
    copied = working_copy(mine, package=kit.package)
    assert copied.newer == (NAMES[1],) and "--newer" in str(copied) and NAMES[1] in str(copied)
    assert (mine / NAMES[1]).read_text() == "eight, with my notes"
    copied = working_copy(mine, newer=True, package=kit.package)
    assert copied.beside == ("lessons/08_heat_balance_newer.ipynb",) and copied.newer == ()
    assert (mine / "lessons" / "08_heat_balance_newer.ipynb").read_text() == "eight, second edition"
    assert (mine / NAMES[1]).read_text() == "eight, with my notes"
    again = working_copy(mine, newer=True, package=kit.package)
    assert again.beside == () and again.newer == ()  # told once, not for ever
    kit.edit(NAMES[1], "eight, third edition")
    assert working_copy(mine, newer=True, package=kit.package).beside == (
        "lessons/08_heat_balance_newer_2.ipynb",
    )
    assert (mine / "lessons" / "08_heat_balance_newer.ipynb").read_text() == "eight, second edition"


def test_a_damaged_record_is_kept_aside_and_nothing_is_lost(kit, tmp_path):
    mine = tmp_path / "mine"
    working_copy(mine, package=kit.package)
    (mine / NAMES[1]).write_text("eight, with my notes")
    (mine / ".steelthermo" / "copies.json").write_text('{"lessons/00')
    copied = working_copy(mine, package=kit.package)
    assert copied.newer == (
        NAMES[1],
    )  # no longer known whether the learner changed it: said, not overwritten
    assert [p.read_text() for p in (mine / ".steelthermo").glob("copies.damaged-*.json")] == [
        '{"lessons/00'
    ]
    assert (mine / NAMES[1]).read_text() == "eight, with my notes"


@pytest.mark.parametrize(
    "name", ["my steel course", "Stähle für Anfänger", "製鋼 コース", "a 'quoted' & odd; name"]
)
def test_blanks_and_letters_of_any_script_in_the_path(kit, tmp_path, name):
    copied = working_copy(tmp_path / name, package=kit.package)
    assert (tmp_path / name / NAMES[0]).read_text() == "zero" and len(copied.added) == 4


def test_works_where_hard_links_do_not_exist(kit, tmp_path, monkeypatch):
    def no_links(*_):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    assert working_copy(tmp_path / "stick", package=kit.package).added == NAMES
    assert not place(b"other", tmp_path / "stick" / NAMES[0])
    assert (tmp_path / "stick" / NAMES[0]).read_text() == "zero"
    assert not [p for p in (tmp_path / "stick").rglob("*.part")]


def test_a_file_that_appears_meanwhile_wins(tmp_path, monkeypatch):
    target = tmp_path / "a.ipynb"
    real = os.link

    def racing(source, destination):
        Path(destination).write_text("the learner's")
        real(source, destination)

    monkeypatch.setattr(os, "link", racing)
    assert not place(b"ours", target)
    assert target.read_text() == "the learner's" and list(tmp_path.iterdir()) == [target]


def test_refusals_are_one_sentence(kit, tmp_path, monkeypatch):
    file = tmp_path / "a file"
    file.write_text("x")
    for folder in (file, file / "below"):
        with pytest.raises(
            StartError,
            match=r"a file is a file, and a folder is needed there: name another folder with "
            r"--folder\.$",
        ):
            working_copy(folder, package=kit.package)
    (tmp_path / "half").mkdir()
    (tmp_path / "half" / "lessons").write_text("x")
    with pytest.raises(StartError, match="cannot|written|is a file"):
        working_copy(tmp_path / "half", package=kit.package)
    kit.edit("steelthermo/__init__.py", "")
    with pytest.raises(StartError, match="holds the kit itself"):
        working_copy(kit.package.parent, package=kit.package)
    with pytest.raises(StartError, match="not installed whole"):
        working_copy(tmp_path / "mine", package=tmp_path / "nothing" / "steelthermo")


def test_read_only_folder(kit, tmp_path):
    folder = tmp_path / "locked"
    folder.mkdir(mode=0o555)
    if os.access(folder, os.W_OK):  # root may write anywhere but in the kernel's own folders
        folder = Path("/sys/kernel/steelthermo")
        if not folder.parent.is_dir():
            pytest.skip("no read-only folder can be made by this user on this system")
    with pytest.raises(
        StartError,
        match=r"^Nothing can be written in .* \(.*\): name a folder of your own with --folder\.$",
    ):
        working_copy(folder, package=kit.package)


@pytest.mark.parametrize("at", [1, 3])  # the first file written, and one half way
def test_full_disk_leaves_whole_files_only(kit, tmp_path, monkeypatch, at):
    calls = 0

    def full(descriptor):
        nonlocal calls
        calls += 1
        if calls >= at:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StartError, match=r"is full: free some space"):
        working_copy(tmp_path / "mine", package=kit.package)
    left = tree(tmp_path / "mine")
    assert set(left) == set(NAMES[: at - 1]) and all(
        left[n] == (kit.package.parent / n).read_bytes() for n in left
    )
    monkeypatch.undo()
    assert working_copy(tmp_path / "mine", package=kit.package).added == NAMES[at - 1 :]


def test_default_folder_is_not_the_clone(tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert copies.default_folder() == tmp_path / "steelthermo"
    (tmp_path / "steelthermo" / "steelthermo").mkdir(parents=True)
    (tmp_path / "steelthermo" / "steelthermo" / "__init__.py").write_text("")
    assert copies.default_folder() == tmp_path / "steelthermo-work"


# --- the command line -----------------------------------------------------------------------------


def run(*argv, cwd=ROOT, **env):
    return subprocess.run(
        [sys.executable, "-m", "steelthermo", *argv],
        cwd=cwd,
        env={**os.environ, **env},
        capture_output=True,
        text=True,
        encoding="utf-8",
    )


def test_faults_end_with_one_sentence_and_a_code(tmp_path):
    (tmp_path / "file").write_text("x")
    done = run("--folder", str(tmp_path / "file"), "--copy-only")
    assert done.returncode == 1 and done.stdout == ""
    assert re.fullmatch(
        r"steelthermo: .* is a file, and a folder is needed there: .*\.\n", done.stderr
    )
    done = run("opne")
    assert done.returncode == 2 and "no command 'opne'" in done.stderr and "check" in done.stderr


def test_a_folder_the_terminal_cannot_spell(tmp_path):
    done = run("--folder", str(tmp_path / "Stähle"), "--copy-only", PYTHONIOENCODING="ascii")
    assert done.returncode == 0 and "St\\xe4hle" in done.stdout
    assert (tmp_path / "Stähle" / "lessons").is_dir()


def test_version_and_help():
    assert run("--version").stdout == f"steelthermo {__version__}\n"
    text = run("--help").stdout
    assert "--folder" in text and "steelthermo check" in text


def test_the_command_starts_without_the_rooms():
    """The command must not wait for NumPy, Cantera, Jupyter or the rooms behind the other
    commands.
    """
    code = "import sys, steelthermo.app.cli; print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    heavy = {
        "numpy",
        "cantera",
        "matplotlib",
        "ipywidgets",
        "jupyterlab",
        "steelthermo.works",
        "steelthermo.coursekit",
        "steelthermo.course",
    }
    assert not heavy & set(loaded)


def test_every_command_has_its_room():
    for where, what in cli._COMMANDS.values():
        assert callable(cli._function(where)) and what in cli._parser().format_help()


def test_commands_are_passed_on(monkeypatch, capsys):
    from steelthermo.base import InputError

    def room(argv):
        if argv == ["--bad"]:
            raise InputError("hot metal: -1 t was given; allowed is zero or more.")
        return 7 if argv else None

    monkeypatch.setattr(check, "main", room)
    assert cli.main(["check"]) == 0 and cli.main(["check", "--folder", "x"]) == 7
    assert cli.main(["check", "--bad"]) == 1
    assert (
        capsys.readouterr().err
        == "steelthermo: hot metal: -1 t was given; allowed is zero or more.\n"
    )


# --- JupyterLab -----------------------------------------------------------------------------------


def test_opens_the_first_lesson_there_is():
    assert (
        lab.first_lesson(
            [
                "exercises/00_a.ipynb",
                "lessons/08_b.ipynb",
                "lessons/02_c.ipynb",
                "lessons/01_map.png",
            ]
        )
        == "lessons/02_c.ipynb"
    )


def test_arguments_for_jupyterlab(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
    monkeypatch.setenv("DISPLAY", ":0")
    arguments = lab.lab_arguments(tmp_path / "my course", "lessons/00_start_here.ipynb")
    assert f"--ServerApp.root_dir={tmp_path / 'my course'}" in arguments
    assert "--LabApp.default_url=/lab/tree/lessons/00_start_here.ipynb" in arguments
    assert "--allow-root" in arguments and "--no-browser" not in arguments
    monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)
    assert "--allow-root" not in lab.lab_arguments(tmp_path, "lessons/00_start_here.ipynb")
    assert "--no-browser" in lab.lab_arguments(
        tmp_path, "lessons/00_start_here.ipynb", browser=False
    )
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        monkeypatch.delenv(name, raising=False)
    if sys.platform.startswith("linux"):
        assert "--no-browser" in lab.lab_arguments(tmp_path, "lessons/00_start_here.ipynb")


def test_settings_are_those_jupyterlab_knows():
    """A setting with a name JupyterLab does not know would be ignored without a word: compare with
    the schemas it ships.
    """
    from jupyterlab.commands import get_app_dir

    overrides = json.loads(
        (ROOT / "steelthermo" / "app" / "lab_settings" / "overrides.json").read_text()
    )
    for plugin, settings in overrides.items():
        package, name = plugin.split(":")
        schema = json.loads(
            (Path(get_app_dir()) / "schemas" / package / f"{name}.json").read_text(encoding="utf-8")
        )
        for key, value in settings.items():
            known = schema["properties"][key]
            if isinstance(value, dict):
                assert value.keys() == known["default"].keys() and all(
                    isinstance(v, type(known["default"][k])) for k, v in value.items()
                )
                continue
            assert (
                value in [c["const"] for c in known.get("oneOf", [])]
                or value in known.get("enum", [])
                or isinstance(value, bool)
            )


def test_what_is_switched_off_is_a_part_of_jupyterlab():
    """The tab's icon for a busy kernel, fetched and decoded anew at every move of a slider, takes
    the page some milliseconds each time.
    """
    from jupyterlab.commands import get_app_dir
    from jupyterlab_server.config import get_page_config

    settings = ROOT / "steelthermo" / "app" / "lab_settings"
    parts = json.loads((settings / "page_config.json").read_text())["disabledExtensions"]
    assert set(parts) <= set(get_page_config([], str(settings))["disabledExtensions"])
    scripts = [
        path.read_text(encoding="utf-8") for path in (Path(get_app_dir()) / "static").glob("*.js")
    ]
    for part in parts:
        assert any(f'"{part}"' in script or f"'{part}'" in script for script in scripts), part


def test_messages_to_the_page_are_sent_at_once(monkeypatch):
    """The class that the argument names is one that this Jupyter takes, and the first thing it does
    is to set TCP_NODELAY.
    """
    from jupyter_server.serverapp import ServerApp
    from jupyter_server.services.kernels.websocket import KernelWebsocketHandler

    monkeypatch.delenv("JUPYTER_GATEWAY_URL", raising=False)
    (argument,) = lab._prompt_connection()
    app = ServerApp()
    app.parse_command_line([argument])
    chosen = app.kernel_websocket_connection_class
    assert chosen.__name__ == "PromptConnection"

    done = []

    class Handler(KernelWebsocketHandler):
        def __init__(self):
            pass

        def set_nodelay(self, on):
            done.append(("nodelay", on))

    connection = chosen.__new__(chosen)
    connection.websocket_handler = Handler()
    monkeypatch.setattr(
        chosen.__mro__[1], "connect", lambda self: done.append("connected") or "future"
    )
    assert connection.connect() == "future" and done == [("nodelay", True), "connected"]


def test_a_jupyter_without_that_class_still_opens(monkeypatch):
    monkeypatch.setitem(sys.modules, "steelthermo.app.socket", None)  # importing it fails
    assert lab._prompt_connection() == []
    monkeypatch.undo()
    monkeypatch.setenv(
        "JUPYTER_GATEWAY_URL", "http://127.0.0.1:1"
    )  # kernels on another computer: Jupyter has a connection of its own for them
    assert lab._prompt_connection() == []


def test_the_start_builds_no_grammar():
    """Where Jupyter's JSON library would load one for a check that is never made; all that
    JupyterLab needs is there without it.
    """
    code = (
        "import sys; from pathlib import Path; from steelthermo.app import lab\n"
        "lab.write_probe = lambda path: sys.exit('grammar' if 'lark' in sys.modules else "
        "'none')\n"
        "lab.start(Path('x'), 'x')"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.stderr.strip() == "none"


def test_jupyter_without_a_place_to_write(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("x")
    monkeypatch.setenv("JUPYTER_RUNTIME_DIR", str(tmp_path / "file" / "runtime"))
    with pytest.raises(StartError, match=r"set JUPYTER_RUNTIME_DIR to a folder of your own"):
        lab.start(tmp_path, "lessons/00_start_here.ipynb")


# --- steelthermo check ----------------------------------------------------------------------------


def faults(found):
    return [f for f in found if not f.ok]


def test_check_finds_no_fault_where_there_is_none(tmp_path):
    found = [
        *check.data_files(),
        *check.lab(),
        *check.kernel(),
        *check.write_access(tmp_path / "mine"),
    ]
    assert faults(found) == [] and len(found) == 10
    assert not (tmp_path / "mine").exists()  # looking leaves nothing behind
    assert [str(f) for f in found if "nasa_gas" in f.what][0].startswith(
        "   ok  data file nasa_gas.yaml of Cantera: "
    )


@pytest.fixture
def declare(tmp_path, monkeypatch):
    """Declare the needs of an invented distribution."""

    def write(*requirements, python=">=3.11"):
        info = tmp_path / "site" / "demo-1.0.dist-info"
        info.mkdir(parents=True)
        lines = [
            "Metadata-Version: 2.1",
            "Name: demo",
            "Version: 1.0",
            f"Requires-Python: {python}",
            *(f"Requires-Dist: {r}" for r in requirements),
        ]
        (info / "METADATA").write_text("\n".join(lines) + "\n")
        monkeypatch.syspath_prepend(tmp_path / "site")

    return write


def test_check_of_packages(declare, tmp_path):
    (tmp_path / "site" / "broken-2.0.dist-info").mkdir(parents=True)
    (tmp_path / "site" / "broken-2.0.dist-info" / "METADATA").write_text(
        "Metadata-Version: 2.1\nName: broken\nVersion: 2.0\n"
    )
    (tmp_path / "site" / "broken.py").write_text("raise ImportError('DLL load failed')\n")
    declare(
        "numpy>=1.26",
        "numpy>=99",
        "no-such-thing>=1",
        "broken>=1",
        'janaf; extra == "test"',
        python=">=99",
    )
    found = check.packages("demo")
    bad = faults(found)
    assert len(found) == 5 and len(bad) == 4
    assert "virtual environment anew with a Python >=99" in bad[0].remedy
    assert "the kit needs >=99" in bad[1].what and 'install --upgrade "numpy>=99"' in bad[1].remedy
    assert (
        bad[2].what == "no-such-thing is missing" and 'install "no-such-thing>=1"' in bad[2].remedy
    )
    assert "does not load: DLL load failed" in bad[3].what and "--force-reinstall" in bad[3].remedy
    assert "is not installed in this Python" in check.packages("steelthermo-unknown")[0].what


def test_check_of_a_kernel_that_is_another_python(tmp_path, monkeypatch):
    spec = tmp_path / "data" / "kernels" / "python3"
    spec.mkdir(parents=True)
    monkeypatch.setenv("JUPYTER_PATH", str(tmp_path / "data"))
    # stands for another Python
    start = (
        f"import sys; sys.prefix = {str(tmp_path)!r}; from ipykernel.kernelapp import main; main()"
    )
    argv = [sys.executable, "-c", start, "-f", "{connection_file}"]
    (spec / "kernel.json").write_text(
        json.dumps({"argv": argv, "display_name": "other", "language": "python"})
    )
    (fault,) = check.kernel()
    assert (
        f"starts the Python in {tmp_path}, not this one" in fault.what
        and str(spec) in fault.what
        and "ipykernel install --sys-prefix" in fault.remedy
    )
    (spec / "kernel.json").write_text(
        json.dumps(
            {
                "argv": [sys.executable, "-c", "raise SystemExit('no ipykernel here')"],
                "display_name": "x",
                "language": "python",
            }
        )
    )
    (fault,) = check.kernel(timeout_s=20)
    assert "does not start or answer" in fault.what and "no ipykernel here" in fault.what


def test_check_of_places_data_and_sliders(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("x")
    (fault,) = faults(check.write_access(tmp_path / "file" / "mine"))
    assert "the working copy cannot be written in" in fault.what and "--folder" in fault.remedy
    monkeypatch.setattr(check.shutil, "disk_usage", lambda _: SimpleNamespace(free=3e6))
    assert "only 3 MB are free" in faults(check.write_access(tmp_path / "mine"))[0].what
    monkeypatch.setattr("jupyter_core.paths.jupyter_path", lambda *_: [str(tmp_path)])
    assert "lacks the part that draws sliders" in faults(check.lab())[0].what


def test_check_counts_lessons_and_exercises_by_their_numbers(monkeypatch):
    """The trainer's notebook is neither a lesson nor an exercise."""
    monkeypatch.setattr(
        check,
        "shipped",
        lambda: [*NAMES, "exercises/09_more.ipynb", "exercises/trainer.ipynb"],
    )
    assert [f.what for f in check.lessons()] == ["2 lessons and 2 exercises travel with the kit"]


def test_check_of_data_files(monkeypatch):
    monkeypatch.setattr(
        check, "DATA_FILES", {"nasa_gas.yaml": "Cantera", "nasa_none.yaml": "Cantera"}
    )
    good, bad = check.data_files()
    assert good.ok and not bad.ok
    assert (
        re.match(
            r"the data file nasa_none.yaml of Cantera cannot be read: [^\n]*there is no such file",
            bad.what,
        )
        and "reinstall cantera" in bad.remedy
    )


def test_cantera_data_are_found_below_a_name_outside_ascii(tmp_path, monkeypatch):
    """Cantera drops letters outside ASCII from the name of its own data folder: an environment in
    such a folder would have no data.
    """
    import cantera

    from steelthermo.thermo import engine

    here = tmp_path / "Stähle" / "cantera"
    shutil.copytree(
        Path(cantera.__file__).parent / "data",
        here / "data",
        ignore=shutil.ignore_patterns("example*"),
    )
    monkeypatch.setattr(
        engine, "files", lambda package: here if package == "cantera" else tmp_path / "no kit"
    )
    expected = {
        s.name: list(s.thermo.coeffs) for s in cantera.Species.list_from_file("nasa_gas.yaml")
    }
    engine._records.cache_clear()
    found = {s.name: list(s.thermo.coeffs) for s in engine._records("nasa_gas.yaml")}
    engine._records.cache_clear()
    assert found == expected


def test_check_prints_each_remedy_and_counts(monkeypatch, capsys, tmp_path):
    monkeypatch.setattr(
        check,
        "findings",
        lambda folder: iter([check.Finding("a"), check.Finding("b is missing", "get b")]),
    )
    assert check.main(["--folder", str(tmp_path)]) == 1
    assert capsys.readouterr().out == (
        "   ok  a\nFAULT  b is missing\n       What to do: get b\n1 fault found; mend the first "
        "one first.\n"
    )
    monkeypatch.setattr(check, "findings", lambda folder: iter([check.Finding("a")]))
    assert check.main([]) == 0 and "All is well" in capsys.readouterr().out


# --- the wheel ------------------------------------------------------------------------------------


def build(source, kind, out):
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(out)],
        cwd=source,
        check=True,
        capture_output=True,
    )
    (built,) = out.iterdir()
    return built


def test_the_wheel_carries_the_lessons_and_opens_them(tmp_path):
    pytest.importorskip(
        "hatchling", reason="the test extras are not installed: no wheel can be built"
    )
    wheel = build(ROOT, "wheel", tmp_path / "wheel")
    site = tmp_path / "site"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
    with tarfile.open(build(ROOT, "sdist", tmp_path / "sdist")) as archive:
        archive.extractall(tmp_path / "unpacked", filter="data")
    (source,) = (tmp_path / "unpacked").iterdir()
    second = build(source, "wheel", tmp_path / "second")
    assert (
        second.read_bytes() == wheel.read_bytes()
    )  # the source distribution builds the very same wheel

    here = {name: path.read_bytes() for name, path in shipped().items()}
    inside = {name: path.read_bytes() for name, path in shipped(site / "steelthermo").items()}
    assert inside == here and str(next(iter(shipped(site / "steelthermo").values()))).startswith(
        str(site / "steelthermo" / "_lessons")
    )

    done = run(
        "--folder", str(tmp_path / "mine"), "--copy-only", cwd=tmp_path, PYTHONPATH=str(site)
    )
    assert done.returncode == 0, done.stderr
    del here[copies.TRAINER]
    assert {n: (tmp_path / "mine" / n).read_bytes() for n in here} == here

    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        (about,) = (archive.read(n).decode() for n in names if n.endswith(".dist-info/METADATA"))
    assert "License-Expression: MIT\nLicense-File: steelthermo/LICENSE.txt\n" in about
    assert "steelthermo/py.typed" in names and "steelthermo/LICENSE.txt" in names
    assert "\nProject-URL" not in about and "\nHome-page" not in about
    assert f"\nVersion: {__version__}\n" in about


def test_readme_lists_the_lessons_there_are():
    listed = dict(
        re.findall(
            r"^\| (\d\d) \| `(\w+)` \|.*\| yes \|$",
            (ROOT / "README.md").read_text(encoding="utf-8"),
            re.M,
        )
    )
    assert {f"{n}_{name}.ipynb" for n, name in listed.items()} == {
        p.name for p in (ROOT / "lessons").glob("*.ipynb")
    }
