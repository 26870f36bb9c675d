"""Paths of what is a design's own, where a kit has several: `designs.Tall.card.fold` is `card.fold` of the design Tall."""

from __future__ import annotations

import re

_DESIGN = re.compile(r"designs\.([^.\[]+)\.")


def below(design: str, path: str) -> str:
    """A path of a design as one of the whole kit; itself in a kit of one."""
    return f"designs.{design}.{path}" if design else path


def within(path: str) -> tuple[str, str]:
    """The design that a path is in, and its path there; no name for one of the kit."""
    match = _DESIGN.match(path)
    return (match[1], path[match.end() :]) if match else ("", path)
