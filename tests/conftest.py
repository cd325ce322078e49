"""What holds for all tests: no test is judged by the clock, and no notebook under test touches a learner's answers."""

import os
import tempfile

import hypothesis
import pytest

hypothesis.settings.register_profile("kit", deadline=None)  # a slow machine is no fault
hypothesis.settings.load_profile("kit")


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    """Lessons and exercises run in a working folder of their own: nobody's name and numbers, and no answer sheet left in the tree."""
    if item.path.suffix == ".ipynb":
        if not hasattr(item.config, "notebook_folder"):
            item.config.notebook_folder = tempfile.TemporaryDirectory(prefix="notebooks-")
        os.environ["STEELTHERMO_FOLDER"] = item.config.notebook_folder.name
    else:
        os.environ.pop("STEELTHERMO_FOLDER", None)
