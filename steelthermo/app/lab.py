"""JupyterLab, started quietly on the learner's working copy: as root, in a container, offline,
without news or update questions.
"""

import os
import sys
from pathlib import Path
from urllib.parse import quote

from .working_copy import StartError, write_probe


def first_lesson(names):
    """The lesson to open: the first by name of those given as 'lessons/NAME.ipynb'."""
    return min(name for name in names if name.startswith("lessons/") and name.endswith(".ipynb"))


def _can_show_a_browser():
    """False on a Linux without a screen, where Python would take over the terminal with a text
    browser.
    """
    return not sys.platform.startswith("linux") or any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER")
    )


def lab_arguments(folder, opens, browser=True):
    """Arguments for JupyterLab that open the file `opens` of the working folder.

    folder: absolute path; opens: its path in the folder, with slashes; browser: False starts no
    browser and prints the address only.
    """
    arguments = [
        f"--ServerApp.root_dir={folder}",
        f"--LabApp.default_url=/lab/tree/{quote(opens)}",
        f"--LabApp.app_settings_dir={Path(__file__).resolve().parent / 'lab_settings'}",
        # the learner's open tabs here are kept apart from those of other work with JupyterLab
        f"--LabApp.workspaces_dir={folder / '.steelthermo' / 'workspaces'}",
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        # Ctrl+C stops at once; each notebook has its own save and its own file
        "--ServerApp.answer_yes=True",
        # the terminal shows the address and what went wrong, no more
        "--Application.log_level=ERROR",
    ]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        arguments.append("--allow-root")
    if sys.platform == "win32":
        # Python from the Store writes the page that leads to JupyterLab where no browser finds it:
        # there the browser is given the address itself
        arguments.append("--ServerApp.use_redirect_file=False")
    if not (browser and _can_show_a_browser()):
        arguments.append("--no-browser")
    return arguments


def _encrypted_kernels():
    """Arguments that encrypt what passes between JupyterLab and its kernels, where the installed
    Jupyter can: it warns in alarming words if not.
    """
    import zmq
    from jupyter_client.manager import KernelManager

    return (
        ["--KernelManager.transport_encryption=auto"]
        if "transport_encryption" in KernelManager.class_traits() and zmq.has("curve")
        else []
    )


def _prompt_connection():
    """Arguments that have short messages to the page sent at once.

    None where this Jupyter has no such class, or its kernels run on another computer: panels are
    then a little slower, and nothing else changes.
    """
    try:
        from .socket import PromptConnection
    except (ImportError, AttributeError):
        return []
    if os.environ.get("JUPYTER_GATEWAY_URL"):
        return []
    connection = f"{PromptConnection.__module__}.{PromptConnection.__name__}"
    return [f"--ServerApp.kernel_websocket_connection_class={connection}"]


def jupyter_folders():
    """The folders Jupyter itself writes in: {what: (Path, environment variable that moves it)}."""
    from jupyter_core import paths

    return {
        "Jupyter's settings": (Path(paths.jupyter_config_dir()), "JUPYTER_CONFIG_DIR"),
        "Jupyter's data": (Path(paths.jupyter_data_dir()), "JUPYTER_DATA_DIR"),
        "Jupyter's running kernels": (Path(paths.jupyter_runtime_dir()), "JUPYTER_RUNTIME_DIR"),
    }


def start(folder, opens, browser=True, extra=()):
    """Run JupyterLab on the working folder until it is closed; returns its exit code. extra: more
    arguments for JupyterLab.

    Raises StartError if JupyterLab is missing or Jupyter has nowhere to write.
    """
    os.environ.setdefault(
        "JUPYTER_PREFER_ENV_PATH", "1"
    )  # the kernel of this Python before one the learner once registered elsewhere
    # A library of Jupyter's can check international web addresses in JSON, which Jupyter never asks
    # for, and builds a grammar for it whenever it is loaded: more than half of the server's start.
    # Told that this part is missing, it does without.
    sys.modules.setdefault("rfc3987_syntax", None)
    try:
        from jupyterlab.labapp import LabApp
    except ImportError as error:
        raise StartError(
            f"JupyterLab cannot be loaded ({error}): run `steelthermo check`, it says what to do."
        ) from None
    for what, (path, variable) in jupyter_folders().items():
        try:
            write_probe(path)
        except OSError as error:
            reason = error.strerror or error
            raise StartError(
                f"{what} cannot be written in {path} ({reason}): set {variable} to a folder of "
                "your own and start again."
            ) from None
    try:
        LabApp.launch_instance(
            [
                *lab_arguments(folder, opens, browser),
                *_encrypted_kernels(),
                *_prompt_connection(),
                *extra,
            ]
        )
    except SystemExit as stop:
        return stop.code or 0
    return 0
