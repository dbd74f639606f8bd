"""What open quotes wait for, what lost the others, what to remember, and surcharges due."""

from __future__ import annotations

import json
import re
from datetime import date
from decimal import Decimal
from html import unescape
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes.kept.outcomes import read_outcomes
from quoter.quotes.kept.standing import STATES, counts, list_quotes
from quoter.quotes.kept.store import settle
from quoter.quotes.waiting import Waiting, waiting_of
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO
from tests.quotes.made import item, put, put_revision

MAY = [date(2026, 5, day) for day in range(1, 32)]
ROOF = item("roof", 1000, 600)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def waiting(folder: Path, on: date, days: int = 7) -> Waiting:
    return waiting_of(list_quotes(folder, on), None, days)


def decided(folder: Path, won: int, lost: int) -> None:
    """So many quotes of the punt at home won and lost on the second of May."""
    for number in range(1, won + lost + 1):
        name = put(folder, MAY[0], options=[ROOF])
        settle(folder, name, "won" if number <= won else "lost", MAY[1])


# What waits


def test_what_ran_out_comes_first_and_then_what_ends_soonest(folder: Path) -> None:
    for until in (MAY[20], MAY[4], MAY[9], MAY[8]):
        put(folder, MAY[0], valid_until=until)
    put(folder, MAY[0], valid_until=MAY[10])
    settle(folder, "2026-0005", "withdrawn", MAY[1])
    settle(folder, "2026-0003", "sent", MAY[1])
    found = waiting(folder, MAY[9]).quotes
    assert [(each.kept.record.name, each.kept.state, each.days) for each in found] == [
        ("2026-0002", "expired", -5),
        ("2026-0004", "expired", -1),
        ("2026-0003", "sent", 0),
        ("2026-0001", "draft", 11),
    ]
    assert [str(each.basis) for each in found[:2]] == ["run out", "run out"]
    assert found[0].expected is None


def test_fewer_than_five_decided_quotes_are_too_few_for_a_chance(folder: Path) -> None:
    decided(folder, 3, 1)
    put(folder, MAY[2])
    (only,) = waiting(folder, MAY[3]).quotes
    assert (only.chance, only.expected, str(only.basis)) == (None, None, "too few decided: 4")
    assert waiting(folder, MAY[3]).expected == {"EUR": 0}


def test_the_yard_s_own_chance_is_by_the_rule_of_succession_with_its_count(folder: Path) -> None:
    """By hand: 3 of 5 won, (3 + 1) / (5 + 2); of 9,000 that is 5,142.86."""
    decided(folder, 3, 2)
    put(folder, MAY[2], options=[ROOF])
    (only,) = waiting(folder, MAY[3]).quotes
    assert float(only.chance or 0) == 4 / 7
    assert str(only.basis) == "3 of 5 won: this boat, this market"
    assert only.value == 9000
    assert float(only.expected or 0) == pytest.approx(9000 * 4 / 7, rel=1e-12)


def test_withdrawn_and_run_out_quotes_and_those_of_later_days_decide_nothing(
    folder: Path,
) -> None:
    decided(folder, 3, 1)
    for result in ("withdrawn", "lost"):
        name = put(folder, MAY[0], valid_until=MAY[1])
        settle(folder, name, "withdrawn" if result == "withdrawn" else "lost", MAY[5])
    put(folder, MAY[2])
    assert str(waiting(folder, MAY[4]).quotes[-1].basis) == "too few decided: 4"
    assert str(waiting(folder, MAY[5]).quotes[-1].basis) == "3 of 5 won: this boat, this market"


