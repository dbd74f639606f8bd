"""Money, numbers, days and units are what Chromium's Intl writes, for every language of the pages.

Intl is the reference: it follows the Unicode CLDR (Unicode Technical Standard 35). Where it and
Babel differ, the difference is listed in `AS_WRITTEN_HERE` with its reason, and nothing else may.
"""

from __future__ import annotations

import re
import shutil
from datetime import date
from decimal import Decimal

import pytest
from babel import Locale
from playwright.sync_api import sync_playwright

from quoter.catalogue.languages import languages
from quoter.pages.environment import page_environment
from quoter.pages.money import HARD_SPACE, length, mass, money, number, percent

pytestmark = pytest.mark.slow

LOCALES = (
    *("en", "en-GB", "en-US", "en-IE", "de", "de-AT", "de-CH", "fr", "fr-CH", "nb"),
    *("es", "es-ES", "es-MX"),
)
CURRENCIES = ("EUR", "USD", "GBP", "NOK", "SEK", "CHF", "JPY", "BHD")
AMOUNTS = (
    *("0", "0.004", "1", "12.5", "999.99", "1000", "1234.56", "9999.99", "9999.996", "10000"),
    *("12345.675", "1234567.895", "-0.004", "-1", "-1234.5", "-98765.4321"),
)
WHOLES = ("0", "1", "999", "1000", "9999", "10000", "1234567", "-1", "-98765")
FRACTIONS = (("0.24", 0), ("0.081", 1), ("0.0825", 2), ("-0.05", 0), ("1", 0), ("12.5", 0))
DAYS = ("2026-01-01", "2026-02-28", "2026-03-01", "2026-08-09", "2026-12-31")
MASSES = ("0", "1", "37.25", "999.94", "1000", "1234.5", "12345.5", "-1.25", "-1500")
LENGTHS = ("1", "0.3048", "7.6", "12.005", "1234.5")

SCRIPT = """([locales, currencies, amounts, wholes, fractions, days, masses, lengths]) => {
  const found = {};
  const write = (locale, options, value) => new Intl.NumberFormat(
    locale, {signDisplay: "negative", roundingMode: "halfExpand", ...options}).format(value);
  const digits = (n) => ({minimumFractionDigits: n, maximumFractionDigits: n});
  for (const locale of locales) {
    for (const currency of currencies) for (const amount of amounts)
      found[`${locale} ${currency} ${amount}`] =
        write(locale, {style: "currency", currency}, amount);
    for (const currency of currencies) for (const amount of wholes)
      found[`${locale} whole-${currency} ${amount}`] =
        write(locale, {style: "currency", currency, ...digits(0)}, amount);
    for (const amount of amounts)
      found[`${locale} number ${amount}`] = write(locale, digits(1), amount);
    for (const [fraction, n] of fractions)
      found[`${locale} percent ${fraction} ${n}`] =
        write(locale, {style: "percent", ...digits(n)}, fraction);
    for (const day of days)
      found[`${locale} day ${day}`] =
        new Intl.DateTimeFormat(locale, {dateStyle: "long", timeZone: "UTC"}).format(new Date(day));
    for (const amount of masses)
      found[`${locale} mass ${amount}`] = write(locale,
        {style: "unit", unit: "kilogram", ...digits(Math.abs(amount) >= 1000 ? 0 : 1)}, amount);
    for (const metres of lengths)
      found[`${locale} length ${metres}`] =
        write(locale, {style: "unit", unit: "meter", ...digits(2)}, metres);
  }
  return found;
}"""

