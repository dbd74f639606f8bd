"""Nothing leaves the yard that no public view accounts for, in price sheets or quotes."""

from quoter.leaks.guard import Leak, LeakError, SiteGuard

__all__ = ["Leak", "LeakError", "SiteGuard"]
