"""The finished costing as HTML pages: the public price sheet and the yard's own review.

`review` lists the yard's own pages, which read figures as they are; `papers` are for the shop.
Public templates see only the views of `public.views`, which have no place for a cost. Formulas
reach a page's scripts by `script`, which writes a figure as JavaScript.
"""
