"""The public price sheet: what it may show, its pages, and the same as data for other sites.

Read `views` first, all that can be shown; `sheet` fills it for a market and language, and `site`
says which files there are. `build_list` has the data and rules of a model for the browser,
`compare` all models side by side, `changes` what moved; `data`, its siblings and `linked_data` are
for programs.
"""
