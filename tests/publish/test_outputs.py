"""Output folders change as one, whatever goes wrong on the way."""

from __future__ import annotations

import errno
import os
import signal
import stat
from pathlib import Path

import pytest

from quoter.publish import staging
from quoter.publish.manifest import MANIFEST, STAGING, digest_of
from quoter.publish.outputs import held

# What stands there afterwards
from tests.processes import CONTEXT
from tests.publish.folders import FULL, Files, broken_disk, everything, put, read, refused


def test_a_new_folder_has_its_files_and_a_list_of_them(tmp_path: Path) -> None:
    put({tmp_path / "deep" / "site": {"index.html": "new", "models/a.html": "a"}})
    site = tmp_path / "deep" / "site"
    assert read(site) == {"index.html": "new", "models/a.html": "a"}
    assert (site / MANIFEST).read_text() == (
        "# quoter build, format 1: replaces and deletes the files listed here, and leaves all "
        "others\n"
        "# `sha256sum --check .quoter-manifest` tells which of them were changed since\n"
        f"{digest_of(b'new')}  index.html\n"
        f"{digest_of(b'a')}  models/a.html\n"
    )
    assert sorted(everything(tmp_path)) == [
        f"deep/site/{MANIFEST}",
        "deep/site/index.html",
        "deep/site/models/a.html",
    ]


def test_what_the_next_build_lacks_goes_with_the_folders_it_leaves_empty(site: Path) -> None:
    put({site: {"index.html": "new"}})
    assert read(site) == {"index.html": "new"}
    assert [path.name for path in site.iterdir() if path.is_dir()] == []