GROUP = rf"(?<=\d){HARD_SPACE}(?=\d)"
# What Intl writes, as a pattern -> what is written here, and why; by locale (or any) and kind.
AS_WRITTEN_HERE = {
    # A number never parts from its unit at the end of a line; CLDR leaves a plain space there.
    ("", "mass"): (" ", HARD_SPACE),
    ("", "length"): (" ", HARD_SPACE),
    # CLDR's de_AT groups money by a point and other numbers by a space; Babel's data has the point
    # for both.
    ("de-AT", "number"): (GROUP, "."),
    ("de-AT", "percent"): (GROUP, "."),
    ("de-AT", "mass"): (GROUP, "."),
    ("de-AT", "length"): (GROUP, "."),
    # English of no region is that of Britain on these pages, as its spelling is; the CLDR's is
    # American, which en-US still writes.
    ("en", "day"): (r"^(\w+) (\d+), ", r"\2 \1 "),
    # The first of a month is an ordinal in French (usage of the Imprimerie nationale, from memory);
    # the CLDR has no word for it.
    ("fr", "day"): ("^1 ", "1er "),
    ("fr-CH", "day"): ("^1 ", "1er "),
}
# Switzerland groups by one sign or another from one edition of the CLDR to the next, and Babel and
# Chromium seldom hold the same edition: any of these is taken for the first.
SWISS_GROUPS = "'\N{RIGHT SINGLE QUOTATION MARK}\N{NARROW NO-BREAK SPACE}"


@pytest.fixture(scope="module")
def intl() -> dict[str, str]:
    """What Chromium writes, by locale, kind and value."""
    asked = [LOCALES, CURRENCIES, AMOUNTS, WHOLES, FRACTIONS, DAYS, MASSES, LENGTHS]
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        found: dict[str, str] = chromium.new_page().evaluate(SCRIPT, asked)
        chromium.close()
    return found


def expected(intl: dict[str, str], locale: str) -> dict[str, str]:
    """What Intl writes for a locale, with the listed differences."""
    found = {}
    for key, written in intl.items():
        if key.partition(" ")[0] != locale:
            continue
        kind = key.split(" ")[1]
        for where, what in (("", kind), (locale, kind)):
            if (where, what) in AS_WRITTEN_HERE:
                written = re.sub(*AS_WRITTEN_HERE[where, what], written)
        found[key] = written
    return found


def grouped(written: str, *, swiss: bool) -> str:
    """The same, and where it is Swiss its thousands set apart by the first of `SWISS_GROUPS`."""
    return re.sub(rf"(?<=\d)[{SWISS_GROUPS}](?=\d)", SWISS_GROUPS[0], written) if swiss else written


def written_here(key: str) -> str:
    name, kind, value, *digits = key.split(" ")
    locale = Locale.parse(name, sep="-")
    if kind == "number":
        return number(Decimal(value), locale, 1)
    if kind == "percent":
        return percent(Decimal(value), locale, int(digits[0]))
    if kind == "day":
        shown = page_environment(locale, "EUR").from_string("{{ day | day }}")
        return shown.render(day=date.fromisoformat(value))
    if kind == "mass":
        return mass(Decimal(value), locale)
    if kind == "length":
        return length(Decimal(value), locale).partition(" (")[0]
    currency = kind.removeprefix("whole-")
    return money(Decimal(value), currency, locale, whole=currency != kind)


@pytest.mark.parametrize("locale", LOCALES)
def test_everything_is_written_as_by_intl(intl: dict[str, str], locale: str) -> None:
    wanted = expected(intl, locale)
    assert len(wanted) == len(CURRENCIES) * (len(AMOUNTS) + len(WHOLES)) + len(AMOUNTS) + len(
        FRACTIONS
    ) + len(DAYS) + len(MASSES) + len(LENGTHS)
    swiss = locale.endswith("-CH")
    assert {key: grouped(written_here(key), swiss=swiss) for key in wanted} == {
        key: grouped(written, swiss=swiss) for key, written in wanted.items()
    }


def test_every_language_of_the_pages_is_compared() -> None:
    assert {locale.partition("-")[0] for locale in LOCALES} == {*languages()}


@pytest.mark.parametrize("where", AS_WRITTEN_HERE, ids=lambda pair: "-".join(pair))
def test_a_listed_difference_is_one(intl: dict[str, str], where: tuple[str, str]) -> None:
    locale, kind = where
    pattern, _ = AS_WRITTEN_HERE[where]
    keys = [key.split(" ") for key in intl]
    concerned = [" ".join(key) for key in keys if locale in ("", key[0]) and kind == key[1]]
    assert [
        key for key in concerned if re.search(pattern, intl[key]) and written_here(key) != intl[key]
    ]
