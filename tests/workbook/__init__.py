"""Tests of quoter.workbook, and checkers that know nothing of it: a spreadsheet, a schema."""
