"""The page of the past: its numbers against the analysis, and what it says in words."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale

from quoter.analysis.findings import Findings
from quoter.analysis.history import History, LineHistory, history_of
from quoter.pages.history import PRINTED, MaterialView, class_views, history_page
from quoter.pages.money import number, percent
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.analysis.test_history import DRUM, LAST, MOVED, SOUND
from tests.catalogues.written import write_catalogue
from tests.outputs import question_pages
from tests.pages.parsed import Element, Page
from tests.pages.test_public import faults

EN = Locale("en")
OF_THE_REVIEW = ("index.html", "assets/base.css", "assets/icon.svg", "assets/review.css")
# A price published too low for seven weeks, so that a margin falls below the floor and comes back.
SALE = (
    "2026-10-25,tarn_31,side_door,640 EUR,a slip\n"
    "2026-12-10,tarn_31,side_door,4000 EUR,mended\n"
    "2026-12-22,,blue_hull,1 EUR,given away\n"
)


@pytest.fixture(scope="module")
def pricing(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    book = "\n".join(line.strip() for line in MOVED["price_book.csv"].strip().splitlines())
    files = MOVED | {"price_book.csv": f"{book}\n{SALE}"}
    folder = tmp_path_factory.mktemp("past") / "moved"
    write_catalogue(folder, files, {"materials.yaml": DRUM}, base=SOUND)
    return price_catalogue(folder, LAST)[0]


@pytest.fixture(scope="module")
def history(pricing: Pricing) -> History:
    return history_of(pricing)


@pytest.fixture(scope="module")
def page(pricing: Pricing) -> Page:
    return Page(history_page(Findings(pricing))["history.html"])


def two(value: float) -> str:
    return number(Decimal(repr(value)), EN, 2)


def part(value: float) -> str:
    return percent(Decimal(repr(value)), EN)


def card_of(page: Page, name: str) -> str:
    """The words of a material's card."""
    cards = [
        card
        for card in page.all("article", class_="card")
        for head in page.all("h4")
        if card in head.within and head.text == name
    ]
    (card,) = cards
    return " ".join(card.text.replace("\N{NO-BREAK SPACE}", " ").split())


def group_of(page: Page, model: str, name: str) -> Element:
    """The rows of a boat or option in its model's table."""
    (scroll,) = page.all("div", class_="scroll", **{"aria-labelledby": f"caption-{model}"})
    (head,) = (
        head
        for head in page.all("th", scope="rowgroup")
        if scroll in head.within and head.text.startswith(name)
    )
    return next(element for element in head.within if element.tag == "tbody")


def cells_of(page: Page, group: Element, words: str) -> list[str]:
    """The cells of one of a group's rows."""
    (head,) = (
        head for head in page.all("th", scope="row") if group in head.within and head.text == words
    )
    row = head.within[-1]
    return [cell.text for cell in page.all("td", class_="figure") if row in cell.within]


def size(view: MaterialView) -> Decimal:
    return abs(view.landed.change or Decimal(0))


def written(values: tuple[float | None, ...], how: str = "money") -> list[str]:
    return ["–" if v is None else (two(v) if how == "money" else part(v)) for v in values]


@pytest.mark.parametrize("fixture", ["pricing", "small_pricing", "demo_pricing"])
def test_page_is_sound_and_leads_somewhere(fixture: str, request: pytest.FixtureRequest) -> None:
    yard: Pricing = request.getfixturevalue(fixture)
    review = question_pages(Findings(yard)) | history_page(Findings(yard))
    review |= dict.fromkeys(OF_THE_REVIEW, b"")
    site = {f"review/{path}": content for path, content in review.items()}
    assert faults("review/history.html", site, ()) == []
    found = Page(review["history.html"])
    links = {a.attributes["href"] for a in found.all("a")}
    assert {"index.html", "plan.html"} <= links
    for id, model in yard.models.items():
        extras = {f"{id}/{option}.html" for option in model.extras if option in model.options}
        assert extras <= links
    assert all(cell.attributes.get("scope") for cell in found.all("th"))
    assert len(list(found.all("caption"))) == len(list(found.all("table")))


def test_every_cost_price_and_margin_of_every_day_is_on_the_page(
    history: History, page: Page
) -> None:
    for id, model in history.models.items():
        lines = [("Boat with standard equipment", model.boat)]
        lines += [(model.options[name].name, model.options[name]) for name in model.extras]
        for name, line in lines:
            group = group_of(page, id, name)
            assert line.sold is not None
            assert cells_of(page, group, "Cost, EUR") == written(line.cost)
            assert cells_of(page, group, "List price, EUR") == written(line.sold.list_price)
            assert cells_of(page, group, "Margin, EUR") == written(line.sold.margin)
            fractions = cells_of(page, group, "Margin of net, %")
            told = written(line.sold.margin_fraction, "percent")
            marked = [
                f"▼ {words} below the floor" if below else words
                for words, below in zip(told, line.sold.below, strict=True)
            ]
            assert fractions == marked


