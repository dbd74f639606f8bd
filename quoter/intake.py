"""How much of what others write is read, and from where: one page of limits, one way to a file.

Each limit is far above what a yard has and far below what exhausts a machine. They are counts and
not seconds, so that a file is taken or refused alike on every machine; the time a file takes is
bounded by them.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

# A catalogue's own files. A table of ten prices a day fills half of it in twenty years.
LARGEST_FILE = 5_000_000  # bytes of one file; the demonstration's largest has 25,000
MOST_FILES = 2_000  # price lists, or translations: one a week for forty years
LARGEST_PICTURE = 20_000_000  # bytes; a camera's with 40 million points has about as many
MOST_LINES = 100_000  # of a table; a rate for each of ten currencies every bank day of 40 years

# What suppliers and banks send.
LARGEST_LIST = 10_000_000  # bytes of a file; a list of 20,000 lines as text has two million
MOST_ROWS = 20_000  # of a list; daily rates since 1999 are under 8,000
MOST_COLUMNS = 256  # a bank's table has one for each currency, and there are under 200
MOST_CELLS = 400_000  # of a file, empty ones within a row included: what fits into 100 MB

# A workbook, which is a zip archive of XML parts.
MOST_PARTS = 1_000  # a sheet is one, a picture is one
LARGEST_UNPACKED = 50_000_000  # bytes of all parts: 400,000 cells have half of it
MOST_ELEMENTS = 1_000_000  # of the parts that are read; a cell has two, a coloured blank one
LONGEST_CELL = 32_767  # characters: as many as a spreadsheet's cell takes
ONLY_THE_LIST = "save only the sheet or the lines of the list, in a new file"

# Single values, so that none takes longer to refuse than to read.
LONGEST_TEXT = 2_000  # characters that people read; a reader would not read more
LONGEST_QUANTITY = 200  # of a number with its unit; a thousand is not a number any more

# Files of this program's own, which others may have changed.
LARGEST_RECORD = 50_000_000  # bytes of a costing.json; of ten models with 200 options under five


class IntakeError(Exception):
    """What keeps a file from being read: its kind, what was found, and what would be right."""

    def __init__(self, code: str, what: str, hint: str) -> None:
        """Keep the three apart for the message."""
        super().__init__(f"{what}; {hint}")
        self.code, self.what, self.hint = code, what, hint


def read_file(path: Path, most: int = LARGEST_FILE, smaller: str = "") -> bytes:
    """A file's bytes, if it is one that can be read to its end.

    Whoever opens a pipe waits for a writer, and a device may never end: so it is asked first what
    stands there, and once more when it is open.

    Args:
        path: of the file; links are followed
        most: bytes that it may have
        smaller: what a person can do about one that is larger
    Raises:
        FileNotFoundError: there is nothing.
        IntakeError: it is no regular file, is too large, or the system refuses.
    """
    try:
        _need_regular(path.stat().st_mode)
        with open(path, "rb", opener=_without_waiting) as file:
            _need_regular(os.fstat(file.fileno()).st_mode)
            raw = file.read(most + 1)
    except FileNotFoundError:
        raise
    except (OSError, ValueError) as fault:
        told = getattr(fault, "strerror", None) or fault
        raise IntakeError(
            "unreadable-file", "the file can't be opened", f"the system says: {told}"
        ) from fault
    if len(raw) > most:
        what = f"the file has more than {counted(most)} bytes, which is the most that is read"
        raise IntakeError(
            "too-much", what, smaller or "split it, or look whether it is the right one"
        )
    return raw


def counted(number: int) -> str:
    """A count as limits are told.

    >>> counted(20000)
    '20,000'
    """
    return f"{number:,}"


_KINDS = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


def _need_regular(mode: int) -> None:
    if not stat.S_ISREG(mode):
        kind = next((words for is_one, words in _KINDS if is_one(mode)), "nothing of the kind")
        hint = "put a file in its place, or name another"
        raise IntakeError("unreadable-file", f"{kind} where a file belongs", hint)


def _without_waiting(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))
