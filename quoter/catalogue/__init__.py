"""Text files become checked objects: every value keeps the place it was written at.

`source` reads files into texts with places, `fields` says what a text may mean, the record files
say which keys exist, `checks` and its siblings hold the rules between records, `prices` picks what
is in force on a date, `load` runs it all once. Read `load` first.
"""
