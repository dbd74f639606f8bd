"""Cost becomes price: margins, the rounding rule, published prices and configured boats.

Read `price` first, list prices at home; `markets` has those of every market, `margin` the formulas,
`exchange` one currency to another. Money is rounded here and nowhere else. What may leave the yard
is made by `public` alone. `proposals` is what the policy would publish next, `clauses` surcharges,
`configured` a chosen boat, `pairs` what its hull colour changes, `earlier` what lists showed
before, `doubtful` prices worth a second look, `controls` the totals that must agree.
"""
