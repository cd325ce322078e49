"""Lessons that run in a browser: JupyterLite with the kit in its Python, as files for any web
server.
"""

import json
import os
import shutil
import subprocess
import sys
import tarfile
import urllib.request
import zipfile
from pathlib import Path

from ...base import why_not
from ..working_copy import TRAINER, StartError, shipped
from .place import CONFIGURATION, LAB_SETTINGS, RUNTIME
from .wheels import runtime_for_the_kit


def build(out: Path, runtime: str = "") -> None:
    """Build the pages in a folder, which is made anew.

    Parameters
    ----------
    out : folder of the pages
    runtime : a Pyodide as an archive, a wheel that holds one, a folder or a web address; '': the
        address of the edition that the kernel here is made for

    Raises
    ------
    StartError
        Where the runtime cannot be had or the pages cannot be made.
    """
    out = out.absolute()
    work = out.with_name(f"work.{out.name}")  # JupyterLite passes over names that begin as out does
    for folder in (work, out):
        shutil.rmtree(folder, ignore_errors=True)
    lite = work / "lite"
    shutil.copytree(CONFIGURATION / "browser", lite)
    settings = {}  # those of the installed kit, and what only these pages have
    for folder in (LAB_SETTINGS, lite):
        settings |= json.loads((folder / "overrides.json").read_text(encoding="utf-8"))
    (lite / "overrides.json").write_text(json.dumps(settings), encoding="utf-8")
    runtime = runtime or RUNTIME
    try:
        runtime_for_the_kit(_unpacked(runtime, work), lite / "static" / "pyodide")
    except (OSError, tarfile.TarError, zipfile.BadZipFile) as error:
        raise StartError(f"The runtime {runtime} cannot be used: {why_not(error)}.") from None
    for name, path in shipped().items():
        if name != TRAINER:
            target = lite / "files" / name
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, target)
    done = subprocess.run(
        [*(sys.executable, "-m", "jupyterlite_core", "build"), "--output-dir", str(out)],
        cwd=lite,
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
    )
    if done.returncode:
        raise StartError(f"JupyterLite could not build the pages: {done.stderr.strip()[-2000:]}")
    shutil.rmtree(work)
    for font in (out / "build").glob("*.woff2"):  # what only browsers of long ago ask for
        for ending in (".svg", ".eot", ".ttf", ".woff"):
            font.with_suffix(ending).unlink(missing_ok=True)
    size = sum(f.stat().st_size for f in out.rglob("*") if f.is_file())
    print(f"The lessons for a browser stand in {out}: {size / 1e6:.1f} MB.")


def _unpacked(runtime, work):
    """Folder with the runtime, taken from where it is."""
    if runtime.startswith(("https://", "http://")):
        path = work / runtime.rpartition("/")[2]
        with urllib.request.urlopen(runtime, timeout=60) as found, open(path, "wb") as file:
            shutil.copyfileobj(found, file)
    else:
        path = Path(runtime)
    if path.is_dir():
        return path
    inside = work / "runtime"
    if zipfile.is_zipfile(path):
        with zipfile.ZipFile(path) as packed:
            packed.extractall(inside)
    else:
        with tarfile.open(path) as packed:
            packed.extractall(inside, filter="data")
    return inside
