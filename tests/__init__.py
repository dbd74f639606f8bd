"""Tests of quoter, laid out as quoter is; `python3 -m tests` prepares the machine and runs them."""
