"""The guide is whole, and what it shows is right."""
