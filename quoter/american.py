"""What a reader in the United States spells or calls otherwise, as a table of words.

Spelling as in the headwords of general American dictionaries (from memory); the trade's words are
common practice, no source. `american` makes the translations of en_US.po; what a table can't know
(a word that has another sense there) is written into that file by hand and stays.
"""

from __future__ import annotations

import re

# Beginnings of words, with all that may follow them.
BEGINNINGS = {
    "aluminium": "aluminum",
    "behaviour": "behavior",
    "catalogue": "catalog",
    "centimetre": "centimeter",
    "centre": "center",
    "cheque": "check",
    "colour": "color",
    "defence": "defense",
    "favour": "favor",
    "fibre": "fiber",
    "fulfilment": "fulfillment",
    "grey": "gray",
    "harbour": "harbor",
    "honour": "honor",
    "instalment": "installment",
    "judgement": "judgment",
    "kilogramme": "kilogram",
    "kilometre": "kilometer",
    "labour": "labor",
    "licence": "license",
    "litre": "liter",
    "metre": "meter",
    "millilitre": "milliliter",
    "millimetre": "millimeter",
    "mould": "mold",
    "neighbour": "neighbor",
    "offence": "offense",
    "plough": "plow",
    "recolour": "recolor",
    "skilful": "skillful",
    "tyre": "tire",
    "unfavour": "unfavor",
    "vapour": "vapor",
}
# Whole words, and those of several.
WORDS = {
    "ageing": "aging",
    "centred": "centered",
    "draught": "draft",
    "draughts": "drafts",
    "fulfil": "fulfill",
    "fulfils": "fulfills",
    "glass-fibre": "fiberglass",
    "glass fibre": "fiberglass",
    "per cent": "percent",
    "practise": "practice",
    "practised": "practiced",
    "programme": "program",
    "programmes": "programs",
    "whilst": "while",
}
# Endings, of any word that is not one of those which end so on both sides.
_ENDING = re.compile(r"(?<=[a-z]{2})(ys|is)(e[ds]?|ing|ation|ations)\b")
_ALIKE = re.compile(
    r"(?:[a-z]*(?:wise|cise|vise|mise|rise|prise|raise|noise|poise|praise|basis|basing)|"
    r"(?:[a-z]*(?:prais|pois|rais|nois|advis|revis|supervis|exercis|promis|compris|surpris|aris|"
    r"ris|disguis|precis|televis|improvis|excis|incis|likew|otherw))(?:e[ds]?|ing|ation|ations))\Z"
)
_DOUBLED = re.compile(
    r"\b(cancel|label|level|model|travel|total|fuel|channel|tunnel)l(ed|ing|er)\b"
)
_TABLE = BEGINNINGS | WORDS
_BRITISH = re.compile(
    r"\b(?:"
    + "|".join(
        [
            *sorted((rf"{word}\b" for word in WORDS), key=len, reverse=True),
            *sorted(BEGINNINGS, key=len, reverse=True),
        ]
    )
    + ")",
    re.IGNORECASE,
)
_WORD = re.compile(r"\b[A-Za-z]+\b")
# Places of values, and what stands in a catalogue's file or a terminal: no words to be spelt.
_KEPT = re.compile(r"(%\(\w+\)s|\{[^}]*\}|<code>.*?</code>|<[^>]*>|`[^`]*`)")


def american(text: str) -> str:
    """A text as it reads in the United States; the same where nothing differs.

    >>> american("Colour of the glass-fibre mould, %(colour)s, organised by labour in metres")
    'Color of the fiberglass mold, %(colour)s, organized by labor in meters'
    """
    pieces = _KEPT.split(text)
    return "".join(piece if at % 2 else _respelt(piece) for at, piece in enumerate(pieces))


def _respelt(text: str) -> str:
    text = _BRITISH.sub(lambda found: _cased(_TABLE[found[0].lower()], found[0]), text)
    text = _DOUBLED.sub(r"\1\2", text)
    return _WORD.sub(lambda found: _ended(found[0]), text)


def _ended(word: str) -> str:
    if _ALIKE.match(word.lower()):
        return word
    return _ENDING.sub(lambda found: found[1].replace("s", "z") + found[2], word)


def _cased(word: str, before: str) -> str:
    if before.isupper():  # what is to be typed in its place, such as CATALOGUE
        return before
    return word[0].upper() + word[1:] if before[0].isupper() else word
