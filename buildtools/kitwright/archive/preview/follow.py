"""Builds again whenever something is saved, and knows how the site stands."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor
from dataclasses import dataclass
from fractions import Fraction
from multiprocessing import active_children, get_context
from pathlib import Path
from typing import TextIO

from kitwright import cache, files
from kitwright.archive import built
from kitwright.archive.build import BuildRefused, BuildReport, build_archive
from kitwright.archive.later import putting_off
from kitwright.archive.preview.good import SHARED, LastGood, Look, Part, look_at, named
from kitwright.archive.preview.ready import make_ready
from kitwright.archive.preview.serve import Server
from kitwright.archive.preview.told import Said, State
from kitwright.archive.preview.watch import Changes, Watcher
from kitwright.archive.workers import helping
from kitwright.errors import UserError
from kitwright.findings import Finding, errors_in, in_order
from kitwright.kit.project import KITS
from kitwright.kit.theme import PROGRAM
from kitwright.release import atomic
from kitwright.telling import preview as words

LONG = 1.0
"""Seconds after which it is told how far a build is."""
OFTEN = 0.2
"""Seconds between two tellings of that."""
IN_A_ROW = 3
"""Builds that give way to newer saves one after another; the next goes through."""


LATER = ("site.", "theme.", "disk.")
"""What is found in pages, beyond the files of one part: it may mend itself when anything else changes."""


class Newer(Exception):
    """Something was saved while a build went on: it is begun again."""


@dataclass(frozen=True)
class Stuck:
    """A part that can't be built as it is."""

    of: tuple[Look | None, ...]
    """What that depends on: the part, and what all parts share."""
    found: tuple[Finding, ...]


