"""`python -m steelthermo` is the same as the command `steelthermo`."""

import sys

from .app.cli import main

if __name__ == "__main__":
    sys.exit(main())
