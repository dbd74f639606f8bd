"""What goes wrong with a quote and is the user's to mend."""

from __future__ import annotations


class QuoteError(Exception):
    """Raised when a quote can't be made as asked; the message says why and what would be right."""