class Preview:
    """A site of this machine's own that follows what is saved.

    What can't be built is shown as it last was, and what is wrong with it stands on its page.
    """

    def __init__(
        self,
        root: Path,
        host: str = "127.0.0.1",
        port: int = 8000,
        say: Callable[[str], None] | None = None,
        progress: Callable[[str, int, int], None] | None = None,
    ) -> None:
        """Args:
        root: the archive.
        host: the address of this machine.
        port: any free one for 0.
        say: told what happens, a line or several at a time.
        progress: told how far a build is, once that takes long; with no words when it has ended.

        Raises:
            UserError: the port can't be used, or there is no place for the site.
        """
        self.root = Path(os.path.realpath(root))
        self.say = say or _printed(sys.stderr)
        self.builds = 0
        """Good builds so far."""
        self.tries = 0
        """Builds tried, failed ones included."""
        self._progress = progress or (lambda what, done, total: None)
        self._own = contextlib.ExitStack()
        try:
            folder = self._own.enter_context(files.workshop(Path(tempfile.gettempdir())))
            self._good = LastGood(self.root, folder)
        except OSError as error:
            self._own.close()
            raise files.trouble(error, "disk.preview") from None
        self.state = State(self.root, folder / "site")
        self._news = threading.Condition()
        self._version = 0
        """Counts up with everything that a page may be told."""
        self._building: Said | None = None
        self._at: tuple[str, int, int] | None = None
        self._last = 0.0
        self._gives_way = self._stopped = False
        self._stuck: Mapping[Part, Stuck] = {}
        self._looks: Mapping[Part, Look] = {}
        self._beside: list[Finding] = []
        """What was found in what is shown, that stops nothing."""
        self._helper = _helper()
        """Draws what was put off."""
        self._drawing: Future[None] | None = None
        self._off: frozenset[str] = frozenset()
        """Kits of which something was put off in what is shown."""
        self._puts_off = self._ready = False
        self._program = Look({})
        """The program's theme as it was used last."""
        self._printed: set[Finding] = set()
        try:
            self._server = Server(self, host, port)
        except UserError:
            self._own.close()
            raise
        self._changes = Changes()
        self._watcher = Watcher(self.root, self._changes)

    @property
    def address(self) -> str:
        """Where the browser finds it."""
        return self._server.address

    @property
    def site(self) -> Path:
        """The folder of the last good build."""
        return self.state.site

    # --- building ---------------------------------------------------------------------------------

    def rebuild(self) -> bool:
        """Build once; returns whether all of it is shown as it was saved.

        Raises:
            Newer: something was saved meanwhile, and this build gives way; nothing changed.
        """
        started = time.monotonic()
        with self._telling():
            report, found = self._built()
        self._stand(report, found)
        self._tell(report, time.monotonic() - started)
        with self._news:
            self.tries += 1
            self.builds += report is not None
            self._version += 1
            self._news.notify_all()
        return not self.state.held and not any(one.level == "error" for one in self.state.found)

    def _built(self) -> tuple[BuildReport | None, list[Finding]]:
        """Take what was saved into the copy, part by part as far as it is good, and build that; None where nothing new can be shown."""
        trial = _Trial(self._good, self._stuck)
        try:
            with _reading(self.root / KITS):
                trial.take()
            report = None
            while (
                report is None
                and self._good.kits
                and (trial.taken or not self.state.good or self._ready or self._program != look_at(PROGRAM))
            ):
                program = look_at(PROGRAM)
                try:
                    with contextlib.ExitStack() as until:
                        off = until.enter_context(putting_off()) if self._puts_off and self.state.good and trial.taken else set()
                        report = build_archive(self._good.copy, self.site, self._told, address=self.address, keep=self.root / cache.FOLDER)
                    self._program, self._ready, self._off = program, False, frozenset(off)
                except UserError as error:
                    if not trial.put_back(error):
                        break
        except BaseException:
            trial.give_up()
            raise
        self._good.settle()
        self._stuck, self._looks = trial.stuck, trial.looks
        return report, trial.found

    def _stand(self, report: BuildReport | None, found: list[Finding]) -> None:
        """Note how the site stands now."""
        digests = self.state.digests
        if report is not None:
            self._beside = [self._good.as_theirs(one) for one in (*report.warnings, *report.found) if one.level != "hint"]
            said = built.read(self.site)
            digests = {name: file.sha256 for name, file in ((said.files if said else None) or {}).items()}
        held = self._good.held(self._looks, time.time())
        beside = [one for one in self._beside if self._good.part_of(one.place) not in held]
        everything = tuple(dict.fromkeys(one for one in (*found, *beside) if one.level != "hint"))
        self.state = State(self.root, self.site, self.state.good or report is not None, everything, held, digests, self._off)

    def _tell(self, report: BuildReport | None, seconds: float) -> None:
        """Print what is new."""
        new = [one for one in in_order(self.state.found) if one not in self._printed]
        still = [named(part) for part, one in self.state.held.items() if one.shown is not None]
        missing = [named(part) for part, one in self.state.held.items() if one.shown is None]
        lines = [*map(str, new), *([words.still(still)] if still else []), *([words.missing(missing)] if missing else [])]
        if self._printed and not self.state.found and not self.state.held:
            lines.append(words.AS_SHOWN)
        if report is not None:
            lines.append(words.rebuilt(report.kits, Fraction(round(seconds * 10), 10)))
        self._printed = set(self.state.found)
        if lines:
            self.say("\n".join(lines))

    # --- how far it is ----------------------------------------------------------------------------

    @contextlib.contextmanager
    def _telling(self) -> Iterator[None]:
        """Tell how far a build is as soon as it takes long, and no longer when it has ended."""
        self._last, self._at = time.monotonic() + LONG - OFTEN, (words.BUILDING, 0, 1)
        timer = threading.Timer(LONG, self._publish)
        timer.daemon = True
        timer.start()
        try:
            yield
        finally:
            timer.cancel()
            with self._news:
                told, self._at, self._building = self._building is not None, None, None
                self._version += told
                self._news.notify_all()
            if told:
                self._progress("", 0, 0)

    def _told(self, what: str, done: int, total: int) -> None:
        if self._gives_way and self._changes.more:
            raise Newer
        self._at = (what, done, total)
        if time.monotonic() - self._last >= OFTEN:
            self._publish()

    def _publish(self) -> None:
        with self._news:
            if self._at is None:
                return
            what, done, total = self._at
            self._last = time.monotonic()
            self._building = {"words": words.progress(what, done, total), "done": done, "total": total}
            self._version += 1
            self._news.notify_all()
        self._progress(what, done, total)

    # --- as long as it runs -----------------------------------------------------------------------

    def start(self) -> None:
        """Watch, serve, and build for the first time."""
        # Watch first, so that nothing saved during the first build is missed.
        self._watcher.start()
        self._server.start()
        self.say(words.open_at(self.address))
        self.rebuild()

    def _draw_off(self, at_once: bool = False) -> None:
        """Have drawn what was put off, by a process of its own; then it is built once more. `at_once`: only have it at hand."""
        if not (self._off or at_once) or self._drawing is not None and not self._drawing.done():
            return
        try:
            self._drawing = self._helper.submit(make_ready, self._good.copy, self.root / cache.FOLDER)
        except BrokenExecutor:
            self._helper.shutdown(wait=False)
            self._helper = _helper()
            self._drawing = self._helper.submit(make_ready, self._good.copy, self.root / cache.FOLDER)
        self._drawing.add_done_callback(self._drawn_off)

    def _drawn_off(self, drawing: Future[None]) -> None:
        if self._off and not self._stopped and not drawing.cancelled():
            self._ready = True
            self._changes.wake()

    def follow(self) -> None:
        """Build again after each change, until stopped."""
        in_a_row = 0
        self._puts_off = True
        self._draw_off(at_once=True)
        while not self._stopped:
            if self._changes.wait() and not self._stopped:
                self._gives_way = in_a_row < IN_A_ROW
                try:
                    self.rebuild()
                    self._draw_off()
                    in_a_row = 0
                except Newer:
                    in_a_row += 1
                finally:
                    self._gives_way = False

    def news(self, path: str, known: str = "", seconds: float = 0) -> Said:
        """All that stands on a page, as soon as it is another than what is known, or after so many seconds."""
        with self._news:
            self._news.wait_for(lambda: self._stopped or str(self._version) != known, seconds)
            version, state, building = self._version, self.state, self._building
        return {"version": str(version), "building": building, **state.page(path)}

    @property
    def stopped(self) -> bool:
        """Whether it serves no longer."""
        return self._stopped

    def wait_for_try(self, count: int, seconds: float) -> bool:
        """Wait until so many builds were tried."""
        with self._news:
            return self._news.wait_for(lambda: self.tries >= count, seconds)

    def stop(self) -> None:
        """Stop serving and watching, and clear up."""
        self._stopped = True
        self._changes.wake()
        with self._news:
            self._news.notify_all()
        self._watcher.stop()
        self._server.stop()
        if self._drawing is not None and not self._drawing.done():
            # Nobody waits for what nobody will see.
            for each in active_children():
                each.terminate()
        self._helper.shutdown(wait=False, cancel_futures=True)
        self._own.close()


