from __future__ import annotations

from pathlib import Path

import pytest

from quoter.resources import demo_catalogue_folder, find_folder, templates_folder

PROJECT = Path(__file__).resolve().parent.parent


def test_a_checkout_has_its_folders_beside_the_package() -> None:
    assert templates_folder() == PROJECT / "templates"
    assert demo_catalogue_folder() == PROJECT / "demo_catalog"


def test_the_package_s_own_folder_comes_before_a_neighbour_of_the_same_name(tmp_path: Path) -> None:
    package = tmp_path / "quoter"
    (package / "templates").mkdir(parents=True)
    (tmp_path / "templates").mkdir()
    assert find_folder("templates", package) == package / "templates"


def test_an_installation_without_the_folder_says_where_it_was_looked_for(tmp_path: Path) -> None:
    package = tmp_path / "quoter"
    with pytest.raises(FileNotFoundError) as caught:
        find_folder("templates", package)
    assert str(caught.value) == (
        f"this installation of quoter lacks its folder 'templates': neither {package}/templates "
        f"nor {tmp_path}/templates exists; install the wheel again, "
        "or 'pip install -e .' in a complete checkout"
    )