def test_a_stated_chance_goes_before_the_yard_s_own_and_holds_for_later_revisions(
    folder: Path,
) -> None:
    decided(folder, 3, 2)
    name = put(folder, MAY[2])
    settle(folder, name, "sent", MAY[3], chance=Decimal("0.8"))
    settle(folder, name, None, MAY[4], chance=Decimal("0.25"))
    put_revision(folder, name, MAY[6])
    for day, chance in ((MAY[3], "0.8"), (MAY[4], "0.25"), (MAY[6], "0.25")):
        (only,) = waiting(folder, day).quotes
        assert only.chance == Decimal(chance)
    assert str(only.basis) == "stated on 2026-05-05"
    assert (only.kept.state, only.expected) == ("draft", Decimal(2000))
    settle(folder, name, "lost", MAY[7])
    put_revision(folder, name, MAY[8], even_so=True)
    (only,) = waiting(folder, MAY[8]).quotes
    assert str(only.basis) == "3 of 5 won: this boat, this market"


def test_a_change_order_is_worth_what_it_adds_to_the_order(folder: Path) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "won", MAY[1])
    put(folder, MAY[2], options=[ROOF], changes_order="2026-0001")
    settle(folder, "2026-0002", "sent", MAY[2], chance=Decimal("0.5"))
    (only,) = waiting(folder, MAY[3]).quotes
    assert (only.value, only.expected) == (Decimal(1000), Decimal(500))


def test_lost_quotes_are_counted_by_what_lost_them(folder: Path) -> None:
    rows = [("roof", "too dear"), ("roof", "too dear"), ("roof", "too late"), ("", "no answer")]
    for option, reason in [*rows, ("ramp", "")]:
        name = put(folder, MAY[0], options=[ROOF])
        settle(folder, name, "lost", MAY[1], option=option, reason=reason)
    assert [
        (each.option, each.name, each.quotes, dict(each.value), each.reasons)
        for each in waiting(folder, MAY[2]).lost
    ] == [
        ("roof", "Roof", 3, {"EUR": Decimal(27000)}, ("too dear", "too late")),
        ("", "", 1, {"EUR": Decimal(9000)}, ("no answer",)),
        ("ramp", "ramp", 1, {"EUR": Decimal(9000)}, ()),
    ]


def test_what_lies_ends_soon_or_ended_is_remembered(folder: Path) -> None:
    for until in (MAY[25], MAY[25], MAY[14], MAY[15], MAY[7]):
        put(folder, MAY[0], valid_until=until)
    for number in (2, 3, 4):
        settle(folder, f"2026-000{number}", "sent", MAY[1])

    def reminders(on: date, days: int) -> list[tuple[str, str]]:
        found = waiting(folder, on, days).reminders
        return [(each.kept.record.name, str(each.why)) for each in found]

    assert reminders(MAY[9], 5) == [
        ("2026-0001", "never sent in 9 days"),
        ("2026-0003", "sent, and ends on 2026-05-15"),
        ("2026-0005", "ended on 2026-05-08, and no outcome is written"),
    ]
    assert [name for name, _ in reminders(MAY[9], 10)] == ["2026-0003", "2026-0004", "2026-0005"]


# Chances and options in the table


def test_an_older_table_gets_the_columns_that_a_line_needs_and_keeps_its_lines(
    folder: Path,
) -> None:
    put(folder, MAY[0])
    put(folder, MAY[0])
    table = folder / "outcomes.csv"
    table.write_bytes(
        b"\xef\xbb\xbfdate,quote,outcome,reason,by\r\n2026-05-02,2026-0001,lost,a,\r\n"
    )
    settle(folder, "2026-0002", None, MAY[2], chance=Decimal("0.125"))
    settle(folder, "2026-0002", "lost", MAY[3], option="roof")
    assert table.read_bytes().decode("utf-8-sig").splitlines() == [
        "date,quote,outcome,reason,by,chance,option",
        "2026-05-02,2026-0001,lost,a,",
        "2026-05-03,2026-0002,,,,12.5 %",
        "2026-05-04,2026-0002,lost,,,,roof",
    ]
    assert table.read_bytes().startswith(b"\xef\xbb\xbfdate,")
    assert table.read_bytes().count(b"\r\n") == 4
    first, stated, last = read_outcomes(table)
    assert (first.chance, first.option, stated.result) == (None, "", None)
    assert (stated.chance, last.option) == (Decimal("0.125"), "roof")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "nothing is said: name an outcome, or state a chance"),
        (("won", "--chance", "50 %"), "what is won has no chance: state one with 'sent', or alone"),
        (("sent", "--option", "roof"), "only what is lost has an option that lost it"),
        (
            ("lost", "--option", "The Roof"),
            "'The Roof' is no id; write the id of an option or package, for example 'roof_panel'",
        ),
    ],
)
def test_what_does_not_go_together_is_refused(
    folder: Path, words: tuple[str, ...], told: str
) -> None:
    put(folder, MAY[0])
    result = run("outcome", "2026-0001", *words, "--on", "2026-05-02", "--quotes", folder)
    assert (result.exit_code, result.stderr) == (1, f"{told}; nothing was written [quotes]\n")
    assert not (folder / "outcomes.csv").exists()


