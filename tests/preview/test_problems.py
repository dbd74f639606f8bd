"""What is wrong shows in place of pages: where, what, the line with a caret, what is right."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from quoter.pages.public.site import PublicSite
from quoter.preview import reading
from quoter.preview.reading import OWN, SECRET
from quoter.pricing.earlier import EarlierLists
from quoter.pricing.price import Pricing
from tests.catalogues.written import COST_CARD
from tests.pages.parsed import Page
from tests.pages.test_public import faults
from tests.preview.made import SMALL, Preview, Response, served, small

INDEX, SKIFF = "/en/home/index.html", "/en/home/models/skiff.html"
PASSES = {"parts.yaml": ("passes: 97 %", "passes: 197 %")}
FREIGHT = {"suppliers.yaml": ("freight: 2 %", "freight: <2>")}
# What the preview's own pages lead to; none of it is a file beside them.
LINKS = (
    *("/", "/-/warnings", "/-/reload.js", "/-/assets/base.css"),
    *("/-/assets/icon.svg", "/-/assets/preview.css"),
)


def shown(response: Response) -> Page:
    """One of the preview's own pages, which must be well-formed."""
    assert response.headers["Content-Type"] == "text/html; charset=utf-8"
    assert faults("page.html", {"page.html": response.body}, LINKS) == []
    return Page(response.body)


def place(folder: Path, file: str, text: str) -> str:
    """Where a text stands in a file that holds it once."""
    before, found, _ = (folder / file).read_text("utf-8").partition(text)
    assert found
    return f"{(folder / file).as_posix()}:{before.count(chr(10)) + 1}"


def test_problems_take_the_place_of_every_page(tmp_path: Path) -> None:
    folder = small(tmp_path, PASSES | FREIGHT)
    with served(folder) as preview:
        found = [preview.ask(path) for path in ("/", SKIFF, "/-/warnings", "/nowhere")]
    first = f"{place(folder, 'parts.yaml', 'passes')}:98"
    (supplier,) = [
        row for row in (folder / "suppliers.yaml").read_text().split("\n") if "<2>" in row
    ]
    second = f"{place(folder, 'suppliers.yaml', '<2>')}:{supplier.index('<2>') + 1}"
    for response in found:
        page = shown(response)
        assert response.status == 503
        assert b"data-troubled" in response.body
        assert page.one("h1").text == "2 problems"
        assert [each.text for each in page.all("p", class_="place")] == [first, second]
        problem, other = (each.text for each in page.all("li"))
        assert "passes '197 %' is out of range [out-of-range]" in problem
        assert "expected more than 0 % and at most 100 %" in problem
        assert "freight '<2>'" in other
        for line, sought in zip(page.all("pre"), ("197 %", "<2>"), strict=True):
            written, caret = "".join(line.pieces).split("\n")
            assert written[caret.index("^") :].startswith(sought)


def test_what_is_no_page_gets_the_problems_as_text(tmp_path: Path) -> None:
    with served(small(tmp_path, PASSES)) as preview:
        found = preview.ask("/en/home/assets/sheet.css")
        own = preview.ask("/-/assets/base.css")
    assert (found.status, found.headers["Content-Type"]) == (503, "text/plain; charset=utf-8")
    assert found.text.startswith(f"{place(preview.folder, 'parts.yaml', 'passes')}:98: passes ")
    assert own.status == 200, "the page of problems needs it"


def test_mended_the_pages_are_back_and_the_reading_is_another(tmp_path: Path) -> None:
    with served(small(tmp_path, PASSES)) as preview:
        broken = preview.id()
        assert preview.ask(SKIFF).status == 503
        preview.edit("parts.yaml", "197 %", "97 %")
        preview.latest.refresh()
        assert preview.ask(SKIFF).status == 200
        assert preview.id() != broken


def test_a_catalogue_that_goes_away_is_a_problem(tmp_path: Path) -> None:
    with served(small(tmp_path)) as preview:
        preview.folder.rename(tmp_path / "elsewhere")
        preview.latest.refresh()
        found = preview.ask("/")
    assert found.status == 503
    assert "the folder does not exist" in shown(found).one("main").text


def test_a_setting_has_no_folder_before_it() -> None:
    with served(SMALL, settings=("class.resin=much",)) as preview:
        page = shown(preview.ask("/"))
    assert page.one("p", class_="place").text.startswith("--set:1")


def test_a_secret_takes_the_place_of_the_page_that_holds_it(tmp_path: Path) -> None:
    supplier = "Brisk Chemicals Wholesale"
    leak = {"options.yaml": ("text: A flush hatch", f"text: By {supplier}, a flush hatch")}
    with served(small(tmp_path, leak)) as preview:
        leaking, sound = preview.ask(SKIFF), preview.ask("/")
        preview.ask(SKIFF)
    page = shown(leaking)
    assert (leaking.status, sound.status) == (503, 200)
    assert page.one("h1").text == "1 problem of this page"
    assert re.fullmatch(rf"site{SKIFF}:\d+:\d+", page.one("p", class_="place").text)
    assert (
        f"no public view or phrase accounts for '{supplier}', in the text of options.yaml:27: it "
        "is the name of supplier brisk, suppliers.yaml:2"
    ) in page.one("li").text
    assert SECRET in page.one("li").text
    told = [problem.place.file for trouble in preview.heard.failed for problem in trouble.problems]
    assert told == [f"site{SKIFF}"], "it is said once"


