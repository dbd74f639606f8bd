"""The latest reading of the catalogue, for many who ask, some of whom wait for the next."""

from __future__ import annotations

from secrets import token_hex
from threading import Condition, Event
from time import perf_counter
from typing import Protocol

from quoter.preview.faults import Trouble
from quoter.preview.reading import Asked, Reading, read
from quoter.preview.watching import catalogue_marks, template_marks, watch
from quoter.resources import templates_folder


class Listener(Protocol):
    """Who hears, on whatever thread, what a preview does."""

    def was_read(self, reading: Reading, seconds: float) -> None:
        """The catalogue was read, which took so long."""

    def page_failed(self, trouble: Trouble) -> None:
        """A page can't be made, or says what nothing accounts for."""


class Latest:
    """Keeps the latest reading; another thread may wait until there is a later one."""

    def __init__(self, asked: Asked, listener: Listener) -> None:
        """Nothing is read yet."""
        self.asked, self._listener = asked, listener
        self._run, self._count = token_hex(4), 0
        self._reading: Reading | None = None
        self._changed = Condition()
        self._closed = False

    def keep(self, stopped: Event) -> None:
        """Read the catalogue, and again whenever it or a template changes, until stopped."""
        folder, templates = self.asked.folder, templates_folder()
        watch(lambda: catalogue_marks(folder) | template_marks(templates), self.refresh, stopped)

    def refresh(self) -> None:
        """Read the catalogue anew."""
        self._count += 1
        start = perf_counter()
        reading = read(self.asked, f"{self._run}-{self._count}", self._listener.page_failed)
        self._listener.was_read(reading, perf_counter() - start)
        with self._changed:
            self._reading = reading
            self._changed.notify_all()

    def reading(self) -> Reading | None:
        """The latest reading, once there is one; None if there won't be any."""
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self._reading is not None)
            return self._reading

    def later_than(self, id: str, seconds: float) -> bool:
        """Whether the latest reading is another than this, or becomes so within some seconds."""

        def another() -> bool:
            return self._reading is not None and self._reading.id != id

        with self._changed:
            self._changed.wait_for(lambda: self._closed or another(), seconds)
            return another()

    def close(self) -> None:
        """Let everyone go who waits."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()
