"""The finished costing as HTML pages: the public price sheet and the yard's own review.

Public templates see only the views of `views`, which have no place for a cost.
"""
