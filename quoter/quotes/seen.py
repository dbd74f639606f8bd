"""What a customer saw on the price sheet, beside what its lists say on the day of the quote.

Both are list prices in the lists' own display, before any discount, so the class of buyer and the
tax scheme make none; a difference means that prices have moved, or that the file was changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from quoter.catalogue.quoting import Request
from quoter.pricing.markets import currency_of
from quoter.pricing.price import Pricing, public_amount
from quoter.pricing.seen import whole_weeks
from quoter.quotes.kept.inside import Seen
from quoter.quotes.kept.record import Record
from quoter.quotes.language import Language
from quoter.quotes.offer import list_total
from quoter.quotes.request import Wish

GRANTED = ("buyer", "discount", "delivery", "scheme", "valid_until")
GRANTED_LISTS = ("extra_lines", "amounts_off", "offered")


def seen_of(pricing: Pricing, wish: Wish, language: Language) -> Seen | None:
    """What the customer saw and what they would see now; None where the request does not say."""
    shown = wish.request.shown_total
    if shown is None:
        return None
    return Seen(
        total=public_amount(shown, currency_of(pricing.catalogue, wish.market)),
        listed=list_total(pricing, wish, language),
        price_sheet=str(wish.request.price_sheet or ""),
    )


def seen_words(record: Record) -> str:
    """Both amounts with the versions they are of, in words for the yard; empty if not known."""
    seen = record.inside.seen
    if seen is None:
        return ""
    told = f"the customer saw {_money(seen.total, record)}"
    if seen.price_sheet:
        told += f" on price sheet {seen.price_sheet}"
    now = f"{_money(seen.listed, record)} ({record.source.edition})"
    return f"{told}; at list prices this quote is {now}"


def seen_otherwise(request: Request, record: Record) -> Iterator[str]:
    """What the customer saw on the price sheet that is another now, in words for the yard."""
    shown, lead = request.shown_lead_weeks, record.lead_time
    if shown is not None and lead is not None and lead.weeks != whole_weeks(shown):
        yield f"the customer saw a lead time of {whole_weeks(shown)} weeks; it is {lead.weeks} now"
    seen = record.inside.seen
    if seen is not None and seen.total != seen.listed:
        yield seen_words(record)


def from_price_sheet(request: Request) -> bool:
    """Whether a customer asked by the file that the price sheet's page writes."""
    return request.price_sheet is not None or request.shown_total is not None


def granted_in(request: Request) -> list[str]:
    """The keys of a price sheet's file that its page never writes, since only the yard grants them.

    Whoever asked had the file in hand and may have added them; somebody at the yard may, too.
    """
    if not from_price_sheet(request):
        return []
    found = {key: getattr(request, key) for key in GRANTED}
    found |= {key: getattr(request, key) or None for key in GRANTED_LISTS}
    if request.buyer is not None and request.buyer.place.file.startswith("--"):
        del found["buyer"]
    return [key for key, value in found.items() if value is not None]


def _money(amount: Decimal, record: Record) -> str:
    return f"{amount:,} {record.currency}"
