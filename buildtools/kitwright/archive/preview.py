"""Show the site on this machine, and build it again whenever something is saved."""

from __future__ import annotations

import contextlib
import functools
import http.server
import os
import sys
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path
from typing import TextIO
from urllib.parse import urlsplit

from watchdog.events import EVENT_TYPE_CLOSED_NO_WRITE, EVENT_TYPE_OPENED, FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver

from kitwright.archive.build import BuildRefused, build_archive
from kitwright.archive.make import Kept
from kitwright.errors import Stopped, UserError
from kitwright.files import clear, trouble, workshop
from kitwright.kit.project import KITS
from kitwright.kit.theme import PROGRAM, THEME
from kitwright.telling.site import NOT_BUILT, STILL_SHOWN, open_at, rebuilt

QUIET = 0.3
"""Seconds without a further change before the site is built again: editors save in several strokes."""
LONGEST_WAIT = 25.0
"""Seconds that a page's question for news is held open."""
NEWS, SCRIPT = "/~news", "/~news.js"
RELOAD = f"""\
// Asks this machine for news of the site, and loads the page again when there is some.
const ask = async known => {{
  try {{
    const answer = await fetch(`{NEWS}?${{known}}`, {{ cache: "no-store" }})
    const build = await answer.text()
    if (known && build !== known) return location.reload()
    ask(build)
  }} catch {{
    setTimeout(() => ask(known), 2000) // the preview was stopped, or starts again
  }}
}}
ask("")
"""


class Preview:
    """A site of this machine's own that follows what is saved.

    A kit that can't be built leaves the last good site standing; what is wrong is printed.
    """

    def __init__(self, root: Path, host: str = "127.0.0.1", port: int = 8000, say: Callable[[str], None] | None = None) -> None:
        self.root = root
        self.say = say or _printed(sys.stderr)
        self.builds = 0
        """Good builds so far."""
        self.tries = 0
        """Builds tried, failed ones included."""
        self._own = contextlib.ExitStack()
        try:
            self._folder = self._own.enter_context(workshop(Path(tempfile.gettempdir())))
        except OSError as error:
            raise trouble(error, "disk.preview") from None
        self._kept: Kept = {}
        self._news = threading.Condition()
        self._stopped = False
        try:
            self._server = http.server.ThreadingHTTPServer((host, port), functools.partial(_Handler, self))
        except OSError as error:
            self._own.close()
            raise UserError("site.port-taken", port=port, why=error.strerror or "") from None
        self._server.daemon_threads = True
        self._changes = _Changes()
        self._observer = Observer()
        self._serving = threading.Thread(target=self._server.serve_forever, daemon=True)

    @property
    def address(self) -> str:
        """Where the browser finds it."""
        host, port = self._server.server_address[:2]
        return f"http://{host!s}:{port}/"

    @property
    def site(self) -> Path:
        """The folder of the last good build."""
        return self._folder / str(self.builds)

    def rebuild(self) -> bool:
        """Build once; returns whether it went well. The last good site stays when it did not."""
        self.tries += 1
        new = self._folder / str(self.builds + 1)
        try:
            report = build_archive(self.root, new, address=self.address, kept=self._kept)
        except UserError as error:
            found = "\n".join(map(str, error.findings)) + "\n" if isinstance(error, BuildRefused) else ""
            self.say(f"{found}{error}\n" + (STILL_SHOWN if self.builds else ""))
            return False
        finally:
            with self._news:
                self._news.notify_all()
        before = self.site
        with self._news:
            self.builds += 1
            self._news.notify_all()
        clear(before)
        self.say(rebuilt(report.kits, report.seconds))
        return True

    def start(self) -> None:
        """Build, serve, and watch."""
        # Watch first, so that nothing saved during the first build is missed.
        for folder in (self.root / KITS, PROGRAM):
            if folder.is_dir():
                self._observer.schedule(self._changes, str(folder), recursive=True)
        # Her own theme may be begun, or put away, while this runs.
        self._observer.schedule(_Theme(self.root / THEME, self._changes, self._observer), str(self.root))
        self._observer.start()
        self.rebuild()
        self._serving.start()
        self.say(open_at(self.address))

    def follow(self) -> None:
        """Build again after each change, until stopped."""
        while not self._stopped:
            if self._changes.wait() and not self._stopped:
                self.rebuild()

    def wait_for_news(self, known: str, seconds: float) -> str:
        """The number of the last good build, as soon as it is another than `known`."""
        with self._news:
            self._news.wait_for(lambda: self._stopped or (known != "" and str(self.builds) != known) or known == "", seconds)
            return str(self.builds)

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
        if self._observer.is_alive():
            self._observer.stop()
            self._observer.join()
        if self._serving.is_alive():
            self._server.shutdown()
        self._server.server_close()
        self._own.close()


