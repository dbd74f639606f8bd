"""Which boat papers are made for: as the command says, as a request has it, or of a won quote."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from quoter.catalogue.quoting import Chosen
from quoter.catalogue.source import Text
from quoter.figures import constant
from quoter.formats import RECORD_FILE
from quoter.pricing.configured import configure
from quoter.pricing.price import PricedModel, Pricing
from quoter.problems import Place, Problems, nearest, quoted
from quoter.quotes import QuoteError
from quoter.quotes.change_orders import job_of, order_of, unordered
from quoter.quotes.kept.archive import kept
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.standing import list_all
from quoter.quotes.request import (
    Asked,
    RequestError,
    broken_rules,
    chosen_of,
    recorded_request,
)

JOB = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,23}\Z")
JOB_WORDS = "letters, digits, '.', '-' and '_', at most 24, a letter or digit first"
DIGITS = 8  # of a job's number that nobody stated


@dataclass(frozen=True, slots=True)
class Wanted:
    """A boat as it is asked for, before it is held against a catalogue.

    `told` quotes a place of the file it comes from, `day` is the one that the asking names.
    """

    model: Text
    options: Sequence[Chosen]
    colour: Text | None
    place: Place
    told: Callable[[Place], str]
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Ordered:
    """A boat that the catalogue can build: how many of each option and package, by id."""

    model: PricedModel
    chosen: Mapping[str, int]


def wanted_by_words(model: str, options: Iterable[str], colour: str | None) -> Wanted:
    """A boat by the words of a command: each option by its id, or as ``ID=QUANTITY``.

    Raises:
        RequestError: a quantity is no whole number of at least 1.
    """
    problems, found = Problems(), []
    for words in options:
        id, _, often = words.partition("=")
        place = Place("--option")
        if often and not (often.isascii() and often.isdigit() and 0 < int(often) < 1000):
            what = f"{quoted(often)} is no quantity of {quoted(id)}"
            problems.add(place, "not-a-number", what, f"write for example '{id}=2'")
            continue
        chosen = Chosen.model_construct(
            option=Text.at(id, place, "option"), quantity=constant(float(often)) if often else None
        )
        found.append(chosen)
    if problems.errors:
        raise RequestError(problems.errors)
    tint = None if colour is None else Text.at(colour, Place("--colour"), "colour")
    return Wanted(Text.at(model, Place("")), found, tint, Place("--option"), lambda _: "")


def wanted_by_request(asked: Asked) -> Wanted:
    """The boat of a request, whoever asks and on whatever terms."""
    request = asked.request
    return Wanted(
        request.model, request.options, request.colour, request.place, asked.excerpt, request.date
    )


@dataclass(frozen=True, slots=True)
class Sold:
    """A quote whose boat is made, whether it is won, and the job that it is made under.

    A boat keeps its job's number when the order is changed: it is that of the first order.
    """

    record: Record
    won: bool
    job: str
    wanted: Wanted


def quoted_boat(quotes: Path, number: str, release: str) -> Sold:
    """A quote and its boat; somebody may release one that is not won.

    Args:
        quotes: folder of quotes
        number: of the quote, or the name of a revision
        release: who lets papers be made though it is not won; empty for nobody
    Raises:
        QuoteError: there is no such quote, or it is not won and nobody answers for it.
        RequestError: its request can't be read any more.
    """
    record, listing = kept(quotes, number), list_all(quotes)
    order = order_of(listing, number)
    if order is not None:
        record = order.record
    elif not release:
        told = unordered(listing, record)
        raise QuoteError(f"{told}, or let somebody answer for it: --release NAME")
    wanted = wanted_by_request(recorded_request(record.request, RECORD_FILE))
    return Sold(record, order is not None, job_of(listing, record), wanted)


def ordered(wanted: Wanted, pricing: Pricing) -> Ordered:
    """A boat held against the catalogue: it can be had, and its options go together.

    Raises:
        RequestError: with everything that the catalogue does not have or allow.
    """
    problems = Problems()
    known = pricing.catalogue.records.models
    model = pricing.models.get(wanted.model)
    if model is None:
        what = f"unknown model {quoted(wanted.model)}"
        problems.add(wanted.model.place, "unknown-id", what, nearest(wanted.model, known))
        problems.quote(wanted.told)
        raise RequestError(problems.errors)
    chosen = chosen_of(wanted.options, wanted.colour, model, problems)
    if not problems.errors:
        boat = configure(pricing.terms, model, chosen)
        problems.extend(broken_rules(wanted.options, wanted.place, model, boat))
    if problems.errors:
        problems.quote(wanted.told)
        raise RequestError(problems.errors)
    return Ordered(model, chosen)


def job_number(stated: str | None, sold: Sold | None, boat: Ordered, boats: int) -> str:
    """What a job is called: as stated, else after its order, else by a digest of what is built.

    The same boat asked for again thus has the same number, and another boat another one.

    Raises:
        ValueError: what is stated can't be printed in a code and name a folder.
    """
    if stated is not None:
        if not JOB.match(stated):
            raise ValueError(f"{quoted(stated)} can't be a job's number: use {JOB_WORDS}")
        return stated
    if sold is not None:
        return sold.job
    said = [str(boat.model.model.id), str(boats)]
    said += [f"{id}={count}" for id, count in sorted(boat.chosen.items())]
    return "J-" + hashlib.sha256("\n".join(said).encode()).hexdigest()[:DIGITS]
