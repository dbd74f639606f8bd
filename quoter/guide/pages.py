"""The guide as static pages: every topic a file, with a search that needs no server."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from babel import Locale
from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

from quoter.guide.markdown import anchor, plain, reader
from quoter.guide.topics import Commands, Topic, groups_of
from quoter.pages.environment import asset, page_environment, render

LANGUAGE = Locale("en")
ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/guide.css": "guide/guide.css",
    "assets/search.js": "guide/search.js",
}
Told = Mapping[str, str]  # what a rule that writes is told of its page
TITLE = "title"
LEAD = 6  # tokens: a heading and a paragraph, each of three
FEW = 3  # headings that nobody needs a list of


@dataclass(frozen=True, slots=True)
class Section:
    """A heading of a page, with where it is and what stands under it."""

    level: int
    title: str
    id: str
    words: str


def guide_files(commands: Commands) -> dict[str, bytes]:
    """Path below the guide's folder -> content of every file.

    Args:
        commands: those that there are, by name
    """
    groups = groups_of(commands)
    every = [topic for _, topics in groups for topic in topics]
    environment = page_environment(LANGUAGE, "EUR")
    writer = _writer()
    common = {"groups": groups, "root": ""}
    made = {"index.html": render(environment, "guide/contents.html", name="", **common)}
    found: list[dict[str, str]] = []
    for place, topic in enumerate(every):
        tokens = _read(topic.text)
        sections = _sections(tokens)
        shown = {
            "topic": topic,
            "lead": _written(writer, tokens[:LEAD], topic),
            "body": _written(writer, tokens[LEAD:], topic),
            "sections": _on_page(sections),
            "before": every[place - 1] if place else None,
            "after": every[place + 1] if place + 1 < len(every) else None,
        }
        made[f"{topic.name}.html"] = render(
            environment, "guide/page.html", name=topic.name, **shown, **common
        )
        found += _to_find(topic, sections)
    data = json.dumps(found, ensure_ascii=False, indent=0).replace("</", "<\\/")
    made["assets/found.js"] = f"window.guideSections = {data};\n".encode()
    return made | {path: asset(source) for path, source in ASSETS.items()}


def _written(writer: MarkdownIt, tokens: Sequence[Token], topic: Topic) -> Markup:
    return Markup(writer.renderer.render(tokens, writer.options, {TITLE: topic.title}))


def _on_page(sections: Sequence[Section]) -> list[Section]:
    """What a page lists of its own sections."""
    found = [each for each in sections if each.level == 2]
    return found if len(found) > FEW else []


def _to_find(topic: Topic, sections: Sequence[Section]) -> Iterator[dict[str, str]]:
    for section in sections:
        place = f"#{section.id}" if section.level > 1 else ""
        yield {
            "page": topic.title,
            "title": section.title,
            "to": f"{topic.name}.html{place}",
            "words": section.words,
        }


def _read(text: str) -> list[Token]:
    """The tokens of a text, its headings with ids that no other heading of the page has."""
    tokens = reader().parse(text)
    taken: dict[str, int] = {}
    for token, words in pairwise(tokens):
        if token.type == "heading_open":
            id = anchor(plain(words.content)) or "section"
            taken[id] = taken.get(id, 0) + 1
            token.attrs["id"] = id if taken[id] == 1 else f"{id}-{taken[id]}"
    return tokens


def _sections(tokens: Sequence[Token]) -> list[Section]:
    found: list[Section] = []
    words: list[str] = []
    for place, token in enumerate(tokens):
        if token.type == "heading_open":
            _say(found, words)
            title = plain(tokens[place + 1].content)
            found.append(Section(int(token.tag[1]), title, str(token.attrs["id"]), ""))
            words = []
        elif token.type in ("inline", "fence"):
            words.append(plain(token.content) if token.type == "inline" else token.content)
    _say(found, words)
    return found


def _say(found: list[Section], words: Sequence[str]) -> None:
    if found:
        last = found[-1]
        told = " ".join(" ".join(words).split()).removeprefix(last.title).strip()
        found[-1] = Section(last.level, last.title, last.id, told)


def _writer() -> MarkdownIt:
    """What writes the pages: tables and code in regions that scroll, links to pages."""
    writer = reader()
    rules: dict[str, Callable[..., str]] = {
        "table_open": _table_open,
        "table_close": lambda *_: "</table>\n</div>\n",
        "th_open": lambda *_: '<th scope="col">',
        "fence": _code,
        "link_open": _link,
    }
    for name, rule in rules.items():
        writer.renderer.rules[name] = rule  # type: ignore[attr-defined]
    return writer


def _table_open(tokens: Sequence[Token], place: int, _: object, told: Told) -> str:
    name = _named(tokens, place, "table", told)
    return f'<div class="scroll" role="region" aria-label="{name}" tabindex="0">\n<table>\n'


def _named(tokens: Sequence[Token], place: int, kind: str, told: Told) -> str:
    """What a table is called to whoever does not see it: by its heading and its place."""
    before = [token for token in tokens[:place] if token.type in ("table_open", "fence")]
    titles = [told[TITLE]] + [
        tokens[at + 1].content
        for at, token in enumerate(tokens[:place])
        if token.type == "heading_open"
    ]
    return str(Markup.escape(f"{kind} {len(before) + 1}: {plain(titles[-1])}"))


def _code(tokens: Sequence[Token], place: int, _: object, told: Told) -> str:
    token = tokens[place]
    kind, _blank, file = token.info.partition(" ")
    above = f'<p class="file">{Markup.escape(file)}</p>\n' if file else ""
    name = _named(tokens, place, "example", told)
    return (
        f'{above}<div class="scroll code {Markup.escape(kind)}" role="region" '
        f'aria-label="{name}" tabindex="0">'
        f"<pre><code>{Markup.escape(token.content)}</code></pre></div>\n"
    )


def _link(tokens: Sequence[Token], place: int, *_: object) -> str:
    to, mark, section = str(tokens[place].attrs["href"]).partition("#")
    page = f"{to.removesuffix('.md')}.html" if to.endswith(".md") else to
    return f'<a href="{Markup.escape(page + mark + section)}">'
