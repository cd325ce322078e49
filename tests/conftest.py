"""What holds for all tests: no test is judged by the clock, and no notebook under test touches a
learner's answers.
"""

import os
import tempfile
from importlib.util import find_spec
from pathlib import Path

# Two workers share two cores: threads of NumPy's own that wait for one another cost twice the time.
# To be set before NumPy is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import hypothesis
import pytest

from steelthermo.course.adapter import STEEL
from steelthermo.coursekit import use

# Tests that open Cantera's own mechanisms by name must find them below a path with letters outside
# ASCII too, which Cantera by itself does not (the kit does: see thermo/engine.py). To be set
# before Cantera is first imported.
os.environ.setdefault("CANTERA_DATA", str(Path(find_spec("cantera").origin).parent / "data"))

use(STEEL)
hypothesis.settings.register_profile("kit", deadline=None)  # a slow machine is no fault
hypothesis.settings.load_profile("kit")


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    """Lessons and exercises run in a working folder of their own: nobody's name and numbers, and no
    answer sheet left in the tree.
    """
    if item.path.suffix == ".ipynb":
        if not hasattr(item.config, "notebook_folder"):
            item.config.notebook_folder = tempfile.TemporaryDirectory(prefix="notebooks-")
        os.environ["STEELTHERMO_FOLDER"] = item.config.notebook_folder.name
    else:
        os.environ.pop("STEELTHERMO_FOLDER", None)
