"""A supplier's own list, as a workbook or a text, becomes a dated list of what moved."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.importing.moves import moves_of
from quoter.importing.price_lines import PriceLines
from quoter.importing.prices import import_prices
from quoter.importing.table import find_table, read_sheets, wanted_headings
from quoter.importing.writing import read_sound
from tests.importing.sheets import (
    HEADINGS,
    bytes_in,
    mapped,
    one_line,
    quoter,
    with_results,
    workbook,
)

DAY = date(2026, 12, 1)
ROWS = (
    ("WESTPOLY  Price list", None, None, None, None, None),
    ("Valid from 1 December 2026, ex works", None, None, None, None, None),
    (),
    ("Page 1", *[None] * 5),
    HEADINGS,
    ("UNSATURATED POLYESTERS", *[None] * 5),
    ("WP-1188", "Injection resin", "485 LB", 2.21, "LB", "USD"),
    ("GELCOATS", *[None] * 5),
    ("WP-2044", "Deep blue", None, "48.50", "US GAL", "USD"),
    HEADINGS,
    ("WP-3101-A", "Component A", "480 LB", 1392, "DR", "USD"),
    ("WP-9000", "Pallet", None, 14, "each", "USD"),
    ("All orders are subject to our terms of sale.", *[None] * 5),
)
PACK = {
    "materials.yaml": ("{id: polyol, name: Polyol}", "{id: polyol, name: Polyol, pack: 480 lb}")
}


def test_a_workbook_with_titles_sections_and_a_second_page_is_read(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard", PACK)
    file = workbook(tmp_path / "WP december.xlsx", ROWS)
    before = bytes_in(catalogue)
    result = quoter(
        "import-prices", catalogue, file, "--supplier", "westpoly", "--effective", str(DAY)
    )
    assert result.exit_code == 0, result.output
    assert result.stdout == (
        "material   code               old            new  in the old unit  change\n"
        "resin_inj  WP-1188    2.05 USD/lb    2.21 USD/lb                   +7.8 %\n"
        "gel_blue   WP-2044     47 USD/gal  48.50 USD/gal                   +3.2 %\n"
        "polyol     WP-3101-A  2.90 USD/lb  1392 USD/drum       2.9 USD/lb  +0.0 %"
        "  unchanged, listed again\n"
        "\n"
        "Mean change by class: foam +0.0 % (1 price), gelcoat +3.2 % (1 price), "
        "resin +7.8 % (1 price).\n"
        "Not in the file, the old price stays: WP-3101-B (isocyanate).\n"
    )
    name = "prices/2026-12-01.csv"
    assert result.stderr == f"3 prices from 2026-12-01 on written to {catalogue / name}\n"
    after = bytes_in(catalogue)
    assert after.pop(name).decode() == (
        "material,supplier,price,note\n"
        "resin_inj,westpoly,2.21 USD/lb,imported from WP december.xlsx\n"
        "gel_blue,westpoly,48.50 USD/gal,imported from WP december.xlsx\n"
        "polyol,westpoly,2.90 USD/lb,imported from WP december.xlsx\n"
    )
    assert after == before
    prices = load_catalogue(catalogue, DAY)[0].prices
    # A pound is 0.45359237 kg and a US gallon 3.785411784 L, exactly: NIST Special Publication
    # 811 (2008), appendix B.8.
    assert prices["resin_inj"].price.value == pytest.approx(2.21 / 0.45359237, rel=1e-15)
    assert prices["gel_blue"].price.value == pytest.approx(48.50 / 3.785411784e-3, rel=1e-15)


GERMAN = '''\
Fjordglas GmbH;;;
Preisliste gültig ab 01.12.2026;;;

Pos.;Artikelnr.;Bezeichnung;Einheit;Preis
1;FG-450;Matte 450;kg;2,46
2;FG-600;Fließmatte, 600 g/m²;Rolle;1.280,00
3;HZ-10;Laminierharz;kg;3,30 €
4;GW-01;"Gelcoat ""weiß""";kg;EUR 7,05
5;SCH-8;Schrauben;Karton;26
'''


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_text_of_semicolons_and_decimal_commas_is_read(
    tmp_path: Path, encoding: str, ends: str
) -> None:
    catalogue = mapped(tmp_path / "yard")
    file = tmp_path / "preise.csv"
    file.write_bytes(GERMAN.replace("1.280,00", "281,50").replace("\n", ends).encode(encoding))
    made = import_prices(catalogue, file, "fjordglas", DAY)
    assert made.faults == []
    assert made.files["prices/2026-12-01.csv"].decode() == (
        "material,supplier,price,note\n"
        "mat_450,fjordglas,2.46 EUR/kg,imported from preise.csv\n"
        "flow_600,fjordglas,281.50 EUR/roll,imported from preise.csv\n"
        "gel_white,fjordglas,7.05 EUR/kg,imported from preise.csv\n"
        "screws,fjordglas,26 EUR/box,imported from preise.csv\n"
    )


def test_thousands_are_read_and_a_jump_is_refused_unless_it_is_meant(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    catalogue = mapped(Path("yard"))
    Path("preise.csv").write_text(GERMAN, "utf-8")
    before = bytes_in(catalogue)
    chosen = ("--supplier", "fjordglas", "--effective", str(DAY))
    words = ("import-prices", "yard", "preise.csv", *chosen)
    refused = quoter(*words)
    assert refused.exit_code == 1
    assert "+357.1 %  beyond 15 %" in refused.stdout
    assert refused.stderr == (
        "preise.csv:6:37: 'flow_600' would cost 1280.00 EUR/roll,"
        " 357.1 % more than the 280 EUR/roll in force [price-jump]\n"
        "    2;FG-600;Fließmatte, 600 g/m²;Rolle;1.280,00\n"
        "                                        ^\n"
        "    the limit is 15 %: check it, and use --accept FG-600 if it is meant\n"
        "1 problem; nothing was written\n"
    )
    assert bytes_in(catalogue) == before
    assert quoter(*words, "--limit", "357", "--dry-run").exit_code == 1
    assert quoter(*words, "--limit", "358", "--dry-run").exit_code == 0
    assert bytes_in(catalogue) == before
    accepted = quoter(*words, "--accept")
    assert accepted.exit_code == 0, accepted.output
    assert "beyond 15 %" in accepted.stdout
    assert b"flow_600,fjordglas,1280.00 EUR/roll," in (catalogue / f"prices/{DAY}.csv").read_bytes()


def test_the_policy_has_a_limit_of_its_own(tmp_path: Path) -> None:
    """2.05 to 2.21 is 7.8 %."""
    key = "  prices_stale_after_days: 90\n"
    file = workbook(tmp_path / "p.xlsx", ROWS)
    for limit, count in (("8 %", 0), ("7 %", 1)):
        change = {"yard.yaml": (key, f"  import_limit: {limit}\n{key}")}
        catalogue = mapped(tmp_path / limit, PACK | change)
        assert len(import_prices(catalogue, file, "westpoly", DAY).faults) == count


@pytest.mark.parametrize("new", ["1.75", "2.35"])
def test_a_fall_is_a_jump_like_a_rise(tmp_path: Path, new: str) -> None:
    """2.05 less 14.6 % and more 14.6 % pass at 15 %, and neither at 14 %."""
    catalogue = mapped(tmp_path / "yard")
    file = tmp_path / "p.csv"
    file.write_text(f"Item No.,Description,Pack size,Price,Per,Cur\nWP-1188,,,{new},LB,USD\n")
    assert import_prices(catalogue, file, "westpoly", DAY, 0.15).faults == []
    (fault,) = import_prices(catalogue, file, "westpoly", DAY, 0.14).faults
    word = "less" if new == "1.75" else "more"
    assert fault.what == (
        f"'resin_inj' would cost {new} USD/lb, 14.6 % {word} than the 2.05 USD/lb in force"
    )


# The old price is 2.05 USD/lb of a resin of 1.09 kg/L, in drums of 220 kg; 47 USD/gal of a gelcoat
# of 1.24 kg/L. One lb is 0.45359237 kg and one US gal 3.785411784 L, exactly: NIST Special
# Publication 811 (2008), appendix B.8.
@pytest.mark.parametrize(
    ("code", "price", "per", "shown", "change"),
    [
        ("WP-1188", "5", "kg", "2.268 USD/lb", 5 * 0.45359237 / 2.05 - 1),
        ("WP-1188", "5", "L", "2.0807 USD/lb", 5 / 1.09 * 0.45359237 / 2.05 - 1),
        ("WP-1188", "18.9", "US GAL", "2.0777 USD/lb",
         18.9 / (1.09 * 3.785411784) * 0.45359237 / 2.05 - 1),
        ("WP-1188", "990", "DR", "2.0412 USD/lb", 990 / 220 * 0.45359237 / 2.05 - 1),
        ("WP-1188", "4500", "t", "2.0412 USD/lb", 4.5 * 0.45359237 / 2.05 - 1),
        ("WP-2044", "12.5", "L", "47.318 USD/gal", 12.5 * 3.785411784 / 47 - 1),
        ("WP-2044", "4.60", "lb", "47.602 USD/gal",
         4.60 / 0.45359237 * 1.24 * 3.785411784 / 47 - 1),
    ],
)  # fmt: skip
def test_prices_per_other_units_are_compared_by_exact_factors(
    tmp_path: Path, code: str, price: str, per: str, shown: str, change: float
) -> None:
    catalogue = mapped(tmp_path / "yard")
    file = tmp_path / "p.csv"
    file.write_text(one_line(code, price, per))
    records = read_sound(catalogue)
    supplier = records.suppliers["westpoly"]
    assert supplier.price_file is not None
    table = find_table(read_sheets(file, None), wanted_headings(supplier.price_file))
    offers = PriceLines(records, supplier, supplier.price_file, table, DAY).offers()
    (move,) = moves_of(records, offers, DAY)
    assert move.as_old == shown
    assert move.change == pytest.approx(change, abs=1e-14)


def test_what_a_workbook_stores_is_kept_to_the_digits_people_see(tmp_path: Path) -> None:
    """1.1 + 0.99 is 2.0900000000000003 in binary; a price has no such digits. Formulas count as
    their stored results."""
    catalogue = mapped(tmp_path / "yard")
    resin = ("WP-1188", None, None, "=1.1+0.99", "LB", "USD")
    rows = (HEADINGS, resin, ("WP-2044", None, None, 0.1 + 47.2, "US GAL", "USD"))
    file = with_results(workbook(tmp_path / "p.xlsx", rows), {"1.1+0.99": "2.0900000000000003"})
    made = import_prices(catalogue, file, "westpoly", DAY)
    assert made.faults == []
    text = made.files[f"prices/{DAY}.csv"].decode()
    assert "resin_inj,westpoly,2.09 USD/lb," in text
    assert "gel_blue,westpoly,47.3 USD/gal," in text


def test_lines_are_added_to_a_list_of_the_day_and_its_bytes_stay(tmp_path: Path) -> None:
    """Another supplier's list came before, with other line ends and no line end at its end."""
    catalogue = mapped(tmp_path / "yard")
    old = b"supplier,material,price,note\r\nfjordglas,resin_lam,3.40 EUR/kg,by phone"
    (catalogue / f"prices/{DAY}.csv").write_bytes(old)
    file = workbook(tmp_path / "p.xlsx", [HEADINGS, ("WP-1188", None, None, 2.15, "LB", "USD")])
    words = ("--supplier", "westpoly", "--effective", str(DAY))
    assert quoter("import-prices", catalogue, file, *words).exit_code == 0
    assert (catalogue / f"prices/{DAY}.csv").read_bytes() == (
        old + b"\r\nwestpoly,resin_inj,2.15 USD/lb,imported from p.xlsx\r\n"
    )
    again = quoter("import-prices", catalogue, file, *words)
    assert (again.exit_code, again.stderr) == (0, "nothing moved: nothing was written\n")


def test_an_old_list_is_never_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    catalogue = mapped(Path("yard"))
    Path("p.csv").write_text(one_line("WP-1188", "2.10", "LB"))
    before = bytes_in(catalogue)
    words = ("--supplier", "westpoly", "--effective", "2026-11-01", "--accept")
    result = quoter("import-prices", "yard", "p.csv", *words)
    assert result.exit_code == 1
    assert result.stderr == (
        "p.csv:2:11: 'resin_inj' has a price of 2026-11-01 already, 2.05 USD/lb,"
        " and would have 2.10 USD/lb [already-listed]\n"
        "    WP-1188,,,2.10,LB,USD\n"
        "              ^\n"
        "    prices/2026-11-01.csv:3:1 stays as it is: name another day, "
        "or use --corrected if the supplier corrected its list\n"
        "1 problem; nothing was written\n"
    )
    assert bytes_in(catalogue) == before


NO_POLYOL = {"prices/2026-10-01.csv": ("polyol,westpoly,2.90 USD/lb,\n", "")}


def test_a_material_gets_its_first_price(tmp_path: Path) -> None:
    """The catalogue has a problem before, which the list mends."""
    catalogue = mapped(tmp_path / "yard", NO_POLYOL)
    assert quoter("check", catalogue).exit_code == 1
    file = tmp_path / "p.csv"
    file.write_text(one_line("WP-3101-A", "2.95", "LB"))
    made = import_prices(catalogue, file, "westpoly", DAY)
    shown = " ".join(made.shown[1].split())
    assert shown == "polyol WP-3101-A – 2.95 USD/lb first price"
    assert b"polyol,westpoly,2.95 USD/lb" in made.files[f"prices/{DAY}.csv"]


def test_a_problem_that_the_list_does_not_mend_stops_it(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard", NO_POLYOL)
    file = tmp_path / "p.csv"
    file.write_text(one_line("WP-1188", "2.10", "LB"))
    before = bytes_in(catalogue)
    words = ("--supplier", "westpoly", "--effective", str(DAY))
    result = quoter("import-prices", catalogue, file, *words)
    assert (result.exit_code, result.stderr) == (
        1,
        f"{catalogue}/materials.yaml:51:5: 'polyol' has no price in force on 2026-12-01 "
        "[not-in-force]\n"
        "      - {id: polyol, name: Polyol}\n"
        "        ^\n"
        "    add a line for it to a file in prices/\n"
        "1 problem; nothing was written\n",
    )
    assert bytes_in(catalogue) == before


def test_a_new_supplier_is_compared_at_the_rate_of_the_day(tmp_path: Path) -> None:
    """2.90 USD/lb at 1.08 USD/EUR is 5.92 EUR/kg."""
    codes = ("{code: SCH-9, material: hinge}", "{code: PO, material: polyol}")
    catalogue = mapped(tmp_path / "yard", {"suppliers.yaml": codes})
    file = tmp_path / "p.csv"
    file.write_text("Artikelnr.;Preis;Einheit\nPO;5,70;kg\n")
    made = import_prices(catalogue, file, "fjordglas", DAY)
    change = 5.70 / (2.90 / 0.45359237 / 1.08) - 1
    shown = " ".join(made.shown[1].split())
    as_old = f"{2.90 * (1 + change):.5g} USD/lb {change * 100:+.1f} %"
    assert shown == f"polyol PO 2.90 USD/lb 5.70 EUR/kg {as_old}"
    assert "'polyol' was bought of 'westpoly' until now." in made.shown
