"""Where the settings of the pages stand, in a clone of the kit, and where their runtime is."""

from pathlib import Path

CLONE = Path(__file__).resolve().parents[3]
CONFIGURATION = CLONE / ".site"
LAB_SETTINGS = CLONE / "steelthermo" / "app" / "lab_settings"
# The edition that the packages of the extra [site] fit; as their kernel names it, not tried.
RUNTIME = "https://github.com/pyodide/pyodide/releases/download/0.27.7/pyodide-0.27.7.tar.bz2"
