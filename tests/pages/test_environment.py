"""Templates escape everything, stop at what is undefined, and link to nothing odd."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from jinja2 import Environment, FileSystemLoader, UndefinedError

from quoter.catalogue.source import Text
from quoter.pages import compiled as compiled_module
from quoter.pages.environment import locale_of, mail_link, page_environment, web_link
from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError
from quoter.resources import templates_folder

ENVIRONMENT = page_environment(Locale("en"), "EUR")


def test_what_is_undefined_stops_the_page() -> None:
    with pytest.raises(UndefinedError, match="'cost' is undefined"):
        ENVIRONMENT.from_string("{{ cost }}").render()
    with pytest.raises(UndefinedError, match="has no attribute 'margin'"):
        ENVIRONMENT.from_string("{{ text.margin }}").render(text="a")


def compiled(folder: Path, text: str, monkeypatch: pytest.MonkeyPatch) -> tuple[str, int]:
    """What a template of that text gives in a new run, and how often it was compiled for it."""
    (folder / "said.html").write_text(text)
    monkeypatch.setattr(compiled_module, "PACKAGE", folder)
    monkeypatch.setattr("sys.dont_write_bytecode", False)
    made: list[str] = []

    class Counted(Environment):
        def _generate(self, source: Any, name: Any, filename: Any, defer_init: bool = False) -> str:
            made.append(name)
            return super()._generate(source, name, filename, defer_init)

    kept = compiled_module.Compiled("internal", b"options")
    found = Counted(loader=FileSystemLoader(folder), bytecode_cache=kept)
    return found.get_template("said.html").render(), len(made)


def test_a_template_is_compiled_once_for_all_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pages").mkdir()
    assert compiled(tmp_path, "one", monkeypatch) == ("one", 1)
    assert compiled(tmp_path, "one", monkeypatch) == ("one", 0)
    assert compiled(tmp_path, "two", monkeypatch) == ("two", 1)
    (kept,) = (tmp_path / "pages" / "__pycache__").iterdir()
    whole = kept.read_bytes()
    for damaged in (b"", whole[:40], whole[:-1], whole.replace(b"two", b"one")):
        kept.write_bytes(damaged)
        assert compiled(tmp_path, "two", monkeypatch) == ("two", 1)
        assert kept.read_bytes() == whole


def test_where_no_code_can_be_kept_templates_are_compiled_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pages").write_text("no folder")
    assert [compiled(tmp_path, "one", monkeypatch) for _ in range(2)] == [("one", 1)] * 2


def test_every_kind_of_template_is_escaped() -> None:
    hostile = "<b>\"'&</b>"
    shown = ENVIRONMENT.from_string("{{ text }}|{% trans text=text %}{{ text }}{% endtrans %}")
    escaped = "&lt;b&gt;&#34;&#39;&amp;&lt;/b&gt;"
    assert shown.render(text=hostile) == f"{escaped}|{escaped}"


def test_no_template_switches_escaping_off() -> None:
    templates = sorted(templates_folder().rglob("*.html"))
    assert templates
    for template in templates:
        source = template.read_text(encoding="utf-8")
        for word in ("| safe", "|safe", "autoescape", "Markup", "<script>", " style=", " onclick"):
            assert word not in source, f"{template.name} holds '{word}'"


@pytest.mark.parametrize(
    "text",
    [
        "javascript:alert(1)",
        "JavaScript:alert(1)",
        "java\tscript:alert(1)",
        "data:text/html,<b>",
        "//yard.example.com",
        "yard.example.com",
        "https://",
        "https://a.example.com/\" onclick='x'",
        "https://[",
        "file:///etc/passwd",
        "",
    ],
)
def test_what_is_no_web_address_is_not_linked(text: str) -> None:
    assert web_link(text) == ""


@pytest.mark.parametrize(
    "text", ["a b@c.example.com", "a@b", "a@c.example.com?bcc=all@d.example.com", "a@c.com\n", ""]
)
def test_what_is_no_plain_mail_address_is_not_linked(text: str) -> None:
    assert mail_link(text) == ""


def test_addresses_are_linked() -> None:
    assert web_link("https://yard.example.com/boats?y=1") == "https://yard.example.com/boats?y=1"
    assert mail_link("sales@yard.example.com") == "mailto:sales@yard.example.com"


def test_language_may_name_its_region(small_pricing: Pricing) -> None:
    market = small_pricing.catalogue.yard.markets[0]
    assert str(locale_of(market)) == "en"
    assert str(locale_of(market.model_copy(update={"language": "en_IE"}))) == "en_IE"


@pytest.mark.parametrize(
    ("language", "message"),
    [
        (
            "xx",
            "yard.yaml:33:38: 'xx' is no known language [unknown-language]\n"
            "    write a language, or one with its region, for example 'en' or 'en-IE'",
        ),
        (
            "it",
            "yard.yaml:33:38: the pages have no wording in 'it' [unknown-language]\n"
            "    expected de, en, es, fr or nb, with or without a region",
        ),
    ],
)
def test_language_without_wording_is_a_problem_of_the_catalogue(
    small_pricing: Pricing, language: str, message: str
) -> None:
    market = small_pricing.catalogue.yard.markets[0]
    other = Text.at(language, market.language.place)
    with pytest.raises(CatalogueError) as caught:
        locale_of(market.model_copy(update={"language": other}))
    assert str(caught.value) == message
