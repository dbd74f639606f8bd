"""How a boat is delivered: the term a request chooses, its words, price and terms."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.quoting import (
    AskedDelivery,
    DeliveryTerm,
    QuotePolicy,
    unknown_letters,
)
from quoter.catalogue.source import Text
from quoter.problems import Problem, quoted


def delivery_of(asked: AskedDelivery | None, policy: QuotePolicy) -> DeliveryTerm:
    """The delivery of a boat: what the request says of it, and what it leaves to the policy."""
    usual = policy.delivery
    if asked is None:
        return usual
    own = _own_term(asked.term, policy) or DeliveryTerm.model_construct(
        term=asked.term, edition=usual.edition
    )
    return DeliveryTerm.model_construct(
        term=asked.term,
        named_place=asked.named_place or own.named_place,
        edition=asked.edition or own.edition,
        words=asked.words or own.words,
        price=asked.price if asked.price is not None else own.price,
        terms=own.terms,
        payment=own.payment,
    )


def delivery_faults(asked: AskedDelivery | None, policy: QuotePolicy) -> Iterator[Problem]:
    """What a request's delivery lacks, or names that no rules of the trade have."""
    if asked is None:
        return
    edition = asked.edition or policy.delivery.edition
    yield from unknown_letters(asked.term, edition)
    own = _own_term(asked.term, policy)
    if asked.words is None and (own is None or own.words is None):
        what = f"nothing says what {quoted(asked.term)} means for this boat"
        hint = "write its 'words', or add the term to 'delivery_terms' of yard.yaml"
        yield Problem(asked.term.place, "missing-key", what, hint)
    if asked.named_place is None and (own is None or own.named_place is None):
        what = f"{quoted(asked.term)} names no place"
        yield Problem(asked.term.place, "missing-key", what, "add 'named_place'")


def _own_term(letters: Text, policy: QuotePolicy) -> DeliveryTerm | None:
    terms = (policy.delivery, *policy.delivery_terms)
    return next((each for each in terms if each.term == letters), None)
