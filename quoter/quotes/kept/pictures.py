"""The pictures of a quote: of the yard, the boat and what is chosen, small enough to be kept in it.

They stand in the record itself as text, so that a quote prints again from its record alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Annotated, Literal

from pydantic import Field

from quoter.catalogue.pictures import Image, PictureError, made_small
from quoter.catalogue.source import Text
from quoter.quotes import QuoteError
from quoter.quotes.kept.amounts import Frozen

MOST_PICTURES = 7  # of the boat and options: what a page has room for
# Pixels across and down, and bytes: 250 to the inch where they are printed.
_LOGO = (600, 180, 40_000)
_BOAT = (1000, 700, 60_000)
_OPTION = (480, 360, 25_000)


class Picture(Frozen):
    """A picture of a quote, as a `data:` address."""

    of: Literal["yard", "boat", "option"]
    """What it shows."""
    name: str
    """What that is called."""
    alt: str
    """What is seen, in words."""
    data: Annotated[
        str, Field(max_length=120_000, pattern=r"^data:image/(png|jpeg);base64,[A-Za-z0-9+/]+=*$")
    ]
    """The picture itself, drawn anew without what its file said besides."""


def pictures_of(
    yard: tuple[str, Image | None],
    boat: tuple[str, Image | None],
    options: Iterable[tuple[str, Image | None]],
    read: Callable[[Text], bytes],
    words: Callable[[Text], str],
) -> tuple[Picture, ...]:
    """The pictures there are of these, each called by its name.

    Args:
        yard: its name, and its logo if there is one
        boat: likewise
        options: those that were chosen
        read: the bytes of a picture's file
        words: a text in the customer's language
    Raises:
        QuoteError: one can't be shown.
    """
    shown = [("yard", *yard, _LOGO), ("boat", *boat, _BOAT)]
    shown += [("option", name, image, _OPTION) for name, image in options]
    found: list[Picture] = []
    for of, name, image, (width, height, most) in shown:
        if image is None or len(found) > MOST_PICTURES:
            continue
        try:
            data = made_small(read(image.file), width, height, most)
        except PictureError as fault:
            raise QuoteError(
                f"{image.file.place.clickable}: the picture of {name}: {fault}"
            ) from fault
        found.append(
            Picture.model_validate({"of": of, "name": name, "alt": words(image.alt), "data": data})
        )
    return tuple(found)
