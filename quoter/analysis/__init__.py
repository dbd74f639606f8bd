"""Questions asked of a finished costing: what moves a cost, how sure it is, when things pay.

Read `findings` first: it asks every question once, and names the module that answers it. Two
costings are compared by `bridge`, with `causes` that split the change, `moved` for the lines that
did it and `finding` for the sentence; `comparison` and `why` are what commands ask.
"""
