"""Nothing of what was booked is published, and a build says which row it was that got out."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from click.testing import CliRunner

from quoter.catalogue.booked import TABLES
from quoter.cli import main
from quoter.leaks import LeakError, SiteGuard
from quoter.pages import money
from quoter.pages.public.site import PublicSite
from quoter.quotes.printed.files import reprinted
from tests.catalogues.written import FOLDER, priced
from tests.demo import DEMO
from tests.quotes.samples import SAMPLES

INDEX, DATA = "en/home/index.html", "en/home/prices.json"
NOTE = "the crew of the second hull"
# Values that occur nowhere else in the small catalogue, one of each kind.
ROWS: Mapping[str, Mapping[str, str]] = {
    "jobs": {
        "job": "QX-8817",
        "model": "cutter",
        "quote": "2026-7313-R1",
        "started": "2026-02-02",
        "note": NOTE,
    },
    "hours": {
        "reference": "KC-90417",
        "date": "2026-02-03",
        "job": "QX-8817",
        "station": "assembly",
        "hours": "13.85 h",
        "group": "hands",
        "wage": "27.93 EUR/h",
    },
    "issues": {
        "reference": "LG-5521",
        "date": "2026-02-03",
        "kind": "issue",
        "job": "QX-8817",
        "material": "hand_resin",
        "quantity": "71.63 kg",
        "price": "3.917 EUR/kg",
    },
    "purchases": {
        "reference": "RE-6604/3",
        "date": "2026-02-01",
        "supplier": "morgat",
        "material": "green",
        "quantity": "1137 kg",
        "price": "3.871 GBP/kg",
        "freight": "91.37 GBP",
        "rate": "0.8713 GBP/EUR",
    },
    "pulls": {
        "reference": "ZP-4096",
        "date": "2026-02-04",
        "part": "lid",
        "good": "2",
        "scrapped": "0",
    },
    "overhead": {
        "reference": "HB-3350",
        "month": "2026-02",
        "station": "assembly",
        "kind": "variable",
        "spent": "6174.55 EUR",
    },
}
# What is planted, and how the message ends: what it is and the line it stands on.
PLANTED = [
    ("QX-8817", "a job of jobs booked, actuals/jobs.csv:2"),
    ("2026-7313-R1", "the quote of a job of jobs booked, actuals/jobs.csv:2"),
    (NOTE, "a note of jobs booked, actuals/jobs.csv:2"),
    ("KC-90417", "the reference of hours booked, actuals/hours.csv:2"),
    ("13.85", "KC-90417, hours, actuals/hours.csv:2"),
    ("27.93", "KC-90417, wage, actuals/hours.csv:2"),
    ("€27.93", "KC-90417, wage, actuals/hours.csv:2"),
    ("27,93 €", "KC-90417, wage, actuals/hours.csv:2"),
    ("71.63", "a quantity of issues booked, actuals/issues.csv:2"),
    ("3.917", "LG-5521, price, actuals/issues.csv:2"),
    ("RE-6604/3", "the reference of purchases booked, actuals/purchases.csv:2"),
    ("3.871", "RE-6604/3, price, actuals/purchases.csv:2"),
    ("91.37", "RE-6604/3, freight, actuals/purchases.csv:2"),
    ("0.8713", "RE-6604/3, rate, actuals/purchases.csv:2"),
    ("6,174.55", "HB-3350, assembly, 2026-02, variable, spent, actuals/overhead.csv:2"),
]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small catalogue with a row of each table."""
    copy = tmp_path_factory.mktemp("booked") / "small"
    shutil.copytree(FOLDER / "small", copy)
    (copy / "actuals").mkdir()
    for table, row in ROWS.items():
        text = f"{','.join(row)}\n{','.join(row.values())}\n"
        (copy / "actuals" / f"{table}.csv").write_text(text, encoding="utf-8")
    assert ROWS.keys() == TABLES.keys()
    return copy


@pytest.fixture(scope="module")
def site(folder: Path) -> PublicSite:
    return PublicSite(priced(folder))


def told(site: PublicSite, path: str, content: bytes) -> str:
    with pytest.raises(LeakError) as caught:
        SiteGuard(site).look_through({path: content})
    return "\n".join(leak.said for leak in caught.value.leaks)


@pytest.mark.parametrize(("text", "known"), PLANTED)
def test_a_page_that_says_what_was_booked_is_stopped(
    site: PublicSite, text: str, known: str
) -> None:
    page = site.makers[INDEX]().replace(b"</main>", f"<p>{text}</p></main>".encode())
    assert f": it is {known}" in told(site, INDEX, page)


@pytest.mark.parametrize(("text", "known"), PLANTED)
def test_data_that_say_what_was_booked_are_stopped(site: PublicSite, text: str, known: str) -> None:
    data = site.makers[DATA]().replace(b"Deck hatch", text.encode())
    assert f": it is {known}" in told(site, DATA, data)


def test_a_quote_that_says_what_was_paid_is_stopped(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    right = money.money

    def wrong(amount: Decimal, currency: str, locale: Locale) -> str:
        return right(Decimal("6174.55"), currency, locale)

    monkeypatch.setattr(money, "money", wrong)
    with pytest.raises(LeakError) as caught:
        reprinted(SAMPLES["usual"](), priced(folder))
    assert {leak.said for leak in caught.value.leaks} == {
        "'6,174.55': it is HB-3350, assembly, 2026-02, variable, spent, actuals/overhead.csv:2"
    }


def test_what_was_booked_moves_no_byte_of_the_price_sheet(tmp_path: Path, folder: Path) -> None:
    """Nor does it stand in any file of it, and a broken table stops no price sheet."""
    sites = []
    for name, catalogue in (("without", FOLDER / "small"), ("with", folder)):
        made = tmp_path / name
        words = ("build", catalogue, "--site", made, "--internal", tmp_path / f"{name}_internal")
        result = CliRunner().invoke(main, [str(word) for word in words])
        assert result.exit_code == 0, result.output
        sites.append(_contents(made))
    without, with_rows = sites
    assert without == with_rows
    everything = b"\n".join(with_rows.values())
    for text, _ in PLANTED:
        assert text.encode() not in everything


def test_the_demonstration_publishes_no_job_and_no_note_of_one() -> None:
    """Neither its price sheet nor a request holds what its yard booked."""
    published = b"\n".join(_contents(DEMO.parent / "site").values())
    lines = (DEMO / "actuals" / "jobs.csv").read_text(encoding="utf-8").splitlines()[1:]
    assert lines
    for line in lines:
        assert line.partition(",")[0].encode() not in published


def _contents(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.startswith(".")
    }
