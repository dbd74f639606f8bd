"""Records of quotes for what is printed from them: a short one, a usual one and a long one.

Everything in them is invented. What only the yard may see has words and amounts that occur nowhere
else, so that a test finds them wherever they turn up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from quoter.pricing.price import rounded_amount
from quoter.quotes.kept.inside import Approval, Inside, InsideLine
from quoter.quotes.kept.party import Party
from quoter.quotes.kept.record import (
    Delivery,
    Difference,
    LineKind,
    QuoteLine,
    Rate,
    Record,
    Scheme,
    Source,
)
from quoter.quotes.line_prices import TaxRate
from quoter.quotes.totals import instalments, totals_of

YARD = Party(
    name="Tern Quay Boats",
    address=("1 Tern Quay", "Sundby"),
    email="office@ternquay.example.com",
    phone="+00 555 0177",
    website="https://ternquay.example.com",
    tax_number="XX 100 200 300",
)
BUYER = Party(name="Mirelle Astrup", address=("Fjordgata 4", "5003 Nordvik"), country="Nordland")
DEALER = Party(
    name="Oskar Lindqvale",
    company="Lindqvale Marine & Sons",
    address=("Slipway House", "12 Harbour Road", "Port Ellery"),
    country="Westmark",
    email="orders@lindqvale.example.com",
    tax_number="WM 77 000 111",
)
FULL = TaxRate("standard", "VAT", Decimal("0.25"))
REDUCED = TaxRate("reduced", "VAT", Decimal("0.12"))
SOURCE = Source(
    mark="f00dfeed5ca1ab1e",
    as_of=date(2026, 9, 30),
    price_list=date(2026, 9, 1),
    edition="2026-3",
    model_year="2027",
    version="0.0.0-sample",
)
FACTS = (
    ("Model year", "2027"),
    ("Length", "8.20 m (26 ft 11 in)"),
    ("Beam", "2.75 m (9 ft)"),
    ("Mass as chosen", "2,140 kg"),
)
TERMS = (
    "Prices are for the boat handed over at the quay, without engine, transport and launching.",
    "Options are fitted while the boat is built; ask the yard about fitting them later.",
    "Masses and lead times are typical. The order confirmation decides.",
)
SURCHARGE = (
    "If the yard's resin index stands more than 5% from 104.20, its value of September 1, 2026, "
    "when the boat is laid up, the price changes by 35% of the index's move beyond that.",
    "It changes by 6% at most. If it rises by more than 4%, you may leave the contract.",
)
SECRET_WORDS = (
    "Undercover dealer class",
    "Gudrun Approvesson",
    "clears the showroom before the winter",
    "would pay more if pressed",
    "bought from the cousin of the mould maker",
)

PARTS = (
    ("With the order", Decimal("0.3")),
    ("When hull and deck are joined", Decimal("0.4")),
    ("Before the boat is handed over", Decimal("0.3")),
)
PLAIN: dict[str, Any] = {
    "number": "2026-0007",
    "issued": date(2026, 10, 1),
    "valid_until": date(2026, 10, 31),
    "market": "home",
    "model": "tern_cutter",
    "yard": YARD,
    "customer": BUYER,
    "prepared_by": "Ilsabet Harrow",
    "title": "Tern Cutter 82",
    "facts": FACTS,
    "scheme": Scheme(id="domestic"),
    "payment": (
        "Each instalment is due ten days after its invoice.",
        "The boat stays the yard's until it is paid in full.",
    ),
    "terms": TERMS,
    "delivery": Delivery(
        term="EXW",
        place="Sundby",
        edition="Incoterms 2020",
        words="The boat is handed over afloat at the yard's quay.",
    ),
    "source": SOURCE,
    "request": {"date": "2026-10-01", "internal_note": SECRET_WORDS[3]},
}


def line(
    kind: LineKind,
    name: str,
    price: str = "",
    quantity: int = 1,
    rate: str = "standard",
    *,
    text: str = "",
    inside: Sequence[str] = (),
    lead_time: str = "",
) -> QuoteLine:
    amount = Decimal(price) if price else None
    return QuoteLine(
        kind=kind,
        id=name.lower().replace(" ", "_"),
        name=name,
        text=text,
        inside=tuple(inside),
        quantity=quantity,
        price=amount,
        amount=None if amount is None else amount * quantity,
        rate=rate if price else "",
        lead_time=lead_time,
    )


def record(
    lines: Sequence[QuoteLine],
    *,
    rates: Mapping[str, TaxRate],
    currency: str,
    with_tax: bool,
    language: str = "en",
    **other: Any,
) -> Record:
    """A record whose totals follow from its lines."""
    totals = totals_of(lines, rates, currency, with_tax=with_tax, per_line=False)
    fixed = {
        "language": language,
        "currency": currency,
        "with_tax": with_tax,
        "lines": tuple(lines),
        "net": totals.net,
        "taxes": totals.taxes,
        "total": totals.total,
        "deposits": instalments(totals.total, PARTS, currency),
        "inside": inside_of(lines),
    }
    return Record.model_validate(PLAIN | fixed | other)


def inside_of(lines: Sequence[QuoteLine]) -> Inside:
    """What no customer may see, of amounts that are nowhere else."""
    secret = [Decimal(31_313) + place * Decimal("17.131") for place in range(len(lines) * 4 + 5)]
    told = iter(secret)
    return Inside(
        buyer="undercover",
        buyer_name=SECRET_WORDS[0],
        class_discount=Decimal("0.1777"),
        extra_discount=Decimal("0.0233"),
        home="EUR",
        lines=tuple(
            InsideLine(
                id=each.id,
                name=each.name,
                quantity=each.quantity,
                list_price=next(told),
                net=next(told),
                cost=next(told),
                variable=next(told),
            )
            for each in lines
        ),
        net=next(told),
        cost=next(told),
        variable=next(told),
        contribution=next(told),
        margin=next(told),
        margin_fraction=Decimal("0.2339"),
        floor=Decimal("0.2519"),
        below_floor=True,
        approval=Approval(name=SECRET_WORDS[1], reason=SECRET_WORDS[2]),
        note=f"{SECRET_WORDS[3]}; {SECRET_WORDS[4]}",
    )


def short(**other: Any) -> Record:
    """A private buyer's quote at home: prices with one tax, three lines."""
    lines = (
        line("boat", "Tern Cutter 82", "93125.00", text="Open boat for two rods and a flask."),
        line("option", "Pair of cleats", "248.75", 2, lead_time="with the boat"),
        line("delivery", "Delivery: EXW Sundby", "1812.50"),
    )
    return record(lines, rates={FULL.id: FULL}, currency="EUR", with_tax=True, **other)


