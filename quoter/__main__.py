"""`python -m quoter` is the `quoter` command."""

from __future__ import annotations

from quoter.cli import main

if __name__ == "__main__":
    main()
