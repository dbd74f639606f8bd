"""What became of quotes is written down once, in a table that only grows."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes import QuoteError
from quoter.quotes.kept.outcomes import Outcome, last_of, read_outcomes
from quoter.quotes.kept.store import settle
from tests.quotes.made import hidden, put, put_revision

HEAD = "date,quote,outcome,reason,by,chance,option\n"
ISSUED, LATER = date(2026, 11, 10), date(2026, 11, 20)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three quotes, the second revised on a later day."""
    for _ in range(3):
        put(tmp_path / "quotes", ISSUED)
    put_revision(tmp_path / "quotes", "2026-0002", LATER)
    return tmp_path / "quotes"


def table(folder: Path) -> str:
    path = folder / "outcomes.csv"
    return path.read_bytes().decode() if path.exists() else ""


def test_the_first_outcome_makes_the_table_and_others_are_added(folder: Path) -> None:
    settle(folder, "2026-0001", "won", ISSUED, reason='liked the "roof",\n  and us', by="Ilsabet")
    first = table(folder)
    assert first == HEAD + '2026-11-10,2026-0001,won,"liked the ""roof"", and us",Ilsabet,,\n'
    settle(folder, "2026-0003", "lost", LATER)
    assert table(folder) == first + "2026-11-20,2026-0003,lost,,,,\n"
    assert read_outcomes(folder / "outcomes.csv") == (
        Outcome(ISSUED, "2026-0001", "won", 'liked the "roof", and us', "Ilsabet"),
        Outcome(LATER, "2026-0003", "lost"),
    )
    assert hidden(folder) == []


@pytest.mark.parametrize(
    ("quote", "day", "settled"),
    [
        ("2026-0002", ISSUED, "2026-0002"),
        ("2026-0002", date(2026, 11, 19), "2026-0002"),
        ("2026-0002", LATER, "2026-0002-R1"),
        ("2026-0002-R1", LATER, "2026-0002-R1"),
    ],
)
def test_an_outcome_settles_the_newest_revision_of_its_day(
    folder: Path, quote: str, day: date, settled: str
) -> None:
    assert settle(folder, quote, "won", day).quote == settled
    assert table(folder) == HEAD + f"{day},{settled},won,,,,\n"


@pytest.mark.parametrize(
    ("quote", "day", "told"),
    [
        ("2026-0004", LATER, "there is no quote 2026-0004 in {0}: did you mean '2026-0003'?"),
        ("2026-0001-R1", LATER, "there is no 2026-0001-R1 in {0}: the newest is 2026-0001"),
        ("roof", LATER, "'roof' is no number of a quote; write for example 2026-0007"),
        (
            "2026-0001",
            date(2026, 11, 9),
            "2026-0001 was issued on 2026-11-10, after 2026-11-09; an outcome comes on that day "
            "or later",
        ),
        (
            "2026-0002-R1",
            date(2026, 11, 19),
            "2026-0002-R1 was issued on 2026-11-20, after 2026-11-19; an outcome comes on that "
            "day or later",
        ),
    ],
)
def test_an_outcome_that_can_t_be_is_refused(
    folder: Path, quote: str, day: date, told: str
) -> None:
    with pytest.raises(QuoteError) as caught:
        settle(folder, quote, "won", day)
    assert str(caught.value) == told.format(folder)
    assert table(folder) == ""


def test_a_revision_that_was_superseded_that_day_is_refused(folder: Path) -> None:
    put_revision(folder, "2026-0002", LATER)
    with pytest.raises(QuoteError) as caught:
        settle(folder, "2026-0002-R1", "won", LATER)
    assert str(caught.value) == (
        "2026-0002-R1 was superseded by 2026-0002-R2: name that, or 2026-0002; if it is meant, "
        "add --even-so"
    )


@pytest.mark.parametrize("result", ["won", "lost"])
def test_a_second_outcome_needs_to_be_meant(folder: Path, result: str) -> None:
    settle(folder, "2026-0001", "won", LATER)
    before = table(folder)
    with pytest.raises(QuoteError) as caught:
        settle(folder, "2026-0001", "lost" if result == "lost" else "won", LATER)
    assert str(caught.value) == (
        "2026-0001 is won already, since 2026-11-20; to say otherwise, add --again"
    )
    assert table(folder) == before
    settle(folder, "2026-0001", "lost", LATER, again=True)
    assert table(folder) == before + "2026-11-20,2026-0001,lost,,,,\n"
    assert last_of(read_outcomes(folder / "outcomes.csv"))["2026-0001"].result == "lost"


