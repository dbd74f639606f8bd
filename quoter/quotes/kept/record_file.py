"""The file of a record, record.json: written with a fingerprint, and read against it.

The fingerprint tells what was changed after a quote was issued, by hand or by accident: which keys
of the record, and which of the files beside it. It is a digest and no signature: whoever rewrites
the text and the fingerprint as well is not caught. Keys within a key are sorted for it, so that
laying the file out anew is no change; a quote's other files are covered by their bytes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from hashlib import sha256
from typing import Protocol, TypeVar

from pydantic import BaseModel, ValidationError

from quoter.catalogue.languages import known_locale, languages
from quoter.formats import RECORD as FORMAT
from quoter.formats import RECORD_FILE, Format, StrictError, read_json
from quoter.problems import listed, quoted
from quoter.quotes.kept.record import Fingerprint, Record

KEY = "fingerprint"
Sealed = TypeVar("Sealed", bound=BaseModel)


class HasFingerprint(Protocol):
    """A record with what tells of changes to the files beside it."""

    @property
    def fingerprint(self) -> Fingerprint | None:
        """None where it was written before fingerprints."""


class RecordError(ValueError):
    """Raised for what is no sound record; the message goes on from the name of its file."""


def to_json(record: Record, files: Mapping[str, bytes]) -> bytes:
    """A record as the text of its file: the same for the same quote, to the byte.

    Args:
        record: without a fingerprint, or with one that does not count
        files: all others of the quote, by name
    """
    return sealed(record, files, RECORD_FILE)


def sealed(record: BaseModel, files: Mapping[str, bytes], own: str) -> bytes:
    """A record of any kind as the text of its file, with a fingerprint of it and of other files.

    Args:
        record: which has a key for the fingerprint
        files: all others beside it, by name
        own: the name of its own file
    """
    content = record.model_dump(mode="json", exclude={KEY})
    beside = {name: _digest(files[name]) for name in sorted(files) if name != own}
    told = Fingerprint(keys=_digests(content), files=beside)
    return (record.model_copy(update={KEY: told}).model_dump_json(indent=1) + "\n").encode()


def from_json(content: bytes) -> Record:
    """The record in a file, as it was issued.

    Raises:
        RecordError: it is no record, one of a newer format, or was changed since.
    """
    record = opened(content, Record, FORMAT, unsealed=1)
    locale = known_locale(record.language)
    if locale is None or locale.language not in languages():
        raise RecordError(f"is in {quoted(record.language)}, a language that nothing is printed in")
    return record


def opened(
    content: bytes, kind: type[Sealed], format: Format, what: str = "quote", unsealed: int = 0
) -> Sealed:
    """A record of a kind in a file, as it was written.

    Args:
        content: of the file
        kind: of the record
        format: of its file
        what: it is a record of, in a word
        unsealed: the last number of the format that had no fingerprint
    Raises:
        RecordError: it is no such record, one of a newer format, or was changed since.
    """
    try:
        found = read_json(content)
    except StrictError as fault:
        raise RecordError(str(fault)) from fault
    if not isinstance(found, dict) or "format" not in found:
        raise RecordError(f"is no record of a {what}: it states no format")
    if refusal := format.refusal(found["format"]):
        raise RecordError(f"can't be read: {refusal}")
    try:
        _hold_against(found, what, unsealed=found["format"] <= unsealed)
        return kind.model_validate(found)
    except ValidationError as fault:
        raise RecordError(f"is no record of a {what}: {_first(fault)}") from fault


def _hold_against(found: dict[str, object], what: str, *, unsealed: bool) -> None:
    """Hold what a file holds against its fingerprint, unless its format had none yet."""
    if KEY not in found and unsealed:
        return
    if KEY not in found:
        raise RecordError(f"was changed after the {what} was issued: its fingerprint is gone")
    told = Fingerprint.model_validate(found[KEY]).keys
    now = _digests({key: value for key, value in found.items() if key != KEY})
    moved = [key for key in (*now, *(told.keys() - now)) if now.get(key) != told.get(key)]
    if moved:
        are = "are" if len(moved) > 1 else "is"
        raise RecordError(
            f"was changed after the {what} was issued: {listed(moved)} {are} not what stood there; "
            "bring back the file as it was"
        )


def changed_files(record: HasFingerprint, files: Mapping[str, bytes | None]) -> list[str]:
    """The names of a quote's files that are not what was issued.

    Args:
        record: as it was read
        files: what stands beside it now, by name; None where it is gone
    """
    told = record.fingerprint.files if record.fingerprint is not None else {}
    now = {name: None if content is None else _digest(content) for name, content in files.items()}
    return sorted(name for name, digest in told.items() if now.get(name) != digest)


def _digests(content: Mapping[str, object]) -> dict[str, str]:
    """A digest for each key: of its value as JSON without blanks, the keys within by name."""
    return {
        key: _digest(
            json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode()
        )
        for key, value in content.items()
    }


def _digest(content: bytes) -> str:
    return sha256(content).hexdigest()


def _first(fault: ValidationError) -> str:
    first = fault.errors(include_url=False, include_input=False)[0]
    where = ".".join(str(step) for step in first["loc"])
    return f"{where}: {first['msg']}" if where else first["msg"]
