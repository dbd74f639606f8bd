"""What of a quote needs an approval, and who of the yard may give it within which limits."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from quoter.catalogue.load import load_catalogue
from quoter.catalogue.markets import Approver
from quoter.catalogue.source import Text
from quoter.cli import main
from quoter.figures import Figure
from quoter.problems import CatalogueError, Place
from quoter.quotes import QuoteError
from quoter.quotes.approval import (
    OffList,
    Reason,
    Standing,
    approved,
)
from quoter.quotes.kept.inside import Approval, Limit
from quoter.quotes.kept.record_file import from_json
from quoter.units import unit
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

FAMILY = DEMO / "requests" / "family_weekender.yaml"
HOW = "Change the request, or let somebody answer for it: --approve NAME --reason TEXT"
ASKED = Approval(name="Rasmus Olm", reason="an old friend of the yard")
LOW = (Reason("floor", "it is too low"),)
STANDING = Standing("direct", "Ilse Maravant", OffList(100.0, 30.0), 0.2, 70.0, "EUR")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def request_with(folder: Path, discount: str, day: str = "2026-11-25") -> Path:
    text = FAMILY.read_text(encoding="utf-8")
    for old, new in (("discount: 1.5 %", f"discount: {discount}"), ("2026-11-25", day)):
        assert text.count(old) == 1
        text = text.replace(old, new)
    path = folder / "request.yaml"
    path.write_text(text.replace("2027-06-15", "2028-12-15"), encoding="utf-8")  # the promised day
    return path


@pytest.fixture
def quotes(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


def quoted(request: Path, quotes: Path, *words: str, yard: Path = DEMO) -> Result:
    return run("quote", yard, request, "--quotes", quotes, *words)


def approved_by(name: str) -> tuple[str, ...]:
    return ("--approve", name, "--reason", "fair boat")


def told_of(result: Result) -> str:
    """What a command says of approvals, without what the catalogue warns of."""
    return result.output[result.output.index("this quote needs") :]


# What needs an approval


def test_every_reason_is_told_at_once_with_who_may(tmp_path: Path, quotes: Path) -> None:
    result = quoted(request_with(tmp_path, "31 %", "2028-05-20"), quotes)
    assert result.exit_code == 1
    assert told_of(result) == (
        "this quote needs somebody to answer for it: [approval]\n"
        "- the quote leaves 21.0 % of its net price, below the floor of 25 %; a discount of 27.1 % "
        "at most keeps it\n"
        "- 31 % comes off the list; a seller alone gives 'direct' at most 4 %\n"
        "- the price sheet was valid until 2027-02-28, and is out of date on 2028-05-20\n"
        "- 2028-05-20 is 566 days after the newest price list, of 2026-11-01: check the year\n"
        f"{HOW}, as 'Rasmus Olm' may; nothing was written\n"
    )
    assert not quotes.exists()


def test_what_is_let_pass_is_kept_with_its_limit(tmp_path: Path, quotes: Path) -> None:
    low = request_with(tmp_path, "31 %", "2028-05-20")
    result = quoted(low, quotes, *approved_by("rasmus  OLM"))
    assert result.exit_code == 0
    assert (
        "21.0 % of net, below the floor\n"
        "approved by Rasmus Olm: margin below the floor, discount beyond what a seller gives "
        "alone, price sheet that does not hold on the day, day far from the newest price list\n"
    ) in result.output
    record = from_json((quotes / "2028-0001" / "record.json").read_bytes())
    assert record.inside.approval == Approval(
        name="Rasmus Olm",
        reason="fair boat",
        passed=("floor", "discount", "edition", "day"),
        off=Decimal("0.31"),
        limit=Limit(),
    )


def test_an_edition_that_has_not_begun_needs_an_approval(tmp_path: Path, quotes: Path) -> None:
    changes = {"editions.csv": ("2026-09-01,2026-10-31", "2026-10-15,2026-10-31")}
    yard = write_catalogue(tmp_path / "yard", {}, changes, base=DEMO)
    early = request_with(tmp_path, "1.5 %", "2026-10-05")
    assert told_of(quoted(early, quotes, yard=yard)) == (
        "this quote needs somebody to answer for it: [approval]\n"
        "- the price sheet is valid from 2026-10-15, and not yet on 2026-10-05\n"
        f"{HOW}, as 'Rasmus Olm' and 'Jorid Velle' may; nothing was written\n"
    )


def test_a_day_more_than_a_year_before_the_newest_list_needs_an_approval(
    tmp_path: Path, quotes: Path
) -> None:
    """Lists a year apart follow each other, so that the newest one counts."""
    lists = {
        f"prices/{day}.csv": "material,supplier,price,note\nresin_lam,dolvane,4.40 EUR/kg,\n"
        for day in ("2027-10-01", "2027-12-01")
    }
    yard = write_catalogue(tmp_path / "yard", lists, base=DEMO)
    result = quoted(request_with(tmp_path, "1.5 %"), quotes, yard=yard)
    assert told_of(result) == (
        "this quote needs somebody to answer for it: [approval]\n"
        "- 2026-11-25 is 371 days before the newest price list, of 2027-12-01: check the year\n"
        f"{HOW}, as 'Rasmus Olm' and 'Jorid Velle' may; nothing was written\n"
    )


def test_a_seller_alone_gives_what_the_class_allows_and_no_more(
    tmp_path: Path, quotes: Path
) -> None:
    assert quoted(request_with(tmp_path, "4 %"), quotes, "--dry-run").exit_code == 0
    more = quoted(request_with(tmp_path, "4.01 %"), quotes, "--dry-run")
    assert told_of(more) == (
        "this quote needs somebody to answer for it: [approval]\n"
        "- 4.01 % comes off the list; a seller alone gives 'direct' at most 4 %\n"
        f"{HOW}, as 'Rasmus Olm' and 'Jorid Velle' may; nothing was written\n"
    )


def test_a_dealer_s_own_discount_is_said_beside_what_comes_on_top(
    tmp_path: Path, quotes: Path
) -> None:
    changes = {"yard.yaml": ("    discount: 20 %\n", "    discount: 20 %\n    most_extra: 2 %\n")}
    yard = write_catalogue(tmp_path / "yard", {}, changes, base=DEMO)
    more = quoted(request_with(tmp_path, "3 %"), quotes, "--buyer", "contract", yard=yard)
    assert (
        "- 22.4 % comes off the list; a seller alone gives 'contract' its 20 % and at most 2 % on "
        "top\n"
    ) in more.output
    same = quoted(request_with(tmp_path, "2 %"), quotes, "--buyer", "contract", yard=yard)
    assert same.exit_code == 0


def test_an_approval_that_nothing_needs_is_left_out(tmp_path: Path, quotes: Path) -> None:
    result = quoted(FAMILY, quotes, *approved_by("Nobody Listed"))
    assert "nothing of it needs an approval: --approve was left out\n" in result.output
    assert from_json((quotes / "2026-0001" / "record.json").read_bytes()).inside.approval is None


# Who may


@pytest.mark.parametrize(
    ("name", "fault"),
    [
        ("Nobody Listed", "'Nobody Listed' is not one of the yard's approvers"),
        ("ilseMARAVANT", "'ilseMARAVANT' prepared it, and so can't let it pass"),
        (
            "Jorid Velle",
            "'Jorid Velle' may not let it pass: 31 % comes off, and theirs is 10 %; it leaves "
            "21.05 %, and theirs is 25 %",
        ),
    ],
)
def test_who_may_not_is_told_why_and_who_could(
    tmp_path: Path, quotes: Path, name: str, fault: str
) -> None:
    result = quoted(request_with(tmp_path, "31 %"), quotes, *approved_by(name))
    assert result.exit_code == 1
    assert told_of(result).splitlines()[-2:] == [
        fault,
        f"{HOW}, as 'Rasmus Olm' may; nothing was written",
    ]


def test_where_nobody_else_may_that_is_told(tmp_path: Path, quotes: Path) -> None:
    low = request_with(tmp_path, "31 %")
    result = quoted(low, quotes, "--by", "Rasmus Olm", *approved_by("Rasmus Olm"))
    assert told_of(result).splitlines()[-2:] == [
        "'Rasmus Olm' prepared it, and so can't let it pass",
        f"{HOW}, but nobody of the yard's approvers may; nothing was written",
    ]


def test_an_entry_of_another_class_does_not_count() -> None:
    yard = yard_of(entry("Rasmus Olm", classes=("contract",)))
    with pytest.raises(QuoteError) as stopped:
        approved(yard, STANDING, LOW, ASKED)
    assert str(stopped.value).splitlines()[-2] == (
        "'Rasmus Olm' may not let it pass: they do for 'contract', and this is 'direct'"
    )


def test_an_amount_beyond_the_limit_is_told_in_home_currency() -> None:
    yard = yard_of(entry("Rasmus Olm", most=50.0))
    with pytest.raises(QuoteError, match=r"it is 70\.00 EUR net, and theirs is 50\.00 EUR\n"):
        approved(yard, STANDING, LOW, ASKED)


@pytest.mark.parametrize(("name", "reason"), [("", "x"), ("Rasmus Olm", ""), ("Rasmus Olm", None)])
def test_an_approval_is_not_blank(quotes: Path, name: str, reason: str | None) -> None:
    words = ("--approve", name, *(() if reason is None else ("--reason", reason)))
    result = quoted(FAMILY, quotes, *words)
    assert result.exit_code == 2
    assert "Error: an approval needs both: --approve NAME --reason TEXT\n" in result.output


@pytest.mark.parametrize("option", ["--approve", "--reason"])
def test_an_approval_of_blanks_alone_has_no_value(quotes: Path, option: str) -> None:
    words = {"--approve": "Rasmus Olm", "--reason": "x"} | {option: "   "}
    result = quoted(FAMILY, quotes, *(word for pair in words.items() for word in pair))
    assert result.exit_code == 2
    assert f"Invalid value for '{option}': has no value; write a text [no-value]" in result.output


def test_a_yard_without_a_list_is_told_how_to_write_one(tmp_path: Path, quotes: Path) -> None:
    text = (DEMO / "yard.yaml").read_text(encoding="utf-8")
    begin, end = text.index("approvers:\n"), text.index("markets:\n")
    yard = write_catalogue(tmp_path / "yard", {"yard.yaml": text[:begin] + text[end:]}, base=DEMO)
    result = quoted(request_with(tmp_path, "31 %"), quotes, *approved_by("R. Olm"), yard=yard)
    assert result.exit_code == 0
    hint = (
        "the yard names no approvers, so that anybody may let this pass; list them in yard.yaml, "
        "for example 'approvers: [{name: Rasmus Olm, most_off: 25 %, floor: 20 %}]'\n"
    )
    assert result.output.count(hint) == 1
    refused = quoted(request_with(tmp_path, "31 %"), quotes, yard=yard)
    assert told_of(refused).splitlines()[-1] == f"{HOW}; nothing was written"


def test_an_approver_s_class_is_one_of_the_yard_s(tmp_path: Path) -> None:
    changes = {"yard.yaml": ("classes: [direct]", "classes: [drect]")}
    yard = write_catalogue(tmp_path / "yard", {}, changes, base=DEMO)
    with pytest.raises(CatalogueError) as stopped:
        load_catalogue(yard)
    (problem,) = stopped.value.problems
    assert (problem.what, problem.hint) == (
        "unknown dealer class 'drect'",
        "did you mean 'direct'?",
    )


# Limits, over and over


def entry(
    name: str,
    classes: tuple[str, ...] = (),
    most_off: float | None = None,
    floor: float | None = None,
    most: float | None = None,
) -> Approver:
    def plain(value: float | None) -> Figure | None:
        return None if value is None else Figure(value)

    return Approver.model_construct(
        name=Text.at(name, Place("yard.yaml")),
        classes=tuple(Text.at(each, Place("yard.yaml")) for each in classes),
        most_off=plain(most_off),
        floor=plain(floor),
        most=None if most is None else Figure(most, unit("EUR")),
    )


def yard_of(*approvers: Approver) -> Any:
    return SimpleNamespace(approvers=approvers)


LIMITS = st.tuples(
    st.sampled_from([(), ("direct",), ("area",), ("area", "direct")]),
    st.none() | st.integers(0, 60),
    st.none() | st.integers(-20, 40),
    st.none() | st.integers(1_000, 300_000),
)


@given(
    entries=st.lists(LIMITS, max_size=3),
    listed=st.integers(1_000_00, 300_000_00),
    off=st.integers(0, 60_00),
    margin=st.integers(-20_00, 40_00),
)
def test_an_approval_passes_if_and_only_if_all_limits_of_an_entry_hold(
    entries: list[tuple[tuple[str, ...], int | None, int | None, int | None]],
    listed: int,
    off: int,
    margin: int,
) -> None:
    """Held against exact fractions; amounts off are in whole cents, as on a quote."""
    cents = round(Fraction(listed * off, 100_00))
    net = listed - cents
    standing = Standing(
        buyer="direct",
        preparer="Ilse Maravant",
        off=OffList(listed / 100, cents / 100, slack=0.005 if cents else 0.0),
        margin=margin / 100_00,
        net=net / 100,
        home="EUR",
    )
    rounding = Fraction(1, 2) if cents else 0
    holds = any(
        (not classes or "direct" in classes)
        and (most_off is None or cents <= Fraction(most_off * listed, 100) + rounding)
        and (floor is None or Fraction(margin, 100_00) >= Fraction(floor, 100))
        and (most is None or net <= most * 100)
        for classes, most_off, floor, most in entries
    )
    yard = yard_of(
        entry("Jorid Velle"),
        *(
            entry(
                "Rasmus Olm",
                classes,
                None if most_off is None else most_off / 100,
                None if floor is None else floor / 100,
                None if most is None else float(most),
            )
            for classes, most_off, floor, most in entries
        ),
    )
    if holds:
        kept = approved(yard, standing, LOW, ASKED)
        assert kept is not None
        assert (kept.name, kept.passed) == ("Rasmus Olm", ("floor",))
    else:
        with pytest.raises(QuoteError, match=r"'Rasmus Olm' .*(?s:.*)'Jorid Velle' may$"):
            approved(yard, standing, LOW, ASKED)
