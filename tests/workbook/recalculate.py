"""A spreadsheet application that is none of ours computes every formula of a workbook anew.

LibreOffice trusts the values stored in a file unless told otherwise, so a plain round trip proves
nothing; its profile is told to recalculate always.
"""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from pathlib import Path

_ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
</oor:items>
"""
SECONDS = 300


def recalculate(books: Sequence[Path], folder: Path) -> list[Path]:
    """Each book as LibreOffice computes it, in `folder`, under its own name.

    Raises:
        RuntimeError: with what LibreOffice said, when a book is missing afterwards.
    """
    return _convert(books, folder, "xlsx")


def to_pdf(books: Sequence[Path], folder: Path) -> list[Path]:
    """Each book as it prints, recalculated."""
    return _convert(books, folder, "pdf")


def _convert(books: Sequence[Path], folder: Path, kind: str) -> list[Path]:
    target = folder / kind
    target.mkdir(parents=True, exist_ok=True)
    done = subprocess.run(
        [
            "soffice",
            f"-env:UserInstallation={_profile(folder).as_uri()}",
            "--headless",
            "--convert-to",
            kind,
            "--outdir",
            str(target),
            *(str(book) for book in books),
        ],
        capture_output=True,
        text=True,
        timeout=SECONDS,
        check=False,
    )
    results = [target / f"{book.stem}.{kind}" for book in books]
    if missing := [result.name for result in results if not result.exists()]:
        said = f"{done.stdout}{done.stderr}"
        raise RuntimeError(f"soffice made no {missing} (exit code {done.returncode}): {said}")
    return results


def _profile(folder: Path) -> Path:
    """A fresh user profile, away from that of whoever runs the tests."""
    profile = folder.absolute() / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(_ALWAYS, encoding="utf-8")
    return profile
