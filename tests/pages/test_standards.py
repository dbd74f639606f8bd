"""Every page before two checkers by other hands: axe-core for WCAG 2.2 AA, the Nu Html Checker.

Sources: W3C, Web Content Accessibility Guidelines 2.2; WHATWG, HTML Standard; W3C, CSS.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from playwright.sync_api import Browser
from playwright.sync_api import Page as Tab

from quoter.pages.public.site import market_pages
from quoter.quotes.printed.files import quote_page
from tests.pages import nu_checker
from tests.pages.axe import SWITCHED_ON, checked, violations
from tests.pages.boat_pages import LANGUAGES, WEEKENDER, every_state, laid_out, visiting
from tests.pages.fleet import fleet
from tests.pages.test_browser import NARROW, WIDE, browser
from tests.pages.test_compare_models import COMPARE
from tests.preview.made import served, small
from tests.quotes.samples import SAMPLES

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
# A phone at night, a screen by day: between them every rule of the styles is looked at.
SCREENS: tuple[dict[str, Any], ...] = (
    {"viewport": WIDE, "color_scheme": "light"},
    {"viewport": NARROW, "color_scheme": "dark"},
)
OBSCURED = "is partially obscured"  # in axe's words
each_screen = pytest.mark.parametrize("screen", SCREENS, ids=["wide and light", "narrow and dark"])


@pytest.fixture(scope="module")
def quotes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Quotes short and long, one in each language."""
    made = {
        f"{name}_{language}.html": quote_page(sample(language=language))
        for name, sample in SAMPLES.items()
        for language in LANGUAGES
    }
    return laid_out(tmp_path_factory.mktemp("quotes"), made)


@pytest.fixture(scope="module")
def fleet_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A price sheet of more boats than the head of a page names."""
    folder = tmp_path_factory.mktemp("fleet")
    pricing = fleet(folder, 8)
    pages = market_pages(pricing, pricing.catalogue.yard.markets[0], Locale("en"))
    return laid_out(folder / "pages", pages)


@pytest.fixture(scope="module")
def previewed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a preview answers: a problem of the catalogue, its warnings, a page there is none of."""
    folder = tmp_path_factory.mktemp("preview")
    broken = {"parts.yaml": ("passes: 97 %", "passes: 197 %")}
    with served(small(folder / "broken", broken)) as preview:
        answers = {"problems.html": preview.ask("/en/home/index.html")}
    with served(small(folder / "sound")) as preview:
        answers |= {"warnings.html": preview.ask("/-/warnings")}
        answers |= {"missing.html": preview.ask("/nowhere.html")}
        assets = {
            f"-/assets/{name}": preview.ask(f"/-/assets/{name}")
            for name in ("base.css", "preview.css", "icon.svg")
        }
    # As files they have no server that "/" could mean.
    pages = {
        name: answer.body.replace(b'"/-/', b'"-/') for name, answer in {**answers, **assets}.items()
    }
    return laid_out(folder / "pages", pages)


def found(folder: Path, pattern: str) -> list[Path]:
    paths = sorted(folder.rglob(pattern))
    assert paths, f"{folder} has no {pattern}"
    return paths


def broken(browser: Browser, paths: list[Path], screen: Mapping[str, Any]) -> dict[str, list[str]]:
    """What axe finds, by page."""
    faults = {}
    with browser.new_context(**screen, reduced_motion="reduce") as context:
        tab = context.new_page()
        for path in paths:
            tab.goto(path.as_uri())
            if rules := lasting(tab, violations(tab)):
                faults["/".join(path.parts[-4:])] = rules
    return faults


def lasting(tab: Tab, rules: list[str]) -> list[str]:
    """All but targets that only what floats over a page covers, and that scrolling frees.

    The way back to the top and the line of the list lie over other places as one scrolls.
    """
    if not any(OBSCURED in rule for rule in rules):
        return rules
    tab.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
    still = {rule.partition(": ")[0] for rule in violations(tab)}
    return [rule for rule in rules if OBSCURED not in rule or rule.partition(": ")[0] in still]


@each_screen
@pytest.mark.parametrize("language", LANGUAGES)
def test_axe_finds_nothing_on_the_price_sheets(
    browser: Browser, demo_folder: Path, language: str, screen: dict[str, Any]
) -> None:
    paths = found(demo_folder / "site" / language, "*.html")
    if screen is not SCREENS[0]:
        paths = [path for path in paths if path.parent.name != "models" or "coastal" in path.name]
    assert broken(browser, paths, screen) == {}


