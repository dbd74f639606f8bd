"""The yard's own texts in other languages: which there are, what is said, what is public."""

from __future__ import annotations

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.checks import every_record
from quoter.catalogue.mark import fingerprint
from quoter.catalogue.po_files import Entry
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.source import Text
from quoter.leaks import LeakError, SiteGuard
from quoter.leaks.known import Known
from quoter.pages.public.site import PublicSite
from quoter.problems import CatalogueError
from tests.demo import DEMO, demo

LANGUAGES = ("de", "es", "fr", "nb")


def test_what_customers_read_is_known_by_its_key() -> None:
    records = demo().catalogue.records
    fields = {re.sub(r"\.\d+$", "", key).rpartition(".")[2] for key in records.texts}
    assert fields >= {
        *("name", "group", "text", "includes", "excludes", "lead_time", "at_most_one"),
        *("terms", "tax_name"),
    }
    expected = {
        "yard.price_sheet.terms.1",
        "yard.markets.home.tax_name",
        "options.options.side_step.at_most_one",
        "options.packages.day_fishing.text",
        "models.models.open_68.name",
    }
    assert expected <= records.texts.keys()
    assert {key: public.text.key for key, public in records.texts.items()} == {
        key: key for key in records.texts
    }


def test_nothing_internal_is_given_to_translators() -> None:
    records = demo().catalogue.records
    told = {public.written for public in records.texts.values()}
    notes = {str(getattr(record, "note", None) or "") for record in every_record(records)} - {""}
    assert notes
    assert not notes & told
    inside = [*records.stations, *records.suppliers, *records.materials, *records.moulds]
    assert not [key for key in records.texts if key.split(".")[-2] in inside]
    assert not [key for key in records.texts if key.startswith(("yard.policy", "yard.dealer"))]
    company = demo().catalogue.yard.company
    assert not told & {str(company.name), str(company.address), str(company.email)}


def test_translations_hold_no_secret_of_the_yard() -> None:
    files = {path.name: path.read_bytes() for path in DEMO.glob("translations/*.po")}
    assert sorted(files) == [f"{language}.po" for language in LANGUAGES]
    assert Known(demo()).clashes == ()


def test_a_secret_in_a_translation_is_not_published(monkeypatch: pytest.MonkeyPatch) -> None:
    pricing = demo()
    records = pricing.catalogue.records
    supplier = next(iter(records.suppliers.values())).name
    key = ("options.options.deck_hatch.text", str(records.options["deck_hatch"].text))
    told = Entry(key[1], (f"Luke von {supplier}",), key[0])
    monkeypatch.setitem(records.translations["de"], key, told)
    site, path = PublicSite(pricing), "de/home/models/weekender_86.html"
    with pytest.raises(LeakError) as caught:
        SiteGuard(site).look_through({path: site.makers[path]()})
    assert [leak.said for leak in caught.value.leaks] == [
        f"'{supplier}', in the text of translations/de.po: it is the name of supplier "
        f"{next(iter(records.suppliers))}, suppliers.yaml:{supplier.place.line}"
    ]


# what is said in a language


@pytest.fixture
def catalogue() -> Catalogue:
    return demo().catalogue


def test_a_text_is_said_in_every_language(catalogue: Catalogue) -> None:
    door = catalogue.records.options["side_step"].lead_time
    said = [catalogue.worded(door, language) for language in ("en", *LANGUAGES)]
    assert said == ["5 weeks", "5 Wochen", "5 semanas", "5 semaines", "5 uker"]


def test_a_name_may_stay_as_it_is(catalogue: Catalogue) -> None:
    model = catalogue.records.models["open_68"]
    key = (model.name.key, str(model.name))
    assert catalogue.records.translations["de"][key].strings == ("",)
    assert catalogue.worded(model.name, "de") == "Orvesund 6.8 Open"


def test_what_is_no_text_of_the_catalogue_is_said_as_it_is(catalogue: Catalogue) -> None:
    name = catalogue.records.options["side_step"].name
    same_key = Text.at("another", name.place, name.key)
    assert catalogue.worded(same_key, "de") == "another"
    assert catalogue.worded(catalogue.yard.company.name, "de") == "Orvesund Boatyard"


def test_a_text_without_translation_is_refused(catalogue: Catalogue) -> None:
    terms = catalogue.yard.price_sheet.terms
    with pytest.raises(CatalogueError, match=r"^translations/it\.po: the file has no translation"):
        catalogue.worded(terms[0], "it")


def test_translations_belong_to_the_mark_of_a_build(tmp_path: Path) -> None:
    folder = shutil.copytree(DEMO, tmp_path / "demo")
    day = date(2026, 11, 1)
    before = fingerprint(folder, day)
    assert before == fingerprint(DEMO, day)
    file = folder / "translations" / "nb.po"
    file.write_text(file.read_text("utf-8").replace("Sidedør", "Skrogdør"), "utf-8")
    assert fingerprint(folder, day) != before