class _Trial:
    """What was saved since, tried part by part: what can't be built is put back."""

    def __init__(self, good: LastGood, stuck: Mapping[Part, Stuck]) -> None:
        self._good = good
        self.looks = good.looks()
        self.taken: list[Part] = []
        """Parts of the copy that are on trial."""
        self.found: list[Finding] = []
        """What is wrong with parts that were put back."""
        self._world = tuple(self.looks.get(part) for part in SHARED)
        self.stuck: dict[Part, Stuck] = {}
        for part, known in stuck.items():
            if known.of == (self.looks.get(part), *self._world):
                self.stuck[part] = known

    def take(self) -> None:
        """Put into the copy whatever differs, but for what is known to be bad just as it is."""
        for part in {**self.looks, **self._good.taken}:
            look = self.looks.get(part)
            if look == self._good.taken.get(part) or self._good.same(part, look):
                continue
            if part in self.stuck:
                self.found += self.stuck[part].found
                continue
            self.taken.append(part)
            try:
                self._good.take(part, look)
            except UserError as error:
                self._put_back([part], list(errors_in(error)), stays=False)

    def put_back(self, error: UserError) -> bool:
        """Put back what an error is about; whether that changed anything."""
        wrong = [*error.findings, *error.beside] if isinstance(error, BuildRefused) else list(errors_in(error))
        wrong = [self._good.as_theirs(one) for one in wrong]
        named = {self._good.part_of(one.place) for one in wrong if one.level == "error"}
        # Where the fault shows in a part that did not change, what all share did it, or else any of those that did.
        blamed = [part for part in self.taken if part in named] or [part for part in self.taken if part in SHARED] or list(self.taken)
        self._put_back(blamed, wrong, stays=not error.code.startswith(LATER))
        return bool(blamed)

    def give_up(self) -> None:
        """Put everything back."""
        for part in self.taken:
            self._good.put_back(part)

    def _put_back(self, parts: Iterable[Part], wrong: list[Finding], stays: bool) -> None:
        self.found += wrong
        for part in parts:
            self._good.put_back(part)
            self.taken.remove(part)
            if stays:
                own = tuple(one for one in wrong if self._good.part_of(one.place) == part)
                self.stuck[part] = Stuck((self.looks.get(part), *self._world), own or tuple(wrong))


@contextlib.contextmanager
def _reading(kits: Path) -> Iterator[None]:
    """While nothing of ours changes the kits."""
    if not kits.is_dir():
        yield
        return
    atomic.finish(kits)
    with files.held(kits, shared=True):
        yield


def _helper() -> ProcessPoolExecutor:
    """A process that is started when it is first asked for something, and stays."""
    return ProcessPoolExecutor(1, get_context("spawn"), helping)


def _printed(stream: TextIO) -> Callable[[str], None]:
    return lambda text: print(text, file=stream, flush=True)
