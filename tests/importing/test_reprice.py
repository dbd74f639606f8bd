"""The command that proposes prices and publishes those accepted: what it prints and writes."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.catalogue.adding import replace_file, with_lines
from quoter.cli import main
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO

DAY = "2026-12-01"


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    return write_catalogue(tmp_path / "yard", {}, base=DEMO)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_it_shows_what_would_move_and_writes_nothing(yard: Path) -> None:
    book = yard / "price_book.csv"
    book.write_text(book.read_text("utf-8").replace("expected: held", "held"), encoding="utf-8")
    before = book.read_bytes()
    result = run("reprice", yard)
    assert result.exit_code == 0
    assert result.stderr.startswith(f"{yard.as_posix()}/price_book.csv:8:25: warning: Cockpit roof")
    assert result.stdout == (
        "Prices of 2026-11-01\n"
        "1 of 46 published prices would move, 45 are held.\n"
        "2 prices are not published yet and follow their costs (see --unpublished).\n"
        "List prices without tax; margins at Contract dealer, in % of the net price.\n"
        "\n"
        "model       what          market     published      proposed  change  margin  then  why\n"
        "all models  Cockpit roof  all     2,880.00 EUR  3,160.00 EUR  +9.7 %    23.9  30.2"
        "  moves to the target; above the floor again\n"
    )
    assert (yard / "price_book.csv").read_bytes() == before


def test_accepting_appends_a_dated_line_and_changes_no_old_one(yard: Path) -> None:
    before = (yard / "price_book.csv").read_bytes()
    result = run("reprice", yard, "--accept", "--effective", DAY, "--note", "resin")
    assert result.exit_code == 0
    assert result.stderr.endswith(
        f"1 price of {DAY} added to {yard / 'price_book.csv'}\n"
        "2026-12-01 is after 2026-11-01, the catalogue's day: commands go on with 2026-11-01\n"
        "    until 'today:' in yard.yaml or a price list comes to that day; --as-of 2026-12-01 "
        "looks at it now\n"
    )
    after = (yard / "price_book.csv").read_bytes()
    assert after == before + b"2026-12-01,,,roof_panel,3160 EUR,resin\n"
    assert priced(yard).models["open_68"].options["roof_panel"].list_price.value == 2880.0
    again = run("reprice", yard, "--as-of", DAY)
    assert again.stdout.startswith(
        "Prices of 2026-12-01\n0 of 46 published prices would move, 46 are held."
    )


def test_a_price_is_not_published_twice_for_a_day(yard: Path) -> None:
    run("reprice", yard, "--accept", "--effective", DAY)
    result = run("reprice", yard, "--accept", "--effective", DAY)
    assert result.exit_code == 1
    assert "no price is proposed" in result.output
    costs = run("reprice", yard, "--accept", "--effective", DAY, "--as-of", "2026-11-01")
    assert "price_book.csv:44:1 is a price of 2026-12-01 for it already" in costs.output


def test_a_price_is_not_published_for_a_day_past(yard: Path) -> None:
    result = run("reprice", yard, "--accept", "--effective", "2026-10-31")
    assert result.exit_code == 1
    assert "2026-10-31 is before 2026-11-01, the day that commands price on" in result.output


def test_what_is_not_published_yet_is_published_when_asked_for(yard: Path) -> None:
    result = run("reprice", yard, "--accept", "--effective", DAY, "--only", "ramp_hoist")
    assert result.exit_code == 0
    added = (yard / "price_book.csv").read_text("utf-8").splitlines()[-2:]
    assert added == [
        "2026-12-01,,coastal_98,ramp_hoist,1700 EUR,repriced",
        "2026-12-01,,passage_120,ramp_hoist,1700 EUR,repriced",
    ]


def test_an_unknown_name_and_a_missing_day_are_wrong_usage(yard: Path) -> None:
    unknown = run("reprice", yard, "--accept", "--effective", DAY, "--only", "roof")
    assert (unknown.exit_code, "nothing is priced as 'roof'" in unknown.output) == (2, True)
    assert run("reprice", yard, "--accept").exit_code == 2


def test_a_policy_without_a_rule_is_a_problem_at_its_place(tmp_path: Path) -> None:
    folder = write_catalogue(tmp_path / "card", {})
    result = run("reprice", folder)
    assert result.exit_code == 1
    assert (
        "yard.yaml:9:3: the policy does not say when a published price moves [not-set-up]"
        in result.output
    )
    assert "add for example 'repricing: {hold_within: 2 %, largest_step: 8 %}'" in result.output


def test_the_same_as_json(yard: Path) -> None:
    found = json.loads(run("reprice", yard, "--json").stdout)
    (roof,) = (each for each in found if each["option"] == "roof_panel")
    assert (roof["published"], roof["proposed"], roof["changes"]) == (2880.0, 3160.0, True)
    assert set(roof["models"]) == {"open_68", "longshore_76", "weekender_86"}
    on = roof["models"]["open_68"]
    assert (on["below_floor"], on["below_floor_then"]) == (True, False)
    assert on["margin"] < on["margin_then"]


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize("last", ["", "end"])
def test_lines_are_added_in_the_file_s_own_order_and_line_ends(ends: str, last: str) -> None:
    old = f'note,"date",model{ends}"a, b",2026-01-01,x'.encode() + (ends if last else "").encode()
    new = with_lines(old, (), [{"date": "2026-02-01", "model": "y", "note": 'say "so", then'}])
    assert new.startswith(old)
    assert new.removeprefix(old).decode().strip() == '"say ""so"", then",2026-02-01,y'
    assert new.count(ends.encode()) == 3


def test_a_value_for_a_column_the_file_lacks_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^the file has no column market$"):
        with_lines(b"date,model\n", (), [{"date": "2026-02-01", "market": "far"}])


def test_a_file_that_can_t_be_finished_stays_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "book.csv"
    path.write_bytes(b"old")

    def fail(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(KeyboardInterrupt):
        replace_file(path, b"new")
    assert [p.name for p in tmp_path.iterdir()] == ["book.csv"]
    assert path.read_bytes() == b"old"


def test_a_price_published_in_between_is_what_counts_on_the_day(yard: Path) -> None:
    """A list of the middle of the month is in force when the accepted prices would begin."""
    book = yard / "price_book.csv"
    line = "2026-11-15,,,roof_panel,3120 EUR,in between\n"
    book.write_text(book.read_text("utf-8") + line, encoding="utf-8")
    result = run("reprice", yard, "--accept", "--effective", DAY)
    assert (result.exit_code, "no price is proposed" in result.output) == (1, True)
    earlier = run("reprice", yard, "--accept", "--effective", DAY, "--as-of", "2026-11-01")
    assert earlier.exit_code == 1
    assert "price_book.csv:44:1 is a price of 2026-11-15 for it already" in earlier.output
    assert book.read_text("utf-8").endswith(line)


def test_a_credit_is_published_as_the_negative_price_it_is(yard: Path) -> None:
    options = yard / "options.yaml"
    text = options.read_text("utf-8")
    option = """
  - id: no_lid
    name: Delete the storage lid
    group: Doors and hatches
    kind: panel
    text: The boat without its insulated lid.
    lead_time: 1 week
    models: [longshore_76]
    credits:
      - {option: fish_lid, share: 80 %}
    goods:
      - {item: screws, quantity: 2}
