"""A dealer's own copy: in its name, whole, without anything of another dealer or of the yard's."""

from __future__ import annotations

import io
import json
import re
import shutil
import zipfile
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.copies import copy_files, copy_of
from quoter.leaks import LeakError, SiteGuard
from quoter.pages.public.site import PublicSite, public_pages
from quoter.publish.manifest import MANIFEST
from tests.catalogues.written import priced
from tests.demo import DEMO, demo
from tests.pages.test_folder_zip import broken
from tests.pages.test_views import unzipped

DEALERS = ("eastquay", "tarnholm")


def called(id: str) -> list[str]:
    """All that the catalogue says of a dealer that nobody else shares."""
    dealer = next(each for each in demo().catalogue.yard.dealers if each.id == id)
    told = (dealer.name, dealer.address, dealer.email, dealer.phone, dealer.website)
    return [str(text) for text in told if text]


@cache
def made(id: str) -> dict[str, bytes]:
    return copy_files(DEMO, demo(), copy_of(demo(), id))


def every_text(files: dict[str, bytes]) -> str:
    """All that files say, those within a ZIP too; nothing in a workbook is deflated."""
    return "\n".join(content.decode("utf-8", "replace") for _, content in unzipped(files))


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["sheet", *words])


@pytest.mark.parametrize("id", DEALERS)
def test_it_is_in_the_dealer_s_name_and_names_the_yard_as_builder(id: str) -> None:
    name, *_ = called(id)
    yard = demo().catalogue.yard.company
    pages = {path: page.decode() for path, page in made(id).items() if path.endswith(".html")}
    sheets = {path: page for path, page in pages.items() if path.count("/") > 1}
    assert len(sheets) >= 2 * 8
    for page in sheets.values():
        assert re.search(rf'<p class="yard"><a href="[./]*index.html">{name}</a></p>', page)
        contact = page.partition('<h2 id="contact">')[2].partition("</section>")[0]
        assert all(text in contact for text in called(id))
        assert str(yard.name) in contact
        for text in (yard.address, yard.email, yard.phone, yard.website):
            assert str(text) not in page
    folder = f"en/{copy_of(demo(), id).dealer.market}"
    data = json.loads(made(id)[f"{folder}/prices.json"])
    assert (data["company"]["name"], data["builder"]) == (name, yard.name)
    offers = made(id)[f"{folder}/offers.jsonld"].decode()
    # schema.org: a brand is whose the product is, not who sells it.
    brands = re.findall(r'"brand": \{\s*"@type": "Brand",\s*"name": "([^"]*)"', offers)
    assert {*brands} == {yard.name}


def test_nobody_s_name_is_on_the_yard_s_site_or_on_another_s_copy() -> None:
    plain = every_text(public_pages(demo()))
    for id, other in (DEALERS, DEALERS[::-1]):
        assert "Boats built by" not in plain
        for text in called(id):
            assert text not in plain
            assert text not in every_text(made(other))


@pytest.mark.parametrize("id", DEALERS)
def test_no_class_discount_note_or_other_market_is_on_it(id: str) -> None:
    yard, text = demo().catalogue.yard, every_text(made(id))
    for buyer in yard.dealer_classes:
        assert str(buyer.name) not in text
        assert buyer.note is None or str(buyer.note) not in text
    own = str(copy_of(demo(), id).dealer.market)
    assert {path.split("/")[1] for path in made(id) if path.count("/") > 1} == {own}
    for market in yard.markets:
        if market.id != own:
            assert f"/{market.id}/" not in text
    assert str(yard.price_sheet.address) not in text


def test_prices_are_those_of_the_market_s_own_sheet() -> None:
    plain = PublicSite(demo()).makers
    for id, folder in (("eastquay", "de/home"), ("tarnholm", "nb/north")):
        ours, theirs = plain[f"{folder}/prices.csv"](), made(id)[f"{folder}/prices.csv"]
        assert ours == theirs


