"""Templates compiled once, and kept beside the code that Python itself compiles."""

from __future__ import annotations

import marshal
import re
import sys
from contextlib import suppress
from hashlib import sha256
from importlib.metadata import version
from importlib.util import MAGIC_NUMBER, cache_from_source
from os import getpid
from pathlib import Path
from types import CodeType

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket

from quoter.resources import PACKAGE


class Compiled(BytecodeCache):
    """Each template compiled once, which takes longer than to fill it in any language.

    Its code is kept as Python keeps that of modules: in a file beside ours, known by a digest of
    all that it depends on. Where none can be written, it is kept for the run alone.
    """

    def __init__(self, kind: str, options: bytes) -> None:
        """Nothing is read yet.

        Args:
            kind: tells environments apart that make other code of the same template
            options: the program's text that says what their environment is
        """
        self._kind = kind
        self._code: dict[str, tuple[str, CodeType]] = {}  # with the checksum of its text
        self._made_with = b"\0".join([MAGIC_NUMBER, version("jinja2").encode(), options])

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        """A template by its name, and by its file, which its code names in a traceback."""
        return f"{name}\0{filename}"

    def load_bytecode(self, bucket: Bucket) -> None:
        """Give what was kept of this very text of the template."""
        checksum, code = self._code.get(bucket.key, ("", None))
        bucket.code = code if checksum == bucket.checksum else self._read(bucket)
        if bucket.code is not None:
            self._code[bucket.key] = bucket.checksum, bucket.code

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep it; a reader of the file finds all of it or nothing."""
        if bucket.code is None:
            return
        self._code[bucket.key] = bucket.checksum, bucket.code
        if sys.dont_write_bytecode:
            return
        file, written = self._file(bucket), marshal.dumps(bucket.code)
        unfinished = file.with_suffix(f".{getpid()}")
        with suppress(OSError):
            file.parent.mkdir(exist_ok=True)
            unfinished.write_bytes(self._digest(bucket, written) + written)
            unfinished.replace(file)

    def _read(self, bucket: Bucket) -> CodeType | None:
        """The code that an earlier run kept, if it is of the same text, by the same program."""
        with suppress(OSError):
            kept = self._file(bucket).read_bytes()
            digest, written = kept[: sha256().digest_size], kept[sha256().digest_size :]
            if digest == self._digest(bucket, written):
                code: CodeType = marshal.loads(written)
                return code
        return None

    def _file(self, bucket: Bucket) -> Path:
        name = re.sub(r"\W", "-", bucket.key.partition("\0")[0])
        return Path(cache_from_source(PACKAGE / "pages" / name, optimization=self._kind))

    def _digest(self, bucket: Bucket, written: bytes) -> bytes:
        parts = (self._made_with, bucket.key.encode(), bucket.checksum.encode(), written)
        return sha256(b"\0".join(parts)).digest()
