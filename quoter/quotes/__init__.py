"""A customer's request becomes a valid selection, then an offer, then a numbered frozen record."""
