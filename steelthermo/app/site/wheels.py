"""Wheels for the browser, made of what stands here: of the kit itself with its tables, and of
packages that are installed. Its runtime finds them in its list of packages.
"""

import hashlib
import json
import shutil
import subprocess
import zipfile
from importlib import metadata
from pathlib import Path

from ...course import __version__
from ...thermo import write_tables
from ..working_copy import StartError
from . import bytecode
from .place import CLONE, CONFIGURATION

# What the kit's pages import, and what of it the runtime does not bring.
_OF_RUNTIME = (
    "numpy",
    "matplotlib",
    "pillow",
    "ipython",
    "jedi",
    "micropip",
    "packaging",
    "sqlite3",
)
_INSTALLED = {
    "comm": ("traitlets",),
    "mistune": (),
    "jupyterlab-widgets": (),
    "ipywidgets": ("comm", "ipython", "traitlets", "jupyterlab-widgets"),
}
_KIT_NEEDS = ("numpy", "matplotlib", "pillow", "ipywidgets", "mistune")
_CORE = ("pyodide.js", "pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm", "python_stdlib.zip")
_LOCK = "pyodide-lock.json"


def runtime_for_the_kit(given: Path, out: Path) -> None:
    """A folder with the runtime in which `import steelthermo` works.

    Parameters
    ----------
    given : folder that holds a Pyodide, wherever in it
    out : the folder to make

    Raises
    ------
    FileNotFoundError
        Where there is none, or a package that the kit needs is not among its own.
    """
    lock_file = next(iter(sorted(given.rglob(_LOCK))), None)
    if lock_file is None:
        raise FileNotFoundError(f"there is no {_LOCK} in it")
    lock = json.loads(lock_file.read_text(encoding="utf-8"))
    known, kept = lock["packages"], {}
    for name in _OF_RUNTIME:
        _keep(name, known, kept)
    out.mkdir(parents=True)
    for name in (*_CORE, *(one["file_name"] for one in kept.values())):
        shutil.copy(lock_file.with_name(name), out / name)
    for name, needs in _INSTALLED.items():
        found = metadata.distribution(name)
        files = {str(f): f.locate() for f in found.files if _belongs(str(f))}
        _add(kept, out, name, found.version, files, needs)
    # The kernel asks for it by name; nothing there speaks to a server by it, and it is 2 MB.
    _add(kept, out, "ssl", "1.0.0", {}, ())
    with_tables = out.with_name("exported.json")
    write_tables(with_tables)
    files = {
        f"steelthermo/{p.relative_to(CLONE / 'steelthermo').as_posix()}": p
        for p in sorted((CLONE / "steelthermo").rglob("*"))
        if p.is_file() and _belongs(p.as_posix())
    }
    files["steelthermo/thermo/exported.json"] = with_tables
    _add(kept, out, "steelthermo", __version__, files, _KIT_NEEDS)
    with_tables.unlink()
    lock["packages"] = kept
    (out / _LOCK).write_text(json.dumps(lock), encoding="utf-8")
    _compile(out)


def _compile(out):
    """Bytecode for sources, by the runtime itself, where Node.js is here to run it."""
    node = shutil.which("node") or shutil.which("nodejs")
    if node is None:
        print("Node.js is not installed: the lessons start, but take some seconds longer.")
        return
    script, module = CONFIGURATION / "compile_packages.mjs", Path(bytecode.__file__)
    done = subprocess.run(
        [node, str(script), str(out.absolute()), str(module)], capture_output=True, text=True
    )
    if done.returncode:
        raise StartError(f"Node.js could not compile the packages: {done.stderr.strip()[-2000:]}")


def _belongs(name):
    return not name.startswith("..") and "__pycache__" not in name and "/." not in name


def _keep(name, known, kept):
    """A package of the runtime with all that it needs."""
    name = name.replace("_", "-").lower()
    if name in kept:
        return
    if name not in known:
        raise FileNotFoundError(f"its list of packages has no {name}")
    kept[name] = known[name]
    for needed in known[name]["depends"]:
        _keep(needed, known, kept)


def _add(kept, out, name, version, files, needs):
    """Write a wheel of files, {name in it: path}, and its place in the list of packages."""
    plain = name.replace("-", "_")
    wheel = out / f"{plain}-{version}-py3-none-any.whl"
    info = f"{plain}-{version}.dist-info"
    written = {
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        f"{info}/RECORD": "",
    }
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as packed:
        for inside, path in files.items():
            if inside not in written:
                packed.write(path, inside)
        for inside, text in written.items():
            packed.writestr(inside, text)
    kept[name] = {
        "name": name,
        "version": version,
        "file_name": wheel.name,
        "install_dir": "site",
        "sha256": hashlib.sha256(wheel.read_bytes()).hexdigest(),
        "package_type": "package",
        "imports": [plain],
        "depends": list(needs),
        "unvendored_tests": False,
    }
