"""A local server that shows the price sheet while its catalogue is edited, and what is wrong.

Pages are made from what a build makes them from, when they are asked for, and each is guarded; the
one extra script is only the server's. `reading` reads the catalogue whenever it changes, `pages`
are the preview's own pages, `server` answers browsers.
"""
