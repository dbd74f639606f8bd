"""Believable inputs: every measure of the catalogue is held against a usual range.

`usual` says what a range is, and `table` puts together all that there are, from `of_materials`,
`of_work`, `of_sales` and `of_relations`: there a range is written, once, with where it is from.
`walk` holds each value of a catalogue against them, `relations` values against each other, `built`
what was costed of boats, `history` a price, wage or rate against the one before. What is said to
be meant, `meant` keeps quiet about. The guide and `quoter ranges` print the same table.
"""
