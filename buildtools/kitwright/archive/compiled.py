"""Templates are compiled once, not at every build."""

from __future__ import annotations

from contextlib import suppress

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket

from kitwright import cache

COMPILED = "templates"
"""What is kept: templates as they were compiled."""


class Compiled(BytecodeCache):
    """Templates that were compiled before, by name and text.

    Those of hers are compiled where they lie, since a fault in one is told at its own line.
    """

    def __init__(self, of: str, mine: frozenset[str]) -> None:
        """Take them from where they are kept.

        Args:
            of: tells environments apart, whose filters and ways of escaping are compiled in.
            mine: paths of hers.
        """
        self._of, self._mine = of, mine
        self._passed: set[str] = set()

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        if filename in self._mine:
            self._passed.add(name)
        return name

    def get_source_checksum(self, source: str) -> str:
        return cache.digest(source)

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key not in self._passed:
            found = cache.known(COMPILED, self._key(bucket))
            if isinstance(found, bytes):
                with suppress(ValueError, EOFError, TypeError):
                    bucket.bytecode_from_string(found)

    def dump_bytecode(self, bucket: Bucket) -> None:
        if bucket.key not in self._passed:
            cache.note(COMPILED, self._key(bucket), bucket.bytecode_to_string())

    def _key(self, bucket: Bucket) -> str:
        return cache.digest(self._of, bucket.key, bucket.checksum)