@pytest.mark.parametrize("chance", ["0.6", "101 %", "-5 %", "half", "1e1 %", ""])
def test_a_chance_is_a_per_cent(folder: Path, chance: str) -> None:
    put(folder, MAY[0])
    words = ("2026-0001", "--chance", chance, "--on", "2026-05-02", "--quotes", folder)
    result = run("outcome", *words)
    assert result.exit_code == 2
    assert "is no chance; write a per cent from 0 to 100, for example '60 %'" in result.stderr


def test_what_was_decided_has_no_chance_any_more(folder: Path) -> None:
    put(folder, MAY[0])
    settle(folder, "2026-0001", "won", MAY[1])
    words = ("2026-0001", "--chance", "60 %", "--on", "2026-05-02", "--quotes", folder)
    result = run("outcome", *words)
    assert result.stderr == (
        "2026-0001 is won already, since 2026-05-02: it has no chance any more; "
        "nothing was written [quotes]\n"
    )


def test_a_table_s_faults_in_the_later_columns_are_told_at_their_places(folder: Path) -> None:
    put(folder, MAY[0])
    (folder / "outcomes.csv").write_text(
        "date,quote,outcome,chance,option\n2026-05-02,2026-0001,sent,often,\n"
        "2026-05-02,2026-0001,lost,,Roof!\n2026-05-02,2026-0001-R0,,,\n"
    )
    result = run("quotes", "--quotes", folder)
    path = folder / "outcomes.csv"
    assert result.stderr == (
        f"{path}:2:27: 'often' is no chance [not-a-number] [quotes]\n"
        "    write a per cent from 0 to 100, for example '60 %'\n"
        f"{path}:3:28: 'Roof!' is no id [bad-id]\n"
        "    write the id of an option or package, for example 'roof_panel'\n"
        f"{path}:4:25: 'outcome' has no value [no-value]\n"
        "    expected one of 'lost', 'sent', 'withdrawn', 'won'\n"
    )


# All lists count alike


def test_the_terminal_the_page_and_the_data_count_alike_and_a_number_once(tmp_path: Path) -> None:
    """One in each state by hand; 2026-0001 was changed by 2026-0008, and 2026-0002 revised."""
    folder = tmp_path / "quotes"
    for until in (MAY[25], MAY[25], MAY[25], MAY[7], MAY[25], MAY[25], MAY[25]):
        put(folder, MAY[0], valid_until=until)
    put_revision(folder, "2026-0002", MAY[1])
    settle(folder, "2026-0001", "won", MAY[1])
    put(folder, MAY[2], changes_order="2026-0001")
    for number, result in ((3, "sent"), (5, "lost"), (6, "withdrawn"), (8, "won")):
        settle(folder, f"2026-000{number}", result, MAY[3])  # type: ignore[arg-type]
    by_hand = dict(zip(STATES, (2, 1, 1, 1, 1, 1, 1), strict=True))
    assert counts(list_quotes(folder, MAY[9])) == by_hand
    page = tmp_path / "quotes.html"
    words: tuple[str | Path, ...] = ("--quotes", folder, "--on", "2026-05-10")
    data = run("quotes", *words, "--json", "--html", page)
    assert json.loads(data.stdout)["counts"] == by_hand
    assert json.loads(run("waiting", *words, "--json").stdout)["counts"] == by_hand
    first = (
        "8 quotes on 2026-05-10: 2 draft, 1 sent, 1 expired, 1 won, 1 lost, 1 withdrawn, 1 revised."
    )
    assert run("quotes", *words).stdout.splitlines()[0] == first
    assert run("waiting", *words).stdout.splitlines()[0] == first
    text = unescape(page.read_text("utf-8"))
    assert (
        "<p>Draft: 2, Sent: 1, Expired: 1, Won: 1, Lost: 1, Withdrawn: 1, Revised: 1.</p>" in text
    )
    (total,) = re.findall(r'<tr class="sum"><th scope="row">All</th>(.*?)</tr>', text)
    cells = re.findall(r">([^<]+)</td>", total)
    assert cells[: 1 + len(STATES)] == ["8", "2", "1", "1", "1", "1", "1", "1"]


