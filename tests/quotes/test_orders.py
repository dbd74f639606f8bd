"""A won quote is not revised: a change order changes it, and it is confirmed as it stands."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date
from decimal import Decimal
from html import unescape
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.formats import ORDER_FILE
from quoter.quotes import QuoteError
from quoter.quotes.change_orders import job_of, order_of
from quoter.quotes.kept.archive import ORDER_FILES, ORDER_PAGE, ORDER_PDF, existing
from quoter.quotes.kept.numbering import OrderName, order_named
from quoter.quotes.kept.outcomes import Outcome
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json
from quoter.quotes.kept.standing import Listing, standing
from quoter.quotes.kept.store import confirm, settle
from quoter.quotes.printed.confirmation import (
    Confirmation,
    confirmed,
    order_files,
    read_confirmation,
    reprinted_order,
)
from quoter.quotes.printed.files import quote_page
from tests.demo import DEMO
from tests.quotes.hidden import found_in
from tests.quotes.made import made, put, put_revision
from tests.quotes.samples import SAMPLES, line

REQUESTS = DEMO / "requests"
FAMILY, CHANGED = REQUESTS / "family_weekender.yaml", REQUESTS / "family_weekender_changed.yaml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def record_in(quotes: Path, name: str) -> Record:
    return from_json((quotes / name / "record.json").read_bytes())


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith(".")
    }


@pytest.fixture(scope="module")
def ordered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration's family has ordered, and its order is confirmed."""
    quotes = tmp_path_factory.mktemp("ordered") / "quotes"
    for words in (
        ("quote", DEMO, FAMILY),
        ("outcome", "2026-0001", "won", "--on", "2026-12-05"),
        ("confirm", "2026-0001", "--delivery", "2027-06-10"),
    ):
        result = run(*words, "--quotes", quotes)
        assert result.exit_code == 0, result.output
    return quotes


@pytest.fixture
def quotes(ordered: Path, tmp_path: Path) -> Path:
    """A copy of that folder, for a test to write into."""
    return Path(shutil.copytree(ordered, tmp_path / "quotes"))


# Change orders


def test_an_order_is_not_revised_and_nothing_is_written(quotes: Path) -> None:
    before = tree(quotes)
    words = ("requote", DEMO, "2026-0001", "--on", "2026-12-10", "--quotes", quotes)
    result = run(*words, "--revise")
    assert result.exit_code == 1
    assert result.stderr == (
        "2026-0001 is won, since 2026-12-05: what changes now is a change order; write 'quoter "
        "requote CATALOGUE 2026-0001 --on DATE --change-order'; nothing was written [quotes]\n"
    )
    both = run(*words, "--revise", "--change-order")
    assert both.exit_code == 2
    assert "--revise is of a quote, --change-order of an order: leave one out" in both.stderr
    early = run(*words[:3], "--on", "2026-12-04", "--quotes", quotes, "--change-order")
    assert early.stderr == (
        "2026-0001 was won on 2026-12-05: date its change that day or later; "
        "nothing was written [quotes]\n"
    )
    assert tree(quotes) == before


def test_what_is_not_won_has_no_order_to_change(tmp_path: Path) -> None:
    put(tmp_path / "quotes")
    words = ("requote", DEMO, "2026-0001", "--on", "2026-12-10", "--change-order")
    result = run(*words, "--quotes", tmp_path / "quotes")
    assert result.exit_code == 1
    assert result.stderr == (
        "2026-0001 is not won, so there is no order to change: revise it with --revise; "
        "nothing was written [quotes]\n"
    )