def preview(root: Path, host: str = "127.0.0.1", port: int = 8000) -> None:
    """Serve the site on this machine and build it again on every save, until interrupted.

    Raises:
        UserError: the port can't be used, or there is no theme.
    """
    shown = Preview(root, host, port)
    try:
        shown.start()
        shown.follow()
    except Stopped:
        raise
    except KeyboardInterrupt:
        pass
    finally:
        shown.stop()


def _printed(stream: TextIO) -> Callable[[str], None]:
    return lambda text: print(text, file=stream, flush=True)


class _Changes(FileSystemEventHandler):
    """Remembers that something was saved."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._count = self._seen = 0

    def on_any_event(self, event: FileSystemEvent) -> None:
        # Reading a file is no change, and building reads them all.
        if event.event_type not in (EVENT_TYPE_OPENED, EVENT_TYPE_CLOSED_NO_WRITE) and not event.is_directory:
            self.wake()

    def wake(self) -> None:
        """Something changed."""
        with self._changed:
            self._count += 1
            self._changed.notify_all()

    def wait(self) -> bool:
        """Wait for a change, and then until all is quiet."""
        with self._changed:
            self._changed.wait_for(lambda: self._count != self._seen)
            while True:
                self._seen = self._count
                if not self._changed.wait_for(lambda: self._count != self._seen, QUIET):
                    return True


class _Theme(FileSystemEventHandler):
    """Sees to it that her own theme is watched as soon as there is one."""

    def __init__(self, folder: Path, changes: _Changes, observer: BaseObserver) -> None:
        self._folder, self._changes, self._observer = folder, changes, observer
        self._watch()

    def on_any_event(self, event: FileSystemEvent) -> None:
        if Path(os.fsdecode(event.src_path)) == self._folder or Path(os.fsdecode(event.dest_path)) == self._folder:
            if event.event_type not in (EVENT_TYPE_OPENED, EVENT_TYPE_CLOSED_NO_WRITE):
                self._watch()
                self._changes.wake()

    def _watch(self) -> None:
        if self._folder.is_dir():
            with contextlib.suppress(OSError):
                self._observer.schedule(self._changes, str(self._folder), recursive=True)


class _Handler(http.server.SimpleHTTPRequestHandler):
    """Serves the last good site, with a script that asks for news at the end of each page."""

    def __init__(self, shown: Preview, *args) -> None:
        self.shown = shown
        super().__init__(*args, directory=str(shown.site))

    def do_GET(self) -> None:
        path = urlsplit(self.path)
        if path.path == NEWS:
            self._send(self.shown.wait_for_news(path.query, LONGEST_WAIT).encode(), "text/plain")
        elif path.path == SCRIPT:
            self._send(RELOAD.encode(), "text/javascript")
        elif not self.shown.builds:
            self._send(f"<!doctype html><title>Not built yet</title><p>{NOT_BUILT}</p>".encode() + _TAG, "text/html", 503)
        else:
            self._page()

    def _page(self) -> None:
        file = Path(self.translate_path(self.path))
        file = file / "index.html" if file.is_dir() else file
        if file.suffix == ".html" or not file.is_file():
            found = file.is_file()
            page = (file if found else self.shown.site / "404.html").read_bytes()
            self._send(page.replace(b"</body>", _TAG + b"</body>"), "text/html", 200 if found else 404)
        else:
            super().do_GET()

    def _send(self, body: bytes, kind: str, status: int = 200) -> None:
        self.send_response(status)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def handle(self) -> None:
        try:
            super().handle()
        except (ConnectionError, TimeoutError):
            pass  # the reader went away

    def log_message(self, *args) -> None:
        """Say nothing of each request."""


_TAG = f'<script src="{SCRIPT}"></script>'.encode()
