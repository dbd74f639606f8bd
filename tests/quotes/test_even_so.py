"""What is rarely meant is told, and done only with a word: in issuing, revising and outcomes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes import QuoteError
from quoter.quotes.kept.outcomes import Result as Outcome
from quoter.quotes.kept.standing import list_quotes
from quoter.quotes.kept.store import settle
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO
from tests.quotes.made import files, made, put, put_beside, put_revision, whole

MAY = [date(2026, 5, day) for day in range(1, 32)]
WISH: dict[str, object] = {"date": "2026-05-01", "model": "punt", "options": [{"option": "lid"}]}
FAMILY = DEMO / "requests" / "family_weekender.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


def told(act: object, *words: object, **more: object) -> str:
    """What a refusal says."""
    with pytest.raises(QuoteError) as caught:
        act(*words, **more)  # type: ignore[operator]
    return str(caught.value)


def states(folder: Path, on: date) -> dict[str, str]:
    return {each.record.name: each.state for each in list_quotes(folder, on).quotes}


# Issuing


def test_a_quote_dated_before_the_number_before_it_needs_a_word(folder: Path) -> None:
    put(folder, MAY[9])
    assert told(put, folder, MAY[8]) == (
        "the quote is dated 2026-05-09, before 2026-0001 of 2026-05-10; date it that day or "
        "later, or add --even-so"
    )
    assert whole(folder) == ["2026-0001"]
    assert put(folder, MAY[8], even_so=True) == "2026-0002"
    assert put(folder, MAY[8]) == "2026-0003"


def test_a_revision_s_day_does_not_hold_up_later_numbers(folder: Path) -> None:
    put(folder, MAY[3])
    put_revision(folder, "2026-0001", MAY[20])
    assert put(folder, MAY[4]) == "2026-0002"


def test_a_number_that_can_t_be_read_is_passed_over_for_the_day_of_the_one_before(
    folder: Path,
) -> None:
    put(folder, MAY[9])
    put(folder, MAY[10])
    (folder / "2026-0002" / "record.json").write_text("{}")
    assert "before 2026-0001 of 2026-05-10" in told(put, folder, MAY[8])
    assert put(folder, MAY[9]) == "2026-0003"


def test_a_second_quote_for_the_same_request_needs_a_word_and_is_named(folder: Path) -> None:
    put(folder, MAY[0], request=WISH)
    put(folder, MAY[1])
    refused = told(put, folder, MAY[2], request=WISH)
    assert refused == (
        "2026-0001 of 2026-05-01 is for the same request, and still draft; price that again "
        "with 'quoter requote', or for one more add --even-so"
    )
    assert whole(folder) == ["2026-0001", "2026-0002"]
    assert put(folder, MAY[2], request=WISH, even_so=True) == "2026-0003"


@pytest.mark.parametrize(
    "other",
    [
        {"date": "2026-05-03"},
        {"prepared_by": "Somebody Else"},
        {"valid_until": "2026-06-01", "internal_note": "asked by mail"},
    ],
)
def test_what_the_office_says_of_a_request_makes_it_no_other(
    folder: Path, other: dict[str, object]
) -> None:
    put(folder, MAY[0], request=WISH)
    assert "is for the same request" in told(put, folder, MAY[2], request=WISH | other)


@pytest.mark.parametrize(
    "other", [{"options": [{"option": "roof"}]}, {"note": "and in blue"}, {"buyer": "dealer"}]
)
def test_what_the_customer_says_makes_it_another_request(
    folder: Path, other: dict[str, object]
) -> None:
    put(folder, MAY[0], request=WISH)
    assert put(folder, MAY[2], request=WISH | other) == "2026-0002"


@pytest.mark.parametrize("result", ["won", "lost", "withdrawn"])
def test_what_was_decided_or_ran_out_may_be_asked_for_again(folder: Path, result: Outcome) -> None:
    put(folder, MAY[0], request=WISH)
    settle(folder, "2026-0001", result, MAY[1])
    put(folder, MAY[2], request=WISH, valid_until=MAY[5])
    assert put(folder, MAY[6], request=WISH) == "2026-0003"


def test_the_newest_revision_is_what_answers_a_request(folder: Path) -> None:
    put(folder, MAY[0], request=WISH)
    put_revision(folder, "2026-0001", MAY[1], request=WISH | {"note": "with a roof"})
    assert put(folder, MAY[2], request=WISH) == "2026-0002"
    settle(folder, "2026-0001", "sent", MAY[2])
    again = told(put, folder, MAY[3], request=WISH | {"note": "with a roof"})
    assert again.startswith("2026-0001-R1 of 2026-05-02 is for the same request, and still sent")


def test_both_doubts_about_a_new_quote_are_told_at_once(folder: Path) -> None:
    put(folder, MAY[0], request=WISH)
    put(folder, MAY[9])
    first, second = told(put, folder, MAY[4], request=WISH).splitlines()
    assert first.startswith("the quote is dated 2026-05-05, before 2026-0002")
    assert second.startswith("2026-0001 of 2026-05-01 is for the same request")


# Revising


def test_what_is_won_is_not_revised_but_changed_by_an_order_of_its_own(folder: Path) -> None:
    put(folder, MAY[0])
    put_revision(folder, "2026-0001", MAY[1])
    settle(folder, "2026-0001", "won", MAY[2])
    for even_so in (False, True):
        assert told(put_revision, folder, "2026-0001", MAY[3], even_so=even_so) == (
            "2026-0001-R1 is won, since 2026-05-03: what changes now is a change order; write "
            "'quoter requote CATALOGUE 2026-0001-R1 --on DATE --change-order'"
        )
    assert whole(folder) == ["2026-0001", "2026-0001-R1"]


@pytest.mark.parametrize("result", ["lost", "withdrawn"])
def test_what_is_lost_or_withdrawn_is_offered_again_with_a_word(
    folder: Path, result: Outcome
) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", result, MAY[2])
    assert told(put_revision, folder, "2026-0001", MAY[3]) == (
        f"2026-0001 is {result}, since 2026-05-03; to offer it again, add --even-so"
    )
    assert put_revision(folder, "2026-0001", MAY[3], even_so=True) == "2026-0001-R1"
    assert states(folder, MAY[3]) == {"2026-0001": "revised", "2026-0001-R1": "draft"}
    assert put_revision(folder, "2026-0001", MAY[4]) == "2026-0001-R2"


# Outcomes


def test_an_order_after_the_last_day_of_its_offer_needs_a_word(folder: Path) -> None:
    put(folder, MAY[0], valid_until=MAY[9])
    put(folder, MAY[0], valid_until=MAY[9])
    assert settle(folder, "2026-0001", "won", MAY[9]).result == "won"
    assert told(settle, folder, "2026-0002", "won", MAY[10]) == (
        "2026-0002 was valid until 2026-05-10, and the order is of 2026-05-11; to take it at "
        "that price all the same, add --even-so"
    )
    assert settle(folder, "2026-0002", "won", MAY[10], even_so=True).result == "won"
    assert states(folder, MAY[10]) == {"2026-0001": "won", "2026-0002": "won"}


@pytest.mark.parametrize("result", ["won", "lost", "withdrawn"])
def test_what_was_decided_is_sent_again_only_with_a_word(folder: Path, result: Outcome) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "sent", MAY[1])
    settle(folder, "2026-0001", result, MAY[2])
    for again in (False, True):
        assert told(settle, folder, "2026-0001", "sent", MAY[3], again=again) == (
            f"2026-0001 is {result} already, since 2026-05-03; to say that it was sent after "
            "that, and is open again, add --even-so"
        )
    settle(folder, "2026-0001", "sent", MAY[3], even_so=True)
    assert states(folder, MAY[3]) == {"2026-0001": "sent"}


def test_what_was_sent_is_decided_without_a_word_and_sent_twice_with_one(folder: Path) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "sent", MAY[1])
    assert told(settle, folder, "2026-0001", "sent", MAY[2]) == (
        "2026-0001 is sent already, since 2026-05-02; to say otherwise, add --again"
    )
    settle(folder, "2026-0001", "sent", MAY[2], again=True)
    settle(folder, "2026-0001", "withdrawn", MAY[3])
    assert told(settle, folder, "2026-0001", "lost", MAY[4]) == (
        "2026-0001 is withdrawn already, since 2026-05-04; to say otherwise, add --again"
    )


def test_an_older_revision_is_ordered_with_a_word_and_stands_instead_of_the_newest(
    folder: Path,
) -> None:
    put(folder, MAY[0])
    put_revision(folder, "2026-0001", MAY[1])
    assert told(settle, folder, "2026-0001-R0", "won", MAY[2]) == (
        "2026-0001-R0 was superseded by 2026-0001-R1: name that, or 2026-0001; if it is meant, "
        "add --even-so"
    )
    assert settle(folder, "2026-0001-R0", "won", MAY[2], even_so=True).quote == "2026-0001"
    assert states(folder, MAY[2]) == {"2026-0001": "won", "2026-0001-R1": "revised"}
    replaced = {each.record.name: each.replaced_by for each in list_quotes(folder).quotes}
    assert replaced == {"2026-0001": "2026-0001-R1", "2026-0001-R1": ""}
    listing = list_quotes(folder, MAY[2])
    assert [each.replaced_by for each in listing.quotes] == ["", "2026-0001"]


def test_all_doubts_about_an_outcome_are_told_at_once(folder: Path) -> None:
    put(folder, MAY[0], valid_until=MAY[9])
    put_revision(folder, "2026-0001", MAY[1])
    settle(folder, "2026-0001-R0", "lost", MAY[2], even_so=True)
    doubts = told(settle, folder, "2026-0001-R0", "won", MAY[20]).splitlines()
    assert [words.rpartition("; ")[2] for words in doubts] == [
        "to say otherwise, add --again",
        "if it is meant, add --even-so",
        "to take it at that price all the same, add --even-so",
    ]


# A change order that was won


def test_a_won_change_order_takes_the_place_of_the_order(folder: Path) -> None:
    put(folder, MAY[0])
    put_revision(folder, "2026-0001", MAY[1])
    settle(folder, "2026-0001", "won", MAY[2])
    assert put(folder, MAY[4], changes_order="2026-0001-R1") == "2026-0002"
    assert states(folder, MAY[5])["2026-0001-R1"] == "won"
    settle(folder, "2026-0002", "won", MAY[6])
    assert states(folder, MAY[5])["2026-0001-R1"] == "won"
    assert states(folder, MAY[6]) == {
        "2026-0001": "revised",
        "2026-0001-R1": "revised",
        "2026-0002": "won",
    }
    put(folder, MAY[8], changes_order="2026-0002")
    settle(folder, "2026-0003", "won", MAY[9])
    assert [*states(folder, MAY[9]).values()] == ["revised", "revised", "revised", "won"]
    by = {each.record.name: each.replaced_by for each in list_quotes(folder, MAY[9]).quotes}
    assert (by["2026-0001-R1"], by["2026-0002"]) == ("2026-0002", "2026-0003")


def test_a_change_order_that_was_lost_leaves_the_order_as_it_is(folder: Path) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "won", MAY[2])
    put(folder, MAY[4], changes_order="2026-0001")
    settle(folder, "2026-0002", "lost", MAY[6])
    assert states(folder, MAY[6]) == {"2026-0001": "won", "2026-0002": "lost"}


# The commands


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_the_commands_take_the_word_and_a_first_issue_prints_by_its_own_name(
    tmp_path: Path,
) -> None:
    quotes, yard = tmp_path / "quotes", write_catalogue(tmp_path / "yard", {}, base=DEMO)
    issuing: tuple[str | Path, ...] = ("quote", yard, FAMILY, "--quotes", quotes)
    assert run(*issuing).exit_code == 0
    refused = run(*issuing)
    assert (refused.exit_code, refused.stdout) == (1, "")
    assert refused.stderr == (
        "2026-0001 of 2026-11-25 is for the same request, and still draft; price that again "
        "with 'quoter requote', or for one more add --even-so; nothing was written [quotes]\n"
    )
    assert run(*issuing, "--even-so").exit_code == 0
    sure = run("outcome", "2026-0002", "withdrawn", "--on", "2026-11-26", "--quotes", quotes)
    assert sure.exit_code == 0
    again: tuple[str | Path, ...] = ("2026-0002", "--on", "2026-12-01", "--quotes", quotes)
    refused = run("requote", yard, *again, "--revise")
    assert refused.exit_code == 1
    assert "2026-0002 is withdrawn, since 2026-11-26; to offer it again, add" in refused.stderr
    assert run("requote", yard, *again, "--revise", "--even-so").exit_code == 0
    assert (
        run("outcome", "2026-0002", "won", "--on", "2026-12-02", "--quotes", quotes).exit_code == 0
    )
    refused = run("requote", yard, *again, "--revise", "--even-so")
    assert "what changes now is a change order" in refused.stderr

    for name, own, newest in (
        ("2026-0002", "2026-0002-R0", False),
        ("2026-0002-R1", "2026-0002-R1", False),
        ("2026-0002-R1", "2026-0002", True),
    ):
        into = tmp_path / "printed" / own
        printed = run("reprint", own, "--into", into, "--quotes", quotes)
        assert printed.exit_code == 0
        assert printed.stderr == (f"{name} is the newest of {own}\n" if newest else "")
        for file in into.iterdir():
            assert file.read_bytes() == (quotes / name / file.name).read_bytes()
    missing = run("reprint", "2026-0001-R1", "--into", tmp_path, "--quotes", quotes)
    assert missing.stderr.startswith("no quote '2026-0001-R1': did you mean")


def test_a_folder_with_the_own_name_of_a_first_issue_is_no_quote(folder: Path) -> None:
    put(folder, MAY[0])
    put_beside(folder, made("2026-0002"))
    (folder / "2026-0002").rename(folder / "2026-0001-R0")
    listing = list_quotes(folder)
    assert [each.record.name for each in listing.quotes] == ["2026-0001"]
    assert listing.notes == (f"{folder}/2026-0001-R0 is no quote and was left alone",)
    assert files(made("2026-0002"))  # what stood there was whole
