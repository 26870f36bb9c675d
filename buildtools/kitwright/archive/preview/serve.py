"""Serves the built site on this machine, with what is to be told at the end of each page.

Nothing of that is ever in a built site: it is added to the page as it is sent.
"""

from __future__ import annotations

import functools
import http.server
import json
import threading
from html import escape
from pathlib import Path
from typing import Protocol
from urllib.parse import parse_qs, unquote, urlsplit

from kitwright.archive.preview.told import Said, State
from kitwright.drawing.palette import css_variables
from kitwright.errors import UserError
from kitwright.schemes import HOUSE
from kitwright.telling import preview as words

LONGEST_WAIT = 25.0
"""Seconds that a page's question for news is held open."""
NEWS, SCRIPT, STYLE, COLOURS = "/~news", "/~preview.js", "/~preview.css", "/~colours.css"
OWN = Path(__file__).parent / "look"
"""The preview's own page, style and script: no part of the theme, since no site has them."""
INDEX, LOST = "index.html", "404.html"


class Shown(Protocol):
    """What is served."""

    @property
    def state(self) -> State: ...

    @property
    def stopped(self) -> bool: ...

    def news(self, path: str, known: str = "", seconds: float = 0) -> Said:
        """All that stands on a page, as soon as it is another than what is known, or after so many seconds."""
        ...


class Server:
    """A site on an address of this machine's own."""

    def __init__(self, shown: Shown, host: str, port: int) -> None:
        """Raises:
        UserError: the port can't be used.
        """
        try:
            self._server = http.server.ThreadingHTTPServer((host, port), functools.partial(_Handler, shown))
        except OSError as error:
            raise UserError("site.port-taken", port=port, why=error.strerror or "") from None
        self._server.daemon_threads = True
        self._serving = threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)

    @property
    def address(self) -> str:
        """Where the browser finds it."""
        host, port = self._server.server_address[:2]
        return f"http://{host!s}:{port}/"

    def start(self) -> None:
        """Serve from now on."""
        self._serving.start()

    def stop(self) -> None:
        """Serve no longer."""
        if self._serving.is_alive():
            self._server.shutdown()
        self._server.server_close()


class _Handler(http.server.SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def __init__(self, shown: Shown, *args) -> None:
        self.shown = shown
        super().__init__(*args, directory=str(shown.state.site))

    def do_GET(self) -> None:
        asked = urlsplit(self.path)
        if asked.path == NEWS:
            said = {name: values[0] for name, values in parse_qs(asked.query).items()}
            # Once it was stopped, nobody is there to answer again.
            found = self.shown.news(said.get("page", INDEX), said.get("known", ""), LONGEST_WAIT)
            self.close_connection |= self.shown.stopped
            self._send(json.dumps(found).encode(), "application/json")
        elif asked.path == COLOURS:
            self._send(_colours().encode(), "text/css")
        elif asked.path in (SCRIPT, STYLE):
            kind = "text/javascript" if asked.path == SCRIPT else "text/css"
            self._send((OWN / asked.path.removeprefix("/~")).read_bytes(), kind)
        else:
            self._page()

    def _page(self) -> None:
        path = _page_at(self.path)
        state = self.shown.state
        if path.endswith(".html") or path not in state.digests or state.put_off(path):
            page, status = self._found(path, state)
            self._send(_with_told(page, path, self.shown.news(path)), "text/html", status)
            return
        mark = f'"{state.digests[path]}"'
        if self.headers.get("If-None-Match") == mark:
            self.send_response(304)
            self.send_header("ETag", mark)
            self.end_headers()
            return
        self._mark = mark
        super().do_GET()

    def _found(self, path: str, state: State) -> tuple[bytes, int]:
        """A page as it was built, or what stands in for it; and the status."""
        put_off = state.put_off(path)
        for name, status in () if put_off else ((path, 200), *(() if state.waits(path) else ((LOST, 404),))):
            if name in state.digests:
                try:
                    return (state.site / name).read_bytes(), status
                except OSError:
                    continue  # It is being changed for a newer one.
        heading = words.NOT_YET if state.good else words.NOT_BUILT
        lead = words.LATER if put_off else words.MENDED if state.found else words.FIRST_BUILD
        page = (OWN / "page.html").read_text(encoding="utf-8")
        return page.replace("{heading}", escape(heading)).replace("{lead}", escape(lead)).encode(), 503

    def _send(self, body: bytes, kind: str, status: int = 200) -> None:
        self.send_response(status)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def end_headers(self) -> None:
        # Kept by the browser, and asked for again each time: what did not change is not sent anew.
        self.send_header("Cache-Control", "no-cache")
        if mark := getattr(self, "_mark", ""):
            self.send_header("ETag", mark)
            self._mark = ""
        super().end_headers()

    def handle(self) -> None:
        try:
            super().handle()
        except (ConnectionError, TimeoutError):
            pass  # the reader went away

    def log_message(self, *args) -> None:
        """Say nothing of each request."""


def _page_at(address: str) -> str:
    """The file that an address asks for, from the top of the site."""
    path = unquote(urlsplit(address).path).lstrip("/")
    return f"{path}{INDEX}" if not path or path.endswith("/") else path


def _with_told(page: bytes, path: str, said: Said) -> bytes:
    """A page with what is to be told on it, and the script that shows it and asks for more."""
    data = json.dumps({"page": path, "lost": words.LOST, "laterWords": words.LATER, **said}).replace("<", "\\u003c")
    head = f'<link rel="stylesheet" href="{STYLE}">'
    tail = f'<script type="application/json" id="kw-told">{data}</script><script src="{SCRIPT}"></script>'
    return page.replace(b"</head>", head.encode() + b"</head>", 1).replace(b"</body>", tail.encode() + b"</body>", 1)


def _colours() -> str:
    """Our own colours for pages of the preview itself, which know no club."""
    return f":root {{\n{css_variables(HOUSE.light)}\n}}\n@media (prefers-color-scheme: dark) {{\n:root {{\n{css_variables(HOUSE.dark)}\n}}\n}}\n"
