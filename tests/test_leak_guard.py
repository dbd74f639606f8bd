"""Nothing secret leaves in a public file, however it is written there."""

from __future__ import annotations

import re
from html import unescape

import pytest

from quoter.build import price_catalogue
from quoter.leaks import LeakError, Secrets, guard, numbers_in, public_numbers, secrets_of
from quoter.pages.public.site import public_pages
from quoter.pricing.price import Pricing
from tests.demo import DEMO, demo

NBSP, NARROW, THIN, QUOTE = "\u00a0", "\u202f", "\u2009", "\u2019"
SECRETS = Secrets(
    frozenset({"2128.45", "2128", "34.02"}),
    frozenset({"Dolvane & Sons", "priced to sell; five years' average"}),
)

NUMBERS = [
    ("1,234.56", {"1234.56"}),
    ("1.234,56", {"1234.56"}),
    ("1234.56", {"1234.56"}),
    ("1234,56", {"1234.56"}),
    (f"1{NBSP}234,56", {"1234.56"}),
    (f"1{NARROW}234,56", {"1234.56"}),
    (f"1{THIN}234.56", {"1234.56"}),
    ("1 234,56", {"1234.56"}),
    ("1'234.56", {"1234.56"}),
    (f"1{QUOTE}234.56", {"1234.56"}),
    ("1,234,567.89", {"1234567.89"}),
    ("12,34,567.89", {"1234567.89"}),
    ("1.234.567", {"1234567"}),
    ("€1,234.56", {"1234.56"}),
    ("1234.56EUR", {"1234.56"}),
    ("-1234.56", {"1234.56"}),
    ("1,234", {"1234"}),
    ("0.5", {"0.5"}),
    ("7", {"7"}),
    ("2128.4483920571", {"2128.45"}),
    ("[12, 1234.56, 3]", {"12", "1234.56", "3"}),
    ("[12,1234.56]", {"12", "1234"}),
    ("2 1,234.56", {"2", "1234.56"}),
    ("800 2128.45 m", {"800", "2128.45"}),
    ("2026-11-01", {"2026", "11", "01"}),
    ("no number", set()),
]


@pytest.mark.parametrize(("text", "expected"), NUMBERS)
def test_numbers_are_found_however_they_are_written(text: str, expected: set[str]) -> None:
    assert expected <= set(numbers_in(text))


@pytest.mark.parametrize("text", ["5,394.00", f"5{NARROW}394,00", "5'394.00", "5394"])
def test_part_of_a_larger_number_is_not_a_number(text: str) -> None:
    found = set(numbers_in(text))
    assert "5394.00" in found or "5394" in found
    assert "394" not in found - {"394.00"}


LEAKS = [
    ("<td>2,128.45</td>", "the amount 2128.45"),
    ("<td>2.128,45 €</td>", "the amount 2128.45"),
    (f"<td>2{NBSP}128,45</td>", "the amount 2128.45"),
    (f"<td>2{NARROW}128,45</td>", "the amount 2128.45"),
    ("<td>2&nbsp;128,45</td>", "the amount 2128.45"),
    ("<td>2&#39;128.45</td>", "the amount 2128.45"),
    ("data-cost=2128.45", "the amount 2128.45"),
    ('{"cost": 2128.4483920571}', "the amount 2128.45"),
    ("[1,2128.45,3]", "the amount 2128"),
    ("costs 2128", "the amount 2128"),
    ("34.02 EUR/h", "the amount 34.02"),
    ("<p>by Dolvane &amp; Sons</p>", "the words 'Dolvane & Sons'"),
    ("<p>DOLVANE  &\nSONS</p>", "the words 'Dolvane & Sons'"),
    ("<b>Dol</b>vane &amp; <i>Sons</i>", "the words 'Dolvane & Sons'"),
    ("priced to sell; five years&#39; average", "the words 'priced to sell; five years' average'"),
    (
        "<!-- priced to sell; five years' average -->",
        "the words 'priced to sell; five years' average'",
    ),
]


@pytest.mark.parametrize(("text", "told"), LEAKS)
def test_a_planted_secret_is_found(text: str, told: str) -> None:
    with pytest.raises(LeakError) as caught:
        guard({"index.html": b"<p>fine</p>", "models/a.html": text.encode()}, SECRETS)
    found = [f"models/a.html: {told}"]
    if told.startswith("the amount"):
        shown = (text, unescape(text))
        found = [f"models/a.html: {told}, in '{' '.join(each.split())}'" for each in shown]
    first, *others = str(caught.value).splitlines()
    assert first == "nothing was published, since it would hold secrets:"
    assert others in [[line] for line in found]


def test_an_amount_is_told_with_what_stands_around_it() -> None:
    page = f"<p>{'far away ' * 9}</p>\n<dt>Saves</dt>\n<dd>2,128.45</dd><p>{'beyond ' * 9}</p>"
    with pytest.raises(LeakError) as caught:
        guard({"a.html": page.encode()}, SECRETS)
    assert str(caught.value).splitlines()[1] == (
        "a.html: the amount 2128.45, in 'away </p> <dt>Saves</dt> <dd>2,128.45</dd><p>beyond "
        "beyond beyond b'"
    )


@pytest.mark.parametrize(
    "text",
    [
        "21284.5",
        "12,128.45",
        "2128.46",
        "3402",
        "Dolvanese & Sonship",
        "sons of dolvane",
        "",
    ],
)
def test_what_only_looks_like_a_secret_passes(text: str) -> None:
    guard({"index.html": text.encode()}, SECRETS)


