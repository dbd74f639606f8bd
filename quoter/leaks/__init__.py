"""Nothing leaves the yard that no public view accounts for, in price sheets or quotes.

Nothing is forbidden to a public file: what it says must come from a view or from the program. Read
`guard` first, which goes through a price sheet's files. `allowed` is what views account for, `own`
what the program says by itself, `reduction` how a text is cut into what is known; `pages` and
`data` are the readers, `drawings` holds each drawing against what it tells itself, and `known` says
of what is left over what it is by the catalogue.
"""

from quoter.leaks.guard import Leak, LeakError, SiteGuard

__all__ = ["Leak", "LeakError", "SiteGuard"]
