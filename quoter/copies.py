"""A dealer's own copy of a price sheet: priced, made and guarded as the yard's own, then written.

Nothing of a dealer is on the yard's site, and nothing of the yard but what its price sheet says is
on a copy: the same guard reads every file of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from quoter.catalogue.day import day_words
from quoter.catalogue.markets import Dealer
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.translations import untranslated
from quoter.leaks import SiteGuard
from quoter.pages.public.folder_zip import alone
from quoter.pages.public.heads import Copy, heads_of
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import earlier_lists
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import Problem, Problems, nearest
from quoter.publish.manifest import MANIFEST, FolderError, notes_of
from quoter.publish.ours import refuse_quotes
from quoter.publish.outputs import held
from quoter.workbook.xlsx import zipped

NOTE = "copy for"  # in the list of what was written: whose copy a folder holds


class UnknownDealerError(ValueError):
    """Raised for a dealer or a language that the catalogue has not; says which is near."""


@dataclass(frozen=True, slots=True)
class Copied:
    """What was written: for whom, what is said of its day, and in which languages, by their tags.

    `whole` is the file that holds all the others.
    """

    dealer: Dealer
    day: str
    languages: tuple[str, ...]
    whole: str
    warnings: tuple[Problem, ...]
    left: tuple[str, ...]


def write_copy(
    folder: Path,
    into: Path,
    dealer: str,
    as_of: date | None = None,
    *,
    language: str = "",
    strict: bool = False,
    wait: bool = False,
    say: Callable[[str], None] = lambda _: None,
) -> Copied:
    """Write a dealer's copy into a folder of its own, which changes only when all is made.

    Args:
        folder: the catalogue's
        into: where the copy goes
        dealer: one of the yard's, by its id
        as_of: the day asked about
        language: the tag of the one language that is wanted, else all of the market
        strict: whether warnings stop it
        wait: whether to wait for another build into the same folder
        say: is told what is being done
    Raises:
        CatalogueError: the catalogue has problems, or is not translated.
        UnknownDealerError: there is no such dealer, or the market has not the language.
        LeakError: a file says what no public view accounts for.
        FolderError: the folder holds something else, or can't be written.
    """
    refuse_quotes(into)
    with held([into], keep=[folder], wait=wait, say=say) as outputs:
        say("reading and costing the catalogue")
        pricing, warnings = price_catalogue(folder, as_of, strict=strict)
        problems = Problems()
        problems.extend(untranslated(pricing.catalogue.records))
        problems.quote(pricing.catalogue.excerpt)
        problems.stop_if_any()
        copy = copy_of(pricing, dealer, language)
        refuse_another(into, dealer)
        say(f"writing the copy for {copy.dealer.name}")
        files = copy_files(folder, pricing, copy)
        left = outputs.publish({into: files}, {into: [(NOTE, dealer)]})
    catalogue = pricing.catalogue
    day = day_words(catalogue.records, catalogue.as_of)
    tags = tuple(head.tag for head in heads_of(pricing, copy))
    return Copied(copy.dealer, day, tags, _whole(copy), tuple(warnings), tuple(left))


def copy_of(pricing: Pricing, dealer: str, language: str = "") -> Copy:
    """What a dealer gets.

    Raises:
        UnknownDealerError: there is no such dealer, or the market has not the language.
    """
    found = dealer_named(pricing.catalogue, dealer)
    tags = [head.tag for head in heads_of(pricing, Copy(found))]
    if language and language not in tags:
        raise UnknownDealerError(
            f"the market '{found.market}' has no price sheet in '{language}': "
            f"{nearest(language, tags)}"
        )
    return Copy(found, language)


def dealer_named(catalogue: Catalogue, id: str) -> Dealer:
    """A dealer by its id.

    Raises:
        UnknownDealerError: there is none, naming the nearest.
    """
    dealers = {str(dealer.id): dealer for dealer in catalogue.yard.dealers}
    if not dealers:
        raise UnknownDealerError(
            "yard.yaml states no dealers; add one under 'dealers:', for example "
            "'- {id: eastquay, name: Eastquay Boat Sales, phone: +00 555 0171, market: home}'"
        )
    if id not in dealers:
        raise UnknownDealerError(f"unknown dealer '{id}': {nearest(id, dealers)}")
    return dealers[id]


def copy_files(folder: Path, pricing: Pricing, copy: Copy) -> dict[str, bytes]:
    """Path below the copy's folder -> content, with all of it in one file besides.

    Raises:
        LeakError: a file says what no public view accounts for.
    """
    site = PublicSite(pricing, earlier_lists(folder, pricing), copy)
    guard = SiteGuard(site)
    files = site.pages()
    guard.look_through(files)
    there = {path: content for path, content in files.items() if not path.endswith(".zip")}
    inside = {path: alone(path, content, there, "") for path, content in there.items()}
    guard.look_through(inside)
    top = str(copy.dealer.id)
    packed = {f"{top}/{path}": content for path, content in inside.items()}
    return files | {_whole(copy): zipped(packed, stored=True)}


def _whole(copy: Copy) -> str:
    return f"{copy.dealer.id}.zip"


def refuse_another(into: Path, dealer: str) -> None:
    """Refuse a folder in which a build, or the copy for somebody else, stands.

    Raises:
        FolderError: it holds one.
    """
    if not (into / MANIFEST).exists():
        return
    if (NOTE, dealer) not in notes_of(into):
        raise FolderError(
            f"{into} holds a build, or the copy for another dealer; name a folder of its own with "
            "--into DIR"
        )