def test_warnings_stand_on_a_page_of_their_own() -> None:
    """On a day in summer the winter's prices are stale."""
    with served(COST_CARD, as_of=date(2026, 7, 1)) as preview:
        found = preview.ask("/-/warnings")
        assert preview.ask("/").status == 200
        missing = shown(preview.ask("/nowhere"))
    page = shown(found)
    count = len(preview.heard.readings[0].warnings)
    assert (found.status, count > 0) == (200, True)
    files = [each.text for each in page.all("summary")]
    assert files
    assert sum(int(text.split()[-2]) for text in files) == count == len([*page.all("li")])
    assert "3 prices of 'supplier' are older than 120 days on 2026-07-01" in page.one("main").text
    first = next(page.all("p", class_="place")).text
    assert first.startswith(f"{COST_CARD.as_posix()}/prices/2026-01-01.csv:2:")
    assert missing.one("a", href="/-/warnings").text == files[0].partition(", ")[2]


def test_without_warnings_the_page_says_so(tmp_path: Path) -> None:
    yard = small(tmp_path)
    book = yard / "price_book.csv"  # its hatch is below the floor
    book.write_text(book.read_text("utf-8").replace("440 EUR", "600 EUR"), encoding="utf-8")
    with served(yard) as preview:
        assert preview.heard.readings[0].warnings == ()
        assert "There are none." in shown(preview.ask("/-/warnings")).one("main").text


# Templates and the program itself


def test_a_broken_template_is_told_with_its_line(templates: Path, tmp_path: Path) -> None:
    index = templates / "public" / "index.html"
    words = index.read_text("utf-8")
    with served(small(tmp_path)) as preview:
        assert preview.ask(INDEX).status == 200
        for wrong in ("{% if %}", "{{ sheet.nonsense }}"):
            index.write_text(words.replace("<ul ", f"{wrong}<ul "), "utf-8")
            preview.latest.refresh()
            found, other = preview.ask(INDEX), preview.ask(SKIFF)
            page = shown(found)
            line = words[: words.index("<ul ")].count("\n") + 1
            assert (found.status, other.status) == (503, 200)
            assert page.one("p", class_="place").text == f"templates/public/index.html:{line}"
            assert page.one("pre").text.startswith(f"{wrong}<ul ")
        index.write_text(words, "utf-8")
        preview.latest.refresh()
        assert preview.ask(INDEX).status == 200


def test_even_the_templates_of_the_page_of_problems_may_break(
    templates: Path, tmp_path: Path
) -> None:
    frame = templates / "shared" / "page.html"
    with served(small(tmp_path, PASSES)) as preview:
        frame.write_text(frame.read_text("utf-8").replace("<body>", "{% nonsense %}<body>"))
        found = preview.ask(INDEX)
    page = shown(found)
    assert found.status == 503
    assert b"/-/reload.js" in found.body
    told = page.one("pre").text
    assert "parts.yaml:56:98: passes '197 %' is out of range" in told
    assert "unknown tag 'nonsense'" in told


def test_a_missing_file_of_the_preview_itself_is_told(templates: Path, tmp_path: Path) -> None:
    with served(small(tmp_path)) as preview:
        (templates / "preview" / "warnings.html").unlink()
        found = preview.ask("/-/warnings")
    assert found.status == 503
    assert "TemplateNotFound: " in shown(found).one("li").text


def failing() -> bytes:
    raise ZeroDivisionError("a boat of no length")


def test_a_fault_of_the_program_is_told_as_such(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def made(pricing: Pricing, earlier: Sequence[EarlierLists] = ()) -> PublicSite:
        site = PublicSite(pricing, earlier)
        site.makers["index.html"] = failing
        return site

    monkeypatch.setattr(reading, "PublicSite", made)
    with served(small(tmp_path)) as preview:
        page = shown(preview.ask("/"))
        assert preview.ask(INDEX).status == 200
    assert "ZeroDivisionError: a boat of no length" in page.one("li").text
    assert OWN in page.one("li").text
    assert page.one("p", class_="place").text.startswith("quoter/preview/reading.py:")
    (trouble,) = preview.heard.failed
    assert trouble.trace.startswith("Traceback ")
    assert trouble.trace.endswith("ZeroDivisionError: a boat of no length\n")


def test_a_reading_that_fails_leaves_the_preview_alive(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> PublicSite:
        raise RuntimeError("no pages today")

    with served(small(tmp_path)) as preview:
        with monkeypatch.context() as patched:
            patched.setattr(reading, "PublicSite", fail)
            preview.latest.refresh()
        assert "RuntimeError: no pages today" in told(preview)
        preview.latest.refresh()
        assert preview.ask("/").status == 200


def told(preview: Preview) -> str:
    return shown(preview.ask("/")).one("li").text
