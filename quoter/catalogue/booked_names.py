"""What rows of actuals call a part and its operations: the words that its papers show."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from quoter.catalogue.checks_options import offered
from quoter.catalogue.operations import Operation
from quoter.catalogue.options import BaseBoat, Option
from quoter.catalogue.parts import PART_KINDS, AnyPart
from quoter.catalogue.records import Records
from quoter.problems import nearest

APART = "__"  # between a part's id and what tells its shape and colour


Recipe = AnyPart | Option | BaseBoat


@dataclass(frozen=True)
class PartNames:
    """The parts, options and boats of a catalogue, by the keys of the costing without their kind.

    A part is known by its id, whatever its shape and colour are; which of those were made is for
    whoever knows the job.
    """

    records: Records
    _seen: dict[str, tuple[str, Recipe | None] | None] = field(default_factory=dict, repr=False)

    def key_of(self, words: str) -> str:
        """The key of the costing, such as ``part.side_door__gel_blue``; "" for an unknown one."""
        found = self._found(words)
        return f"{found[0]}.{words}" if found is not None else ""

    def recipe_of(self, words: str) -> Recipe | None:
        """What a part is made by; None for an unknown one, or one whose record can't be read."""
        found = self._found(words)
        return found[1] if found is not None else None

    def may_be(self, words: str) -> bool:
        """Whether a part is known, or may be, since not all of the catalogue could be read."""
        unread = self.records.unread
        kinds = {"option", "model", *PART_KINDS}
        doubtful = bool(kinds & (unread.kinds | unread.missing.keys()))
        return doubtful or self._found(words) is not None

    def hint(self, words: str) -> str:
        """The nearest part, option on a model or boat."""
        return nearest(words, self._known)

    def _found(self, words: str) -> tuple[str, Recipe | None] | None:
        if words not in self._seen:
            self._seen[words] = self._looked_up(words)
        return self._seen[words]

    def _looked_up(self, words: str) -> tuple[str, Recipe | None] | None:
        if "." in words:
            return self._option(words)
        records = self.records
        ids = records.named(PART_KINDS)
        for id in self._beginnings(words):
            if id in ids and self._told_apart.fullmatch(words[len(id) :]):
                return "part", records.parts.get(id)
        if words in records.named(("model",)):
            model = records.models.get(words)
            return "boat", model.base if model is not None else None
        return None

    def _option(self, words: str) -> tuple[str, Option | None] | None:
        model_id, _, rest = words.partition(".")
        records = self.records
        if model_id not in records.named(("model",)):
            return None
        model = records.models.get(model_id)
        ids = records.named(("option",))
        for id in self._beginnings(rest):
            option = records.options.get(id)
            fits = model is None or option is None or offered(option, model)
            if id in ids and fits and self._told_apart.fullmatch(rest[len(id) :]):
                return "option", option
        return None

    @staticmethod
    def _beginnings(words: str) -> list[str]:
        """What may be an id, the longest first: ids may hold underscores, too."""
        pieces = words.split(APART)
        return [APART.join(pieces[:count]) for count in range(len(pieces), 0, -1)]

    @cached_property
    def _told_apart(self) -> re.Pattern[str]:
        """What follows an id: whose use it is, on which boat, in which colour, in which part."""
        kinds = ("option", "model", "gelcoat", *PART_KINDS)
        words = sorted(map(re.escape, self.records.named(kinds)), key=len, reverse=True)
        return re.compile(rf"(?:{APART}(?:(?:in_)?(?:{'|'.join(words)})|boat|\d+))*")

    @cached_property
    def _known(self) -> list[str]:
        records = self.records
        options = [
            f"{model.id}.{option.id}"
            for model in records.models.values()
            for option in records.options.values()
            if offered(option, model)
        ]
        return [*records.named(PART_KINDS), *records.models, *options]


def operation_number(operations: Sequence[Operation], words: str) -> int:
    """The number on the papers, from 1, of an operation that is told by it or by name; else 0.

    A name that two operations have tells neither.
    """
    if words.isdecimal():
        number = int(words)
        return number if 1 <= number <= len(operations) else 0
    wanted = _plain(words)
    found = [number for number, one in enumerate(operations, 1) if _plain(one.name) == wanted]
    return found[0] if len(found) == 1 else 0


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
