"""A machine that stops between any two file operations."""

from __future__ import annotations

import os
import pathlib
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from kitwright.files import OURS
from kitwright.release import atomic


class Killed(BaseException):
    """The machine stopped."""


OPERATIONS = [
    (os, "open"),
    (os, "fsync"),
    (os, "rename"),
    (os, "replace"),
    (os, "unlink"),
    (os, "rmdir"),
    (os, "mkdir"),
    (shutil, "copyfile"),
    (pathlib.Path, "write_bytes"),
    (pathlib.Path, "write_text"),
    (pathlib.Path, "mkdir"),
    (pathlib.Path, "unlink"),
]


@contextmanager
def stopping_before(n: int, monkeypatch) -> Iterator[list[str]]:
    """File operation number `n`, counted from 0, and every one after it never happen; opening a file to write counts as one."""
    done: list[str] = []

    def watched(name: str, real: Callable) -> Callable:
        def call(*given, **more):
            if len(done) >= n:
                raise Killed
            done.append(name)
            return real(*given, **more)

        return call

    with monkeypatch.context() as patch:
        for home, name in OPERATIONS:
            patch.setattr(home, name, watched(name, getattr(home, name)))

        def rmtree(folder, ignore_errors=False, **_):
            """File by file, so that it can stop in the middle."""
            folder = pathlib.Path(folder)
            if not folder.is_dir():
                if not ignore_errors:
                    raise FileNotFoundError(folder)
                return
            for each in sorted(folder.iterdir()):
                rmtree(each) if each.is_dir() else os.unlink(each)
            os.rmdir(folder)

        patch.setattr(shutil, "rmtree", rmtree)
        real_open = pathlib.Path.open

        def opened(self, mode="r", *given, **more):
            return (
                watched("open", real_open)(self, mode, *given, **more) if set(mode) & set("wax") else real_open(self, mode, *given, **more)
            )

        patch.setattr(pathlib.Path, "open", opened)
        yield done


def every_stop(act: Callable[[], None], monkeypatch, fresh: Callable[[], None]) -> Iterator[int]:
    """Stop `act` before its first file operation, its second, and so on, until it comes through; `fresh` sets up each try."""
    for n in range(400):
        fresh()
        try:
            with stopping_before(n, monkeypatch):
                act()
        except Killed:
            yield n
            continue
        yield n
        return
    raise AssertionError("it never came through")


def recorded(act: Callable[[], object], monkeypatch) -> tuple[dict, tuple]:
    """What a command would write and remove as one change, without doing it; all else that it does writes nothing that stays."""
    found: list[tuple[dict, tuple]] = []
    with monkeypatch.context() as patch:
        patch.setattr(atomic, "change", lambda folder, written, removed=(): found.append((dict(written), tuple(removed))))
        act()
    assert len(found) == 1
    return found[0]


def outcomes(start: pathlib.Path, kits: pathlib.Path, change: tuple[dict, tuple], monkeypatch) -> Iterator[dict[str, bytes]]:
    """Everything in the archive after a stop at each step of a change and the next command, which finishes it or takes it back."""

    def fresh():
        shutil.rmtree(kits, ignore_errors=True)
        shutil.copytree(start, kits)

    for _ in every_stop(lambda: atomic.change(kits, *change), monkeypatch, fresh):
        # What every command does first.
        atomic.finish(kits)
        yield {f.relative_to(kits).as_posix(): f.read_bytes() for f in sorted(kits.rglob("*")) if f.is_file() and OURS not in f.as_posix()}
