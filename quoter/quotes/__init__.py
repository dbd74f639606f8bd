"""All of quotes: a request becomes a draft, the draft a numbered, frozen quote with its files.

`request` what is asked for; `draft` the request priced, with `offer` for the customer and `account`
for the yard, `warned` what to look at twice and `approval` who has to answer for it; `record` what
is kept for ever, with `inside` for the yard alone; `files` what is printed from it: what a customer
gets can reach no more than `shown`, and `guard` looks through it. `archive` reads a folder of
quotes, `store` is all that writes into one, `checking` looks for what was changed, `listing` tells
what quotes led to. `requote` prices the same request later or a changed one, and `differences` says
what is another then; `change_orders` tells which order stands, and `confirmation` confirms it.
"""

from __future__ import annotations


class QuoteError(Exception):
    """Raised when a quote can't be made as asked; the message says why and what would be right."""

    code = "quotes"