def test_a_revision_may_be_settled_after_the_one_before_it_was(folder: Path) -> None:
    settle(folder, "2026-0002", "lost", ISSUED)
    settle(folder, "2026-0002", "won", LATER)
    assert table(folder).splitlines()[1:] == [
        "2026-11-10,2026-0002,lost,,,,",
        "2026-11-20,2026-0002-R1,won,,,,",
    ]


def test_a_table_that_people_wrote_keeps_its_bytes_columns_and_line_ends(folder: Path) -> None:
    theirs = "\ufeffquote,outcome,seen by,date,reason,by\r\n2026-0003,won,Bo,2026-11-12,,\r\n"
    (folder / "outcomes.csv").write_bytes(theirs.encode())
    settle(folder, "2026-0001", "lost", LATER, by="Ilsabet")
    assert table(folder) == theirs + "2026-0001,lost,,2026-11-20,,Ilsabet\r\n"
    assert [outcome.quote for outcome in read_outcomes(folder / "outcomes.csv")] == [
        "2026-0003",
        "2026-0001",
    ]


def test_a_table_without_a_column_for_the_reason_takes_outcomes_without_one(folder: Path) -> None:
    (folder / "outcomes.csv").write_text("date,quote,outcome\n")
    settle(folder, "2026-0001", "lost", LATER)
    with pytest.raises(QuoteError) as caught:
        settle(folder, "2026-0003", "lost", LATER, reason="price")
    assert str(caught.value) == (
        f"{folder / 'outcomes.csv'}: the file has no column reason; add it to the first line"
    )
    assert table(folder) == "date,quote,outcome\n2026-11-20,2026-0001,lost\n"


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (
            HEAD + "20.11.2026,2026-0001,won,,\n",
            ":2:1: '20.11.2026' is not a date [not-a-date]\n"
            "    write it as year-month-day, for example 2026-11-01",
        ),
        (
            HEAD + "\n2026-11-20,2026-1,perhaps,,\n",
            ":3:12: '2026-1' names no quote [bad-id]\n"
            "    write for example 2026-0007 or 2026-0007-R1\n"
            "{0}:3:19: 'perhaps' is no outcome [unknown-word]\n"
            "    expected one of 'lost', 'sent', 'withdrawn', 'won'",
        ),
        (
            HEAD + "2026-11-20,2026-0001\n",
            ":2:1: 'outcome' has no value [no-value]\n"
            "    expected one of 'lost', 'sent', 'withdrawn', 'won'",
        ),
        (
            HEAD.replace(",", ";"),
            ":1:1: no column 'date' [missing-key]\n    save it with commas instead of semicolons",
        ),
        (
            "date,number,outcome\n",
            ":1:1: no column 'quote' [missing-key]\n    it needs date, quote, outcome",
        ),
        (
            HEAD + '2026-11-20,"2026-0001,won,,\n',
            ":2:12: a double quote is opened and never closed [bad-csv]\n"
            "    close it before the next comma; a quote within a quoted text is written twice",
        ),
        (HEAD.encode("utf-16").decode("latin-1"), " is not in UTF-8; save it as CSV in UTF-8"),
    ],
    ids=["date", "two", "short", "semicolons", "column", "quotes", "encoding"],
)
def test_what_a_table_says_wrongly_is_told_at_its_place(
    folder: Path, content: str, told: str
) -> None:
    path = folder / "outcomes.csv"
    path.write_bytes(content.encode("latin-1"))
    with pytest.raises(QuoteError) as caught:
        settle(folder, "2026-0001", "won", LATER)
    assert str(caught.value) == f"{path}{told.format(path)}"
    assert path.read_bytes() == content.encode("latin-1")


def test_a_table_that_can_t_be_opened_is_told(folder: Path) -> None:
    (folder / "outcomes.csv").mkdir()
    with pytest.raises(QuoteError) as caught:
        settle(folder, "2026-0001", "won", LATER)
    told = "a folder where a file belongs; put a file in its place, or name another"
    assert str(caught.value) == f"can't read {folder / 'outcomes.csv'}: {told}"


