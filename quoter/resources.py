"""Where the page templates and the demo catalogue are: in an installed package or in a checkout."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent


def templates_folder() -> Path:
    """The folder of page templates.

    Raises:
        FileNotFoundError: when the installation lacks it, naming where it was looked for.
    """
    return find_folder("templates", PACKAGE)


def demo_catalogue_folder() -> Path:
    """The folder of the invented yard that a user may start from.

    Raises:
        FileNotFoundError: when the installation lacks it, naming where it was looked for.
    """
    return find_folder("demo_catalog", PACKAGE)


def find_folder(name: str, package: Path) -> Path:
    """The folder `name` inside the package (a wheel) or else beside it (a checkout).

    Raises:
        FileNotFoundError: when it is in neither, naming both.
    """
    inside, beside = package / name, package.parent / name
    for folder in (inside, beside):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(
        f"this installation of quoter lacks its folder '{name}': neither {inside} nor {beside} "
        f"exists; install the wheel again, or 'pip install -e .' in a complete checkout"
    )
