"""Laws the formulas obey whatever the numbers; each test's docstring is the law in a sentence."""
