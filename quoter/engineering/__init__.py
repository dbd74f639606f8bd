"""The trade's formulas, each written once in ordinary arithmetic: no catalogue, no files.

Floats, Figures, arrays and quantities with units all go through the same function.
"""
