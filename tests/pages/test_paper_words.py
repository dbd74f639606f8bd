"""What shop papers and job packs are said in: the yard's language, and its readers' units."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from gettext import NullTranslations
from html import unescape
from pathlib import Path

import pytest
from babel import Locale

from quoter.figures import constant
from quoter.figures.readers import METRIC_READER, reader_of
from quoter.pages import environment
from quoter.pages.amounts import amount, row_of
from quoter.pages.cutting_list import LENGTH, SIZE, said
from quoter.pages.job_pack import job_files
from quoter.pages.papers import model_papers, paper_index
from quoter.phrases import Phrase
from quoter.pricing.price import Pricing
from tests.pages.test_job_pack import BLUE, boat_of, job

MODEL = "weekender_86"
# A number, or a heading's comma or bracket, before a metric unit; or the unit alone in a cell.
METRIC = re.compile(
    r"(?:\d|,|\()\s*(?:kg|g|t|mm|cm|m|m²|m2|m³|mL|L|N|kN|Pa|kPa|bar)(?:/m²)?(?![\w'])"
    r"|^(?:kg|g|mm|m|m²|mL|L)\b"
)
IN_THE_US = re.compile(r"\b(?:lb|oz|in|ft|ft²|gal|psi|inHg|lbf|mil)\b")
WORDS = re.compile(r"[^\W\d_²³]{2,}")
MARKUP = re.compile(r"<style.*?</style>|<code.*?</code>|<title>job=.*?</title>", re.DOTALL)


def papers_in(pricing: Pricing, units: str) -> Iterator[tuple[str, str]]:
    """Path and text of every paper of a model and of a job, for who reads in some units."""
    catalogue = replace(pricing.catalogue, units=units)
    pricing = replace(pricing, costing=replace(pricing.costing, catalogue=catalogue))
    pages = model_papers(pricing, pricing.models[MODEL])
    pages |= job_files(pricing, boat_of(pricing, MODEL, BLUE), job(2))
    for path, page in pages.items():
        if path.endswith(".html"):
            yield path, MARKUP.sub("", page.decode("utf-8"))


def pieces_of(text: str) -> list[str]:
    """Each text between two tags, and what is read in place of a picture."""
    found = re.split(r"<[^>]+>", text) + re.findall(r'aria-label="([^"]*)"', text)
    return [" ".join(unescape(piece).split()) for piece in found]


def test_who_reads_us_units_finds_no_metric_one(demo_pricing: Pricing) -> None:
    found = {
        f"{path}: {piece}"
        for path, text in papers_in(demo_pricing, "US")
        for piece in pieces_of(text)
        if METRIC.search(piece)
    }
    assert found == set()


# By hand: 0.5 mm is 19.69 mil and 0.65 mm 25.59; 80 kPa are 23.6 inHg; 18 and 25 °C 64.4 and 77 °F.
def test_a_us_laminator_finds_what_his_gauges_show(demo_pricing: Pricing) -> None:
    pages = dict(papers_in(demo_pricing, "US"))
    text = " ".join(pieces_of(pages[f"{MODEL}/side_single.html"]))
    for words in (
        "Check: Wet film of the gelcoat, 19.7 to 25.6 mil",
        "Check: Room at 64 to 77 °F",
        "Check: Vacuum at the flange before the resin, at least 23.6 inHg",
        "one atmosphere of 29.9 inHg",
    ):
        assert words in text, words
    assert [path for path, page in pages.items() if "°C" in page] == []


def test_who_reads_both_finds_both(demo_pricing: Pricing) -> None:
    joined = re.compile(r'\s*<span class="(?:other|small)">([^<]*\S[^<]*)</span>')
    seen = 0
    for path, text in papers_in(demo_pricing, "metric and US"):
        for piece in pieces_of(joined.sub(r" \1", text)):
            if METRIC.search(piece):
                assert IN_THE_US.search(piece), f"{path}: {piece}"
                seen += 1
    assert seen > 500


def test_the_search_for_metric_units_would_find_some() -> None:
    for bad in ("Area, m²", "2.5 kg", "volume 9.5 L", "gap (mm)", "40 kPa", "kg", "10.3 t/m²"):
        assert METRIC.search(bad), bad
    for good in ("18 to 25 °C", "12 min", "3 of 14", "1.5%", "2 m8 bolts"):
        assert not METRIC.search(good), good


# 1 lb is 0.45359237 kg, the international pound, and 1 oz its sixteenth.
def test_a_rows_amounts_are_in_one_unit_and_beside_it_in_the_other() -> None:
    both = reader_of("metric and US")
    row = row_of(both, constant(2.0, "kg"), constant(5.0, "kg"))
    assert [float(each) for each in row.values] == [2.0, 5.0]
    assert (row.unit, row.digits, row.pieces) == ("kg", 3, False)
    assert row.beside is not None
    assert (row.beside.unit, row.beside.digits) == ("lb", 3)
    assert float(row.values[1] * row.beside.times) == pytest.approx(5 / 0.45359237)
    doses = row_of(reader_of("US", as_written=False), constant(28.349523125, "g"))
    assert float(doses.values[0]) == pytest.approx(1)
    assert (doses.unit, doses.beside) == ("oz", None)
    pieces = row_of(both, constant(3.5), constant(4.0))
    assert (pieces.unit, pieces.digits, pieces.pieces, pieces.beside) == ("each", 2, True, None)


def test_an_area_has_a_decimal_more_than_others_in_its_unit() -> None:
    area = amount(METRIC_READER, constant(0.4294, "m2"), "m2", 1)
    assert (area.unit, area.digits) == ("m²", 3)


def test_sizes_have_the_decimal_sign_of_the_language() -> None:
    german = Locale("de")
    assert said(METRIC_READER, LENGTH, constant(1234.5, "m"), locale=german) == "1234,50 m"
    sides = constant(0.1854, "m"), constant(1.038, "m")
    assert said(METRIC_READER, SIZE, *sides, locale=german) == "185 × 1038 mm"


class Marked(NullTranslations):
    """A language in which each phrase is itself between two signs."""

    def gettext(self, message: str) -> str:
        return f"⟦{message}⟧"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return f"⟦{msgid1 if n == 1 else msgid2}⟧"


@pytest.fixture
def marked(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Papers in that language."""

    def own(text: str) -> str:
        return text.said(Marked().gettext) if isinstance(text, Phrase) else str(text)

    monkeypatch.setattr(environment, "translations_of", lambda *args, **kwargs: Marked())
    monkeypatch.setattr(environment, "own_wording", lambda locale: own)
    environment._templates.cache_clear()
    yield
    environment._templates.cache_clear()


def outside(text: str) -> str:
    """A text without what was translated."""
    before = ""
    while before != text:
        before, text = text, re.sub(r"⟦[^⟦⟧]*⟧", "", text)
    return text


def english(pricing: Pricing) -> set[str]:
    """What stands on papers in words that the catalogue has not, and was not translated."""
    files = Path(str(pricing.catalogue.yard.company.name.place.file)).parent.rglob("*.yaml")
    catalogue = "\n".join(file.read_text(encoding="utf-8") for file in files)
    known = set(WORDS.findall(catalogue)) | {"mm", "kPa", "kN", "mL", "November"}
    index = paper_index(pricing)["index.html"].decode("utf-8")
    texts = {"index.html": index} | dict(papers_in(pricing, "metric"))
    return {
        f"{path}: {piece}"
        for path, text in texts.items()
        for piece in pieces_of(outside(text))
        if not set(WORDS.findall(piece)) <= known
    }


@pytest.mark.usefixtures("marked")
def test_all_that_the_program_says_on_papers_is_translated(demo_pricing: Pricing) -> None:
    assert english(demo_pricing) == set()


def test_what_is_not_translated_would_be_found(demo_pricing: Pricing) -> None:
    assert len(english(demo_pricing)) > 200
