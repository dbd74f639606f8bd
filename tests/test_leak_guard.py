"""Nothing leaves in a public file but what a public view or the program itself says."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from click.testing import CliRunner

from quoter.cli import main
from quoter.leaks import LeakError, SiteGuard
from quoter.leaks.allowed import Allowed
from quoter.leaks.guard import HEAD, MORE, MOST_TOLD, NO_SUCH_FILE, NOT_OURS
from quoter.leaks.known import Known
from quoter.leaks.reduction import rests, tokens_of
from quoter.pages import money
from quoter.pages.public import data
from quoter.pages.public.site import PublicSite
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.quotes.kept.archive import CUSTOMERS
from quoter.quotes.printed.files import reprinted
from quoter.quotes.printed.guard import look_through_quote
from tests.accounted import guarded_pages
from tests.catalogues.written import FOLDER
from tests.demo import DEMO, demo
from tests.pages.variants import small_with
from tests.quotes.samples import SAMPLES

INDEX, NBSP, NARROW = "en/home/index.html", "\u00a0", "\u202f"
BRISK = "Brisk Chemicals Wholesale"


@pytest.fixture(scope="module")
def site(small_pricing: Pricing) -> PublicSite:
    return PublicSite(small_pricing)


@pytest.fixture(scope="module")
def guard(site: PublicSite) -> SiteGuard:
    return SiteGuard(site)


@pytest.fixture(scope="module")
def index(site: PublicSite) -> bytes:
    return site.makers[INDEX]()


def leaks(guard: SiteGuard, path: str, content: bytes) -> list[str]:
    """What of a file is told."""
    try:
        guard.look_through({path: content})
    except LeakError as fault:
        return [leak.said for leak in fault.leaks]
    return []


def with_text(page: bytes, text: str) -> bytes:
    return page.replace(b"</main>", f"<p>{text}</p></main>".encode())


# how texts are cut


@pytest.mark.parametrize(
    ("text", "tokens"),
    [
        ("From €1,234.50 on model_8", ["From", "€", "1,234.50", "on", "model_8"]),
        (f"1{NARROW}234,50{NBSP}€", [f"1{NARROW}234,50", "€"]),
        ("1'234.50-7", ["1'234.50", "-", "7"]),
        ("kg2128 2128kg", ["kg2128", "2128", "kg"]),
        ("Dol\u00advane", ["Dol", "\u00ad", "vane"]),
        ("x²", ["x²"]),
        ("", []),
    ],
)
def test_a_text_is_words_numbers_and_signs(text: str, tokens: list[str]) -> None:
    assert tokens_of(text) == tokens


def test_as_little_is_left_over_as_can_be() -> None:
    known = {"to": {"the": {"quay": {0: True}}}, "the": {0: True}}
    found = list(rests("to the quay to the sea", (known,), lambda token: ()))
    assert [(rest.text, rest.start) for rest in found] == [("to", 12), ("sea", 19)]


# what a page may say


SAID = [
    "Tern Cutter",
    "Tern Cutter, Side door; Tern Skiff",
    "Options at a glance",
    "without VAT",
    "€27,375.00",
    "-€27,375.00",
    "€27,375",
    "25%",
    "610 kg",
    "adds 610 kg",
    "up to 2 on a boat",
    "<strong>Tern</strong>".replace("Tern", "Tern Cutter"),
]


@pytest.mark.parametrize("text", SAID)
def test_what_a_view_or_the_program_says_may_be_said(
    guard: SiteGuard, index: bytes, text: str
) -> None:
    assert leaks(guard, INDEX, with_text(index, text)) == []


UNSAID = [
    ("Tern", ["'Tern'"]),
    ("SIDE DOOR", ["'SIDE DOOR'"]),
    ("27,375.00", ["'27,375.00'"]),
    ("27375", ["'27375'"]),
    ("$27,375.00", ["'$27,375.00'"]),
    ("€27.375,00", ["'27.375,00'"]),
    ("€27,375.01", ["'27,375.01'"]),
    ("27,375.00 kg", ["'27,375.00'"]),
    ("610", ["'610'"]),
    ("610%", ["'610'"]),
    ("2,128.45", ["'2,128.45'"]),
    ("2.128,45 €", ["'2.128,45'"]),
    (f"2{NBSP}128,45", ["'2 128,45'"]),
    (f"2{NARROW}128,45", ["'2 128,45'"]),
    ("2&#39;128.45", ["'2'128.45'"]),
    ("2&nbsp;128.45", ["'2 128.45'"]),
    ("&euro;2128.45", ["'2128.45'"]),
    ("<strong>21</strong>28.45", ["'1</strong>2'", "'21'", "'28.45'"]),
    ("17%", ["'17'"]),
    ("12.75 h", ["'12.75'"]),
    ("2", ["'2'"]),
    ("up to 7 on a boat", ["'7'"]),
    ("<!-- note -->", ["'<!-- note -->'"]),
    ("<b>new</b>", ["'<b>'", "'</b>'"]),
    ('<p class="cost"></p>', ["'cost'"]),
    ('<p data-cost="1"></p>', ["'data-cost=\"1\"'"]),
    ("<p class='small'></p>", ["'<p class='small'>'"]),
    ("Tern\u200bCutter", ["'Tern\u200bCutter'"]),
    ("Tern &shy;Cutter", ["'Tern \u00adCutter'"]),
    ("resin", ["'resin': it is the name of resin hand_resin, materials.yaml:5"]),
    (BRISK, [f"'{BRISK}': it is the name of supplier brisk, suppliers.yaml:2"]),
    ("by BRISK  chemicals", ["'by BRISK chemicals'"]),
    ("the gap is hard to hold", ["'the gap is hard to hold': it is a note, options.yaml:22"]),
]


@pytest.mark.parametrize(("text", "told"), UNSAID)
def test_nothing_else_may_be_said(
    guard: SiteGuard, index: bytes, text: str, told: list[str]
) -> None:
    assert leaks(guard, INDEX, with_text(index, text)) == told


def test_a_cost_is_told_by_name(guard: SiteGuard, index: bytes, small_pricing: Pricing) -> None:
    cost = small_pricing.models["cutter"].options["hatch"].assembly.cost
    page = with_text(index, f"€{cost.value:,.2f}")
    assert leaks(guard, INDEX, page) == [f"'{cost.value:,.2f}': it is {cost.label}"]


def test_every_leak_is_told_once_with_its_file_and_place(guard: SiteGuard, index: bytes) -> None:
    page = index.replace(b"<h1>", b"<h1>2128.45 near 34.02 near 2128.45 ")
    name = "en/home/cost.html"
    with pytest.raises(LeakError) as caught:
        guard.look_through({name: index, INDEX: page})
    at = index[: index.index(b"<h1>")].decode().count("\n") + 1
    assert str(caught.value).splitlines() == [
        HEAD,
        f"{name}: its name: 'cost'",
        f"{INDEX}:{at}:5: '2128.45 near 34.02 near 2128.45'",
    ]


def test_no_more_is_told_of_a_file_than_somebody_reads(guard: SiteGuard, index: bytes) -> None:
    texts = "".join(f"<p>word{count}</p>" for count in range(100))
    found = leaks(guard, INDEX, with_text(index, texts))
    assert found == [*(f"'word{count}'" for count in range(MOST_TOLD)), f"'{MORE}'"]


OTHER_FILES = [
    ("en/home/boat.png", b"\x89PNG", NO_SUCH_FILE),
    ("boat.png", b"\x89PNG", NO_SUCH_FILE),
    ("en/home/assets/boat.svg", b"<svg></svg>", NO_SUCH_FILE),
    ("xx/home/index.html", b"", NO_SUCH_FILE),
    ("en/home/assets/base.css", b"/* */", NOT_OURS),
    ("en/home/assets/icon.svg", b"<svg></svg>", NOT_OURS),
    ("en/home/assets/boat.js", b"", NOT_OURS),
    ("en/home/prices.schema.json", b"{}", NOT_OURS),
    ("assets/base.css", b"", NOT_OURS),
    (INDEX, b"\xff", "a byte that is no text: ff"),
]


@pytest.mark.parametrize(("path", "content", "told"), OTHER_FILES)
def test_what_is_no_file_of_a_price_sheet_is_not_published(
    guard: SiteGuard, path: str, content: bytes, told: str
) -> None:
    assert leaks(guard, path, content)[-1] == f"'{told}'"


# a program at fault


def test_a_filter_that_prints_costs_publishes_nothing(
    small_pricing: Pricing, monkeypatch: pytest.MonkeyPatch
) -> None:
    cost = small_pricing.models["cutter"].options["hatch"].assembly.cost
    right = money.money

    def wrong(amount: Decimal, currency: str, locale: Locale, whole: bool = False) -> str:
        return right(Decimal(f"{cost.value:.2f}"), currency, locale, whole)

    monkeypatch.setattr(money, "money", wrong)
    with pytest.raises(LeakError) as caught:
        guarded_pages(small_pricing)
    told = {leak.said for leak in caught.value.leaks if leak.file == INDEX}
    assert told == {f"'{cost.value:,.2f}': it is {cost.label}"}


def test_neither_a_build_nor_a_quote_writes_anything_then(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    right = money.money

    def wrong(amount: Decimal, currency: str, locale: Locale, whole: bool = False) -> str:
        return right(amount * Decimal("0.7071"), currency, locale, whole)

    monkeypatch.setattr(money, "money", wrong)
    site, internal, quotes = (tmp_path / name for name in ("site", "internal", "quotes"))
    request = DEMO / "requests" / "family_weekender.yaml"
    for words in (
        ["build", FOLDER / "small", "--site", site, "--internal", internal],
        ["quote", DEMO, request, "--quotes", quotes],
    ):
        result = CliRunner().invoke(main, [str(word) for word in words])
        assert result.exit_code == 1
        assert HEAD in result.stderr
    left = {path.name for folder in tmp_path.iterdir() for path in folder.glob("[!.]*")}
    assert left == set()


def test_data_that_hold_a_cost_for_a_price_are_not_published(
    small_pricing: Pricing, monkeypatch: pytest.MonkeyPatch
) -> None:
    cost = small_pricing.models["cutter"].options["hatch"].assembly.cost
    monkeypatch.setattr(data, "half_up", lambda amount, digits: Decimal(f"{cost.value:.2f}"))
    site = PublicSite(small_pricing)
    path = "en/home/prices.json"
    found = leaks(SiteGuard(site), path, site.makers[path]())
    assert found
    assert all(f"{cost.value:.2f}" in told or "length" in told or "mass" in told for told in found)


@dataclass(frozen=True)
class Careless:
    """A view that does not look at what it is given."""

    name: str
    rate: object


def test_a_view_with_a_figure_in_it_is_refused(small_pricing: Pricing) -> None:
    cost = small_pricing.models["cutter"].options["hatch"].assembly.cost
    with pytest.raises(TypeError, match="a view holds a Figure, which none may show"):
        Allowed([Careless("VAT", cost)], Locale("en"), "EUR")


# no false alarms


def test_all_that_the_demonstration_publishes_is_accounted_for() -> None:
    guarded_pages(demo())


@pytest.mark.parametrize("name", ["Home", "Lid", "Sea", "VAT", "Options", "Kg"])
def test_a_supplier_may_be_called_like_an_ordinary_word(tmp_path: Path, name: str) -> None:
    guarded_pages(small_with(tmp_path, {"suppliers.yaml": {BRISK: name}}))


def test_a_supplier_named_in_a_public_text_is_told_with_both_lines(tmp_path: Path) -> None:
    text = {"options.yaml": {"text: A flush hatch": f"text: By {BRISK}, a flush hatch"}}
    pricing = small_with(tmp_path, text)
    with pytest.raises(LeakError) as caught:
        guarded_pages(pricing)
    told = {leak.said for leak in caught.value.leaks}
    assert told == {
        f"'{BRISK}', in the text of options.yaml:27: it is the name of supplier brisk, "
        "suppliers.yaml:2"
    }
    assert {leak.file.rpartition(".")[2] for leak in caught.value.leaks} == {
        "html",
        "js",
        "json",
        "jsonld",
        "zip",
    }


def test_a_note_in_a_public_text_is_told_with_both_lines(tmp_path: Path) -> None:
    text = {"options.yaml": {"text: A flush hatch": "text: The gap is hard to hold, a hatch"}}
    note = {"options.yaml": {"note: the gap": "note: The gap", **text["options.yaml"]}}
    clashes = Known(small_with(tmp_path, note)).clashes
    assert [(clash.place.line, clash.secret.what) for clash in clashes] == [(27, "a note")]


# Moves of a month at which drawings or savings once met a cost to the cent.
MONTHS = [
    ("+9.63", "-5.63", "+0.10"),
    ("-6.17", "+3.57", "+1.66"),
    ("+0.33", "+5.43", "+2.31"),
    ("-1.77", "-5.33", "+3.48"),
]


@pytest.mark.parametrize(("resin", "dollar", "wages"), MONTHS)
def test_an_honest_month_is_published(resin: str, dollar: str, wages: str) -> None:
    settings = [f"class.resin={resin}%", f"currency.USD={dollar}%", f"wages={wages}%"]
    pricing, _ = price_catalogue(DEMO, settings=settings)
    guarded_pages(pricing)


# quotes


@pytest.mark.parametrize("size", SAMPLES)
@pytest.mark.parametrize("language", ["en", "de", "fr", "nb", "es"])
def test_a_quote_s_own_files_are_accounted_for(size: str, language: str) -> None:
    files = reprinted(SAMPLES[size](language=language))
    assert sorted(files) == sorted(CUSTOMERS)


def test_a_quote_with_its_yard_s_cost_in_it_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    record = SAMPLES["usual"]()
    right, cost = money.money, record.inside.cost

    def wrong(amount: Decimal, currency: str, locale: Locale, whole: bool = False) -> str:
        return right(cost, currency, locale)

    monkeypatch.setattr(money, "money", wrong)
    with pytest.raises(LeakError) as caught:
        reprinted(record)
    assert {leak.said for leak in caught.value.leaks} == {f"'{cost:,.2f}'"}


def test_a_customer_gets_no_other_files() -> None:
    with pytest.raises(LeakError, match=rf"record\.json: '{NO_SUCH_FILE}'"):
        look_through_quote({"record.json": b"{}"}, SAMPLES["short"]())