def test_a_change_order_has_a_number_of_its_own_and_once_won_it_is_the_order(
    quotes: Path, tmp_path: Path
) -> None:
    before = tree(quotes)
    jobs = tmp_path / "jobs"
    papers = ("papers", DEMO, "--quote", "2026-0001", "--quotes", quotes, "--into", jobs)
    assert run(*papers).exit_code == 0
    first = (jobs / "2026-0001" / "papers.html").read_text("utf-8")
    words = ("requote", DEMO, "2026-0001", "--on", "2026-12-10", "--request", CHANGED)
    result = run(*words, "--quotes", quotes, "--change-order")
    assert result.exit_code == 0, result.output
    assert {name: tree(quotes)[name] for name in before} == before

    old, new = record_in(quotes, "2026-0001"), record_in(quotes, "2026-0002")
    assert (new.name, new.revision, new.changes_order) == ("2026-0002", 0, "2026-0001")
    told = {change.what: (change.before, change.after) for change in new.changes}
    assert told["Total to pay"] == ("€181,111.73", "€183,908.74")
    assert told["Added: Deck hatch"] == ("", "€1,190.40")
    assert "Valid until" not in told
    page = unescape((quotes / "2026-0002" / "quote.html").read_text("utf-8"))
    for words_on_it in ("Change to order 2026-0001", "What changes in order 2026-0001"):
        assert words_on_it in page

    # As long as it is not won, the boat is the one that was ordered.
    assert run(*papers).exit_code == 0
    assert (jobs / "2026-0001" / "papers.html").read_text("utf-8") == first
    won = run("outcome", "2026-0002", "won", "--on", "2026-12-12", "--quotes", quotes)
    assert won.exit_code == 0, won.output
    for number in ("2026-0001", "2026-0002"):
        result = run("papers", DEMO, "--quote", number, "--quotes", quotes, "--into", jobs)
        assert result.exit_code == 0, result.output
        # The boat keeps its job, so that no papers of before are left beside those of now.
        assert [path.name for path in jobs.iterdir()] == ["2026-0001"]
        now = (jobs / "2026-0001" / "papers.html").read_text("utf-8")
        for told_first, told_now in (("deep blue", "stone grey"), ("Insulated", "Deck hatch")):
            assert told_first in first
            assert told_first not in now
            assert told_now in now
            assert told_now not in first

    result = run("confirm", "2026-0001", "--delivery", "2027-06-20", "--quotes", quotes)
    assert result.exit_code == 0, result.output
    name = order_named("2026-0002-order")
    assert name is not None
    found = read_confirmation(quotes, name)
    assert (found.quote, found.job, found.ordered) == ("2026-0002", "2026-0001", date(2026, 12, 12))
    text = unescape((quotes / "2026-0002-order" / ORDER_PAGE).read_text("utf-8"))
    assert "Change to order 2026-0001" in text
    assert "€183,908.74" in text
    assert old.total == Decimal("181111.73")


def listed(*quotes: tuple[str, str, bool]) -> Listing:
    """A list of quotes by name, with the order that each changes and whether it was won."""
    day, records = date(2026, 12, 1), list[Record]()
    for name, order, _ in quotes:
        number, _, revision = name.partition("-R")
        record = made(number, int(revision or 0), date(2026, 11, 10 + len(records)))
        records.append(record.model_copy(update={"changes_order": order}))
    won = tuple(Outcome(date(2026, 11, 20), name, "won") for name, _, is_won in quotes if is_won)
    return Listing(day, standing(records, won, day), ())


@pytest.mark.parametrize(
    ("number", "order", "job"),
    [
        ("2026-0001", "2026-0004", "2026-0001-R1"),
        ("2026-0001-R1", "2026-0004", "2026-0001-R1"),
        ("2026-0002", None, ""),
        ("2026-0003", "2026-0004", "2026-0001-R1"),
        ("2026-0004", "2026-0004", "2026-0001-R1"),
        ("2026-0005", None, ""),
        ("2026-0006-R0", "2026-0006", "2026-0006"),
        ("2026-0009", None, ""),
    ],
)
def test_an_order_is_as_its_last_won_change_has_it_under_its_first_job(
    number: str, order: str | None, job: str
) -> None:
    listing = listed(
        ("2026-0001", "", False),
        ("2026-0001-R1", "", True),
        ("2026-0002", "", False),
        ("2026-0003", "2026-0001-R1", True),
        ("2026-0004", "2026-0003", True),
        ("2026-0005", "2026-0004", False),
        ("2026-0006", "", True),
    )
    found = order_of(listing, number)
    assert (found.record.name if found else None) == order
    if found:
        assert job_of(listing, found.record) == job


def test_orders_that_change_each_other_have_an_end() -> None:
    listing = listed(("2026-0001", "2026-0002", True), ("2026-0002", "2026-0001", True))
    assert job_of(listing, listing.quotes[0].record) == "2026-0002"
    assert order_of(listing, "2026-0001") is None


