"""Checks of the formulas against values from outside the project, each with its source, and of
their dimensions by pint."""
