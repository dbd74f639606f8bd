"""The totals in the browser equal those of `quoter quote` for random lists in every market.

The page adds up what its own rules let through; its saved request then goes the way of the command.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from click.testing import CliRunner
from playwright.sync_api import Browser

from quoter.cli import main
from quoter.pages.money import money
from quoter.pages.public.site import market_pages
from quoter.pricing.price import PAIRED, Pricing
from quoter.quotes.draft import draft_of, record_of
from quoter.quotes.kept.inside import Approval
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json
from quoter.quotes.request import read_request, sound_wish
from quoter.quotes.seen import granted_in
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO
from tests.pages.boat_pages import Visit, laid_out, visiting
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
COUNT = 100  # lists per market
MODELS = ("open_68", "longshore_76", "weekender_86", "coastal_98", "passage_120")
# Each market's sheet, and whether its lists show tax.
SHEETS = {"home": ("en/home", True), "trade": ("en/trade", False), "north": ("nb/north", False)}
# The options are asked for one after the other; of what is refused, every second way out is taken.
BUILT = """wishes => wishes.map(([wish, asked]) => {
    const choice = boatOnPage.choice;
    choice.take(new Map());
    wish.forEach(([id, count], at) => {
        const answer = choice.ask(id, count);
        if (!answer.done && answer.instead && at % 2) { choice.take(answer.instead); }
    });
    const sums = choice.totals();
    return [choice.written(), boatOnPage.money(sums.price), amounts.mass(sums.mass,
        boatOnPage.list.masses), boatOnPage.requestText(asked)];
})"""


@dataclass(frozen=True, slots=True)
class Built:
    """A list as the page shows it, and the request it would save."""

    text: str
    total: str
    mass: str
    request: str


def built(visit: Visit, folder: Path, model: str, pricing: Pricing, count: int) -> list[Built]:
    """Random lists of one model on the price sheet in a folder, always the same ones."""
    dice = random.Random(f"{folder.name} {model}")
    ids = list(pricing.models[model].extras)
    wishes = []
    for _ in range(count):
        some = dice.sample(ids, dice.randint(0, len(ids)))
        wish = [(id, dice.choice((1, 1, 2, 3, 4))) for id in some]
        wishes.append((wish, {"name": "Jo", "date": "2026-11-26", "note": "a\nb"}))
    found = visit.open(folder / f"models/{model}.html").evaluate(BUILT, wishes)
    assert visit.faults == []
    return [Built(*each) for each in found]


def quoted(pricing: Pricing, each: Built, folder: Path) -> Record:
    """The record that the command would freeze for a saved request."""
    path = folder / "request.yaml"
    path.write_text(f"{each.request}prepared_by: Ilse Maravant\n", encoding="utf-8")
    asked = read_request(path)
    assert granted_in(asked.request) == []
    approval = Approval(name="Ilse Maravant", reason="a test of totals")
    return record_of(draft_of(pricing, sound_wish(asked, pricing), "", approval), "2026-0001")


def agree(each: Built, record: Record, with_tax: bool) -> None:
    """What the page shows is what the quote says."""
    locale = Locale.parse(record.language, sep="-")
    assert record.with_tax == with_tax
    shown = record.total if with_tax else record.net
    # The lists without tax have whole prices, and write them so.
    assert each.total == money(shown, record.currency, locale, whole=not with_tax), each.text
    seen = record.inside.seen
    assert seen is not None
    assert seen.total == seen.listed == shown, each.text
    _, mass = record.facts[-1]
    assert each.mass == mass, each.text
    chosen = [line for line in record.lines if line.kind in CHOSEN]
    lines = {line.id: line.quantity for line in chosen if PAIRED not in line.id}
    listed = [part.partition("*") for part in each.text.split(",") if part]
    assert lines == {id: int(count or 1) for id, _, count in listed}


CHOSEN = ("option", "package", "credit")


@pytest.fixture
def visit(browser: Browser) -> Iterator[Visit]:
    with visiting(browser) as visit:
        yield visit


@pytest.fixture(scope="module")
def site(demo_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each market's price sheet as files."""
    folder = tmp_path_factory.mktemp("site")
    for market in demo_pricing.catalogue.yard.markets:
        sheet, _ = SHEETS[str(market.id)]
        language = Locale(sheet.partition("/")[0])
        laid_out(folder / sheet, market_pages(demo_pricing, market, language))
    return folder


