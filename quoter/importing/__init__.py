"""What others send (suppliers' prices and rises, a bank's exchange rates) becomes dated lists.

A file is read into cells that know their place, checked as a whole against the catalogue, compared
with what is in force, and only then written, as lines that change none of those before. A module
for each command (`prices`, `rates`, `rise`, `reprice`) leads to the others.
"""
