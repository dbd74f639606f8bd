"""Nothing is replaced or deleted but what a build wrote, and refusals touch nothing."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from quoter.publish.manifest import EARLIER_MARK, LOCK, MANIFEST, STAGING
from tests.publish.folders import Files, everything, put, read, refused

# What is not of a build


def test_what_a_build_did_not_write_is_left_alone(site: Path) -> None:
    own = {
        ".git/config": "a repository",
        ".htaccess": "Options -Indexes",
        "about/us.html": "a page of my own",
        "models/own.css": "of my own",
        "quotes/2026-0001/record.json": "an archive",
    }
    for name, text in own.items():
        (site / name).parent.mkdir(parents=True, exist_ok=True)
        (site / name).write_text(text)
    put({site: {"index.html": "new"}})
    assert read(site) == own | {"index.html": "new"}


def test_hidden_entries_do_not_stop_a_first_build(tmp_path: Path) -> None:
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "config").write_text("a repository")
    put({tmp_path: {"index.html": "new"}})
    assert read(tmp_path) == {".git/config": "a repository", "index.html": "new"}


def test_a_folder_of_someone_else_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "thesis.txt").write_text("years of work")
    assert refused({tmp_path / "site": {"index.html": "new"}}) == (
        f"{tmp_path / 'site'} holds files this program did not write, such as thesis.txt (it has "
        f"no {MANIFEST}); name another folder, or move them elsewhere for the first build: later "
        "ones leave alone what they did not write"
    )
    assert everything(tmp_path) == {"site/thesis.txt": b"years of work"}


def test_a_file_that_somebody_changed_is_refused_before_anything_is_touched(site: Path) -> None:
    (site / "models" / "a.html").write_text("corrected by hand")
    (site / "index.html").write_text("this too")
    before = everything(site)
    words = "was changed since a build wrote it; move it elsewhere or delete it, and build again"
    for files in ({"index.html": "new", "models/a.html": "new a"}, {"b.html": "b"}):
        assert refused({site: files}) == (
            f"{site / 'index.html'} {words}\n{site / 'models' / 'a.html'} {words}"
        )
    assert everything(site) == before


def test_a_file_of_somebody_else_in_the_way_is_refused(site: Path) -> None:
    (site / "b.html").write_text("mine")
    before = everything(site)
    assert refused({site: {"index.html": "new", "b.html": "b"}}) == (
        f"{site / 'b.html'} is not of a build and in the way of one; "
        "move it elsewhere, and build again"
    )
    assert everything(site) == before


def test_the_same_bytes_are_in_nobody_s_way(site: Path) -> None:
    (site / "b.html").write_text("b")
    put({site: {"index.html": "new", "b.html": "b"}})
    assert read(site) == {"index.html": "new", "b.html": "b"}


def test_a_folder_or_file_of_somebody_else_in_the_way_is_refused(site: Path) -> None:
    (site / "b.html").mkdir()
    (site / "b.html" / "mine.txt").write_text("mine")
    (site / "c").write_text("mine")
    before = everything(site)
    assert refused({site: {"b.html": "b", "c/d.html": "d"}}) == (
        f"{site / 'b.html'} is in the way of a file of that name; move it elsewhere, and build "
        f"again\n{site / 'c'} is in the way of a folder of that name; move it elsewhere, and build "
        "again"
    )
    assert everything(site) == before


def test_only_ten_refusals_are_told_by_name(tmp_path: Path) -> None:
    files = {f"{number:02}.html": "old" for number in range(13)}
    put({tmp_path / "site": files})
    for name in files:
        (tmp_path / "site" / name).write_text("changed")
    lines = refused({tmp_path / "site": {"index.html": "new"}}).splitlines()
    assert (len(lines), lines[-1]) == (11, "and 3 more")


@pytest.mark.parametrize("what", ["models", "index.html", "models/a.html", "new"])
def test_no_link_is_followed(tmp_path: Path, site: Path, what: str) -> None:
    """What it leads to has the very bytes that a build would replace."""
    outside, path = tmp_path / "outside", site / what
    if path.exists():
        path.rename(outside)
    else:
        outside.mkdir()
    path.symlink_to(outside)
    before = everything(outside) if outside.is_dir() else outside.read_bytes()
    assert refused({site: {"index.html": "new", "models/a.html": "a", "new/a.html": "a"}}) == (
        f"{path} is a link; a build follows none in its folders: put a real one there, "
        "or name another folder"
    )
    assert before == (everything(outside) if outside.is_dir() else outside.read_bytes())
    assert path.is_symlink()


@pytest.mark.parametrize("name", [MANIFEST, STAGING, LOCK])
def test_no_link_in_place_of_what_the_program_keeps_there_is_followed(
    tmp_path: Path, site: Path, name: str
) -> None:
    outside = tmp_path / "outside"
    if name == STAGING:
        outside.mkdir()
    else:
        outside.write_text("theirs")
    (site / name).unlink(missing_ok=True)
    (site / name).symlink_to(outside)
    refused({site: {"index.html": "new"}})
    assert list(outside.iterdir()) == [] if name == STAGING else outside.read_text() == "theirs"
    assert (site / "index.html").read_text() == "old"


def test_a_folder_that_cannot_be_written_to_is_refused_before_anything_is_touched(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For an administrator nothing is read-only, so that one is set here to say it is."""
    real = os.access
    monkeypatch.setattr(
        os, "access", lambda path, mode: "models" not in str(path) and real(path, mode)
    )
    before = everything(site)
    assert refused({site: {"index.html": "new"}}) == (
        f"{site / 'models'} can't be written to; let whoever builds write there, "
        "or name another folder"
    )
    assert everything(site) == before


