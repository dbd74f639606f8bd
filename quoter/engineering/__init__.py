"""The trade's formulas, each written once in ordinary arithmetic: no catalogue, no files.

Floats, Figures, arrays and quantities with units all go through the same function. A Figure that
comes out remembers which formula gave it, for the sheet that lists the formulas of a workbook.
"""

from importlib import import_module
from pkgutil import iter_modules

from quoter.figures.formulas import remember_formulas

remember_formulas([import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__)])
