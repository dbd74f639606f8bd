"""What is kept of quotes for ever: numbered records with fingerprints, and what became of them.

`record` is a whole quote, of `amounts`, with each `party` and `pictures`, and with `inside` for the
yard alone; `record_file` seals it. `archive` reads a folder of quotes, `store` is all that writes
into one, `numbering` says what is called how, `outcomes` is the table that only grows, `standing`
tells how each quote stands, and `checking` looks for what was changed.
"""
