"""`python3 -m tests.pictures`: make the two pictures of README anew, from the demonstration.

They are for people: no test compares their bytes, since each version of a browser draws letters its
own way.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import ViewportSize, sync_playwright

PROJECT = Path(__file__).resolve().parent.parent
PICTURES = PROJECT / "quoter" / "guide" / "pictures"
MODEL = "weekender_86"
WIDTH, HEIGHT = 1000, 700
SHEET = ViewportSize(width=1280, height=860)  # where the list stands beside the boat
CHOSEN = "#list=side_pair,hull_blue"


def main() -> None:
    """A page of the price sheet, and the front sheet of a workbook."""
    PICTURES.mkdir(exist_ok=True)
    with TemporaryDirectory() as scratch:
        built = Path(scratch)
        quoter = [sys.executable, "-m", "quoter", "build", "demo_catalog", "--afresh"]
        folders = ["--site", str(built / "site"), "--internal", str(built / "internal")]
        subprocess.run([*quoter, *folders], cwd=PROJECT, check=True)
        price_sheet(built / "site" / "en" / "home" / "models" / f"{MODEL}.html")
        workbook(built / "internal" / "workbooks" / f"{MODEL}.xlsx", built)


def price_sheet(page: Path) -> None:
    """The page as a browser shows it."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        tab = browser.new_page(viewport=SHEET)
        tab.goto(page.as_uri() + CHOSEN)
        tab.screenshot(path=PICTURES / "price-sheet.png")
        browser.close()


def workbook(book: Path, scratch: Path) -> None:
    """The first sheet as it prints, cut to what it holds."""
    convert = ["soffice", "--headless", "--convert-to", "pdf", "--outdir", str(scratch)]
    subprocess.run([*convert, str(book)], check=True, capture_output=True)
    pdf = scratch / f"{book.stem}.pdf"
    size = ["-f", "1", "-l", "1", "-scale-to-x", str(WIDTH), "-scale-to-y", "-1"]
    cut = ["-x", "0", "-y", "0", "-W", str(WIDTH), "-H", str(HEIGHT)]
    target = str(PICTURES / "workbook")
    subprocess.run(["pdftoppm", "-png", "-singlefile", *size, *cut, str(pdf), target], check=True)


if __name__ == "__main__":
    main()