@pytest.mark.parametrize("id", DEALERS)
def test_nothing_in_it_leads_nowhere_neither_as_files_nor_in_one(id: str) -> None:
    files = made(id)
    assert [*broken(files)] == []
    with zipfile.ZipFile(io.BytesIO(files[f"{id}.zip"])) as archive:
        packed = {name: archive.read(name) for name in archive.namelist()}
    assert [*broken(packed)] == []
    assert {*packed} == {f"{id}/{path}" for path in files if not path.endswith(".zip")}
    index = packed[f"{id}/en/{copy_of(demo(), id).dealer.market}/index.html"].decode()
    assert 'class="languages"' in index
    assert ".zip" not in index


def test_the_guard_of_a_copy_tells_of_another_dealer_and_that_of_the_site_of_any() -> None:
    copy = copy_of(demo(), "eastquay")
    for site in (PublicSite(demo()), PublicSite(demo(), copy=copy)):
        path = "en/home/index.html"
        page = site.makers[path]().replace(b"</main>", b"<p>Tarnholm Boats</p></main>")
        with pytest.raises(LeakError, match="it is the dealer tarnholm"):
            SiteGuard(site).look_through({path: page})


def test_a_copy_of_one_language_leads_to_no_other() -> None:
    files = copy_files(DEMO, demo(), copy_of(demo(), "eastquay", "de"))
    assert {path.split("/")[0] for path in files if "/" in path} == {"de", "assets"}
    assert [*broken(files)] == []
    assert b'class="languages"' not in files["de/home/index.html"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--for", "eastqay"], "unknown dealer 'eastqay': did you mean 'eastquay'?"),
        (["--for", "x9"], "unknown dealer 'x9': expected one of 'eastquay', 'tarnholm'"),
        (
            ["--for", "tarnholm", "--language", "fr"],
            "the market 'north' has no price sheet in 'fr': expected one of 'en', 'nb'",
        ),
        ([], "Missing option '--for'"),
    ],
)
def test_who_is_not_there_is_told_with_who_is_near(
    tmp_path: Path, words: list[str], told: str
) -> None:
    found = run(str(DEMO), *words, "--into", str(tmp_path / "copy"))
    assert (found.exit_code, told in found.output) == (2, True), found.output
    assert not [*tmp_path.rglob("*.html")]


def test_a_yard_without_dealers_is_told_what_to_write(tmp_path: Path) -> None:
    yard = tmp_path / "yard"
    shutil.copytree(DEMO, yard)
    text = (yard / "yard.yaml").read_text("utf-8")
    text = re.sub(r"dealers:\n(?:  .*\n)+", "", text, count=1)
    (yard / "yard.yaml").write_text(text, "utf-8")
    found = run(str(yard), "--for", "eastquay", "--into", str(tmp_path / "copy"))
    assert found.exit_code == 2
    assert "yard.yaml states no dealers; add one under 'dealers:'" in found.output
    assert priced(yard).catalogue.yard.dealers == ()


def test_a_copy_is_written_again_and_takes_nobody_s_place(tmp_path: Path) -> None:
    into = tmp_path / "copies" / "tarnholm"
    words = [str(DEMO), "--language", "en", "--into", str(into)]
    found = run(*words, "--for", "tarnholm")
    assert found.exit_code == 0, found.output
    told = f"{into}: for Tarnholm Boats, market north, 1 language, open {into / 'index.html'}"
    assert told in found.output
    assert f"{into / 'tarnholm.zip'}: all of it in one file, to be sent" in found.output
    before = {path: path.read_bytes() for path in into.rglob("*") if path.is_file()}
    assert run(*words, "--for", "tarnholm").exit_code == 0
    assert {path: path.read_bytes() for path in into.rglob("*") if path.is_file()} == before
    refused = run(*words[:1], "--for", "eastquay", "--language", "en", "--into", str(into))
    assert refused.exit_code == 1
    assert f"{into} holds a build, or the copy for another dealer" in refused.output
    assert {path: path.read_bytes() for path in into.rglob("*") if path.is_file()} == before
    assert b"copy for" in (into / MANIFEST).read_bytes()