DEALERS: dict[str, Any] = {
    "customer": DEALER,
    "scheme": Scheme(
        id="reverse_charge",
        words="Delivered without tax; the buyer owes it where the boat arrives.",
    ),
    "rate": Rate(
        currency="USD",
        home="EUR",
        rate=Decimal("1.0930"),
        day=date(2026, 10, 1),
        source="the yard's bank, mid rate",
        words="The yard bears what the rate moves until the quote expires.",
    ),
    "surcharge": SURCHARGE,
    "note": "Thank you for your visit to the quay; the side door is as we drew it together.",
}


def usual(**other: Any) -> Record:
    """A dealer's quote: without tax, in dollars, standard equipment, options and a discount."""
    boat = line("boat", "Tern Cutter 82", "81900.00", text="Open boat for two rods and a flask.")
    standard = [
        line("standard", name, inside=inside)
        for name, inside in (
            ("Self-draining cockpit", ("Two scuppers", "Flaps outside")),
            ("Bow locker", ()),
            ("Boarding ladder at the transom", ("Three steps",)),
            ("Navigation lights", ()),
        )
    ]
    options = [
        line("option", name, price, quantity, text=text, inside=inside, lead_time=lead_time)
        for name, price, quantity, text, inside, lead_time in (
            (
                "Boarding door, starboard",
                "4180.00",
                1,
                "Opens inwards, with a step in the hull side.",
                ("Door with hinges", "Two latches", "Gasket"),
                "6 weeks",
            ),
            ("Fish box lid", "395.00", 2, "Insulated lid, flush with the sole.", (), ""),
            ("Seat base", "612.50", 4, "", ("Base", "Backing plate"), ""),
            ("Hull in harbour blue", "1290.00", 1, "", (), "2 weeks"),
            ("Buoyancy foam under the sole", "980.00", 1, "", (), ""),
        )
    ]
    credit = line("credit", "Without the bow locker", "-310.00")
    sold = [boat, *options, credit]
    whole = sum((x.amount or Decimal(0) for x in sold), Decimal(0))
    less = -rounded_amount(whole * Decimal("0.2"), "USD")
    discount = line("discount", "Dealer discount of 20%", str(less))
    lines = [boat, *standard, *options, credit, discount]
    untaxed = [each.model_copy(update={"rate": ""}) for each in lines]
    return record(untaxed, rates={}, currency="USD", with_tax=False, **{**DEALERS, **other})


