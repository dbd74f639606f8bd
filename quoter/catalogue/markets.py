"""Records of whom the yard sells to and who may allow what, and clauses that prices follow."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.figures.readers import CHOICES, PAPERS


class Rounding(CatalogueRecord):
    """How a list price is rounded: to multiples of a step, plus an ending."""

    step: Annotated[Figure, f.measure("10 EUR", "money", low=0.0, above_low=True)]
    """The amount of which a rounded price is a multiple, in the currency it is rounded in.
    Example: `10 EUR`"""
    direction: Annotated[str, f.choice("up", "nearest", "down")]
    """Which way a price is rounded to the step.
    Example: `up`"""
    ending: Annotated[Figure, f.measure("0 EUR", "money")] | None = None
    """What is added to the multiple of the step, such as -1 EUR for prices that end in 9.
    Unless given: nothing.
    Example: `-1 EUR`"""


class DealerClass(CatalogueRecord):
    """A class of buyer and its discount off the list."""

    id: f.Identifier
    """Names the class in requests (`buyer`), on the command line and in results.
    Example: `contract`"""
    name: f.Words
    """What the class is called in reviews and workbooks.
    Example: `Contract dealer`"""
    discount: f.Loss
    """What the class gets off the list price, as a fraction of it; net prices and margins of the
    class follow.
    Example: `20 %`"""
    consumer: f.Truth = False
    """Whether such buyers are consumers: they see prices with tax where their market shows them
    so; others see them without.
    Example: `yes`"""
    most_extra: f.Loss | None = None
    """The largest discount on top of the class's that a seller gives alone, amounts off counted in;
    a quote with more needs an approval.
    Unless given: the floor of the margin alone is the limit.
    Example: `3 %`"""
    note: f.Note | None = None


class Dealer(CatalogueRecord):
    """A dealer who hands on the price sheet of a market in a name of its own.

    All but the note is public, on that dealer's copy alone; class and discount stand elsewhere.
    """

    id: f.Identifier
    """Names the dealer on the command line (`quoter sheet --for`), and the copy's folder and ZIP.
    Example: `eastquay`"""
    name: f.Words
    """What the dealer is called, at the head of the copy and in its data, in place of the yard.
    Example: `Eastquay Boat Sales`"""
    address: f.Words | None = None
    """The dealer's address on one line.
    Example: `14 Eastquay, Sundby`"""
    email: f.Words | None = None
    """Where readers of the copy write to, also with a list of their own.
    Example: `boats@eastquay.example.com`"""
    phone: f.Words | None = None
    """Where readers of the copy call.
    Example: `+00 555 0171`"""
    website: f.Words | None = None
    """The dealer's own site.
    Example: `https://www.eastquay.example.com`"""
    market: f.Identifier
    """The market, by its id, whose price sheet the dealer hands on; one that is published.
    Example: `home`"""
    note: f.Note | None = None


class Approver(CatalogueRecord):
    """A person who may let a quote pass that sales may not issue alone, and within which limits.

    Every limit of one entry has to hold; whoever has other limits for other classes of buyer has an
    entry for each. Nobody approves a quote that they prepared.
    """

    name: f.Words
    """Who it is, as `quoter quote --approve` names them; capitals and blanks don't matter.
    Example: `Rasmus Olm`"""
    classes: Many[f.Identifier] = ()
    """The dealer classes, by their ids, for which they may.
    Unless given: all of them.
    Example: `[contract, area]`"""
    most_off: f.Loss | None = None
    """How much may come off the list price at most: the class's discount, the one on top and
    amounts off taken together, as a fraction of what the quote comes to at list prices.
    Unless given: no limit.
    Example: `28 %`"""
    floor: Annotated[Figure, f.measure("20 %", "", low=-1.0, high=1.0)] | None = None
    """The margin, as a fraction of the net price, that has to be left at least.
    Unless given: no limit.
    Example: `20 %`"""
    most: f.Money | None = None
    """How much the quote may come to at most, without tax and delivery, in home currency.
    Unless given: no limit.
    Example: `250000 EUR`"""
    note: f.Note | None = None


class OtherTax(CatalogueRecord):
    """A rate of tax beside a market's own, for the options that name it."""

    id: f.Identifier
    """Names the tax in an option's `tax`; the same id in several markets gives each its own rate.
    Example: `reduced`"""
    name: f.Translated
    """What customers read for the tax; public.
    Example: `VAT, reduced`"""
    rate: Annotated[Figure, f.measure("10 %", "", low=0.0)]
    """The tax as a fraction of the price without it, in this market, on options that name it.
    Example: `10 %`"""