def test_sizes_in_drawings_and_style_sheets_are_no_amounts_but_words_count() -> None:
    guard({"a.css": b".x { width: 2128px }", "b.svg": b"<path d='M2128.45 3'/>"}, SECRETS)
    with pytest.raises(LeakError, match=r"a\.css: the words 'Dolvane & Sons'$"):
        guard({"a.css": b"/* Dolvane & Sons */"}, SECRETS)


@pytest.mark.parametrize(
    "drawing",
    [
        '<svg viewBox="0 0 2128 58"><g transform="translate(0 15.2128)"/></svg>',
        '<svg><path class="boot" d="M2128.45 3V34.02"/></svg>',
        "<svg\nwidth='2128'><rect x='34.02' y = '2128'/></svg>",
    ],
)
def test_where_a_drawing_s_lines_run_within_a_page_is_no_amount(drawing: str) -> None:
    guard({"index.html": f"<p>fine</p>{drawing}<p>fine</p>".encode()}, SECRETS)


@pytest.mark.parametrize(
    "drawing",
    [
        "<svg><text x='3'>2128.45</text></svg>",
        "<svg aria-label='costs 2128.45'><path d='M1 2'/></svg>",
        "<svg><path data-x='2128.45'/></svg>",
        "<svg><title>2,128.45</title></svg>",
        "<svg><path d='M1 2'/></svg><p d='2128.45'>after the drawing</p><svg></svg>",
    ],
)
def test_what_a_drawing_within_a_page_says_is_searched(drawing: str) -> None:
    with pytest.raises(LeakError, match=r"index\.html: the amount 2128\.45, in "):
        guard({"index.html": drawing.encode()}, SECRETS)


def test_every_leak_of_every_file_is_told() -> None:
    with pytest.raises(LeakError) as caught:
        guard({"b.html": b"2128.45 and 34.02", "a.html": b"Dolvane & Sons"}, SECRETS)
    assert str(caught.value).splitlines()[1:] == [
        "a.html: the words 'Dolvane & Sons'",
        "b.html: the amount 2128.45, in '2128.45 and 34.02'",
        "b.html: the amount 34.02, in '2128.45 and 34.02'",
    ]


def test_bytes_that_are_no_text_are_searched_too() -> None:
    with pytest.raises(LeakError):
        guard({"image.png": b"\xff\xfe Dolvane & Sons \xff"}, SECRETS)


def test_the_demo_s_own_pages_pass() -> None:
    guard(public_pages(demo()), secrets_of(demo()))


def test_the_demo_s_secrets_are_its_costs_nets_wages_suppliers_and_notes() -> None:
    secrets = secrets_of(demo())
    door = demo().models["weekender_86"].options["side_single"]
    sale = door.sales["contract"]
    amounts = [door.assembly.cost, door.assembly.variable, sale.net, sale.margin, sale.contribution]
    amounts += [door.assembly.groups["labour"], demo().costing.rates.stations["foam"].labour]
    amounts += [use.assembly.cost for use in door.assembly.recipe.uses]
    amounts += [door.recommended]  # the customer knows the published price only
    for figure in amounts:
        assert f"{figure.value:.2f}" in secrets.numbers, figure.key
    assert "5600.00" in secrets.numbers  # what a mould cost
    assert {"Dolvane Composites", "Quenmoor Polymers Inc.", "Skavrand Beslag AS"} <= secrets.words
    assert "the opening most customers ask for (invented)" in secrets.words  # a note of its own
    assert "store, receiving and freight within the yard; invented" in secrets.words  # behind 6 %
    assert f"{door.list_price.value:.2f}" not in secrets.numbers


@pytest.mark.parametrize("model", ["en/home/index.html", "nb/north/models/weekender_86.html"])
def test_a_cost_planted_in_a_finished_page_is_found(model: str) -> None:
    pages = public_pages(demo())
    cost = demo().models["weekender_86"].options["side_single"].assembly.cost
    pages[model] = pages[model].replace(b"</main>", f"<p>{cost.value:,.2f}</p></main>".encode())
    with pytest.raises(LeakError, match=f"{model}: the amount {cost.value:.2f}, in '.*<p>"):
        guard(pages, secrets_of(demo()))


@pytest.mark.parametrize("buyer", ["contract", "area"])
def test_what_dealers_pay_for_a_package_is_a_secret(buyer: str) -> None:
    pages = public_pages(demo())
    net = demo().models["weekender_86"].packages["easy_boarding"].sales[buyer].net
    pages["en/home/index.html"] += f"<p>{net.value:.2f}</p>".encode()
    with pytest.raises(LeakError, match=f"en/home/index.html: the amount {net.value:.2f}, in "):
        guard(pages, secrets_of(demo()))


@pytest.mark.parametrize("catalogue", ["demo", "small"])
def test_no_cost_can_meet_by_chance_what_a_page_has_to_print(
    catalogue: str, small_pricing: Pricing
) -> None:
    pricing = demo() if catalogue == "demo" else small_pricing
    printed = set()
    for name, page in public_pages(pricing).items():
        if name.endswith(".html"):
            text = re.sub(r"<svg.*?</svg>", "", unescape(page.decode()), flags=re.DOTALL)
            printed |= set(numbers_in(text))
    # As secrets are written: to the cent from 20, to the whole from 1000.
    secret = re.compile(r"(?:[2-9]\d|\d{3,})\.\d\d|\d{4,}")
    printed = {number for number in printed if secret.fullmatch(number)}
    assert len(printed) > 5
    assert printed <= public_numbers(pricing)


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
    guard(public_pages(pricing), secrets_of(pricing))