@each_screen
def test_axe_finds_nothing_on_other_pages(
    browser: Browser,
    demo_folder: Path,
    fleet_folder: Path,
    quotes: Path,
    previewed: Path,
    screen: dict[str, Any],
) -> None:
    paths = [demo_folder / "site" / "index.html", *found(quotes, "*.html")]
    paths += found(previewed, "*.html")
    paths += [fleet_folder / name for name in ("index.html", "list.html", "compare.html")]
    paths += found(fleet_folder / "models", "*_68*.html")
    every = 2 if screen is SCREENS[0] else 5  # of those that are made alike
    paths += sorted((demo_folder / "internal" / "review").glob("*.html"))
    paths += found(demo_folder / "internal" / "review", "*/*.html")[::every]
    paths += found(demo_folder / "internal" / "actuals", "*.html")[::every]
    paths += found(demo_folder / "internal" / "papers", "*.html")[:: 4 * every]
    assert broken(browser, paths, screen) == {}


@each_screen
@pytest.mark.parametrize("language", LANGUAGES)
def test_axe_finds_nothing_in_any_state_of_a_list(
    browser: Browser, demo_folder: Path, language: str, screen: dict[str, Any]
) -> None:
    page = demo_folder / WEEKENDER.replace("/en/", f"/{language}/")
    seen: set[str] = set()
    with visiting(browser, **screen, reduced_motion="reduce") as visit:
        for state in every_state(visit, page):
            rules, held = checked(visit.tab)
            assert rules == [], state
            seen |= {*held}
    assert {*SWITCHED_ON} <= seen


@each_screen
def test_axe_finds_nothing_in_any_state_of_a_comparison(
    browser: Browser, demo_folder: Path, screen: dict[str, Any]
) -> None:
    with visiting(browser, **screen, reduced_motion="reduce") as visit:
        for state in ("models=coastal_98&rows=differing", "models=open_68,nowhere"):
            assert violations(visit.open(demo_folder / COMPARE, state)) == []
        visit.tab.locator("input[value=open_68]").uncheck()
        assert violations(visit.tab) == [], "no model is left"


def test_axe_sees_faults(browser: Browser, tmp_path: Path) -> None:
    planted = {
        "image-alt": "<img src='a.png'>",
        "color-contrast": "<p style='color: #999; background: #fff'>Pale words</p>",
        "label": "<input>",
        "label-content-name-mismatch": "<button aria-label='Remove'>Take out</button>",
        "target-size": "<button style='all: unset'>a</button><button style='all: unset'>b</button>",
    }
    for rule, body in planted.items():
        page = tmp_path / f"{rule}.html"
        page.write_text(
            f"<!DOCTYPE html><html lang=en><title>A page</title><main><h1>A page</h1>{body}</main>",
            encoding="utf-8",
        )
        (rules,) = broken(browser, [page], SCREENS[0]).values()
        assert [each for each in rules if each.startswith(f"{rule} at ")], rule


def checked_files(*folders: Path) -> Iterator[Path]:
    for folder in folders:
        for pattern in ("*.html", "*.css", "*.svg"):
            yield from sorted(folder.rglob(pattern))


def test_nu_finds_nothing_in_any_file(
    demo_folder: Path, fleet_folder: Path, quotes: Path, previewed: Path
) -> None:
    files = list(checked_files(demo_folder, fleet_folder, previewed))
    assert len(files) > 290
    files += found(quotes, "*_en.html")  # the checker reads their texts, which are English
    assert nu_checker.faults(files) == []


def test_nu_sees_faults(tmp_path: Path) -> None:
    head = "<!DOCTYPE html><html lang=en><title>A page</title>"
    planted = {
        "a.html": f"{head}<p>Words<div></p></div>",
        "b.html": f"{head}<table><tr><td>a<td>b<tr><td colspan=3>c</table>",
        "c.html": f"{head}<p id=a><p id=a>",
        "d.css": "p { colour: red; }",
        "e.svg": "<svg xmlns='http://www.w3.org/2000/svg'><path d='M0,0 Q'/><p/></svg>",
    }
    for name, text in planted.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    said = nu_checker.faults(tmp_path / name for name in planted)
    assert {line.partition(":")[2].rpartition("/")[2][:6].strip(":") for line in said} >= {*planted}
