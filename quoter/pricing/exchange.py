"""From one currency to another, by the rates in force: the only place where money changes.

`ExchangeRates` takes an amount of any currency into any other, through home, as figures: the units
say that a rate is the right one.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from quoter.catalogue.tables import ExchangeRow
from quoter.figures import Figure, N, money_in
from quoter.figures.formulas import remember_formulas


def exchanged(price: N, rate: N) -> N:
    """A home price in a market's currency.

        there = price * rate

    Args:
        price: price in home currency [money]
        rate: units of the market's currency that one unit of home currency buys [1]
    Returns:
        price in the market's currency, not rounded [money]
    Limits: rate > 0
    Source: definition of the rate of exchange

    >>> round(exchanged(100.0, 0.8551), 4)
    85.51
    """
    return price * rate


def in_home_currency(price: N, rate: N) -> N:
    """A price of a market in home currency.

        home = price / rate

    Args:
        price: price in the market's currency [money]
        rate: units of the market's currency that one unit of home currency buys [1]
    Returns:
        price in home currency [money]
    Limits: rate > 0
    Source: definition of the rate of exchange

    >>> round(in_home_currency(85.51, 0.8551), 4)
    100.0
    """
    return price / rate


@dataclass(frozen=True, slots=True)
class ExchangeRates:
    """The home currency, and the dated rate in force of each other one by its code."""

    home: str
    rows: Mapping[str, ExchangeRow]

    def exchange(self, amount: Figure, currency: str) -> Figure:
        """An amount of money, or a price per something, in a currency; not rounded.

        Raises:
            KeyError: a rate is not in force; ask `lacking` first where a person named the currency.
        """
        (there,) = amount.unit.currencies
        if there == currency:
            return amount
        if there != self.home:
            amount = in_home_currency(amount, self.rows[there].rate)
        return amount if currency == self.home else exchanged(amount, self.rows[currency].rate)

    def exact(self, row: ExchangeRow) -> Decimal:
        """How much of its currency a row says that one unit of home currency buys."""
        return money_in(row.rate, f"{row.currency}/{self.home}")

    def between(self, amount: Figure, currency: str) -> list[ExchangeRow]:
        """The rates that the exchange of an amount rests on: none, one, or two through home."""
        return [self.rows[code] for code in self._needed(amount, currency)]

    def lacking(self, amount: Figure, currency: str) -> list[str]:
        """The currencies of such an exchange that no rate is in force of."""
        return [code for code in self._needed(amount, currency) if code not in self.rows]

    def _needed(self, amount: Figure, currency: str) -> list[str]:
        pair = (*amount.unit.currencies, currency)
        return [] if len({*pair}) == 1 else [code for code in pair if code != self.home]


remember_formulas([sys.modules[__name__]])
