"""Where the pages' own settings stand: in a clone of the kit alone."""

from pathlib import Path

CLONE = Path(__file__).resolve().parents[3]
CONFIGURATION = CLONE / ".site"