def test_standard_options_stand_on_their_own_pages_only(pricing: Pricing, page: Page) -> None:
    heads = [head.text for head in page.all("th", scope="rowgroup")]
    hatches = [head for head in heads if head.startswith("Deck hatch")]
    assert len(hatches) == 1, "standard on the larger boat"
    pages = question_pages(Findings(pricing))
    standard = Page(pages["tarn_31/hatch.html"])
    assert [svg.attributes["aria-labelledby"] for svg in standard.all("svg", class_="steps")] == [
        "past-cost-title"
    ]


def test_a_material_says_what_its_supplier_asks_and_what_it_lands_at(
    history: History, page: Page
) -> None:
    """Roll: worked by hand, 280 and 301 EUR a roll of 48 kg with 3 % freight."""
    text = card_of(page, "Flow mat 600")
    assert "Landed 6.01 to 6.46 EUR/kg, +7.5%" in text
    assert "Fjordglas 280.00 to 301.00 EUR/roll, +7.5%" in text
    assert "Landed 0.1339 to 0.1597 EUR/each, +19.2%" in card_of(page, "Screws")
    polyol = card_of(page, "Polyol")
    assert "Westpoly 2.90 USD/lb, unchanged" in polyol
    assert "+8.8%" in polyol, "by the dollar alone"
    mat = card_of(page, "Chopped mat 450")
    assert "Fjordglas 2.40 EUR/kg at first" in mat
    assert "Westpoly 1.28 USD/lb now" in mat
    assert "Bought of Westpoly from 1 November 2026 on." in mat
    resin = card_of(page, "Laminating resin")
    assert "Bought of Fjordglas from 1 December 2026 on." in resin
    for name, landed in ((m.name, m.landed) for m in history.materials.values()):
        ends = [value for value in (landed[0], landed[-1]) if value is not None]
        if landed[0] != landed[-1] and min(ends) >= 1:
            assert f"Landed {two(ends[0])} to {two(ends[-1])} EUR/" in card_of(page, name)


def test_the_largest_moves_come_first_and_what_stood_still_is_listed(
    pricing: Pricing, history: History, page: Page
) -> None:
    suppliers = pricing.catalogue.records.suppliers
    classes = class_views(history, suppliers, "EUR", LAST)
    sizes = [size(c.moved[0]) if c.moved else Decimal(-1) for c in classes]
    assert sizes == sorted(sizes, reverse=True)
    for one in classes:
        moves = [size(view) for view in one.moved]
        assert moves == sorted(moves, reverse=True)
    heads = [head.text for head in page.all("h3")]
    assert heads == [one.name for one in classes]
    assert {view.name for one in classes for view in (*one.moved, *one.still)} == {
        str(material.name) for material in pricing.catalogue.records.materials.values()
    }
    still = [item.text for item in page.all("li") if "landed" in item.text]
    assert any("Hinge: 39.14" in said and "38.00" in said for said in still)
    lead = page.one("p", class_="lead").text
    assert lead.startswith(f"{classes[0].moved[0].name} moved most: +")


def test_where_a_margin_crossed_the_floor_is_said(history: History, page: Page) -> None:
    door = history.models["tarn_31"].options["side_door"]
    fell, rose = door.crossings
    text = group_of(page, "tarn_31", "Side door").text.replace("\N{NO-BREAK SPACE}", " ")
    assert (
        f"Fell below the floor on 25 October 2026: {part(fell.after)}, after {part(fell.before)}."
    ) in text
    assert (
        "Came back to the floor or above on 10 December 2026: "
        f"{part(rose.after)}, after {part(rose.before)}."
    ) in text
    assert "Never below the floor of 18%." in group_of(page, "tarn_26", "Boat").text
    lead = page.one("p", class_="lead").text
    # The blue hull is given away on both boats.
    assert lead.endswith(
        "3 margins fell below the floor and 1 came back. Of 6 prices 2 are below it now."
    )


def test_what_is_below_the_floor_now_comes_first(page: Page) -> None:
    for model in ("tarn_26", "tarn_31"):
        (scroll,) = page.all("div", class_="scroll", **{"aria-labelledby": f"caption-{model}"})
        groups = [body for body in page.all("tbody") if scroll in body.within]
        marked = ["breached" in body.attributes.get("class", "") for body in groups]
        assert marked[1], "the option below the floor follows the boat"
        assert not marked[0]
        assert not any(marked[2:])


def test_charts_say_what_they_show_without_being_seen(history: History, page: Page) -> None:
    charts = list(page.all("svg", class_="steps"))
    titles = {e.attributes["id"]: e.text for e in page.all("title") if "id" in e.attributes}
    abouts = {e.attributes["id"]: e.text for e in page.all("desc")}
    named = [[svg.attributes[f"aria-{by}by"] for by in ("labelled", "described")] for svg in charts]
    assert all(svg.attributes["role"] == "img" for svg in charts)
    assert [titles[title] for title, _ in named]
    assert len(titles) == len(abouts) == len(charts)
    door = history.models["tarn_31"].options["side_door"]
    assert door.sold is not None
    (about,) = (
        abouts[about] for title, about in named if titles[title].startswith("Side door: margin")
    )
    for day, fraction, below in zip(
        history.days, door.sold.margin_fraction, door.sold.below, strict=True
    ):
        assert fraction is not None
        assert f"{day}: {part(fraction)}{' (below the floor)' if below else ''}" in about
    assert "The floor is 18%." in about


