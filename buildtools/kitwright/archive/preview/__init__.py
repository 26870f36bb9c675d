"""Show the site on this machine, and build it again whenever something is saved."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from kitwright.archive.preview.follow import Preview
from kitwright.errors import Stopped

__all__ = ["Preview", "preview"]


def preview(root: Path, host: str = "127.0.0.1", port: int = 8000, progress: Callable[[str, int, int], None] | None = None) -> None:
    """Serve the site on this machine and build it again on every save, until interrupted.

    Args:
        root: the archive.
        host: the address of this machine.
        port: where it is served.
        progress: told how far a build is, once that takes long; with no words when it has ended.

    Raises:
        UserError: the port can't be used, or there is no place for the site.
    """
    shown = Preview(root, host, port, progress=progress)
    try:
        shown.start()
        shown.follow()
    except Stopped:
        raise
    except KeyboardInterrupt:
        pass
    finally:
        shown.stop()