# Confirmations


def test_a_confirmation_has_the_frozen_lines_and_the_days_agreed_on(ordered: Path) -> None:
    record = record_in(ordered, "2026-0001")
    page = unescape((ordered / "2026-0001-order" / ORDER_PAGE).read_text("utf-8"))
    text = " ".join(re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL).split())
    assert "Order confirmation 2026-0001" in text
    assert "Ordered on 5 December 2026" in text
    assert "From quote 2026-0001 of 25 November 2026" in text
    assert "Delivery on 10 June 2027" in text
    assert "Confirmed by Ilse Maravant" in text
    assert "Job number 2026-0001" in text
    for each in record.lines:
        assert each.name in text
        if each.amount is not None:
            assert f"{abs(each.amount):,.2f}" in text
    for deposit in record.deposits:
        assert f"{deposit.due} {float(deposit.share * 100):g}% €{deposit.amount:,.2f}" in text
    assert f"Total to pay €{record.total:,.2f}" in text
    assert text.count("Signature") == 2
    for gone in ("Valid until", "To accept quote", "This quote"):
        assert gone not in text
    assert found_in(text, record) == []


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("language", ["en", "de", "es", "fr", "nb"])
def test_every_quote_is_confirmed_in_its_language_and_passes_the_guard(
    sample: str, language: str
) -> None:
    record = SAMPLES[sample](language=language)
    agreed = Confirmation(
        quote=record.name,
        issue=2,
        ordered=date(2026, 10, 5),
        confirmed=date(2026, 10, 6),
        delivery=date(2027, 5, 20),
        confirmed_by="Ilsabet Harrow",
        job=record.name,
    )
    files = order_files(record, agreed)
    assert files == order_files(record, agreed)
    assert sorted(files) == sorted(ORDER_FILES)
    assert confirmed(record, agreed) == {n: files[n] for n in (ORDER_PAGE, ORDER_PDF)}


def test_what_is_only_offered_is_no_part_of_an_order_and_the_buyer_s_reference_is() -> None:
    radar = line("option", "Radar arch", "2750.00")
    record = SAMPLES["short"](reference="PO-4471", offered=(radar,))
    agreed = Confirmation(
        quote=record.name,
        ordered=date(2026, 10, 5),
        confirmed=date(2026, 10, 5),
        delivery=date(2027, 5, 20),
        confirmed_by="Ilsabet Harrow",
        job=record.name,
    )
    assert "Radar arch" in quote_page(record).decode()
    page = confirmed(record, agreed)[ORDER_PAGE].decode()
    assert "Radar arch" not in page
    assert "<dt>Your reference</dt><dd>PO-4471</dd>" in page


def test_a_confirmation_reprints_to_the_byte_from_the_records_alone(
    quotes: Path, tmp_path: Path
) -> None:
    place = quotes / "2026-0001-order"
    before = {file: (place / file).read_bytes() for file in (ORDER_PAGE, ORDER_PDF)}
    for file in before:
        (place / file).unlink()
    for file in ("quote.html", "quote.xlsx", "internal.xlsx"):
        (quotes / "2026-0001" / file).unlink()
    result = run("reprint", "2026-0001-order", "--into", tmp_path / "again", "--quotes", quotes)
    assert result.exit_code == 0, result.output
    assert tree(tmp_path / "again") == before
    name = order_named("2026-0001-order-2")
    assert name is not None
    with pytest.raises(QuoteError) as caught:
        reprinted_order(quotes, name)
    assert str(caught.value) == (
        f"there is no 2026-0001-order-2 in {quotes}: write it with 'quoter confirm'"
    )