@pytest.mark.parametrize("market", SHEETS)
def test_totals_in_the_browser_equal_the_quote_for_a_hundred_lists(
    visit: Visit, demo_pricing: Pricing, tmp_path: Path, site: Path, market: str
) -> None:
    sheet, with_tax = SHEETS[market]
    texts = set()
    for model in MODELS:
        per_model = COUNT // len(MODELS)
        for each in built(visit, site / sheet, model, demo_pricing, per_model):
            agree(each, quoted(demo_pricing, each, tmp_path), with_tax)
            texts.add((model, each.text))
    assert len(texts) > COUNT * 0.8
    assert any("*" in text for _, text in texts)
    assert max(text.count(",") for _, text in texts) >= 6


REDUCED = """
msgctxt "yard.markets.home.other_taxes.reduced.name"
msgid "Reduced VAT"
msgstr "VAT, less of it"
"""


@pytest.fixture(scope="module")
def charged(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    """The demonstration with a charge for delivery, and one option at a tax of its own."""
    changes = {
        "yard.yaml": (
            "    named_place: Orvesund\n",
            "    named_place: Orvesund\n    price: 1234.56 EUR\n",
        ),
        "options.yaml": ("name: Seat base\n", "name: Seat base\n    tax: reduced\n"),
    }
    folder = tmp_path_factory.mktemp("charged")
    yard = write_catalogue(folder / "yard", {}, changes, base=DEMO)
    text = (yard / "yard.yaml").read_text(encoding="utf-8")
    taxes = "    other_taxes: [{id: reduced, name: Reduced VAT, rate: 7 %}]\n"
    text = text.replace("    tax: 24 %\n", f"    tax: 24 %\n{taxes}")
    (yard / "yard.yaml").write_text(text, encoding="utf-8")
    for file in (yard / "translations").glob("*.po"):
        with file.open("a", encoding="utf-8") as end:
            end.write(REDUCED)
    return priced(yard)


def test_delivery_and_a_tax_of_an_option_s_own_are_in_both_totals(
    visit: Visit, charged: Pricing, tmp_path: Path
) -> None:
    home = charged.catalogue.yard.markets[0]
    folder = laid_out(tmp_path / "en" / "home", market_pages(charged, home, Locale("en")))
    taxed = 0
    for each in built(visit, folder, "coastal_98", charged, COUNT):
        record = quoted(charged, each, tmp_path)
        agree(each, record, True)
        (delivery,) = [line for line in record.lines if line.kind == "delivery"]
        # 1,234.56 with 24 %
        assert delivery.amount == Decimal("1530.85")
        taxed += len(record.taxes) == 2
    assert taxed > 10


def warned(stderr: str) -> list[str]:
    """Warnings, but for the one that the demonstration's roof is sold below its floor."""
    lines = [line for line in stderr.splitlines() if line[:1].strip()]
    return [line for line in lines if "warning: Cockpit roof at " not in line]


@pytest.mark.parametrize("market", SHEETS)
def test_a_saved_request_goes_through_the_command_itself(
    visit: Visit, demo_pricing: Pricing, tmp_path: Path, site: Path, market: str
) -> None:
    sheet, with_tax = SHEETS[market]
    each = max(
        built(visit, site / sheet, "weekender_86", demo_pricing, 20), key=lambda b: len(b.text)
    )
    path = tmp_path / "request.yaml"
    path.write_text(each.request, encoding="utf-8")
    quotes = tmp_path / "quotes"
    words = ["quote", str(DEMO), str(path), "--by", "Ilse Maravant", "--quotes", str(quotes)]
    result = CliRunner().invoke(main, words)
    assert (result.exit_code, warned(result.stderr)) == (0, [])
    record = from_json((quotes / "2026-0001" / "record.json").read_bytes())
    agree(each, record, with_tax)
    dry = CliRunner().invoke(main, [*words, "--dry-run"])
    assert (dry.exit_code, warned(dry.stderr)) == (0, [])
    assert f"{record.total:,} {record.currency}" in dry.stdout
