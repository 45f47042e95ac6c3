"""`python -m sparwright` is the command `sparwright`."""

import sys

from sparwright.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
