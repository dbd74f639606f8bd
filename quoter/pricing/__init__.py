"""Cost becomes price: margins, the rounding rule, published prices and configured boats.

Money is rounded here and nowhere else; `public` prices leave as plain Decimals.
"""
