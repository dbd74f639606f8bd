"""Tests of quoter.workbook, and checkers that know nothing of it: a spreadsheet, a schema.

LibreOffice, forced to recalculate everything (by default it trusts stored values), must agree with
every cell to 1e-9; a schema validator must find nothing; two other readers must see the same
numbers.
"""
