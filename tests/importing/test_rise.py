"""A rise on a family is announced, shows as a what-if, and raises prices once it is confirmed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.catalogue.rises import announced_rises
from quoter.figures.graph import evaluate
from quoter.importing.prices import UnknownNameError, import_prices
from quoter.importing.rise import Rise, note_rise
from quoter.importing.writing import Import, write
from tests.importing.sheets import bytes_in, mapped, quoter

DAY = date(2026, 12, 1)
LETTER = date(2026, 11, 12)
NAMES = {
    "    name: Injection resin\n": "    family: polyester\n",
    "    name: Blue gelcoat\n": "    family: polyester\n",
    "    name: Laminating resin\n": "    family: polyester\n",
}


def yard(folder: Path) -> Path:
    """An injection resin (2.05 USD/lb) and a gelcoat (47 USD/gal) of one supplier, and a
    laminating resin of another, are one family."""
    catalogue = mapped(folder)
    text = (catalogue / "materials.yaml").read_text("utf-8")
    for name, family in NAMES.items():
        assert text.count(name) == 1
        text = text.replace(name, name + family)
    (catalogue / "materials.yaml").write_text(text, "utf-8")
    return catalogue


def rise(by: str, state: str = "confirmed", dated: date = LETTER) -> Rise:
    return Rise("westpoly", "polyester", by, DAY, state, dated, "letter")


def noted(catalogue: Path, words: Rise, *, accepted: bool = False) -> Import:
    made = note_rise(catalogue, words, accepted=accepted)
    assert made.faults == []
    write(catalogue, made.files)
    return made


def test_an_announced_rise_is_noted_and_its_prices_shown_but_not_written(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    before = bytes_in(catalogue)
    words = ["rise", str(catalogue), "--supplier", "westpoly", "--family", "polyester", "--by"]
    words += ["0.10 USD/lb", "--effective", str(DAY), "--state", "announced", "--dated"]
    result = quoter(*words, str(LETTER), "--note", "letter, by post")
    assert result.exit_code == 0, result.output
    assert result.stdout == (
        "If it is confirmed:\n"
        "material           old               new  change\n"
        "resin_inj  2.05 USD/lb       2.15 USD/lb  +4.9 %\n"
        "gel_blue    47 USD/gal  48.03483 USD/gal  +2.2 %\n"
        "\n"
        "Mean change by class: gelcoat +2.2 % (1 price), resin +4.9 % (1 price).\n"
    )
    assert result.stderr == f"the rise is announced in {catalogue / 'rises.csv'}\n"
    after = bytes_in(catalogue)
    assert after.pop("rises.csv").decode() == (
        "date,supplier,family,by,effective,state,note\n"
        '2026-11-12,westpoly,polyester,0.10 USD/lb,2026-12-01,announced,"letter, by post"\n'
    )
    assert after == before


def test_a_confirmed_rise_writes_the_raised_prices_in_the_old_units(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    made = noted(catalogue, rise("0.10 USD/lb"))
    assert made.done == (
        f"2 prices from 2026-12-01 on written to {catalogue}/prices/2026-12-01.csv; "
        f"the rise is confirmed in {catalogue}/rises.csv"
    )
    # One lb is 0.45359237 kg and one US gal 3.785411784 L, exactly: NIST Special Publication 811
    # (2008), appendix B.8; the gelcoat has 1.24 kg/L.
    raised = 47 + 0.10 / 0.45359237 * 1.24 * 3.785411784
    assert (catalogue / "prices/2026-12-01.csv").read_text() == (
        "material,supplier,price,note\n"
        'resin_inj,westpoly,2.15 USD/lb,"0.10 USD/lb on polyester, confirmed 2026-11-12"\n'
        f"gel_blue,westpoly,{round(raised, 6)} USD/gal,"
        '"0.10 USD/lb on polyester, confirmed 2026-11-12"\n'
    )
    assert announced_rises(load_catalogue(catalogue)[0]) == []


@pytest.mark.parametrize(
    ("by", "resin", "gelcoat"),
    [
        ("5 %", "2.1525 USD/lb", "49.35 USD/gal"),
        ("-2.5 %", "1.99875 USD/lb", "45.825 USD/gal"),
        ("0.22046226 USD/kg", "2.15 USD/lb", "48.03483 USD/gal"),
        ("-1 USD/gal", "1.940067 USD/lb", "46 USD/gal"),
    ],
)
def test_a_rise_may_be_a_percentage_a_fall_or_per_another_unit(
    tmp_path: Path, by: str, resin: str, gelcoat: str
) -> None:
    """1 USD/gal of a resin of 1.09 kg/L is 0.109933 USD/lb."""
    made = note_rise(yard(tmp_path / "yard"), rise(by))
    assert made.faults == []
    lines = made.files["prices/2026-12-01.csv"].decode().splitlines()[1:]
    assert [line.split(",")[2] for line in lines] == [resin, gelcoat]


def test_the_state_is_that_of_the_newest_letter_up_to_the_day(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    noted(catalogue, rise("0.10 USD/lb", "announced", date(2026, 11, 5)))
    noted(catalogue, rise("0.08 USD/lb", "announced", date(2026, 11, 10)))
    noted(catalogue, rise("0.08 USD/lb", "withdrawn", date(2026, 11, 20)))

    def announced(day: date) -> list[float]:
        found = announced_rises(load_catalogue(catalogue, day)[0])
        # A figure whose number follows from the price and the rise like any other.
        return [evaluate([each.prices["resin_inj"]])[0] * 0.45359237 for each in found]

    assert announced(date(2026, 11, 4)) == []
    assert announced(date(2026, 11, 5)) == pytest.approx([2.15], rel=1e-14)
    assert announced(date(2026, 11, 10)) == pytest.approx([2.13], rel=1e-14)
    assert announced(date(2026, 11, 20)) == []


def test_an_announced_rise_has_the_prices_of_the_suppliers_materials_of_the_family(
    tmp_path: Path,
) -> None:
    catalogue = yard(tmp_path / "yard")
    noted(catalogue, rise("0.10 USD/lb", "announced"))
    (found,) = announced_rises(load_catalogue(catalogue, date(2026, 11, 30))[0])
    assert found.row.effective == DAY
    assert set(found.prices) == {"resin_inj", "gel_blue"}
    per_gal = found.prices["gel_blue"].value * 3.785411784e-3
    assert per_gal == pytest.approx(47 + 0.10 / 0.45359237 * 1.24 * 3.785411784, rel=1e-14)
    assert str(found.prices["gel_blue"].unit) == "USD/m3"


def test_what_is_confirmed_changes_no_more(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    noted(catalogue, rise("0.10 USD/lb"))
    held = bytes_in(catalogue)
    (fault,) = note_rise(catalogue, rise("0.10 USD/lb", "withdrawn", date(2026, 11, 25))).faults
    assert str(fault) == (
        "--state: the rise was confirmed at rises.csv:2:1 already [already-listed]\n"
        "    what prices do after that stands in lists of their own"
    )
    (again,) = note_rise(catalogue, rise("0.10 USD/lb", "withdrawn")).faults
    assert str(again) == (
        "--dated: a letter of 2026-11-12 on this rise is noted at rises.csv:2:1 [already-listed]\n"
        "    give the day of the newer letter"
    )
    assert bytes_in(catalogue) == held


def test_a_rise_beyond_the_limit_is_refused_unless_it_is_meant(tmp_path: Path) -> None:
    """0.40 on 2.05 is 19.5 %."""
    catalogue = yard(tmp_path / "yard")
    held = bytes_in(catalogue)
    words = ["rise", str(catalogue), "--supplier", "westpoly", "--family", "polyester", "--by"]
    words += ["0.40 USD/lb", "--effective", str(DAY), "--dated", str(LETTER), "--state"]
    refused = quoter(*words, "confirmed")
    assert refused.exit_code == 1
    assert refused.stderr == (
        "--by: 'resin_inj' would cost 2.45 USD/lb, 19.5 % more than the 2.05 USD/lb in force "
        "[price-jump]\n"
        "    the limit is 15 %: check it, and use --accept if it is meant\n"
        "1 problem; nothing was written\n"
    )
    rehearsed = quoter(*words, "confirmed", "--accept", "--dry-run")
    assert (rehearsed.exit_code, rehearsed.stderr) == (0, "a dry run: nothing was written\n")
    assert bytes_in(catalogue) == held
    assert quoter(*words, "announced").exit_code == 0
    assert quoter(*words, "confirmed", "--accept").exit_code == 1  # the same letter, twice
    words[words.index(str(LETTER))] = "2026-11-20"
    assert quoter(*words, "confirmed", "--accept").exit_code == 0


def test_a_fall_to_nothing_is_refused(tmp_path: Path) -> None:
    (fault,) = note_rise(yard(tmp_path / "yard"), rise("-3 USD/lb", "announced")).faults[:1]
    assert str(fault) == (
        "--by: 'gel_blue' would cost 15.954685 USD/gal"
        if fault.what.startswith("'gel_blue'")
        else "--by: 'resin_inj' would cost nothing or less after -3 USD/lb [zero-amount]\n"
        "    it costs 2.05 USD/lb: check it"
    )


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (Rise("westpoly", "polyester", "0.10 USD/m", DAY, "announced", LETTER),
         "'resin_inj' can't be priced per m"),
        (Rise("westpoly", "polyester", "0.10 EUR/kg", DAY, "announced", LETTER),
         "the rise is in EUR"),
        (Rise("westpoly", "polyester", "5", DAY, "announced", LETTER), "a rise by a plain number"),
        (Rise("westpoly", "polyester", "0 %", DAY, "announced", LETTER), "a rise of nothing"),
        (Rise("westpoly", "polyester", "0,10 USD/lb", DAY, "announced", LETTER),
         "by '0,10 USD/lb' has a comma for its decimals"),
    ],
)  # fmt: skip
def test_an_amount_that_says_nothing_is_told_as_the_catalogue_would(
    tmp_path: Path, words: Rise, told: str
) -> None:
    catalogue = yard(tmp_path / "yard")
    faults = note_rise(catalogue, words).faults
    assert told in [fault.what for fault in faults]
    assert {(fault.place.clickable, fault.excerpt) for fault in faults} == {("--by", "")}
    assert not (catalogue / "rises.csv").exists()


def test_what_is_wrong_with_another_option_is_told_there(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    late = Rise("westpoly", "polyester", "5 %", date(2036, 12, 1), "announced", LETTER)
    (fault,) = note_rise(catalogue, late).faults
    assert str(fault).startswith("--effective: 2036-12-01 is 3683 days after 2026-11-01")
    assert note_rise(catalogue, late, accepted=True).faults == []
    long = Rise("westpoly", "polyester", "5 %", DAY, "announced", LETTER, "so long, " * 300)
    (fault,) = note_rise(catalogue, long).faults
    assert fault.place.clickable == "--note"


def imported(catalogue: Path, day: date, price: str) -> Import:
    file = catalogue.parent / "p.csv"
    file.write_text(f"Item No.,Description,Pack size,Price,Per,Cur\nWP-1188,,,{price},LB,USD\n")
    made = import_prices(catalogue, file, "westpoly", day)
    assert made.faults == []
    write(catalogue, made.files)
    return made


def test_a_rise_is_not_offered_on_top_of_the_prices_that_hold_it(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    noted(catalogue, rise("0.10 USD/lb", "announced"))
    day_before = imported(catalogue, date(2026, 11, 30), "2.06")
    assert not any("rise" in line for line in day_before.shown)
    made = imported(catalogue, DAY, "2.16")
    assert made.shown[-2] == (
        "A rise of 0.10 USD/lb on 'polyester' was announced for 2026-12-01 (rises.csv:2:1): note "
        "with 'quoter rise' whether it is confirmed, or withdrawn because these prices hold it."
    )
    assert len(announced_rises(load_catalogue(catalogue, date(2026, 11, 30))[0])) == 1
    then, warnings = load_catalogue(catalogue, DAY)
    assert announced_rises(then) == []
    assert [each.what for each in warnings if each.place.file == "rises.csv"] == [
        "announced for 2026-12-01 and neither confirmed nor withdrawn"
    ]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("westpolly", "polyester"), "unknown supplier 'westpolly': did you mean 'westpoly'?"),
        (("westpoly", "polyesters"), "unknown family 'polyesters': did you mean 'polyester'?"),
    ],
)
def test_unknown_names_are_wrong_usage(tmp_path: Path, words: tuple[str, str], told: str) -> None:
    catalogue = yard(tmp_path / "yard")
    with pytest.raises(UnknownNameError) as stopped:
        note_rise(catalogue, Rise(*words, "5 %", DAY, "announced", LETTER))
    assert str(stopped.value) == told


def test_a_family_that_the_supplier_does_not_sell_is_wrong_usage(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard", {
        "materials.yaml": ("    name: Laminating resin\n",
                           "    name: Laminating resin\n    family: polyester\n"),
    })  # fmt: skip
    with pytest.raises(UnknownNameError, match="nothing of the family 'polyester' is bought of"):
        note_rise(catalogue, rise("5 %"))
