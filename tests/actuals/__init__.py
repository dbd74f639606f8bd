"""Actual against standard: what was booked compared, and an account made by hand to show."""
