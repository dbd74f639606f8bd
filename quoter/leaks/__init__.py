"""Nothing leaves the yard that no public view accounts for: price sheets and quotes looked through."""

from quoter.leaks.guard import Leak, LeakError, SiteGuard, look_through_quote

__all__ = ["Leak", "LeakError", "SiteGuard", "look_through_quote"]
