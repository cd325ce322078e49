"""`steelthermo check`: is everything here that the kit needs? Each fault is told with what to do
about it.
"""

import argparse
import importlib
import re
import shutil
import sys
import tempfile
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from .working_copy import GROUPS, StartError, default_folder, shipped, write_probe

WIDGETS = "@jupyter-widgets/jupyterlab-manager"
DATA_FILES = {
    "nasa_gas.yaml": "Cantera",
    "nasa_condensed.yaml": "Cantera",
    "supplement.yaml": "the kit",
}
_IMPORTED_AS = {"ipython": "IPython", "pillow": "PIL", "pyzmq": "zmq"}  # where names differ
_NUMBERED = r"/\d.*\.ipynb$"
_NEEDED_MB = 200  # free space for copies, answer sheets and Jupyter's own files, generously


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at. what: what was found; remedy: what to do about it (empty if all is
    well).
    """

    what: str
    remedy: str = ""

    @property
    def ok(self):
        return not self.remedy

    def __str__(self):
        return (
            f"   ok  {self.what}"
            if self.ok
            else f"FAULT  {self.what}\n       What to do: {self.remedy}"
        )


def _pip(what):
    return f'"{sys.executable}" -m pip install {what}'


def packages(distribution="steelthermo"):
    """Python and each package the kit declares: there, new enough, and loading without error."""
    try:
        declared = metadata.metadata(distribution)
    except metadata.PackageNotFoundError:
        remedy = f"in the folder of the kit, run {_pip('.')}"
        return [
            Finding(
                f"{distribution} is not installed in this Python ({sys.executable}), though its "
                "files can be read",
                remedy,
            )
        ]
    try:
        from packaging.requirements import Requirement
        from packaging.specifiers import SpecifierSet
    except ImportError:
        return [
            Finding(
                "the package packaging is missing, so versions cannot be compared",
                _pip("packaging"),
            )
        ]
    out = []
    python = ".".join(map(str, sys.version_info[:3]))
    wanted = declared["Requires-Python"]
    ok = SpecifierSet(wanted).contains(python)
    out.append(
        Finding(
            f"Python {python} ({sys.executable})",
            "" if ok else f"make the virtual environment anew with a Python {wanted}",
        )
    )
    for requirement in map(Requirement, declared.get_all("Requires-Dist") or ()):
        if requirement.marker and not requirement.marker.evaluate({"extra": ""}):
            continue
        out.append(_package(requirement))
    return out


def _package(requirement):
    name = requirement.name
    try:
        version = metadata.version(name)
    except metadata.PackageNotFoundError:
        return Finding(f"{name} is missing", _pip(f'"{requirement}"'))
    if not requirement.specifier.contains(version, prereleases=True):
        return Finding(
            f"{name} {version}, and the kit needs {requirement.specifier}",
            _pip(f'--upgrade "{requirement}"'),
        )
    try:
        importlib.import_module(_IMPORTED_AS.get(name, name.replace("-", "_")))
    except Exception as error:  # a broken binary may raise anything
        return Finding(
            f"{name} {version} is there but does not load: {error}",
            _pip(f'--force-reinstall --no-cache-dir "{requirement}"'),
        )
    return Finding(f"{name} {version}")


def kernel(timeout_s=60):
    """The kernel named python3, which every lesson asks for: it must start, and must be this Python
    with this kit.
    """
    reinstall = f'"{sys.executable}" -m ipykernel install --sys-prefix'
    try:
        from jupyter_client.kernelspec import NoSuchKernel
        from jupyter_client.manager import KernelManager
    except ImportError as error:
        return [
            Finding(
                f"Jupyter's kernels cannot be used: {error}", _pip("--force-reinstall jupyterlab")
            )
        ]
    manager = KernelManager(kernel_name="python3")
    try:
        spec = manager.kernel_spec
    except NoSuchKernel:
        return [
            Finding(
                "Jupyter knows no kernel named python3", f"{_pip('ipykernel')} and then {reinstall}"
            )
        ]
    try:
        prefix = _ask_kernel(manager, timeout_s)
    except Exception as error:
        what = (
            f"the kernel python3 ({spec.resource_dir}) does not start or answer: "
            f"{str(error) or type(error).__name__}"
        )
        return [
            Finding(
                what,
                f"run {reinstall}; if it stays so, see whether a security program or firewall "
                "blocks connections of this computer to itself (127.0.0.1)",
            )
        ]
    if Path(prefix) != Path(sys.prefix):
        remedy = (
            f"run {reinstall}, or remove the folder {spec.resource_dir} if you know you do "
            "not need it"
        )
        return [
            Finding(
                f"the kernel python3 ({spec.resource_dir}) starts the Python in {prefix}, not this "
                f"one in {sys.prefix}",
                remedy,
            )
        ]
    return [Finding("the kernel python3 starts and is this Python")]


def _ask_kernel(manager, timeout_s):
    """Start the kernel and ask it for its sys.prefix. What it says while starting is kept back, and
    told only if it fails.
    """
    printed, said = [], tempfile.TemporaryFile()
    manager.start_kernel(stdout=said, stderr=said)
    client = manager.client()
    try:
        client.start_channels()
        client.wait_for_ready(timeout=timeout_s)
        client.execute_interactive(
            "import sys; print(sys.prefix, end='')",
            store_history=False,
            timeout=timeout_s,
            output_hook=lambda message: printed.append(message["content"].get("text", "")),
        )
    except RuntimeError as error:
        said.seek(0)
        last = said.read().decode(errors="replace").strip().rpartition("\n")[2]
        raise RuntimeError(f"{error} {last}".strip()) from None
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
        said.close()
    return "".join(printed)


def data_files():
    """Cantera's data files for pure substances, and the kit's own supplement."""
    try:
        from ..thermo import species_of_file
    except Exception as error:
        return [
            Finding(
                f"the data files could not be looked at: {error}",
                "mend the fault of the packages above",
            )
        ]
    out = []
    for name, owner in DATA_FILES.items():
        try:
            count = len(species_of_file(name))
        except Exception as error:
            again = (
                _pip("--force-reinstall cantera") if owner == "Cantera" else "install the kit again"
            )
            out.append(
                Finding(
                    f"the data file {name} of {owner} cannot be read: "
                    f"{' '.join(str(error).replace('*', '').split())}",
                    again,
                )
            )
        else:
            out.append(Finding(f"data file {name} of {owner}: {count} species"))
    return out


def lab():
    """JupyterLab's own pages, and the part of ipywidgets that draws sliders in it."""
    try:
        from jupyter_core.paths import jupyter_path
        from jupyterlab.commands import get_app_dir
        from jupyterlab_server.config import get_federated_extensions, get_page_config
    except ImportError as error:
        return [
            Finding(f"JupyterLab cannot be loaded: {error}", _pip("--force-reinstall jupyterlab"))
        ]
    out = []
    app = Path(get_app_dir())
    if (app / "static" / "index.html").is_file():
        out.append(Finding("JupyterLab's pages are in place"))
    else:
        out.append(
            Finding(
                f"JupyterLab's pages are missing from {app}", _pip("--force-reinstall jupyterlab")
            )
        )
    places = jupyter_path("labextensions")
    found = get_federated_extensions(places).get(WIDGETS)
    if found is None:
        out.append(
            Finding(
                "JupyterLab lacks the part that draws sliders (jupyterlab_widgets)",
                _pip("--force-reinstall ipywidgets jupyterlab_widgets"),
            )
        )
    elif any(
        name.split(":")[0] == WIDGETS for name in get_page_config(places)["disabledExtensions"]
    ):
        out.append(
            Finding(
                "the part of JupyterLab that draws sliders is switched off",
                f'"{sys.executable}" -m jupyter labextension enable {WIDGETS}',
            )
        )
    else:
        out.append(Finding(f"JupyterLab draws sliders ({WIDGETS} {found.get('version', '')})"))
    return out


