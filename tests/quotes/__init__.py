"""Quotes: from a request to a frozen record, and what is made from it."""