"""
    options.write_text(text.replace("\noptions:\n", f"\noptions:{option}", 1), encoding="utf-8")
    for file in (yard / "translations").glob("*.po"):
        file.unlink()
    plain = (yard / "yard.yaml").read_text("utf-8").replace("language: nb", "language: en")
    plain = re.sub(r" +other_languages: .*\n", "", plain)
    (yard / "yard.yaml").write_text(plain, encoding="utf-8")
    words = ("reprice", yard, "--accept", "--effective", DAY, "--only", "no_lid")
    result = run(*words)
    assert result.exit_code == 0, result.output
    price = priced_on(yard).models["longshore_76"].options["no_lid"].list_price.value
    assert price < 0
    assert run("check", yard, "--as-of", DAY).exit_code == 0


def priced_on(folder: Path) -> Pricing:
    return price_catalogue(folder, date.fromisoformat(DAY))[0]


def test_what_the_catalogue_would_refuse_is_not_written(yard: Path) -> None:
    before = (yard / "price_book.csv").read_bytes()
    result = run("reprice", yard, "--accept", "--effective", DAY, "--note", "a\x07b")
    assert result.exit_code == 2
    assert "holds a control letter, #x0007" in result.output
    assert (yard / "price_book.csv").read_bytes() == before


def test_a_price_of_all_markets_that_one_has_left_is_still_proposed(yard: Path) -> None:
    book = yard / "price_book.csv"
    line = "2026-10-01,home,,roof_panel,2900 EUR,invented\n"
    book.write_text(book.read_text("utf-8") + line, encoding="utf-8")
    found = json.loads(run("reprice", yard, "--json").stdout)
    roofs = [each for each in found if each["option"] == "roof_panel"]
    assert [(each["market"], each["published"]) for each in roofs] == [("home", 2900), ("", 2880)]
    assert [each["proposed"] for each in roofs] == [3160, 3160]


def test_a_jump_beyond_the_limit_is_published_only_if_it_is_meant(yard: Path) -> None:
    """The roof at 240 EUR instead of 2,880: one step of the policy's would be thirteenfold."""
    book, policy = yard / "price_book.csv", yard / "yard.yaml"
    text = re.sub(r"largest_step: .*", "largest_step: 100 %", policy.read_text("utf-8"))
    policy.write_text(text, encoding="utf-8")
    low = book.read_text("utf-8").replace("roof_panel,2880 EUR", "roof_panel,2000 EUR")
    book.write_text(low, encoding="utf-8")
    words = ("reprice", yard, "--accept", "--effective", DAY)
    refused = run(*words)
    assert refused.exit_code == 1
    assert refused.stderr.endswith(
        "price_book.csv:8:25: Cockpit roof would cost 3,160.00 EUR, +58.0 % on the 2,000.00 EUR "
        "published [price-jump]\n"
        "    the limit is 12 %: check it, and use --meant if it is meant\n"
        "1 problem; nothing was written\n"
    )
    assert book.read_text("utf-8") == low
    assert run(*words, "--meant").exit_code == 0
    assert book.read_text("utf-8") == (
        f"{low}{DAY},,,roof_panel,3160 EUR,expected: accepted as meant; repriced\n"
    )


def test_a_day_far_ahead_is_published_for_only_if_it_is_meant(yard: Path) -> None:
    words = ("reprice", yard, "--accept", "--effective")
    refused = run(*words, "2029-12-01")
    assert refused.exit_code == 1
    assert refused.stderr.endswith(
        "--effective: 2029-12-01 is 1126 days after 2026-11-01, how far the catalogue has come "
        "[far-ahead]\n"
        "    check the year, and use --meant if it is meant\n"
        "1 problem; nothing was written\n"
    )
    assert run(*words, "2029-12-01", "--meant").exit_code == 0
    never = run(*words, "9999-12-31", "--meant")
    assert never.exit_code == 2
    assert "9999-12-31 is a day that nobody means; write a day of the years 1900 to 2199" in (
        never.stderr
    )
