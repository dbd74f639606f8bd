"""`quoter build` and its folders: what it says, what it leaves alone, and no trace of itself."""

from __future__ import annotations

import os
import platform
import tempfile
from pathlib import Path
from typing import NoReturn

import pytest
from click.testing import CliRunner, Result

from quoter import build
from quoter.cli import main
from quoter.publish.manifest import EARLIER_MARK, MANIFEST
from quoter.publish.outputs import held
from tests.catalogues.written import COST_CARD
from tests.publish.folders import everything


def built(place: Path, *options: str) -> Result:
    folders = ("--site", place / "site", "--internal", place / "internal")
    words = ["build", COST_CARD, *folders, *options]
    return CliRunner().invoke(main, [str(word) for word in words])


def test_a_quotes_archive_in_an_output_folder_stays(tmp_path: Path) -> None:
    assert built(tmp_path).exit_code == 0
    record = tmp_path / "internal" / "quotes" / "2026-0001" / "record.json"
    record.parent.mkdir(parents=True)
    record.write_text("{}")
    assert built(tmp_path, "--set", "wages=+4%").exit_code == 0
    assert record.read_text() == "{}"


def test_folders_of_an_earlier_version_are_built_into_and_what_may_be_theirs_is_told(
    tmp_path: Path,
) -> None:
    assert built(tmp_path).exit_code == 0
    (tmp_path / "site" / MANIFEST).rename(tmp_path / "site" / EARLIER_MARK)
    (tmp_path / "site" / "gone.html").write_text("")
    result = built(tmp_path)
    assert (result.exit_code, result.stderr) == (
        0,
        f"{tmp_path / 'site'}: left alone what is not of this build: gone.html; "
        "the version that built last kept no list, so delete what is not yours\n",
    )
    assert built(tmp_path).stderr == ""


def test_a_second_build_learns_at_once_who_has_the_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(build, "render", None)  # it does not get as far
    with held([tmp_path / "internal"]):
        result = built(tmp_path)
    assert (result.exit_code, result.stdout, result.stderr) == (
        1,
        "",
        f"process {os.getpid()} on {platform.node()} is building into {tmp_path / 'internal'}; "
        "build again when it has ended, or with --wait [output-folder]\n",
    )
    assert list(tmp_path.iterdir()) == []


def test_ctrl_c_says_what_became_of_the_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object, **__: object) -> NoReturn:
        raise KeyboardInterrupt

    assert built(tmp_path).exit_code == 0
    before = everything(tmp_path)
    with monkeypatch.context() as patched:
        patched.setattr(build, "render", interrupted)
        result = built(tmp_path, "--afresh")
    assert (result.exit_code, result.stderr) == (
        1,
        "interrupted; no file of this build was put in place\n",
    )
    assert everything(tmp_path) == before


def test_a_build_makes_no_temporary_file_of_the_system(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One that is killed would leave them."""
    for name in ("mkstemp", "mkdtemp", "NamedTemporaryFile", "TemporaryFile", "gettempdir"):
        monkeypatch.setattr(tempfile, name, None)
    assert built(tmp_path).exit_code == 0
