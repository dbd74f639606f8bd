"""Catalogue parts become quantities: every material line, driver and limit of one good part.

`part` is the way in; open moulds, closed moulds and cores have a module each.
"""