# Surcharges, with the demonstration


def test_all_surcharges_are_told_in_one_call_by_number_as_the_command_tells_one(
    tmp_path: Path,
) -> None:
    quotes, yard = tmp_path / "quotes", write_catalogue(tmp_path / "yard", {}, base=DEMO)
    request = (DEMO / "requests" / "family_weekender.yaml").read_text("utf-8")
    for day in ("2026-10-02", "2026-11-25", "2026-11-26"):
        asked = tmp_path / f"{day}.yaml"
        asked.write_text(request.replace("2026-11-25", day).replace("Quell", f"Q{day[-2:]}"))
        assert run("quote", yard, asked, "--quotes", quotes).exit_code == 0
    for number, result in (("2026-0001", "won"), ("2026-0003", "lost")):
        day = "2026-10-30" if result == "won" else "2026-11-27"
        assert run("outcome", number, result, "--on", day, "--quotes", quotes).exit_code == 0
    asked_on = ("--on", "2026-12-30", "--json")
    found = json.loads(run("waiting", yard, *asked_on, "--quotes", quotes).stdout)
    # 2026-0002 ran out on December 25th, and 2026-0003 is lost.
    assert [(each["quote"], each["state"]) for each in found["surcharges"]] == [
        ("2026-0001", "won")
    ]
    (due,) = found["surcharges"]
    price = f"{due['applied']['price']} EUR"
    alone = run("surcharge", yard, "resin", "--price", price, "--quoted", "2026-10-02", *asked_on)
    assert due["applied"] == json.loads(alone.stdout)
    # 116.8 / 109.4 - 1 - 5 % is 1.7642 %, of which 35 %
    assert due["applied"]["surcharge"] == pytest.approx(
        due["applied"]["price"] * (116.8 / 109.4 - 1.05) * 0.35, abs=0.005
    )
    words = ("waiting", yard, "--on", "2026-12-20", "--quotes", quotes)
    rows = [
        line
        for line in run(*words).stdout.splitlines()
        if re.match("2026-000[0-9]  +(won|d)", line)
    ]
    assert [row.split()[:2] for row in rows] == [["2026-0001", "won"], ["2026-0002", "draft"]]

    policy = (yard / "yard.yaml").read_text("utf-8")
    (yard / "yard.yaml").write_text(policy.replace("share: 35 %", "share: 40 %"), "utf-8")
    (other,) = json.loads(run("waiting", yard, *asked_on, "--quotes", quotes).stdout)["surcharges"]
    assert other["told"] == ("the clause on the quote has other words than today's: read it first")
    indices = (yard / "indices.csv").read_text("utf-8").splitlines()
    later = [indices[0], *(line for line in indices[1:] if line > "2026-11")]
    (yard / "indices.csv").write_text("\n".join(later) + "\n", "utf-8")
    (gone,) = json.loads(run("waiting", yard, *asked_on, "--quotes", quotes).stdout)["surcharges"]
    assert gone["applied"] is None
    assert "resin_index" in gone["told"]