def lessons():
    """The lessons and exercises that travel with the kit."""
    try:
        names = shipped()
    except StartError as error:
        return [
            Finding(
                str(error),
                _pip("--force-reinstall --no-deps") + " with the file or folder the kit came in",
            )
        ]
    # the notebooks of lessons and exercises begin with their number; another, such as the
    # trainer's, is neither
    counts = (
        f"{sum(bool(re.match(group + _NUMBERED, n)) for n in names)} {group}" for group in GROUPS
    )
    return [Finding(f"{' and '.join(counts)} travel with the kit")]


def write_access(folder):
    """The working folder and the folders of Jupyter: can be written in, with space left."""
    places = {"the working copy": (folder, None)}
    try:
        from .lab import jupyter_folders

        places |= jupyter_folders()
    except ImportError:
        pass  # the missing package is already told
    out = []
    for what, (path, variable) in places.items():
        move = (
            f"set the variable {variable} to a folder of your own"
            if variable
            else "name a folder of your own: steelthermo --folder FOLDER"
        )
        existed = path.exists()
        try:
            write_probe(path)
            free_mb = shutil.disk_usage(path).free / 1e6
            if not existed:
                path.rmdir()  # looking should leave nothing behind
        except OSError as error:
            out.append(
                Finding(f"{what} cannot be written in {path} ({error.strerror or error})", move)
            )
            continue
        if free_mb < _NEEDED_MB:
            out.append(
                Finding(
                    f"only {free_mb:.0f} MB are free for {what} in {path}; {_NEEDED_MB} MB are "
                    "wanted",
                    f"free some space, or {move}",
                )
            )
        else:
            out.append(Finding(f"{what} can be written in {path}"))
    return out


def findings(folder):
    """All that is looked at, one after another (a generator, so that a slow step does not hold back
    what is known).
    """
    for look in (packages, data_files, lessons, lab, kernel, lambda: write_access(folder)):
        yield from look()


def main(argv=None):
    """Print each finding; returns 0 if all is well, 1 if there is a fault."""
    parser = argparse.ArgumentParser(
        prog="steelthermo check",
        description="Checks that this computer has all the kit needs, and says what to do if not.",
    )
    parser.add_argument(
        "--folder",
        type=Path,
        help="folder of your working copy (default: steelthermo in your home folder)",
    )
    options = parser.parse_args(argv)
    folder = (options.folder.expanduser() if options.folder else default_folder()).absolute()
    faults = 0
    for finding in findings(folder):
        print(finding, flush=True)
        faults += not finding.ok
    print(
        "All is well: run `steelthermo` to open the lessons."
        if not faults
        else f"{faults} fault{'s' if faults > 1 else ''} found; mend the first one first."
    )
    return 1 if faults else 0