def test_a_second_confirmation_needs_a_word_and_the_first_one_stays(quotes: Path) -> None:
    before = tree(quotes)
    words = ("confirm", "2026-0001", "--delivery", "2027-06-24", "--quotes", quotes)
    refused = run(*words)
    assert refused.exit_code == 1
    assert refused.stderr == (
        "2026-0001 was confirmed on 2026-12-05 for delivery on 2027-06-10: see "
        f"{quotes / '2026-0001-order'}; to confirm it anew, add --again; "
        "nothing was written [quotes]\n"
    )
    assert tree(quotes) == before
    said = run(*words, "--again", "--on", "2027-02-01", "--by", "Rurik Olm")
    assert said.exit_code == 0, said.output
    after = tree(quotes)
    assert {name: after[name] for name in before} == before
    assert {*after} - {*before} == {f"2026-0001-order-2/{n}" for n in ORDER_FILES}
    page = after["2026-0001-order-2/order.html"].decode()
    assert "No. 2, replaces the one before" in page
    assert "Rurik Olm" in page
    assert "24 June 2027" in page
    assert run("quotes", "--check", "--quotes", quotes).stdout == (
        "1 quote and 1 outcome checked: all as they were written\n"
    )
    assert "is no quote and was left alone" not in run("quotes", "--quotes", quotes).stdout


@pytest.mark.parametrize(
    ("days", "told"),
    [
        (
            ("--delivery", "2027-06-10", "--on", "2026-12-04"),
            "2026-0001 was won on 2026-12-05: confirm it that day or later",
        ),
        (
            ("--delivery", "2026-12-06", "--on", "2026-12-07"),
            "2026-0001 can't be delivered on 2026-12-06, before it is confirmed on 2026-12-07",
        ),
    ],
)
def test_days_that_don_t_follow_each_other_are_told(
    quotes: Path, days: tuple[str, ...], told: str
) -> None:
    result = run("confirm", "2026-0001", *days, "--again", "--quotes", quotes)
    assert result.exit_code == 1
    assert result.stderr == f"{told}; nothing was written [quotes]\n"


def test_only_an_order_is_confirmed(tmp_path: Path) -> None:
    folder = tmp_path / "quotes"
    put(folder)
    words = ("confirm", "2026-0001", "--delivery", "2027-06-10", "--quotes", folder)
    refused = run(*words)
    assert refused.exit_code == 1
    assert refused.stderr == (
        "2026-0001 is a draft, not won: write down the order with 'quoter outcome 2026-0001 won "
        "--on DATE'; nothing was written [quotes]\n"
    )
    settle(folder, "2026-0001", "won", date(2026, 11, 20))
    assert run(*words).exit_code == 0
    there = sorted(path.name for path in (folder / "2026-0001-order").iterdir())
    assert there == sorted(ORDER_FILES)


def test_what_was_changed_of_a_confirmation_is_found(quotes: Path) -> None:
    place = quotes / "2026-0001-order"
    own = json.loads((place / ORDER_FILE).read_bytes())
    (place / ORDER_PAGE).write_bytes((place / ORDER_PAGE).read_bytes() + b" ")
    shutil.copytree(place, quotes / "2026-0001-order-3")
    shutil.copytree(place, quotes / "2026-0077-order")
    (place / ORDER_FILE).write_text(json.dumps(own | {"delivery": "2027-07-01"}), "utf-8")
    result = run("quotes", "--check", "--quotes", quotes)
    assert result.exit_code == 1
    assert result.stderr.splitlines() == [
        f"{place / ORDER_FILE} was changed after the confirmation was issued: 'delivery' is not "
        "what stood there; bring back the file as it was",
        f"{quotes / '2026-0001-order-2'} is missing: there are later ones",
        f"{quotes / '2026-0001-order-3' / ORDER_FILE} is of 2026-0001-order",
        f"{quotes / '2026-0077-order'} confirms 2026-0077, which is not there",
        f"{quotes / '2026-0077-order' / ORDER_FILE} is of 2026-0001-order",
        "1 quote and 1 outcome checked: 5 faults",
    ]


def test_the_store_takes_no_other_files_and_no_half_confirmation(tmp_path: Path) -> None:
    folder = tmp_path / "quotes"
    put(folder)
    put_revision(folder, "2026-0001")
    name = order_named("2026-0001-R1-order")
    assert name is not None
    with pytest.raises(ValueError, match=r"has order\.html, order\.pdf, order\.json, not a"):
        confirm(folder, name.quote, lambda _: {"a": b""})

    def fails(_: OrderName) -> dict[str, bytes]:
        raise QuoteError("no")

    with pytest.raises(QuoteError, match="no"):
        confirm(folder, name.quote, fails)
    assert sorted(p.name for p in existing(folder).iterdir() if p.name[0] != ".") == [
        "2026-0001",
        "2026-0001-R1",
    ]
