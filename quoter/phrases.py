"""Words of the program that know how they came about, so that they can be said in any language.

A `Phrase` is a text like any other, in English. Who shows it to a reader of another language takes
its message and its values apart again: `quoter.wording` has the translations.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

_NOTHING: Mapping[str, object] = {}


class Phrase(str):
    """An English text, the message that it was made from, and the values put into it.

    A value that is a phrase itself is translated with it; any other stands as it is.
    """

    __slots__ = ("begins", "message", "values")
    message: str
    values: Mapping[str, object]
    begins: bool  # whether it stands first, and so has a capital in any language

    def __reduce__(self) -> tuple[Any, ...]:
        """As it is copied to another process."""
        return _again, (str(self), self.message, self.values, self.begins)

    def lower(self) -> Phrase:
        """As it stands within a sentence: in small letters in English, as it is in others."""
        return _again(super().lower(), self.message, self.values)

    def said(self, say: Callable[[str], str]) -> str:
        """The text as its message reads in the words of `say`, values and all."""
        message, values = say(self.message), self.values
        if values:
            told = {
                name: value.said(say) if type(value) is Phrase else value
                for name, value in values.items()
            }
            message = message.format_map(told)
        return _begun(message) if self.begins else message


def phrase(message: str, /, **values: object) -> Phrase:
    """A phrase of the program with its values in their places.

    >>> named = phrase("{name}: nights in the mould", name="Hull")
    >>> named, named.message
    ('Hull: nights in the mould', '{name}: nights in the mould')
    """
    message = str(message)  # a phrase as a message is filled in, not said twice
    return _again(message.format_map(values) if values else message, message, values or _NOTHING)


def together(between: str, texts: Sequence[str]) -> Phrase:
    """Several texts with the same sign between them, each said in its reader's language.

    >>> together(", ", [phrase("labour"), "Hull"])
    'labour, Hull'
    """
    values = {f"text{number}": text for number, text in enumerate(texts)}
    message = between.join(f"{{{name}}}" for name in values)
    return _again(between.join(texts), message, values)


def capital(text: str) -> Phrase:
    """A text as it begins a line: with a capital first, in its reader's language too.

    >>> capital(phrase("labour"))
    'Labour'
    """
    made = text if type(text) is Phrase else together("", [text])
    return _again(_begun(text), made.message, made.values, True)


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]


def _again(text: str, message: str, values: Mapping[str, object], begins: bool = False) -> Phrase:
    made = str.__new__(Phrase, text)
    made.message = message
    made.values = values
    made.begins = begins
    return made
