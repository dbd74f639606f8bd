"""A request priced on its own date: a draft, and under its number the record that is kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from quoter import __version__
from quoter.catalogue.languages import locale_named
from quoter.catalogue.prices import Catalogue
from quoter.figures import money_in, plain_number
from quoter.pages import money
from quoter.pricing.clauses import clause_text
from quoter.pricing.markets import currency_of, rates_of
from quoter.pricing.price import Pricing
from quoter.pricing.public import mass_as_chosen
from quoter.quotes.account import Account, Item, account_of
from quoter.quotes.approval import Reason, approved, reasons_of, standing_of
from quoter.quotes.kept.inside import Approval, Exchanged, Inside, InsideLine
from quoter.quotes.kept.pictures import Picture, pictures_of
from quoter.quotes.kept.record import Delivery, Difference, Rate, Record, Scheme, Source
from quoter.quotes.language import Language
from quoter.quotes.line_prices import counted, exchanged_from
from quoter.quotes.offer import Offer, offer_of
from quoter.quotes.parties import customer_of, longest_lead, yard_of
from quoter.quotes.request import Wish
from quoter.quotes.seen import seen_of


@dataclass(frozen=True, slots=True)
class Draft:
    """A quote without a number yet: everything that takes time to work out."""

    pricing: Pricing
    wish: Wish
    language: Language
    mark: str
    offer: Offer
    account: Account
    reasons: tuple[Reason, ...]
    approval: Approval | None


def draft_of(
    pricing: Pricing,
    wish: Wish,
    mark: str,
    approval: Approval | None,
    *,
    issued: bool = True,
) -> Draft:
    """Price a request; what sales may not issue alone, somebody answers for.

    Args:
        pricing: the costing with prices on the day of issue
        wish: the sound request
        mark: of the catalogue it was made from
        approval: who lets pass what needs it, and why
        issued: whether it is to be issued; what is only looked at needs no approval
    Raises:
        ApprovalError: it needs an approval that nobody gives, or nobody may give.
        CatalogueError: the language is unknown or lacks wording.
    """
    spoken = locale_named(wish.request.language or wish.market.language)
    language = Language(pricing.catalogue, spoken)
    offer = offer_of(pricing, wish, language)
    account = account_of(pricing, wish, offer)
    standing = standing_of(wish, account, offer, pricing.catalogue.currency)
    reasons = reasons_of(pricing, wish, account, standing)
    asked = issued or approval is not None
    return Draft(
        pricing=pricing,
        wish=wish,
        language=language,
        mark=mark,
        offer=offer,
        account=account,
        reasons=reasons,
        approval=approved(pricing.catalogue.yard, standing, reasons, approval) if asked else None,
    )


def record_of(
    draft: Draft, number: str, revision: int = 0, changes: tuple[Difference, ...] = ()
) -> Record:
    """The frozen record of a quote under its number."""
    wish, offer, catalogue = draft.wish, draft.offer, draft.pricing.catalogue
    request, words = wish.request, draft.language.words
    days = int(wish.policy.valid_for.value)
    return Record(
        number=number,
        revision=revision,
        issued=request.date,
        valid_until=request.valid_until or request.date + timedelta(days=days),
        language=str(draft.language.locale).replace("_", "-"),
        market=str(wish.market.id),
        model=str(wish.model.model.id),
        currency=offer.currency,
        yard=yard_of(catalogue.yard.company, offer.currency, draft.language),
        customer=customer_of(request.customer),
        prepared_by=wish.prepared_by,
        title=words(wish.model.model.name),
        paper=catalogue.paper_of(draft.wish.market),
        facts=_facts(draft),
        lines=offer.lines,
        subtotal=offer.subtotal,
        offered=offer.offered,
        with_tax=offer.with_tax,
        net=offer.totals.net,
        taxes=offer.totals.taxes,
        scheme=Scheme(
            id=str(wish.scheme.id),
            words=words(wish.scheme.words),
            category=str(wish.scheme.category or ""),
        ),
        total=offer.totals.total,
        deposits=offer.deposits,
        payment=tuple(words(text) for text in (*wish.policy.payment, *wish.delivery.payment)),
        terms=tuple(
            words(text) for text in (*wish.delivery.terms, *catalogue.yard.price_sheet.terms)
        ),
        delivery=_delivery(draft),
        reference=str(request.customer.reference or ""),
        promised=request.delivery_date,
        lead_time=longest_lead(wish, draft.language),
        rate=_rate(draft),
        surcharge=_surcharge(draft),
        note=str(request.note or ""),
        pictures=_pictures(draft),
        changes=changes,
        source=_source(catalogue, draft.mark),
        request=wish.written,
        inside=_inside(draft),
    )


def _delivery(draft: Draft) -> Delivery:
    delivery, words = draft.wish.delivery, draft.language.words
    return Delivery(
        term=words(delivery.term),
        place=words(delivery.named_place),
        edition=words(delivery.edition),
        words=draft.language.words(delivery.words),
    )


def _pictures(draft: Draft) -> tuple[Picture, ...]:
    """Those of the yard, of the boat, and of what was chosen, in the order of the lines."""
    wish, catalogue = draft.wish, draft.pricing.catalogue
    company, model, words = catalogue.yard.company, wish.model.model, draft.language.words
    options = catalogue.records.of("option")
    chosen = [options[id] for id in wish.chosen if id in options]
    return pictures_of(
        (str(company.name), company.logo),
        (words(model.name), model.image),
        [(words(option.name), option.image) for option in chosen],
        catalogue.picture,
        words,
    )


def _facts(draft: Draft) -> tuple[tuple[str, str], ...]:
    """What a customer wants to know of the boat, as chosen."""
    model, say, locale = draft.wish.model.model, draft.language.say, draft.language.locale
    year = draft.pricing.catalogue.edition.model_year
    units = draft.pricing.catalogue.units_of(draft.wish.market)
    mass = mass_as_chosen(draft.wish.model, draft.wish.chosen)
    return (
        (say("Model year"), year),
        (say("Length"), money.length(plain_number(model.length), locale, units)),
        (say("Beam"), money.length(plain_number(model.beam), locale, units)),
        (say("Weight as chosen"), money.mass(mass.amount, locale, units)),
    )


def _rate(draft: Draft) -> Rate | None:
    """The rate a quote in another currency rests on."""
    catalogue, policy = draft.pricing.catalogue, draft.wish.policy
    currency = currency_of(catalogue, draft.wish.market)
    if currency == catalogue.currency:
        return None
    row = catalogue.exchange[currency]
    return Rate(
        currency=currency,
        home=catalogue.currency,
        rate=rates_of(catalogue).exact(row),
        day=row.date,
        source=draft.language.words(policy.rate_source),
        words=draft.language.words(policy.rate_words),
    )


def _surcharge(draft: Draft) -> tuple[str, ...]:
    """The clause that the policy asks for, in the quote's language; not its draft notice."""
    yard, wanted = draft.pricing.catalogue.yard, draft.wish.policy.surcharge
    clause = next((each for each in yard.surcharges if each.id == wanted), None)
    if clause is None:
        return ()
    language = draft.language
    index = draft.language.words(clause.index_name)
    return clause_text(clause, language.say, language.percent, index)


