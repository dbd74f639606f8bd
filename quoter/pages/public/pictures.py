"""What all price sheets of a yard show alike: its own pictures, each made small once, and drawings.

A drawing holds no word of a language, and is made once whatever sheets show it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from quoter.catalogue.options import Model, Option
from quoter.catalogue.pictures import (
    ENDINGS,
    Image,
    OnPages,
    PictureError,
    made_for_pages,
    on_pages,
)
from quoter.catalogue.source import Text
from quoter.pages.public.drawn_parts import drawing_of
from quoter.pages.public.drawn_views import DrawingView
from quoter.pages.public.views import PictureSize, PictureView
from quoter.pricing.price import Pricing
from quoter.problems import Problem, Problems

FOLDER = "pictures"


@dataclass(frozen=True, slots=True)
class _Shown:
    """A picture and how it is shown; its bytes are read again when it is made."""

    image: Image
    on: OnPages
    mark: str


class YardPictures:
    """All pictures and drawings of a yard's boats and options, by what they are of."""

    def __init__(self, pricing: Pricing) -> None:
        """Nothing is read yet."""
        self._pricing = pricing
        self._drawn: dict[tuple[str, str], DrawingView | None] = {}

    def drawing(self, option: Option, model: Model) -> DrawingView | None:
        """The drawing of an option on a model; None where nothing of it is seen."""
        asked = str(option.id), str(model.id)
        if asked not in self._drawn:
            self._drawn[asked] = drawing_of(self._pricing.catalogue, option, asked[1])
        return self._drawn[asked]

    @cached_property
    def _shown(self) -> dict[str, _Shown]:
        """Each picture by the begin of its files' names."""
        found: dict[str, _Shown] = {}
        for name, image in self._images():
            content = self._read(image)
            mark = hashlib.sha256(content).hexdigest()[:12]
            found[name] = _Shown(image, on_pages(content), mark)
        return found

    def _images(self) -> Iterator[tuple[str, Image]]:
        pricing = self._pricing
        offered = {id for model in pricing.models.values() for id in model.options}
        for id, model in pricing.models.items():
            if model.model.image is not None:
                yield f"boat-{id}", model.model.image
        for id, option in pricing.catalogue.records.options.items():
            if option.image is not None and id in offered:
                yield f"option-{id}", option.image

    def _read(self, image: Image) -> bytes:
        read: Callable[[Text], bytes] = self._pricing.catalogue.picture
        return read(image.file)

    @property
    def names(self) -> tuple[str, ...]:
        """What its files are called in a sheet's folder."""
        found = (_sizes(name, shown.on) for name, shown in self._shown.items())
        return tuple(size.file for sizes in found for size in sizes)

    def file(self, name: str) -> bytes:
        """One of them; all are made when the first is asked for."""
        return self.files[name]

    @cached_property
    def files(self) -> dict[str, bytes]:
        """Every picture in every size, by the name of its file in a sheet's folder.

        Raises:
            CatalogueError: some can't be made, each told where it is named.
        """
        made: dict[str, bytes] = {}
        problems = Problems()
        for name, shown in self._shown.items():
            try:
                contents = made_for_pages(self._read(shown.image))
            except PictureError as fault:
                place = shown.image.file.place
                hint = "save it anew from the program that made it"
                problems.extend([Problem(place, "picture", str(fault), hint)])
                continue
            sizes = _sizes(name, shown.on)
            made |= {size.file: content for size, content in zip(sizes, contents, strict=True)}
        problems.quote(self._pricing.catalogue.excerpt)
        problems.stop_if_any()
        return made

    def boat(self, id: str, words: Callable[[Text], str]) -> PictureView | None:
        """The picture of a model, if it has one.

        Args:
            id: the model's
            words: a text of the catalogue in the reader's language
        """
        return self._view(f"boat-{id}", words)

    def option(self, id: str, words: Callable[[Text], str]) -> PictureView | None:
        """The picture of an option, likewise."""
        return self._view(f"option-{id}", words)

    def _view(self, name: str, words: Callable[[Text], str]) -> PictureView | None:
        shown = self._shown.get(name)
        if shown is None:
            return None
        credit = "" if shown.image.credit is None else str(shown.image.credit)
        return PictureView(words(shown.image.alt), credit, _sizes(name, shown.on), shown.mark)


def _sizes(name: str, on: OnPages) -> tuple[PictureSize, ...]:
    ending = ENDINGS[on.kind]
    return tuple(
        PictureSize(f"{FOLDER}/{name}-{width}.{ending}", width, height)
        for width, height in on.sizes
    )