END = "and this is its end"


REVISED: dict[str, Any] = {
    "revision": 2,
    "rate": Rate(
        currency="NOK",
        home="EUR",
        rate=Decimal("11.6180"),
        day=date(2026, 10, 1),
        source="the yard's bank, mid rate",
        words="The yard bears what the rate moves until the quote expires.",
    ),
    "surcharge": SURCHARGE,
    "changes": (
        Difference(what="Valid until", before="October 15, 2026", after="October 31, 2026"),
        Difference(what="Option no. 03, quantity", before="2", after="1"),
        Difference(what="Total", before="NOK 1,201,455.00", after="NOK 1,187,902.50"),
        Difference(what="Without the second bilge pump", before="", after="-NOK 3,781.00"),
    ),
    "note": "The long-range tank and the ladder are as agreed on board in August.",
}


def long(**other: Any) -> Record:
    """Forty lines in kroner with two rates of tax, credits, discounts and a revision."""
    boat = line("boat", "Tern Cutter 82 in the long-range version", "1048300.00", text=TERMS[0])
    standard = [
        line(
            "standard", f"Standard fitting no. {n} of the long-range version", inside=("Brackets",)
        )
        for n in range(1, 11)
    ]
    options = [
        line(
            "package" if n % 7 == 0 else "option",
            f"Option no. {n:02} with a name that a fitter would need two breaths to read out loud",
            f"{1000 + 137 * n}.50",
            1 + n % 3,
            "reduced" if n % 5 == 0 else "standard",
            text="Moulded, trimmed and fitted while the boat is built; backing plates included",
            inside=(f"Piece {n}a", f"Piece {n}b with fasteners", f"{END} ({n:02})"),
            lead_time="four weeks" if n % 2 else "",
        )
        for n in range(1, 25)
    ]
    less = [
        line("credit", "Without the standard boarding ladder at the transom", "-4210.00"),
        line("credit", "Without the second bilge pump", "-1890.50", 2, "reduced"),
        line("discount", "Discount of 2.5% (VAT 25%)", "-27544.21"),
        line("discount", "Discount of 2.5% (VAT 12%)", "-602.35", rate="reduced"),
    ]
    lines = [
        boat,
        *standard,
        *options,
        *less,
        line("delivery", "Delivery: DAP Nordvik", "18125.00"),
    ]
    rates = {FULL.id: FULL, REDUCED.id: REDUCED}
    return record(lines, rates=rates, currency="NOK", with_tax=False, **{**REVISED, **other})


SAMPLES = {"short": short, "usual": usual, "long": long}
