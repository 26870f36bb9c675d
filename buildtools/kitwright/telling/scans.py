"""Where the papers are from that are seen on a picture."""

from __future__ import annotations

from collections.abc import Sequence


def sources_text(sources: Sequence[str]) -> str:
    """What stands beside a picture that shows scans; empty where nothing is said of any."""
    return f"{'Paper' if len(sources) == 1 else 'Papers'}: {'; '.join(sources)}" if sources else ""
