"""Records changed by hand, value by value: each change is told, and no old one stops the program.

One with a fingerprint must be refused whatever was changed. One of the first format has none: it
must be refused in words, or print.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

from quoter.quotes.kept.record_file import RecordError, from_json, to_json
from quoter.quotes.printed.files import reprinted
from tests.quotes.samples import long
from tests.trials.trial import Trial, Tried

OLD = Path(__file__).parents[1] / "quotes" / "kept" / "2026-0007-R2" / "record.json"
VALUES: tuple[object, ...] = (
    *("", "o" * 40_000, "1e30", "1e-390", "1e999999", "NaN", "9999-12-31", "0001-01-01", "=1+1"),
    *("\n\t", "<script>", "\0", "\ufffe", -1, 10**29, True, None),
)
Way = tuple[str | int, ...]


def ways(data: object, way: Way = ()) -> Iterator[Way]:
    """The keys that lead to each value, of long lists to the first two."""
    inner: list[tuple[str | int, object]] = []
    if isinstance(data, dict):
        inner = [*data.items()]
    elif isinstance(data, list):
        inner = [*enumerate(data[:2])]
    for name, value in inner:
        yield (*way, name)
        yield from ways(value, (*way, name))


def changed(data: Any, way: Way, value: object) -> bytes:
    """The file with another value in a place."""
    found = inner = copy.deepcopy(data)
    for name in way[:-1]:
        inner = inner[name]
    inner[way[-1]] = value
    return json.dumps(found, ensure_ascii=False).encode()


def every_value(step: int) -> Tried:
    """Change each value of a record with a fingerprint, and of one without."""
    tried = Tried()
    new, old = json.loads(to_json(long(), {"quote.html": b""})), json.loads(OLD.read_bytes())
    inside = {key: value for key, value in new.items() if key != "fingerprint"}
    for way, value in [*product(ways(inside), VALUES)][::step]:
        where = ".".join(map(str, way))
        try:
            record = from_json(changed(new, way, value))
        except RecordError:
            tried.count += 1
        else:
            same = record == from_json(json.dumps(new).encode())
            tried.expect(same, f"{where} became {value!r:.20}, and nobody was told")
        try:
            record = from_json(changed(old, way, value))
        except RecordError:
            tried.count += 1
        else:
            tried.expect(len(reprinted(record)) == 2, f"{where} became {value!r:.20}")
    return tried


TRIALS = (
    Trial(
        "changed-records",
        "Each value of a record changed by hand: told, or of an old one at least printed.",
        every_value,
        short=40,
        long=1,
    ),
)