def _source(catalogue: Catalogue, mark: str) -> Source:
    return Source(
        mark=mark,
        as_of=catalogue.as_of,
        price_list=catalogue.price_list,
        edition=catalogue.edition.version,
        model_year=catalogue.edition.model_year,
        version=__version__,
    )


def _inside(draft: Draft) -> Inside:
    account, wish, catalogue = draft.account, draft.wish, draft.pricing.catalogue
    home = catalogue.currency
    return Inside(
        buyer=str(wish.buyer.id),
        buyer_name=str(wish.buyer.name),
        class_discount=plain_number(account.class_discount),
        extra_discount=plain_number(account.discount),
        home=home,
        lines=tuple(_inside_line(item, home) for item in account.items),
        net=money_in(account.net, home),
        cost=money_in(account.cost, home),
        variable=money_in(account.variable, home),
        contribution=money_in(account.contribution, home),
        margin=money_in(account.margin, home),
        margin_fraction=plain_number(account.margin_fraction),
        floor=plain_number(draft.pricing.terms.floor),
        below_floor=bool(account.breach.value),
        approval=draft.approval,
        note=str(wish.request.internal_note or ""),
        seen=seen_of(draft.pricing, wish, draft.language),
        delivery=_delivery_given(draft),
    )


def _delivery_given(draft: Draft) -> Exchanged | None:
    """What delivery is charged at as the request or the policy has it, if it was exchanged."""
    price = draft.wish.delivery.price
    if price is None:
        return None
    return exchanged_from(draft.pricing.catalogue, price, draft.offer.currency)


def _inside_line(item: Item, home: str) -> InsideLine:
    return InsideLine(
        id=item.id,
        name=item.name,
        quantity=counted(item.quantity),
        list_price=money_in(item.list_price, home),
        net=money_in(item.net, home),
        cost=money_in(item.cost, home),
        variable=money_in(item.variable, home),
        own=item.own,
    )
