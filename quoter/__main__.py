"""`quoter`, also as `python -m quoter`: read the program, then do what the words say."""

from __future__ import annotations

import sys


def run() -> None:
    """The command; reading the program takes a moment, in which somebody may press Ctrl-C."""
    try:
        from quoter.cli import main
    except KeyboardInterrupt:
        sys.exit("interrupted; nothing was changed")
    main()


if __name__ == "__main__":
    run()
