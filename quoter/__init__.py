"""Costing and quoting for builders of glass-fibre boats.

A catalogue of parts and options becomes costed workbooks and a price sheet.
"""

__version__ = "0.1.0"
