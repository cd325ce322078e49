"""Python of the browser's packages compiled beforehand: a kernel there compiles its sources anew at
each start, which is a third of the wait.

The runtime itself does it, so this module runs in it too and imports nothing of the kit.
"""

import hashlib
import importlib._bootstrap_external as loader
import importlib.util
import io
import json
import zipfile
from pathlib import Path

# Rarely imported by a lesson: their sources are smaller.
AS_SOURCE = (
    "fontTools/",
    "pygments/lexers/",
    "pygments/styles/",
    "pytz/",
    "numpy/f2py/",
    "numpy/distutils/",
    "PIL/",
    "dateutil/",
    "micropip/",
)
# What no lesson reads.
LEFT_OUT = ("jedi/third_party/django-stubs/", "matplotlib/mpl-data/sample_data/")


def compile_packages(folder: str, instead: dict | None = None) -> None:
    """Put bytecode of the Python that runs this in the place of sources, in every wheel and in the
    standard library, and the new check sums in the list of packages.

    folder : of the runtime; its archives are written anew
    instead : {name of a file in an archive: what to write in its place}
    """
    lock_file = Path(folder, "pyodide-lock.json")
    lock = json.loads(lock_file.read_text(encoding="utf-8"))
    packages = {one["file_name"]: one for one in lock["packages"].values()}
    for path in sorted([*Path(folder).glob("*.whl"), *Path(folder).glob("python_stdlib.zip")]):
        made = compiled(path.read_bytes(), instead or {})
        path.write_bytes(made)
        if path.name in packages:
            packages[path.name]["sha256"] = hashlib.sha256(made).hexdigest()
    lock_file.write_text(json.dumps(lock), encoding="utf-8")


def compiled(archive: bytes, instead: dict) -> bytes:
    """The archive with bytecode for sources; what does not compile, or is rare, stays as it is.

    instead : as above
    """
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(archive)) as given:
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
            for entry in given.infolist():
                name = entry.filename
                data = instead.get(name) or given.read(entry)
                if name.startswith(LEFT_OUT) or "/tests/" in name:
                    continue
                if name.endswith(".py") and not name.startswith(AS_SOURCE):
                    try:
                        data, name = _bytecode(data, name), name + "c"
                    except (SyntaxError, ValueError):  # a template, or for another edition
                        pass
                packed.writestr(name, data)
    return out.getvalue()


def _bytecode(source, name):
    code = compile(source, name, "exec", dont_inherit=True)
    return bytes(loader._code_to_hash_pyc(code, importlib.util.source_hash(source), False))
