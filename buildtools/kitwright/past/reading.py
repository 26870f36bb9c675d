"""PDFs read several at once, each by a helping process that may come to grief over one.

A PDF may hang the library, fill the memory or end the process. So a helper reads one at a time,
with a bound on memory and on the processor time of that one file, which no load of the machine
uses up; a clock is a last resort, for a helper that waits for ever, or where a system has no
such bounds. A helper that ends is replaced, and the PDF is told as one that can't be read.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from queue import SimpleQueue

from kitwright.kit.folder import read_own
from kitwright.kit.read import LARGEST_PDF
from kitwright.past.found import Fault, Found
from kitwright.past.helper import help_reading

PATIENCE = 300
"""Seconds by the clock after which a helper is given up."""

FEW = 6
"""Files for which another helper is not worth its while."""


class Unreadable(Exception):
    """A PDF that can't be used; `code` says why, as one of `files`' or `past`'s errors without its kind."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


Outcome = Found | Unreadable


def read_all(files: Sequence[Path], told: Callable[[int], None] | None = None) -> Iterator[Outcome]:
    """What each PDF holds, a `Found` or an `Unreadable`, in the order of the files.

    Args:
        files: ordinary files.
        told: called with how many are done.
    """
    if not files:
        return
    helpers: SimpleQueue[_Helper] = SimpleQueue()
    # A helper takes as long to start as some files to read.
    count = min(-(-len(files) // FEW), os.cpu_count() or 1, 8)
    started = [_Helper() for _ in range(count)]
    for helper in started:
        helpers.put(helper)

    def one(file: Path) -> Outcome:
        helper = helpers.get()
        try:
            return helper.read(file)
        finally:
            helpers.put(helper)

    pool = ThreadPoolExecutor(count)
    try:
        for done, outcome in enumerate(pool.map(one, files), 1):
            if told:
                told(done)
            yield outcome
    finally:
        pool.shutdown(wait=False, cancel_futures=True)
        for helper in started:
            helper.end()


@dataclass
class _Helper:
    process: BaseProcess | None = None
    pipe: Connection | None = None

    def read(self, file: Path) -> Outcome:
        try:
            data = read_own(file, LARGEST_PDF)
        except OverflowError:
            return Unreadable("past.too-large")
        except OSError:
            return Unreadable("past.unreadable")
        if not data:
            return Unreadable("past.empty")
        if b"%PDF-" not in data[:1024]:
            return Unreadable("past.no-pdf")
        try:
            found = self.ask(data)
        except EOFError:
            # It ended, was ended at its bound, or is given up; the next file gets another.
            self.end()
            return Unreadable("past.stubborn")
        return Unreadable(found) if isinstance(found, str) else found

    def ask(self, data: bytes) -> Found | Fault:
        """Have it read one.

        Raises:
            EOFError: no answer comes.
            OSError: this machine starts no process, which is no fault of the file.
        """
        pipe = self.started()
        try:
            pipe.send_bytes(data)
            if not pipe.poll(PATIENCE):
                raise EOFError
            found: Found | Fault = pipe.recv()
        except OSError as error:
            raise EOFError from error
        return found

    def started(self) -> Connection:
        """The way to it; it is started where it is not running.

        Raises:
            OSError: this machine starts no process.
        """
        if self.pipe is None:
            context = get_context("spawn")
            pipe, theirs = context.Pipe()
            process = context.Process(target=help_reading, args=(theirs,), daemon=True)
            with theirs:
                process.start()
            self.process, self.pipe = process, pipe
        return self.pipe

    def end(self) -> None:
        """Let the helper go."""
        process, pipe = self.process, self.pipe
        self.process = self.pipe = None
        if process is not None and pipe is not None:
            process.kill()
            process.join()
            pipe.close()