def test_a_file_that_did_not_change_is_not_written_again(site: Path) -> None:
    before = (site / "models" / "a.html").stat()
    put({site: {"index.html": "new", "models/a.html": "old a"}})
    after = (site / "models" / "a.html").stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_the_same_build_again_writes_nothing(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    broken_disk(monkeypatch, "mkdir", STAGING, FULL)
    put({site: {"index.html": "old", "models/a.html": "old a"}})


def test_a_file_that_is_missing_is_written_again(site: Path) -> None:
    (site / "models" / "a.html").unlink()
    put({site: {"index.html": "old", "models/a.html": "old a"}})
    assert read(site) == {"index.html": "old", "models/a.html": "old a"}


def test_a_file_gives_way_to_a_folder_and_a_folder_to_a_file(site: Path) -> None:
    put({site: {"index.html/now.html": "deep", "models": "flat"}})
    assert read(site) == {"index.html/now.html": "deep", "models": "flat"}


def test_a_name_that_differs_in_case_alone_is_not_deleted_where_it_is_the_same_file(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on file systems that overlook case, for which one is set here to say so."""
    monkeypatch.setattr(Path, "samefile", lambda *_: True)
    with held([site]) as outputs:
        outputs.publish({site: {"Index.html": b"new"}})
    assert read(site) == {"Index.html": "new", "index.html": "old"}


def test_mode_owner_and_group_of_the_folder_stay_and_so_does_the_folder(site: Path) -> None:
    """A mount point is one that can't be renamed or replaced: the folder never is."""
    group = next((group for group in os.getgroups() if group != site.stat().st_gid), None)
    if os.geteuid() == 0:
        os.chown(site, 65534, 65534)
    elif group is not None:
        os.chown(site, -1, group)
    site.chmod(0o2750)
    before = site.stat()
    put({site: {"index.html": "new", "b/c.html": "c"}})
    after = site.stat()
    assert stat.S_IMODE(after.st_mode) == 0o2750
    assert (after.st_uid, after.st_gid) == (before.st_uid, before.st_gid)
    assert (after.st_dev, after.st_ino) == (before.st_dev, before.st_ino)
    assert (site / "b").stat().st_gid == before.st_gid


def test_a_mount_point_can_be_an_output(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a system says of one: it is busy for a rename, and nothing may be made beside it."""
    (site / "lost+found").mkdir()
    (site / MANIFEST).unlink()
    (site / "index.html").unlink()
    (site / "models" / "a.html").unlink()
    (site / "models").rmdir()
    real = os.mkdir

    def mkdir(path: str | Path, mode: int = 0o777, **more: int) -> None:
        if Path(path).parent == site.parent:
            raise PermissionError(errno.EROFS, os.strerror(errno.EROFS), str(path))
        real(path, mode, **more)

    monkeypatch.setattr(os, "mkdir", mkdir)
    broken_disk(monkeypatch, "rename", "site", OSError(errno.EBUSY, "busy", str(site)))
    put({site: {"index.html": "new"}})
    assert read(site) == {"index.html": "new"}
    assert (site / "lost+found").is_dir()


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    put({tmp_path / "site": {"index.html": "new"}})
    assert read(tmp_path / "site") == {"index.html": "new"}


def test_a_link_to_a_folder_stays_a_link(tmp_path: Path, site: Path) -> None:
    link = tmp_path / "public"
    link.symlink_to(site)
    put({link: {"index.html": "new"}})
    assert link.is_symlink()
    assert read(site) == {"index.html": "new"}


# What goes wrong


def test_a_full_disk_leaves_the_folders_as_they_were(
    tmp_path: Path, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken_disk(monkeypatch, "open", staging.number_of("b", os.getpid()), FULL)
    before = everything(tmp_path)
    assert refused(
        {site: {"a": "new", "b": "new"}, tmp_path / "deep" / "internal": {"costing.json": "{}"}}
    ) == (
        "can't write costing.json: No space left on device; no file of this build was put in place"
    )
    assert everything(tmp_path) == before
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_what_fails_while_files_are_put_in_place_is_told_and_finished_by_the_next_build(
    tmp_path: Path, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The next one may even be of other folders."""
    internal = tmp_path / "internal"
    with monkeypatch.context() as broken:
        broken_disk(broken, "replace", "costing.json", FULL)
        assert refused({site: {"index.html": "new"}, internal: {"costing.json": "new"}}) == (
            "can't write costing.json: No space left on device; this build counts and is not all "
            "in place; the next one into any of its folders finishes it first"
        )
    put({site: {"index.html": "newer"}})
    assert (read(site), read(internal)) == ({"index.html": "newer"}, {"costing.json": "new"})
    assert [path.name for path in internal.iterdir() if path.name.startswith(".")] == [MANIFEST]


def test_what_somebody_changed_before_a_stopped_build_is_finished_is_refused(
    tmp_path: Path, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as broken:
        broken_disk(broken, "replace", "index.html", FULL)
        refused({site: {"index.html": "new"}})
    (site / "index.html").write_text("corrected by hand")
    words = "was changed since a build wrote it; move it elsewhere or delete it, and build again"
    assert refused({site: {"index.html": "newer"}}) == f"{site / 'index.html'} {words}"
    assert (site / "index.html").read_text() == "corrected by hand"
    (site / "index.html").unlink()
    put({site: {"index.html": "newer"}})
    assert read(site) == {"index.html": "newer"}


def test_the_disk_has_every_file_before_a_build_counts(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept: set[int] = set()
    real_sync, real_commit = os.fsync, staging.commit
    counted = []

    def sync(handle: int) -> None:
        real_sync(handle)
        kept.add(os.fstat(handle).st_ino)

    def commit(folder: Path) -> None:
        place = folder / STAGING
        counted.append([path.name for path in sorted(place.iterdir())])
        assert {path.stat().st_ino for path in [place, *place.iterdir()]} <= kept
        real_commit(folder)

    monkeypatch.setattr(os, "fsync", sync)
    monkeypatch.setattr("quoter.publish.outputs.commit", commit)
    put({site: {"index.html": "new", "b.html": "b"}})
    new = [staging.number_of(name, os.getpid()) for name in ("b.html", "index.html")]
    assert counted[0] == sorted([*new, "manifest", "prepared"])


def test_a_finished_file_is_on_the_disk_before_all_are(site: Path) -> None:
    with held([site]) as outputs:
        kept = {
            name: outputs.keep(site, name, text)
            for name, text in {"index.html": b"new", "models/a.html": b"old a"}.items()
        }
        staged = site / STAGING / staging.number_of("index.html", os.getpid())
        assert staged.read_bytes() == b"new"
        assert [*(site / STAGING).iterdir()] == [staged]  # the other one stands
        assert read(site)["index.html"] == "old"
        outputs.publish({site: kept})
    assert read(site) == {"index.html": "new", "models/a.html": "old a"}


def test_what_was_finished_for_a_build_that_stops_goes(site: Path) -> None:
    before = everything(site)
    with held([site]) as outputs:
        outputs.keep(site, "index.html", b"new")
    assert everything(site) == before


def test_what_a_process_of_a_killed_build_still_writes_is_not_of_the_next(site: Path) -> None:
    with held([site]) as outputs:
        late = site / STAGING / staging.number_of("index.html", os.getpid() + 1)
        kept = outputs.keep(site, "index.html", b"new")
        late.write_bytes(b"late")
        outputs.publish({site: {"index.html": kept}})
    assert read(site) == {"index.html": "new"}
    assert not (site / STAGING).exists()


def test_something_else_in_the_place_of_new_files_is_refused(site: Path) -> None:
    (site / STAGING).mkdir()
    (site / STAGING / "thesis.txt").write_text("years of work")
    before = everything(site)
    assert refused({site: {"index.html": "new"}}) == (
        f"{site / STAGING} is in the way and not of this program; move it elsewhere"
    )
    assert everything(site) == before


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        '{"format": 2}',
        '{"format": 2, "transaction": "", "folders": [], "names": ["../a"], "build": 1}',
    ],
)
def test_a_damaged_journal_is_refused(site: Path, text: str) -> None:
    (site / STAGING).mkdir()
    (site / STAGING / "committed").write_text(text)
    assert refused({site: {"index.html": "new"}}) == (
        f"{site / STAGING / 'committed'} is damaged; delete {site / STAGING}, and build again"
    )
    assert read(site)["index.html"] == "old"


def killed_at_commit(folders: dict[Path, Files], number: int) -> None:
    """Publish and die instead of committing a folder: the first or one that follows."""
    left = number

    def commit(folder: Path) -> None:
        nonlocal left
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        left -= 1
        staging.commit(folder)

    pytest.MonkeyPatch().setattr("quoter.publish.outputs.commit", commit)
    put(folders)


@pytest.mark.parametrize(("number", "stands"), [(0, "old"), (1, "new"), (2, "new")])
def test_folders_moved_together_are_settled_together(
    tmp_path: Path, number: int, stands: str
) -> None:
    """A stopped build is finished or thrown away in both, also where the next is of one of them."""
    yard, moved = tmp_path / "yard", tmp_path / "moved"
    put({yard / "site": {"a.html": "old"}, yard / "internal": {"a.html": "old"}})
    new = {yard / "site": {"a.html": "new"}, yard / "internal": {"a.html": "new"}}
    dying = CONTEXT.Process(target=killed_at_commit, args=(new, number))
    dying.start()
    dying.join()
    assert dying.exitcode == -signal.SIGKILL
    yard.rename(moved)
    put({moved / "site": {"a.html": "newer"}})
    assert everything(moved / "internal").keys() == {MANIFEST, "a.html"}
    assert read(moved / "internal") == {"a.html": stands}
