"""How a quote speaks: the catalogue's texts, the program's phrases, numbers and days."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from babel import Locale

from quoter.catalogue.prices import Catalogue
from quoter.catalogue.source import Text
from quoter.catalogue.translations import need_language
from quoter.pages import money
from quoter.quotes.kept.inside import Exchanged
from quoter.wording import wording


class Language:
    """A customer's language. `say` says a phrase of the program's."""

    def __init__(self, catalogue: Catalogue, locale: Locale) -> None:
        """Speak to a customer of that locale.

        Raises:
            CatalogueError: the catalogue is not translated into that language.
        """
        need_language(catalogue.records, locale.language)
        self.locale, self.say, self._catalogue = locale, wording(locale), catalogue

    def words(self, text: Text | None) -> str:
        """A text of the catalogue; nothing for none."""
        return "" if text is None else self._catalogue.worded(text, self.locale.language)

    def percent(self, fraction: Decimal) -> str:
        """A fraction as a percentage."""
        return money.rate(fraction, self.locale)

    def count(self, quantity: Decimal | int) -> str:
        """How many, with all its decimals."""
        return money.exact(Decimal(quantity), self.locale)

    def day(self, day: date) -> str:
        """A day in full."""
        return money.day(day, self.locale)

    def exchanged(self, given: Exchanged) -> str:
        """What an amount was exchanged from, and at which rates."""
        rates = (
            f"1 {given.home} = {money.exact(r.rate, self.locale)} {r.currency} ({self.day(r.day)})"
            for r in given.rates
        )
        amount = money.money(given.amount, given.currency, self.locale)
        return self.say("Exchanged from {amount}: {rates}", amount=amount, rates=", ".join(rates))