class Market(CatalogueRecord):
    """A market: its tax, its languages, and how its price lists show prices."""

    id: f.Identifier
    """Names the market in requests, in price_book.csv and in the folder of its price sheet.
    Example: `home`"""
    name: f.Translated
    """What customers read for the market; public.
    Example: `Dealers and export`"""
    language: f.Words
    """The language of its price sheet and quotes; that of the first market is the language the
    catalogue is written in, and the yard's own pages and workbooks speak it. With a region
    (`en-US`) numbers and days follow it, and words where they differ there.
    Example: `en`"""
    other_languages: Many[f.Words] = ()
    """Further languages that its price sheet is built in; each needs the texts of
    translations/LANGUAGE.po.
    Example: `[de, fr]`"""
    tax_name: f.Translated
    """What the market's tax is called; public.
    Example: `VAT`"""
    tax: Annotated[Figure, f.measure("25 %", "", low=0.0)]
    """The market's tax as a fraction of the price without it; on its price sheet and quotes,
    never part of a margin.
    Example: `24 %`"""
    prices: Annotated[str, f.choice("with tax", "without tax")]
    """Whether its price sheet shows prices with tax or without; quotes follow it for consumers.
    Example: `with tax`"""
    tax_switch: f.Truth = False
    """Whether readers of a boat's page may switch its prices and their list to the other way:
    without tax where the price sheet shows them with it, or with tax; public.
    Example: `yes`"""
    other_taxes: Many[OtherTax] = ()
    """Rates of tax that single options name."""
    currency: f.Currency | None = None
    """The currency that the market sells in. Its prices are those of price_book.csv in that
    currency, or home prices exchanged and rounded once.
    Unless given: the home currency, which the first market always has.
    Example: `NOK`"""
    rounding: Rounding | None = None
    """How the market's prices are rounded; needed where it has a currency of its own."""
    units: Annotated[str, f.choice(*CHOICES)] | None = None
    """Which units its price sheet and quotes show: metric ones, those of the US, or both beside
    each other.
    Unless given: those of the yard.
    Example: `metric and US`"""
    paper: Annotated[str, f.choice(*PAPERS)] | None = None
    """The paper that its price sheet and quotes are printed on.
    Unless given: that of the yard.
    Example: `Letter`"""
    published: f.Truth = True
    """Whether the market has a price sheet on the site; at least one market has.
    Example: `no`"""
    audience: Annotated[str, f.choice("public", "trade")] = "public"
    """Whom its price sheet is for. One for the trade asks search engines to leave it out, and is
    not in the site's map; whoever has its address can read it all the same. Public.
    Example: `trade`"""
    note: f.Note | None = None

    @property
    def languages(self) -> tuple[Text, ...]:
        """Those its price sheet is in, its own first."""
        return self.language, *self.other_languages


class Repricing(CatalogueRecord):
    """When a published price moves, as `quoter reprice` proposes it."""

    hold_within: f.Fraction
    """A published price stays where the move to the target would be no larger than this part of
    it: a list that moves all the time sells badly.
    Example: `2 %`"""
    largest_step: Annotated[Figure, f.measure("8 %", "", low=0.0, high=1.0, above_low=True)]
    """How far a published price moves at once, as a part of it; the rest waits for the next list.
    Example: `8 %`"""
    may_fall: f.Truth = False
    """Whether a published price may be proposed lower than it is.
    Example: `yes`"""


class Surcharge(CatalogueRecord):
    """A clause for quotes that stay open: what a price may follow, from when on and how far.

    All but the note is public. The clause in words is a draft: a lawyer should look at it.
    """

    id: f.Identifier
    """Names the clause in the quotes' policy and for `quoter surcharge`.
    Example: `resin`"""
    name: f.Translated
    """What customers read for the clause.
    Example: `Resin surcharge`"""
    index: f.Identifier
    """The series of indices.csv that the price follows.
    Example: `resin_index`"""
    index_name: f.Translated | None = None
    """What customers read for the index.
    Unless given: its id.
    Example: `resin index of the yard`"""
    threshold: f.Loss
    """How far the index must move before anything counts, as a fraction of its value when quoted.
    Example: `5 %`"""
    share: f.Passed
    """The part of the price that follows the move that counts.
    Example: `35 %`"""
    cap: f.Passed | None = None
    """The most that the price may rise by the clause, as a fraction of it.
    Unless given: there is no limit.
    Example: `6 %`"""
    only_excess: f.Truth
    """Whether just the move beyond the threshold counts (yes), or the whole once it is passed.
    Example: `yes`"""
    downward: f.Truth
    """Whether the price also falls when the index does.
    Example: `yes`"""
    leave_above: f.Fraction | None = None
    """The surcharge, as a fraction of the price, above which the customer may leave the contract;
    below the cap.
    Unless given: the clause gives no such right.
    Example: `4 %`"""
    open_for: Annotated[Figure, f.measure("30", "", low=0.0, whole=True)]
    """Days after the quote on which its price stands without a surcharge.
    Example: `30`"""
    note: f.Note | None = None
