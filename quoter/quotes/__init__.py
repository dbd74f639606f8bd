"""All of quotes: a request becomes a draft, the draft a numbered, frozen quote with its files.

`request` what is asked for; `draft` the request priced, with `offer` for the customer and `account`
for the yard, `warned` what to look at twice and `approval` who has to answer for it. `kept` holds
what is kept of it for ever, `printed` what is made of that. `listing` tells what quotes led to and
`waiting` what they wait for. `requote` prices the same request later or a changed one, and
`differences` says what is another then; `change_orders` tells which order stands, and `ordered`
which boat papers are made for.
"""

from __future__ import annotations


class QuoteError(Exception):
    """Raised when a quote can't be made as asked; the message says why and what would be right."""

    code = "quotes"