def test_a_fall_below_the_floor_has_a_shape_of_its_own(page: Page) -> None:
    group = group_of(page, "tarn_31", "Side door")
    low = [path for path in page.all("path", class_="low") if group in path.within]
    assert len(low) == 4, "two costs moved while it was too cheap, and one day before"
    floors = [path for path in page.all("path", class_="floor") if group in path.within]
    assert len(floors) == 1
    labels = [text.text for text in page.all("text", class_="floor-text") if group in text.within]
    assert labels == ["floor 18%"]


def test_axes_carry_units_and_days(page: Page) -> None:
    units = {text.text for text in page.all("text", class_="unit")}
    assert {"Cost, EUR", "Margin of net, %", "EUR/kg landed", "EUR/each landed"} <= units
    days = {text.text for text in page.all("text", class_="day")}
    assert days == {"2026-10-01", "2026-12-22"}


def test_older_days_are_left_off_paper_and_that_is_said(history: History, page: Page) -> None:
    heads = list(page.all("th", class_="figure"))
    older = [head.text for head in heads if "older" in head.attributes["class"]]
    kept = len(history.days) - PRINTED
    assert older == [str(day) for day in history.days[:kept]] * 2
    said = [p.text for p in page.all("p", class_="printed")]
    assert said == ["On paper the tables hold the newest 8 days; the charts hold all 11."] * 2


def test_a_single_day_is_said_to_be_one(small_pricing: Pricing) -> None:
    found = Page(history_page(Findings(small_pricing))["history.html"])
    assert found.one("p", class_="lead").text.startswith("There is one day so far, ")
    assert list(found.all("article", class_="card")) == []
    pages = question_pages(Findings(small_pricing))
    assert "one day so far" in Page(pages["skiff/hatch.html"]).one("main").text


def test_an_option_s_own_page_has_its_days(pricing: Pricing, history: History) -> None:
    pages = question_pages(Findings(pricing))
    found = Page(pages["tarn_31/side_door.html"])
    (scroll,) = found.all("div", class_="scroll", **{"aria-labelledby": "past-table"})
    rows = [row.text for row in found.all("tr") if scroll in row.within][1:]
    line: LineHistory = history.models["tarn_31"].options["side_door"]
    assert line.sold is not None
    for row, cost, price, margin, basis, below in zip(
        rows,
        written(line.cost),
        written(line.sold.list_price),
        written(line.sold.margin),
        line.sold.basis,
        line.sold.below,
        strict=True,
    ):
        assert f" {cost} {price} {basis} {margin} " in row
        assert row.endswith("▼ below floor" if below else "holds")
    assert "history.html" in " ".join(a.attributes["href"] for a in found.all("a"))
    assert "assets/history.css" in pages


def test_pages_are_the_same_every_time(pricing: Pricing) -> None:
    assert history_page(Findings(pricing)) == history_page(Findings(pricing))


def test_a_corrected_list_says_what_it_had_before(tmp_path: Path) -> None:
    note = "imported from b.csv; corrects 4.10 USD/lb (imported from a.csv)"
    lines = f"material,supplier,price,note\npolyol,westpoly,3.10 USD/lb,{note}\n"
    files = {"prices/2026-12-01.csv": lines}
    pricing, _ = price_catalogue(write_catalogue(tmp_path / "yard", files, base=SOUND))
    found = Page(history_page(Findings(pricing))["history.html"])
    said = "Corrected in the list of 1 December 2026: it was 4.10 USD/lb (imported from a.csv)."
    assert said in card_of(found, "Polyol")
    assert said not in card_of(found, "Injection resin")


def test_no_price_before_a_material_s_first_list_is_said(tmp_path: Path) -> None:
    early, late = ((SOUND / f"prices/2026-{m}-01.csv").read_text("utf-8") for m in (10, 11))
    (line,) = (row for row in early.splitlines() if row.startswith("hinge,"))
    third = "material,supplier,price,note\nhinge,fjordglas,41 EUR/each,\n"
    files = {
        "prices/2026-10-01.csv": early.replace(f"{line}\n", ""),
        "prices/2026-11-01.csv": f"{late.rstrip()}\n{line}\n",
        "prices/2026-12-01.csv": third,
    }
    pricing, _ = price_catalogue(write_catalogue(tmp_path / "later", files, base=SOUND))
    found = Page(history_page(Findings(pricing))["history.html"])
    assert "No price before 1 November 2026." in card_of(found, "Hinge")
    hatch = group_of(found, "tarn_26", "Deck hatch")
    assert cells_of(found, hatch, "Cost, EUR")[0] == "–"
    assert cells_of(found, hatch, "Margin of net, %")[0] == "–"
    assert cells_of(found, hatch, "List price, EUR")[0] == "2,400.00"
