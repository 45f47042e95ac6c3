"""One of the crew (cli/crew.py): reads what is asked, a line each, and writes each polar as a line of JSON."""

from __future__ import annotations

import signal
import sys


def main() -> None:
    """Answer until there is nothing more to read. An answer is empty where the polar cannot be had."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the process that asks
    out, sys.stdout = sys.stdout, sys.stderr  # nothing but answers goes there
    from sparwright.cli.polars import answer

    for line in sys.stdin:
        out.write(answer(line.rstrip("\n")) + "\n")
        out.flush()


if __name__ == "__main__":
    main()
