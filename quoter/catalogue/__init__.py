"""Text files become checked objects: every value keeps the place it was written at.

`source` reads files into texts with places, `fields` says what a text may mean, the record files
say which keys exist, `checks` holds the rules between records, `load` runs it all once.
"""
