"""What Windows, macOS and a hub do otherwise, simulated here: none of them was at hand.

What each does is from memory of its documentation; locks: tests/coursekit/sheet/test_lock.py;
reserved names: test_sheets.py there; paths under 260 characters and modules of one system alone:
tests/test_rules.py.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from unittest.mock import Mock

import pytest
from tornado.web import Application

from steelthermo.app import lab
from steelthermo.app.working_copy import working_copy
from steelthermo.base import InputError, data_path
from steelthermo.coursekit.marking import ground
from steelthermo.coursekit.sheet import fingerprint, load_course
from steelthermo.works import load_profile

ROOT = Path(__file__).resolve().parents[2]
HUB = ROOT / "steelthermo" / "app" / "hub"


def run(*argv, cwd=ROOT, **env):
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    return subprocess.run(
        [sys.executable, "-m", "steelthermo", *argv],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": path, **env},
        capture_output=True,
    )


# --- the README's lines ---------------------------------------------------------------------------


def test_windows_does_what_the_others_do():
    """Each line for Windows is the one for the others in its words; and where there is no `py`,
    the text says what to write.
    """
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    here = re.findall(r"```sh\n(.*)\n```", text)
    there = re.findall(r"```bat\n(.*)\n```", text)
    assert len(here) == len(there) == 2
    for one, other in zip(here, there, strict=True):
        words = one.replace("python3 ", "py ").replace(".venv/bin/", ".venv\\Scripts\\")
        assert other == f'cmd /c "{words.replace(chr(34), "")}"'
    assert re.search(r"where `py` is not known, .*write `python` in its place", text)
    services = (ROOT / ".ci" / "three_systems.yml").read_text(encoding="utf-8")
    for _, line in (("", here[1]), ("", there[1])):
        test = line.partition("&& .venv")[2].rpartition("&& ")[2].rstrip('"')
        assert test in services


# --- JupyterLab's start ---------------------------------------------------------------------------


def test_python_from_the_store_gives_the_browser_no_file(tmp_path, monkeypatch):
    """It writes below AppData where other programs find nothing: the browser gets an address."""
    from jupyter_server.serverapp import ServerApp

    argument = "--ServerApp.use_redirect_file=False"
    assert argument not in lab.lab_arguments(tmp_path, "lessons/00_start_here.ipynb")
    monkeypatch.setattr(sys, "platform", "win32")
    assert argument in lab.lab_arguments(tmp_path, "lessons/00_start_here.ipynb")
    app = ServerApp()
    app.parse_command_line([argument])
    assert app.use_redirect_file is False


# --- consoles -------------------------------------------------------------------------------------


@pytest.mark.parametrize("code_page", ["cp437", "cp932"])
def test_a_console_that_lacks_letters(tmp_path, code_page):
    (tmp_path / "class.csv").write_text("id,name\n1,Łukasz Żak\n2,Ana 💥\n", encoding="utf-8")
    env = {"PYTHONIOENCODING": code_page, "HOME": str(tmp_path), "USERPROFILE": str(tmp_path)}
    done = run("class", "class.csv", cwd=tmp_path, **env)
    assert done.returncode == 0 and b"for each of 2 learners" in done.stdout
    assert (done.stdout + done.stderr).decode(code_page)


# --- files ----------------------------------------------------------------------------------------


def test_line_ends_of_windows_change_nothing(tmp_path, monkeypatch):
    text = 'key = "K"\npredict_first = false\n'
    for name, ends in (("a", "\n"), ("b", "\r\n")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "course.toml").write_text(text, encoding="utf-8-sig", newline=ends)
    assert load_course(tmp_path / "a") == load_course(tmp_path / "b")

    from steelthermo.coursekit.adapter import in_use
    from steelthermo.coursekit.sheet import sheets

    before, files = fingerprint(), in_use().data()
    for place, path in enumerate(files.values()):
        lines = path.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", b"\r\n")
        (tmp_path / str(place)).write_bytes(lines)
    moved = {name: tmp_path / str(place) for place, name in enumerate(files)}
    assert sheets._fingerprint.__wrapped__(lambda: moved) == before


def test_the_ending_that_windows_hides_is_told(tmp_path, monkeypatch):
    (tmp_path / "in").mkdir()
    (tmp_path / "course.toml.txt").write_text('key = "K"')
    with pytest.raises(InputError, match="it must be called course.toml"):
        load_course(tmp_path)
    told = ground(tmp_path / "in").told
    assert any("it must be called course.toml" in line for line in told)
    (tmp_path / "works.toml.txt").write_text("x")
    monkeypatch.chdir(tmp_path / "in")
    with pytest.raises(InputError, match="must be called works.toml"):
        load_profile()
    (tmp_path / "in" / "works.toml").write_bytes(data_path("plover.toml").read_bytes())
    assert load_profile().name == "Plover Works"


def test_names_that_differ_by_case_alone_are_none(tmp_path):
    """Windows and macOS would make one file of them."""
    made = working_copy(tmp_path / "mine").added
    assert len({name.casefold() for name in made}) == len(made)
    assert not [n for n in made if re.search(r'[<>:"|?*\\]|[. ]$', n)]


# --- a hub ----------------------------------------------------------------------------------------


def test_settings_of_a_hub_are_taken(monkeypatch):
    """By a server that finds in its path what the wheel brings to etc/jupyter."""
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", str(HUB))
    from jupyter_server.serverapp import ServerApp
    from jupyterlab_server.config import get_page_config

    app = ServerApp()
    app.find_server_extensions()
    assert app.jpserver_extensions["steelthermo.app.socket"] is True
    off = get_page_config([])["disabledExtensions"]
    own = json.loads((HUB.parent / "lab_settings" / "page_config.json").read_text())
    assert set(own["disabledExtensions"]) <= set(off)


def test_the_usual_connection_alone_is_replaced():
    from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection

    from steelthermo.app import socket

    (point,) = socket._jupyter_server_extension_points()
    assert point["module"] == "steelthermo.app.socket"
    for chosen, used in ((ZMQChannelsWebsocketConnection, socket.PromptConnection), (dict, dict)):
        app = Application(kernel_websocket_connection_class=chosen)
        socket._load_jupyter_server_extension(Mock(web_app=app))
        assert app.settings["kernel_websocket_connection_class"] is used


def test_one_course_for_all(tmp_path, monkeypatch):
    shared, own = tmp_path / "shared.toml", tmp_path / "own"
    own.mkdir()
    shared.write_text('key = "HUB-1"\n')
    monkeypatch.setenv("STEELTHERMO_COURSE", str(shared))
    assert load_course(tmp_path).key == "HUB-1" == ground(tmp_path).course.key
    (own / "course.toml").write_text('key = "OWN"\n')
    assert load_course(own).key == "OWN"
    shared.unlink()
    with pytest.raises(InputError, match="STEELTHERMO_COURSE names .*shared.toml"):
        load_course(tmp_path)
