"""`python -m steelthermo` is the same as the command `steelthermo`."""

import sys

from .door import main

if __name__ == "__main__":
    sys.exit(main())