# The list


def test_a_list_of_a_newer_version_is_refused(site: Path) -> None:
    text = (site / MANIFEST).read_text()
    (site / MANIFEST).write_text(text.replace("format 1:", "format 2:"))
    assert refused({site: {"index.html": "new"}}) == (
        f"{site / MANIFEST} is of format 2 and this version knows 1 at most; "
        "build with the newer version, or name another folder"
    )


@pytest.mark.parametrize(
    "line",
    [
        "no digest  a.html\n",
        f"{'0' * 64}  ../outside.html\n",
        f"{'0' * 64}  /outside.html\n",
        f"{'0' * 64}  .git/config\n",
        f"{'0' * 64}  a\\b.html\n",
        f"{'0' * 64}  index.html\n",
        f"{'0' * 64}  cut",
        "\udcff\n",
    ],
)
def test_a_list_that_names_what_no_build_writes_is_refused(site: Path, line: str) -> None:
    (site.parent / "outside.html").write_text("theirs")
    with (site / MANIFEST).open("ab") as file:
        file.write(line.encode("utf-8", "surrogateescape"))
    before = everything(site.parent)
    assert refused({site: {"index.html": "new"}}) == (
        f"{site / MANIFEST} is damaged, so that nothing says which files a build wrote; "
        "bring it back as it was, or empty the folder"
    )
    assert everything(site.parent) == before


def test_no_build_writes_a_hidden_file_or_one_outside(site: Path) -> None:
    for name in ("../a.html", ".htaccess", "a//b.html", STAGING):
        with pytest.raises(ValueError, match=f"^a build may not write '{re.escape(name)}'$"):
            put({site: {name: "new"}})
    assert read(site)["index.html"] == "old"


# Folders of versions that kept no list


def earlier(folder: Path, files: Files) -> Path:
    for name, text in {EARLIER_MARK: "This folder is replaced as a whole", **files}.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)
    return folder


def test_a_folder_of_an_earlier_version_goes_on_working(tmp_path: Path) -> None:
    site = earlier(tmp_path / "site", {"index.html": "old", "models/a.html": "old a"})
    assert put({site: {"index.html": "new", "models/a.html": "a"}}) == []
    assert read(site) == {"index.html": "new", "models/a.html": "a"}
    assert not (site / EARLIER_MARK).exists()
    put({site: {"index.html": "newer"}})
    assert read(site) == {"index.html": "newer"}


def test_what_else_stands_in_a_folder_of_an_earlier_version_is_left_alone_and_told(
    tmp_path: Path,
) -> None:
    """It may be a page of that version, or somebody's own: nothing says which."""
    own = {"quotes/2026-0001/record.json": "an archive", "gone.html": "old", ".htaccess": "mine"}
    site = earlier(tmp_path / "site", {"index.html": "old", **own})
    assert put({site: {"index.html": "new"}}) == [
        f"{site}: left alone what is not of this build: gone.html, quotes/2026-0001/record.json; "
        "the version that built last kept no list, so delete what is not yours"
    ]
    assert read(site) == own | {"index.html": "new"}
    assert put({site: {"index.html": "newer"}}) == []


# Folders that are refused


def test_a_file_in_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site").write_text("a file")
    site = tmp_path / "site"
    assert refused({site: {"index.html": "new"}}) == f"{site} is a file; name a folder to write to"


def test_a_refusal_of_one_folder_leaves_the_others(tmp_path: Path, site: Path) -> None:
    (tmp_path / "internal").mkdir()
    (tmp_path / "internal" / "thesis.txt").write_text("years of work")
    refused({site: {"index.html": "new"}, tmp_path / "internal": {"costing.json": "{}"}})
    assert read(site)["index.html"] == "old"


@pytest.mark.parametrize(
    ("one", "other"), [("out", "out"), ("out", "out/internal"), ("out/site", "out")]
)
def test_folders_within_each_other_are_refused(tmp_path: Path, one: str, other: str) -> None:
    """Internal files inside the public folder would be uploaded with it."""
    words = refused({tmp_path / one / ".": {"a": ""}, tmp_path / "x" / ".." / other: {"b": ""}})
    assert words.endswith(" overlap; name two separate folders")
    assert list(tmp_path.iterdir()) == []


def test_a_whole_disk_is_refused() -> None:
    assert refused({Path("/"): {"a": ""}}) == "/ is a whole disk; name a folder of its own"


def test_the_catalogue_is_in_no_output(site: Path) -> None:
    catalogue = site / "catalogue"
    catalogue.mkdir()
    for kept in (catalogue, site):
        words = refused({site: {"index.html": "new"}}, keep=(kept,))
        assert words == f"{site} holds {kept}; name a folder of its own"
    assert read(site)["index.html"] == "old"
