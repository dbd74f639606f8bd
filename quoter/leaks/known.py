"""What a catalogue keeps to itself: to say what leaks, and to find it in public texts."""

from __future__ import annotations

import re
from bisect import bisect
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from quoter.catalogue.booked import Booked
from quoter.catalogue.checks import every_record
from quoter.catalogue.languages import languages, regions
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.source import Block, Text
from quoter.figures import Figure, money_in, plain_number
from quoter.figures.graph import in_order
from quoter.leaks.allowed import Allowed
from quoter.leaks.booked import figures_of, texts_of
from quoter.leaks.own import own_text
from quoter.leaks.reduction import is_number, tokens_of
from quoter.pricing.price import Pricing
from quoter.problems import Place

SHORTEST_NOTE = 16  # shorter notes ("common practice") are common words, not secrets
_SHORTEST_WORD = 3
_LEAST_DIGITS = 3
_SUPPLIER = "supplier"
_PUBLIC_KINDS = ("model", "option", "package")
_NO_SIGNS = str.maketrans("", "", ".,'\u2019\u066b\u066c\u00a0\u202f\u2009")


@dataclass(frozen=True, slots=True)
class Word:
    """Something a catalogue calls or notes: the words, what they are, and where they stand."""

    words: str
    what: str
    place: Place | None

    def __str__(self) -> str:
        """What it is and where."""
        return self.what if self.place is None else f"{self.what}, {_where(self.place)}"


@dataclass(frozen=True, slots=True)
class Clash:
    """A public text of the catalogue, in some language, that holds what is nobody's to read."""

    text: str
    place: Place
    secret: Word