def test_a_disk_that_fails_leaves_the_table_as_it_was(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settle(folder, "2026-0001", "won", LATER)
    before = table(folder)

    def full(_: int) -> None:
        raise OSError(28, os.strerror(28))

    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", full)
        with pytest.raises(QuoteError) as caught:
            settle(folder, "2026-0003", "won", LATER)
    told = f"can't write {folder}: No space left on device"
    assert str(caught.value) == told
    assert table(folder) == before
    assert hidden(folder) == []


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("'=1+1", "''=1+1"),
        ('=HYPERLINK("x")', '"\'=HYPERLINK(""x"")"'),
        ("@sum", "'@sum"),
        ("too dear;-20 % asked", "too dear;'-20 % asked"),
        ("'twas fine", "'twas fine"),
        ("-", "'-"),
    ],
)
def test_no_reason_is_a_formula_to_a_spreadsheet_and_each_is_read_as_it_was(
    folder: Path, text: str, cell: str
) -> None:
    """OWASP, "CSV Injection": a cell that begins with one of = + - @ may be run as a formula."""
    settle(folder, "2026-0001", "lost", LATER, reason=text, by=text)
    assert table(folder) == HEAD + f"2026-11-20,2026-0001,lost,{cell},{cell},,\n"
    (outcome,) = read_outcomes(folder / "outcomes.csv")
    assert (outcome.reason, outcome.by) == (text, text)


def test_what_nobody_sees_is_neither_written_to_the_table_nor_read_from_it(folder: Path) -> None:
    with pytest.raises(QuoteError) as caught:
        settle(folder, "2026-0001", "won", LATER, reason="\x1b[2J")
    assert str(caught.value) == "a reason or name holds an unprintable character, #x001b"
    path = folder / "outcomes.csv"
    assert not path.exists()
    path.write_text(HEAD + "2026-11-20,2026-0001,won,\x1b[2J,\n", encoding="utf-8")
    with pytest.raises(QuoteError) as caught:
        read_outcomes(path)
    assert (
        str(caught.value)
        == f"{path}:2:26: an unprintable character, #x1b [unprintable]\n    remove it"
    )


# the command


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_the_command_writes_an_outcome_and_says_where(folder: Path) -> None:
    words: list[str | Path] = [
        "outcome",
        "2026-0002",
        "won",
        "--on",
        "2026-11-25",
        "--quotes",
        folder,
    ]
    result = run(*words, "--reason", "the roof", "--by", "Ilsabet")
    assert (result.exit_code, result.stdout) == (0, "")
    assert result.stderr == (
        f"2026-0002-R1 is won as of 2026-11-25: added to {folder / 'outcomes.csv'}\n"
    )
    assert table(folder) == HEAD + "2026-11-25,2026-0002-R1,won,the roof,Ilsabet,,\n"
    again = run(*words)
    assert (again.exit_code, again.stdout) == (1, "")
    assert again.stderr == (
        "2026-0002-R1 is won already, since 2026-11-25; to say otherwise, add --again; "
        "nothing was written [quotes]\n"
    )
    words[2] = "lost"
    assert run(*words, "--again").exit_code == 0


def test_the_command_looks_into_quotes_unless_told_otherwise(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder.parent)
    result = run("outcome", "2026-0001", "lost", "--on", "2026-11-25")
    assert result.stderr == "2026-0001 is lost as of 2026-11-25: added to quotes/outcomes.csv\n"
    monkeypatch.chdir(folder)
    result = run("outcome", "2026-0001", "lost", "--on", "2026-11-25")
    assert (result.exit_code, result.stderr) == (
        1,
        "there is no folder of quotes 'quotes'; name it with --quotes; "
        "nothing was written [quotes]\n",
    )


@pytest.mark.parametrize(
    "words",
    [
        ("2026-0001", "won"),
        ("2026-0001", "perhaps", "--on", "2026-11-25"),
        ("2026-0001", "won", "--on", "25 November"),
    ],
)
def test_the_command_refuses_what_it_can_t_understand(folder: Path, words: tuple[str, ...]) -> None:
    result = run("outcome", *words, "--quotes", folder)
    assert result.exit_code == 2
    assert table(folder) == ""
