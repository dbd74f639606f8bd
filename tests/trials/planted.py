"""Secrets as they could get out: planted in finished files, one at a time, in every kind of place.

Each plant is one that somebody could read back: a cost in some form, a margin, hours, a name. None
of the numbers is printed by the price sheet itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import earlier_lists
from tests.demo import DEMO, demo

NBSP, NARROW, THIN, SHY, ZERO_WIDTH = "\u00a0", "\u202f", "\u2009", "\u00ad", "\u200b"
SHEETS = (
    "en/home",
    "en/trade",
    "en/north",
    "de/home",
    "de/trade",
    "fr/home",
    "nb/north",
    "es/home",
)
MODEL = "weekender_86"


@dataclass(frozen=True, slots=True)
class Plant:
    """A file of the site, or of a quote, that somebody put something into."""

    name: str
    path: str
    content: bytes


@cache
def site() -> PublicSite:
    return PublicSite(demo(), earlier_lists(DEMO, demo()))


@cache
def pages() -> Mapping[str, bytes]:
    return site().pages()


@cache
def site_guard() -> SiteGuard:
    return SiteGuard(site())


@cache
def cost() -> float:
    """What an option costs the yard: 2,128.45 or about that."""
    return demo().models[MODEL].options["side_single"].assembly.cost.value


def amount_forms(value: float) -> dict[str, str]:
    """How an amount can be written, for people or for programs."""
    plain, whole = f"{value:.2f}", f"{value:.0f}"
    english = f"{value:,.2f}"
    german = english.translate(str.maketrans(",.", ".,"))
    digits = str.maketrans("0123456789", "٠١٢٣٤٥٦٧٨٩")
    wide = {ord(str(n)): chr(0xFF10 + n) for n in range(10)}
    return {
        "plain": plain,
        "English": english,
        "German": german,
        "with a blank": english.replace(",", " "),
        "with a hard blank": german.replace(".", NBSP),
        "with a narrow blank": german.replace(".", NARROW),
        "with a thin blank": german.replace(".", THIN),
        "Swiss": english.replace(",", "'"),
        "Swiss, typeset": english.replace(",", "\u2019"),
        "exact": repr(value),
        "to four decimals": f"{value:.4f}",
        "to a decimal": f"{value:.1f}",
        "rounded": whole,
        "rounded, grouped": f"{value:,.0f}",
        "in tens": f"{value:.3g}",
        "in cents": f"{value * 100:.0f}",
        "in thousands": f"{value / 1000:.2f}k",
        "as a power": f"{value:.5e}",
        "in hexadecimals": hex(round(value)),
        "in euros": f"€{english}",
        "in euros, German": f"{german}{NBSP}€",
        "in euros by code": f"EUR {english}",
        "in dollars": f"${value * 1.09:,.2f}",
        "in dollars by code": f"{value * 1.09:,.2f} USD",
        "in crowns": f"NOK {value * 11.6:,.2f}",
        "in crowns, Norwegian": f"{value * 11.6:,.2f} kr".replace(",", NBSP).replace(".", ","),
        "in pounds": f"£{value * 0.86:,.2f}",
        "in francs": f"CHF {value * 0.95:,.2f}",
        "below zero": f"-{english}",
        "in brackets": f"({english})",
        "with a tax": f"{value * 1.24:,.2f}",
        "per piece": f"{english}/pc",
        "with words": f"costs {english} to make",
        "as a percentage": f"{value / 100:.1f}%",
        "as a mass": f"{english} kg",
        "as a length": f"{english} m",
        "in Arabic digits": plain.translate(digits),
        "in wide digits": plain.translate(wide),
        "with soft hyphens": SHY.join(plain),
        "with zero widths": ZERO_WIDTH.join(plain),
        "with marks of direction": f"\u200e{plain}\u200e",
        "letter by letter": " ".join(plain),
        "backwards": plain[::-1],
    }


def marked_up_forms(value: float) -> dict[str, str]:
    """How an amount can be written in a page so that its source does not show it."""
    plain = f"{value:.2f}"
    middle = len(plain) // 2
    return {
        "in entities": "".join(f"&#{ord(letter)};" for letter in plain),
        "in hexadecimal entities": "".join(f"&#x{ord(letter):x};" for letter in plain),
        "with a hard blank's entity": f"{value:,.2f}".replace(",", "&nbsp;"),
        "with an apostrophe's entity": f"{value:,.2f}".replace(",", "&#39;"),
        "split by a tag": f"{plain[:middle]}<b>{plain[middle:]}</b>",
        "split by an empty tag": f"{plain[:middle]}<span></span>{plain[middle:]}",
        "split by a comment": f"{plain[:middle]}<!-- -->{plain[middle:]}",
        "split by soft hyphens": "&shy;".join(plain),
        "in cells": "".join(f"<td>{letter}</td>" for letter in plain),
        "whole and cents": f"{plain[:-3]}<sup>{plain[-2:]}</sup>",
    }


# What is no amount of a cost and leaves a yard no less.
OTHERS = {
    "a margin": "31.4 %",
    "a margin, close": "31.4%",
    "a margin as a fraction": "margin 0.3142",
    "hours": "12.75 h",
    "hours and minutes": "12 h 45 min",
    "a wage": "34.02 EUR/h",
    "a small price": "€9.87",
    "a price of a kilogram": "3.85 €/kg",
    "a discount": "27.5 % off",
    "a supplier": "Dolvane Composites",
    "a supplier's id": "dolvane",
    "a supplier in capitals": "DOLVANE  COMPOSITES",
    "a supplier, split": "Dol\u00advane",
    "another supplier": "Quenmoor Polymers Inc.",
    "a mould": "Return mould, wide opening",
    "a note": "store, receiving and freight within the yard; invented",
    "a dealer class": "Sold by the yard",
    "a path": "demo_catalog/options.yaml:12",
    "a path of a machine": "C:\\Users\\anna\\boats\\costs.xlsx",
    "a file of the review": "internal/review/index.html",
    "another customer": "Mirelle Astrup, Fjordgata 4",
    "a person": "Gudrun Approvesson",
    "a key of a figure": "options.side_single.cost",
    "an index": "resin index 104.20",
    "a count of hours": "takes 7 hours",
    "a yield": "yield 0.97",
    "a word": "cost",
}


def in_pages() -> Iterator[Plant]:
    """Every form in the text of a page, each in another sheet and page."""
    forms = amount_forms(cost()) | marked_up_forms(cost()) | OTHERS
    kinds = ("index.html", f"models/{MODEL}.html", "compare.html", "list.html", "changes.html")
    for count, (name, text) in enumerate(forms.items()):
        path = f"{SHEETS[count % len(SHEETS)]}/{kinds[count % len(kinds)]}"
        if "<" not in text and "&" not in text:
            text = text.replace("&", "&amp;")
        yield _changed(f"{name} in a text", path, "</main>", f"<p>{text}</p></main>")


# Where a page says more than it shows; {} is what is said.
PLACES = {
    "a title": ("</title>", " {}</title>"),
    "a comment": ("</main>", "<!-- {} --></main>"),
    "a conditional comment": ("</main>", "<!--[if IE]>{}<![endif]--></main>"),
    "an instruction": ("</main>", "<?cost {}?></main>"),
    "a section of characters": ("</main>", "<![CDATA[{}]]></main>"),
    "an attribute": ("<h1>", '<h1 title="{}">'),
    "an attribute of data": ("<h1>", '<h1 data-cost="{}">'),
    "an attribute without quotes": ("<h1>", "<h1 data-cost={}>"),
    "an attribute in single quotes": ("<h1>", "<h1 title='{}'>"),
    "an attribute that is there": ('class="frame"', 'class="frame {}"'),
    "an id": ('id="main"', 'id="main-{}"'),
    "a link": ('href="#main"', 'href="#main?cost={}"'),
    "a label": ('<main id="main"', '<main aria-label="{}" id="main"'),
    "a style of an element": ("<h1>", '<h1 style="width:{}px">'),
    "a description": ("</head>", '<meta name="description" content="{}"></head>'),
    "a hidden input": ("</main>", '<input type="hidden" value="{}"></main>'),
    "an element nobody knows": ("</main>", "<cost>{}</cost></main>"),
    "an element's name": ("</main>", "<x-{}></x-{}></main>"),
    "a script": ("</head>", "<script>var cost = {};</script></head>"),
    "data for a script": ("</head>", '<script type="application/json">[{}]</script></head>'),
    "linked data": ("</head>", '<script type="application/ld+json">[{}]</script></head>'),
    "styles": ("</head>", "<style>/* {} */</style></head>"),
    "a template": ("</main>", "<template>{}</template></main>"),
    "a text without scripts": ("</main>", "<noscript>{}</noscript></main>"),
    "a drawing's text": ("</main>", "<svg><text>{}</text></svg></main>"),
    "a drawing's title": ("</main>", "<svg><title>{}</title></svg></main>"),
    "a drawing's line": ("</main>", '<svg><path d="M{} 3"/></svg></main>'),
    "a drawing's frame": ("</main>", '<svg viewBox="0 0 {} 58"></svg></main>'),
    "a drawing's place": ("</main>", '<svg><g transform="translate(0 {})"/></svg></main>'),
    "a drawing's line's width": ("</main>", '<svg><g stroke-width="{}"/></svg></main>'),
    "a number of columns": ("</main>", '<table><td colspan="{}"></td></table></main>'),
    "after the end": ("</html>", "</html>{}"),
    "before the beginning": ("<!DOCTYPE html>", "{}<!DOCTYPE html>"),
    "the kind of document": ("<!DOCTYPE html>", "<!DOCTYPE html {}>"),
}


def in_places() -> Iterator[Plant]:
    """An amount and a name in every place of a page."""
    for count, (name, (after, said)) in enumerate(PLACES.items()):
        path = f"{SHEETS[count % len(SHEETS)]}/models/{MODEL}.html"
        for text in (f"{cost():.2f}", f"{cost():.0f}", "dolvane"):
            yield _changed(f"{text} in {name}", path, after, said.replace("{}", text))


def in_data() -> Iterator[Plant]:
    """Amounts and names in files for programs."""
    amount = f"{cost():.2f}"
    leaf = f'"price": "{amount}",\n'
    for text in (amount, f"{cost():.0f}", "dolvane"):
        for path in ("prices.json", "offers.jsonld", "prices.csv-metadata.json"):
            sheet = f"en/home/{path}"
            first = "\n"
            yield _changed(
                f"{text} as a new key of {path}", sheet, first, f'\n "cost": "{text}",\n'
            )
            yield _changed(
                f"{text} as a key's name in {path}", sheet, first, f'\n "{text}": true,\n'
            )
            yield _changed(f"{text} in the blanks of {path}", sheet, first, f"\n/* {text} */\n")
            yield _changed(
                f"{text} in a list of {path}", sheet, first, f'\n "terms": ["{text}"],\n'
            )
            yield _changed(f"{text} as a number in {path}", sheet, first, f'\n "most": {text},\n')
    for path in ("prices.json", "offers.jsonld"):
        yield _changed(f"a price of {path}", f"de/home/{path}", "\n", f"\n{leaf}")
        yield _swapped(f"a price of {path}", f"nb/north/{path}", r'(?<="price": ")[\d.]+', amount)
    yield _swapped("a mass of prices.json", "en/home/prices.json", r'(?<="mass": )[\d.]+', amount)
    yield _swapped(
        "a rate of prices.json", "en/home/prices.json", r'(?<="rate": ")[\d.]+', "0.3142"
    )
    table = "fr/home/prices.csv"
    yield _swapped("a price of prices.csv", table, r"(?<=,)\d+\.\d\d(?=,)", amount)
    yield _swapped("a text of prices.csv", table, r'(?<=,")[a-z_]+(?=",)', "dolvane")
    yield _changed("a column of prices.csv", table, "\r\n", f',"{amount}"\r\n')
    yield _changed("a name of a column of prices.csv", table, "model,", "model,cost,")
    yield _changed("a line of prices.csv", table, "\r\n", f"\r\n# {amount}\r\n")
    yield _changed("a cell after a line of prices.csv", table, '"\r\n', f'",{amount}\r\n')


def in_program_s_files() -> Iterator[Plant]:
    """Amounts and names in scripts, styles and drawings, which tell nobody anything."""
    script, amount = f"en/home/models/{MODEL}.js", f"{cost():.2f}"
    for text in (amount, "dolvane"):
        yield _changed(f"{text} in a script's remark", script, "\n", f"\n// {text}\n")
        yield _changed(f"{text} in a step's remark", script, "const _a", f"/* {text} */ const _a")
        yield _changed(f"{text} as a step", script, "  const _a", f"  var _{text} = 1;\n  const _a")
        yield _changed(f"{text} as a text", script, "return {", f'var _x = "{text}"; return {{')
        yield _changed(f"{text} in a list's data", script, '"items":[', f'"items":["{text}",')
        yield _changed(f"{text} as a new key", script, '"items":[', f'"cost":"{text}","items":[')
        yield _changed(f"{text} in words", script, '"words":{', f'"words":{{"add":"{text}",')
        yield _changed(f"{text} after the script", script, "}());\n", f"}}());\n// {text}\n")
        for path in ("base.css", "sheet.css", "foot.css", "boat.js", "compare.js", "icon.svg"):
            name, path = f"{text} in {path}", f"nb/home/assets/{path}"
            yield Plant(name, path, pages()[path] + f"/* {text} */".encode())
        schema = "es/home/prices.schema.json"
        yield _changed(f"{text} in the schema", schema, "\n", f'\n "cost": "{text}",\n')
        yield Plant(f"{text} in root's styles", "assets/base.css", f"/* {text} */".encode())
    yield _changed("a rule's number", script, "1.0", amount)
    yield _changed("a small rule's number", script, "1.0", "17.0")
    yield _swapped("a price of a list", script, r'(?<="price":")[\d.]+', amount)
    yield _swapped("a mass of a list", script, r'(?<="mass":")[\d.]+', amount)
    yield _swapped("a count of a list", script, r'(?<="most":)\d+', "17")
    yield _swapped("a style's digits", script, r'(?<="digits":)\d+', "17")
    styles = "de/home/assets/foot.css"
    yield _swapped("a foot's text", styles, r'(?<=content: ")', "Dolvane ".replace(" ", "\\20 "))
    yield _changed("a foot's size", styles, "8pt", "31.4pt")


def new_files() -> Iterator[Plant]:
    """Files that no price sheet has, and secrets in their names."""
    picture = b"\x89PNG\r\n\x1a\n" + b"\0\0\0\x10tEXtCost\0" + f"{cost():.2f}".encode()
    for path in ("boat.png", "boat.jpg", "notes.txt", "prices.xlsx", "list.pdf", "boat.js.map"):
        yield Plant(f"a new {path}", f"en/home/{path}", picture)
    yield Plant("a picture of the whole site", "assets/boat.png", picture)
    yield Plant("a drawing", "en/home/assets/boat.svg", f"<svg><!-- {cost()} --></svg>".encode())
    page = pages()["en/home/index.html"]
    for name in ("dolvane", f"cost-{cost():.2f}", "options_yaml", "internal", "margin-31"):
        yield Plant(f"a page called {name}", f"en/home/{name}.html", page)
    yield Plant("a page of a model that is none", "en/home/models/dolvane.html", page)
    yield Plant("a sheet that is none", "en/contract/index.html", page)
    yield Plant("a page of another sheet", "de/trade/index.html", page)


def _changed(name: str, path: str, after: str, new: str) -> Plant:
    """A file with a text in place of its first `after`."""
    text = pages()[path].decode()
    if after not in text:
        raise ValueError(f"{path} has no {after!r}")
    return Plant(name, path, text.replace(after, new, 1).encode())


def _swapped(name: str, path: str, pattern: str, new: str) -> Plant:
    """A file with a text in place of the first that a pattern finds."""
    text, count = re.subn(pattern, lambda _: new, pages()[path].decode(), count=1)
    if not count:
        raise ValueError(f"{path} has no {pattern}")
    return Plant(name, path, text.encode())


def in_sites() -> Iterator[Plant]:
    """Every plant in a price sheet."""
    for plants in (in_pages, in_places, in_data, in_program_s_files, new_files):
        yield from plants()