class Known:
    """What is known of a costing's secrets; all of it is looked up only when something leaks."""

    def __init__(self, pricing: Pricing | None) -> None:
        """`pricing` may be missing, where there is no catalogue any more."""
        self._pricing = pricing
        self._told: dict[str, str] = {}

    def what(self, text: str) -> str:
        """What a text is by the catalogue, as the end of a sentence; nothing if that is unknown."""
        if self._pricing is None:
            return ""
        if text not in self._told:
            self._told[text] = self._what(text)
        return self._told[text]

    def _what(self, text: str) -> str:
        for clash in self.clashes:
            if _one_line(text) in _one_line(clash.text):
                return f", in the text of {_where(clash.place)}: it is {clash.secret}"
        if (word := self._word(text)) is not None:
            return f": it is {word}"
        for token in tokens_of(text):
            if is_number(token) and (figure := self._figure(token)) is not None:
                return f": it is {_of_figure(figure)}"
        return ""

    @cached_property
    def clashes(self) -> tuple[Clash, ...]:
        """Every public text that names a supplier or holds a note word for word."""
        if self._pricing is None:
            return ()
        texts = list(self._public_texts())
        every = "\n".join(text for text, _ in texts)
        found = [word for word in self._secret_words(every) if word.words in every]
        return tuple(
            Clash(text, place, word)
            for text, place in texts
            for word in found
            if _holds(text, word.words)
        )

    def strike_out(self, allowed: Allowed) -> None:
        """Allow no text that clashes."""
        for clash in self.clashes:
            allowed.strike_out(clash.text, clash.secret.words)

    def _public_texts(self) -> Iterator[tuple[str, Place]]:
        """Each text that customers read, as written and in each language, with its place."""
        records = self._catalogue.records
        for public in records.texts.values():
            yield str(public.text), public.text.place
        for language, entries in records.translations.items():
            for entry in entries.values():
                for text in entry.strings:
                    yield text, Place(f"translations/{language}.po", entry.line)

    def _secret_words(self, public: str) -> Iterator[Word]:
        """Suppliers by name, dealer classes and notes; not what is but ordinary words."""
        ordinary = {word for word in tokens_of(public) if word.islower()}
        ordinary |= {word for code in (*languages(), *regions()) for word in own_text(code).words}
        ordinary |= {*tokens_of(str(self._catalogue.yard.company.name))}
        for kind, records in self._catalogue.records.by_kind.items():
            if kind != _SUPPLIER:
                ordinary |= {word for id in records for word in str(id).split("_")}
        for id, supplier in self._catalogue.records.suppliers.items():
            words = [token for token in tokens_of(supplier.name) if token[0].isalpha()]
            if not all({word, word.casefold()} & ordinary for word in words):
                what = f"the name of supplier {id}"
                yield Word(str(supplier.name), what, _place(supplier.name))
        yield from (word for word in self._notes if len(word.words) >= SHORTEST_NOTE)

    @property
    def _catalogue(self) -> Catalogue:
        if self._pricing is None:
            raise LookupError("there is no catalogue")
        return self._pricing.catalogue

    @cached_property
    def _names(self) -> tuple[Word, ...]:
        """Every name and id of a record that customers don't read, with its kind."""
        found: list[Word] = []
        for kind, records in self._catalogue.records.by_kind.items():
            for id, record in records.items() if kind not in _PUBLIC_KINDS else ():
                for field in ("name", "id"):
                    text = getattr(record, field, None)
                    if text:
                        what = f"the {field} of {kind.replace('_', ' ')} {id}"
                        found.append(Word(str(text), what, getattr(text, "place", None)))
        for dealer in self._catalogue.yard.dealers:
            found.append(Word(str(dealer.name), f"the dealer {dealer.id}", _place(dealer.name)))
        return tuple(found)

    @cached_property
    def _rows(self) -> Booked:
        """What was booked; a quote has not read it, so it is read when something leaks."""
        booked = self._catalogue.booked
        return self._catalogue.rows() if booked is None else booked

    @cached_property
    def _booked(self) -> tuple[Word, ...]:
        """Texts of what was booked: no job, no reference and no note of a row is a customer's."""
        return tuple(Word(*found) for found in texts_of(self._rows))

    @cached_property
    def _notes(self) -> tuple[Word, ...]:
        """Every dealer class and note, those behind a quantity among them."""
        catalogue, found = self._catalogue, []
        for buyer in catalogue.yard.dealer_classes:
            found.append(Word(str(buyer.name), f"the dealer class {buyer.id}", _place(buyer.name)))
        for record in every_record(catalogue.records):
            if note := getattr(record, "note", None):
                found.append(Word(str(note), "a note", _place(note)))
            for why in record.expected.values() if isinstance(record.expected, Block) else ():
                found.append(Word(str(why), "a note", _place(why)))
            for name in type(record).model_fields:
                found += _behind(getattr(record, name))
        return tuple(found)

    def _word(self, text: str) -> Word | None:
        """What has these words: as a whole, else within a longer name or note."""
        sought = _one_line(text)
        if len(sought) < _SHORTEST_WORD:
            return None
        words = (*self._names, *self._notes, *self._booked)
        whole = next((word for word in words if _one_line(word.words) == sought), None)
        pattern = re.compile(rf"(?<!\w){re.escape(sought)}(?!\w)")
        return whole or next((w for w in words if pattern.search(_one_line(w.words))), None)

    def _figure(self, token: str) -> Figure | None:
        """A figure of the costing that a number may be, rounded or in hundredths; results first.

        A number of few digits may be anything.
        """
        for value in _readings(token):
            digits = -int(value.as_tuple().exponent)
            if len(value.as_tuple().digits) < _LEAST_DIGITS:
                continue
            for scale in (1.0, 100.0):
                low, high = (
                    bisect(self._sizes, ((float(value) + half * 0.1**digits) / scale,))
                    for half in (-0.5, 0.5)
                )
                if low < high:
                    return self._figures[min(place for _, place in self._sizes[low:high])]
            if (found := self._paid.get(value)) is not None:
                return found
        return None

    @cached_property
    def _sizes(self) -> list[tuple[float, int]]:
        """The size of every figure that is told, in order, with its place among them."""
        return sorted((abs(figure.value), place) for place, figure in enumerate(self._figures))

    @cached_property
    def _paid(self) -> dict[Decimal, Figure]:
        """Each number of what was booked, with the first row that has it."""
        found: dict[Decimal, Figure] = {}
        for figure in figures_of(self._rows):
            found.setdefault(_exact(figure), figure)
        return found

    @cached_property
    def _figures(self) -> list[Figure]:
        """Every figure with a name, results before what they are made of."""
        roots: list[Figure] = []
        for model in self._pricing.models.values() if self._pricing is not None else ():
            for priced in model.everything:
                roots += [priced.recommended, priced.assembly.cost, priced.assembly.variable]
                for sale in priced.sales.values():
                    roots += [sale.net, sale.contribution, sale.margin]
        return [figure for figure in reversed(in_order(roots)) if figure.label]


def _holds(text: str, words: str) -> bool:
    """Whether a text names something; one that is but a single word may mean another thing."""
    if text == words and len(tokens_of(words)) == 1:
        return False
    return bool(re.search(rf"(?<!\w){re.escape(words)}(?!\w)", text))


def _behind(value: object) -> Iterator[Word]:
    """The notes that stand in parentheses behind a quantity, or behind each of several."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from _behind(inner)
    elif isinstance(value, Figure):
        for figure in in_order([value]) if value.args else [value]:
            if figure.origin is not None and figure.origin.note:
                yield Word(figure.origin.note, "a note", figure.origin.place)


def _exact(figure: Figure) -> Decimal:
    money = bool(figure.unit.currencies)
    return money_in(figure, str(figure.unit)) if money else plain_number(figure)


def _of_figure(figure: Figure) -> str:
    where = f", {_where(figure.origin.place)}" if figure.origin is not None else ""
    return f"{figure.label}{where}"


def _readings(token: str) -> Iterator[Decimal]:
    """A number with its last sign as that of decimals, and with none."""
    yield Decimal(token.translate(_NO_SIGNS))
    whole, *rest = re.split(r"\D(?=\d+\Z)", token)
    if rest:
        yield Decimal(f"{whole.translate(_NO_SIGNS)}.{rest[0]}")


def _place(text: object) -> Place | None:
    return text.place if isinstance(text, Text) else None


def _where(place: Place) -> str:
    return f"{place.file}:{place.line}" if place.line else place.file


def _one_line(text: str) -> str:
    return " ".join(text.split()).casefold()
