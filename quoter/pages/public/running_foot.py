"""What stands at the foot of every sheet of the printed price list: whose it is, and which.

A page of a price sheet can't say it in a style of its own, since its policy allows none, so each
sheet has a small file of styles.
"""

from __future__ import annotations

from babel import Locale

from quoter.figures.readers import PAPERS
from quoter.pages.environment import css_text
from quoter.pages.public.views import SheetView
from quoter.wording import wording


def running_foot(sheet: SheetView) -> bytes:
    """The file assets/foot.css of a price sheet, in its language and for its paper."""
    text = css_text(foot_words(sheet))
    size = "" if sheet.paper == PAPERS[0] else f"size: {sheet.paper.lower()}; "
    foot = f'@bottom-left {{ content: "{text}"; font: 8pt sans-serif; }}'
    return f"@page {{ {size}{foot} }}\n".encode()


def foot_words(sheet: SheetView) -> str:
    """Whose price list it is, and which."""
    say = wording(Locale.parse(sheet.head.tag, sep="-"))
    words = say("Price sheet %(version)s, model year %(year)s")
    edition = words % {"version": sheet.version, "year": sheet.model_year}
    return f"{sheet.company.name}: {edition}"
