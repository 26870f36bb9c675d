"""Sees what is saved, and when the editor's strokes are done."""

from __future__ import annotations

import contextlib
import os
import threading
from pathlib import Path

from watchdog.events import (
    EVENT_TYPE_CLOSED,
    EVENT_TYPE_CLOSED_NO_WRITE,
    EVENT_TYPE_DELETED,
    EVENT_TYPE_MODIFIED,
    EVENT_TYPE_MOVED,
    EVENT_TYPE_OPENED,
    FileSystemEvent,
    FileSystemEventHandler,
)
from watchdog.observers import Observer

from kitwright.files import OURS
from kitwright.kit.project import KITS
from kitwright.kit.theme import PROGRAM, THEME

QUIET = 0.04
"""Seconds without a further stroke after a file was closed, moved or deleted: editors save in several."""
UNFINISHED = 0.3
"""The same while a file that is being written was not closed yet; some systems tell of no closing."""
_READING = (EVENT_TYPE_OPENED, EVENT_TYPE_CLOSED_NO_WRITE)
"""Reading a file is no change, and building reads them all."""
_WHOLE = (EVENT_TYPE_CLOSED, EVENT_TYPE_MOVED, EVENT_TYPE_DELETED)


class Changes(FileSystemEventHandler):
    """Remembers that something was saved."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._count = self._seen = 0
        self._open: set[str] = set()
        """Files that are being written, as far as it is told."""

    def on_any_event(self, event: FileSystemEvent) -> None:
        name = os.fsdecode(event.src_path)
        if (
            event.event_type in _READING
            or OURS in os.path.basename(name)
            or (event.is_directory and event.event_type == EVENT_TYPE_MODIFIED)
        ):
            return
        with self._changed:
            if event.is_directory or event.event_type in _WHOLE:
                self._open.discard(name)
            else:
                self._open.add(name)
        self.wake()

    def wake(self) -> None:
        """Something changed."""
        with self._changed:
            self._count += 1
            self._changed.notify_all()

    @property
    def more(self) -> bool:
        """Whether something changed since the last wait ended."""
        return self._count != self._seen

    def wait(self) -> bool:
        """Wait for a change, and then until all is quiet."""
        with self._changed:
            self._changed.wait_for(lambda: self.more)
            while True:
                self._seen = self._count
                if not self._changed.wait_for(lambda: self.more, UNFINISHED if self._open else QUIET):
                    self._open.clear()
                    return True


class Watcher:
    """Watches an archive and the program's own theme."""

    def __init__(self, root: Path, changes: Changes) -> None:
        self._observer = Observer()
        self._root, self._changes = root, changes

    def start(self) -> None:
        """Watch from now on."""
        for folder in (self._root / KITS, PROGRAM):
            if folder.is_dir():
                self._observer.schedule(self._changes, str(folder), recursive=True)
        # Her own theme may be begun, or put away, while this runs.
        self._observer.schedule(_Theme(self, self._root / THEME), str(self._root))
        self._observer.start()

    def theme(self) -> None:
        """Watch her own theme, as soon as there is one."""
        folder = self._root / THEME
        if folder.is_dir():
            with contextlib.suppress(OSError):
                self._observer.schedule(self._changes, str(folder), recursive=True)

    def wake(self) -> None:
        """Her theme came or went."""
        self._changes.wake()

    def stop(self) -> None:
        """Watch no longer."""
        if self._observer.is_alive():
            self._observer.stop()
            self._observer.join()


class _Theme(FileSystemEventHandler):
    """Sees to it that her own theme is watched as soon as there is one."""

    def __init__(self, watcher: Watcher, folder: Path) -> None:
        self._watcher, self._folder = watcher, folder
        watcher.theme()

    def on_any_event(self, event: FileSystemEvent) -> None:
        if self._folder in (Path(os.fsdecode(event.src_path)), Path(os.fsdecode(event.dest_path))) and event.event_type not in _READING:
            self._watcher.theme()
            self._watcher.wake()
