"""How quotes stand on a day, and what else a folder of quotes tells."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.quotes import QuoteError
from quoter.quotes.kept.standing import Listing, list_quotes
from quoter.quotes.kept.store import settle
from tests.quotes.made import files, made, put, put_beside, put_revision

MAY, JUNE = [date(2026, 5, day) for day in range(1, 32)], date(2026, 6, 1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


def states(folder: Path, on: date | None = None) -> dict[str, str]:
    return {each.record.name: each.state for each in list_quotes(folder, on).quotes}


def test_a_quote_is_open_until_the_last_day_it_is_valid(folder: Path) -> None:
    put(folder, MAY[0], valid_until=MAY[20])
    assert states(folder, MAY[0]) == {"2026-0001": "draft"}
    assert states(folder, MAY[20]) == {"2026-0001": "draft"}
    assert states(folder, MAY[21]) == {"2026-0001": "expired"}


def test_what_is_issued_later_is_not_there_yet(folder: Path) -> None:
    put(folder, MAY[4])
    put_revision(folder, "2026-0001", MAY[9])
    put(folder, MAY[9])
    assert states(folder, MAY[3]) == {}
    assert states(folder, MAY[8]) == {"2026-0001": "draft"}
    assert states(folder, MAY[9]) == {
        "2026-0001": "revised",
        "2026-0001-R1": "draft",
        "2026-0002": "draft",
    }


def test_without_a_day_it_is_that_of_the_newest_issue_whatever_the_outcomes(folder: Path) -> None:
    put(folder, MAY[9], valid_until=MAY[10])
    put(folder, MAY[4], valid_until=MAY[8], even_so=True)
    settle(folder, "2026-0001", "won", MAY[20], even_so=True)
    listing = list_quotes(folder)
    assert listing.on == MAY[9]
    assert states(folder) == {"2026-0001": "draft", "2026-0002": "expired"}


def test_an_outcome_counts_from_its_day_even_when_the_quote_has_expired(folder: Path) -> None:
    for _ in range(2):
        put(folder, MAY[0], valid_until=MAY[5])
    won = settle(folder, "2026-0001", "won", MAY[9], even_so=True)
    settle(folder, "2026-0002", "lost", MAY[9])
    assert states(folder, MAY[8]) == {"2026-0001": "expired", "2026-0002": "expired"}
    assert states(folder, MAY[9]) == {"2026-0001": "won", "2026-0002": "lost"}
    assert [each.outcome for each in list_quotes(folder, MAY[8]).quotes] == [None, None]
    assert list_quotes(folder, MAY[9]).quotes[0].outcome == won


def test_a_corrected_outcome_counts_from_the_day_of_the_correction(folder: Path) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "won", MAY[5])
    settle(folder, "2026-0001", "lost", MAY[9], again=True)
    assert states(folder, MAY[8]) == {"2026-0001": "won"}
    assert states(folder, MAY[9]) == {"2026-0001": "lost"}
    settle(folder, "2026-0001", "won", MAY[7], again=True)
    assert states(folder, MAY[9]) == {"2026-0001": "won"}


def test_a_revision_opens_again_what_was_lost(folder: Path) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "lost", MAY[5])
    put_revision(folder, "2026-0001", MAY[9], valid_until=MAY[20], even_so=True)
    assert states(folder, MAY[8]) == {"2026-0001": "lost"}
    assert states(folder, MAY[9]) == {"2026-0001": "revised", "2026-0001-R1": "draft"}
    assert states(folder, JUNE) == {"2026-0001": "revised", "2026-0001-R1": "expired"}


def test_what_was_won_stays_won_until_a_revision_is_won_in_its_place(folder: Path) -> None:
    put(folder, MAY[0])
    put_revision(folder, "2026-0001", MAY[1])
    settle(folder, "2026-0001", "won", MAY[5])
    put_beside(folder, made("2026-0001", 2, MAY[9]))
    settle(folder, "2026-0001", "lost", MAY[12])
    put_beside(folder, made("2026-0001", 3, MAY[14]))
    settle(folder, "2026-0001", "won", MAY[16])

    def on(day: date) -> list[str]:
        return [*states(folder, day).values()]

    assert on(MAY[9]) == ["revised", "won", "draft"]
    assert on(MAY[12]) == ["revised", "won", "lost"]
    assert on(MAY[15]) == ["revised", "won", "revised", "draft"]
    assert on(MAY[16]) == ["revised", "revised", "revised", "won"]


def test_the_list_is_by_number_and_revision_as_people_count(folder: Path) -> None:
    (folder / "2026-9998").mkdir(parents=True)
    nine, ten = put(folder), put(folder)
    (folder / "2026-9998").rmdir()
    for _ in range(10):
        put_revision(folder, nine)
    old = put(folder, date(2025, 12, 30))
    names = [each.record.name for each in list_quotes(folder).quotes]
    assert ten == "2026-10000"
    assert names == [old, nine, *(f"{nine}-R{n}" for n in range(1, 11)), ten]


def test_the_same_folder_gives_the_same_list_in_whatever_order_the_system_tells_it(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for day in (MAY[0], MAY[1], date(2027, 1, 1)):
        put(folder, day)
    (folder / "b.txt").touch()
    (folder / "a.txt").touch()

    def told(backwards: bool) -> Listing:
        real = Path.iterdir
        with monkeypatch.context() as system:
            system.setattr(Path, "iterdir", lambda p: iter(sorted(real(p), reverse=backwards)))
            return list_quotes(folder)

    assert told(False) == told(True)


def test_what_else_is_in_the_folder_is_told_and_left_alone(folder: Path) -> None:
    for _ in range(5):
        put(folder)
    put_revision(folder, "2026-0005")
    put_revision(folder, "2026-0005")
    settle(folder, "2026-0003", "won", date(2026, 11, 20))
    for gone in ("2026-0003", "2026-0005-R1"):
        (folder / gone).rename(folder.parent / gone)
    (folder / "letters").mkdir()
    (folder / "price.pdf").touch()
    (folder / "2026-0006").touch()
    (folder / ".hidden").touch()
    listing = list_quotes(folder)
    assert listing.notes == (
        f"{folder}/2026-0006 is no folder of a quote, but takes its number",
        f"{folder}/letters is no quote and was left alone",
        f"{folder}/price.pdf is no quote and was left alone",
        f"2026-0003 is missing in {folder}, which has later ones",
        f"2026-0005-R1 is missing in {folder}, which has later ones",
        f"{folder}/outcomes.csv tells of 2026-0003, which is not there",
    )
    assert [each.record.name for each in listing.quotes] == [
        "2026-0001",
        "2026-0002",
        "2026-0004",
        "2026-0005",
        "2026-0005-R2",
    ]
    assert put(folder) == "2026-0007"


RECORD = files(made("2026-0002"))["record.json"]


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (None, "can't read {0}: No such file or directory"),
        (b"", "{0} can't be read as JSON, line 1, column 1: Expecting value"),
        (
            RECORD[: RECORD.index(b"-0002")],
            "{0} can't be read as JSON, line 3, column 12: Unterminated string starting at",
        ),
        (b"\xff\xfe", "{0} is not in UTF-8, see line 1"),
        (b"[]", "{0} is no record of a quote: it states no format"),
        (
            RECORD.replace(b'"total"', b'"sum"'),  # in its fingerprint as well
            "{0} is no record of a quote: total: Field required",
        ),
        (
            RECORD.replace(b'"format": 2', b'"format": 3'),
            "{0} can't be read: this record is of format 3; this program reads up to 2: upgrade "
            "quoter",
        ),
        (files(made("2026-0003"))["record.json"], "{0} is the record of 2026-0003"),
        (files(made("2026-0002", 1))["record.json"], "{0} is the record of 2026-0002-R1"),
    ],
    ids=["missing", "empty", "half", "bytes", "list", "key", "format", "number", "revision"],
)
def test_records_that_can_t_be_read_are_told_all_at_once(
    folder: Path, content: bytes | None, told: str
) -> None:
    for _ in range(3):
        put(folder)
    for number in ("2026-0001", "2026-0002"):
        (folder / number / "record.json").unlink()
    path = folder / "2026-0002" / "record.json"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(QuoteError) as caught:
        list_quotes(folder)
    first, second = str(caught.value).splitlines()
    missing = folder / "2026-0001" / "record.json"
    assert first == f"can't read {missing}: No such file or directory"
    assert second == told.format(path)
    with pytest.raises(QuoteError) as caught:
        put_revision(folder, "2026-0002")
    assert str(caught.value) == second
    assert put(folder) == "2026-0004"
    assert put_revision(folder, "2026-0003") == "2026-0003-R1"


def test_a_folder_without_quotes_has_a_list_on_a_day_and_no_day_of_its_own(folder: Path) -> None:
    with pytest.raises(QuoteError) as caught:
        list_quotes(folder, JUNE)
    assert str(caught.value) == f"there is no folder of quotes '{folder}'; name it with --quotes"
    folder.mkdir()
    assert list_quotes(folder, JUNE) == Listing(JUNE, (), ())
    with pytest.raises(QuoteError) as caught:
        list_quotes(folder)
    assert str(caught.value) == f"there is no quote in {folder} yet"
