"""Data for a page's script: a script of its own that hands them to a function, since a page on a disk may load scripts and nothing else."""

from __future__ import annotations

import json


def dense(value: object) -> str:
    """JSON without a blank too many."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def call(function: str, data: object) -> bytes:
    """The script that hands data to a function of the page, by its name."""
    return f"{function}({dense(data)})\n".encode()
