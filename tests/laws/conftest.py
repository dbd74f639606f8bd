"""Laws are tried on the same numbers every time, however slow the machine."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("laws", deadline=None, derandomize=True, database=None)
settings.load_profile("laws")
