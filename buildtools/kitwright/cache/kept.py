"""What is kept between runs, in one folder, and the one that this process uses.

Bytes lie there under their own digest; whatever else was made is noted under a digest of what
it was made from, signed. Both are looked at whenever they are read: what is damaged counts as
lost, and what is lost is made again. Files are put there whole, by renaming, so that any number
of commands may use the folder at once, and be killed at any moment.
"""

from __future__ import annotations

import contextlib
import hashlib
import hmac
import os
import pickle
import secrets
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar, cast

from kitwright import files
from kitwright.cache import digests
from kitwright.cache.secret import own_secret
from kitwright.errors import UserError

T = TypeVar("T")

FOLDER = ".made"
"""What the folder is called, at the top of an archive."""
LIMIT = 3 << 30
"""Bytes that are kept at most, but for what was used within the last hours."""
FRESH, RECENT, STALE = 1800, 3 * 3600, 30 * 24 * 3600
"""Seconds: how exactly it is noted when something was used last; how long it stays in any case, and at most."""
WRITTEN = 64 << 20
"""Bytes after which a process looks whether too much is kept."""
TAG = b"Signature: 8a477f597d28d172789f06886806bc55\n# What kitwright made before. It may be removed: then the next build is slower.\n"
"""Tells programs that make backups to pass the folder by (Cache Directory Tagging Specification, by Bryan Ford)."""
_SEAL = hashlib.sha256().digest_size


class Lost(Exception):
    """Bytes that were kept are gone, or damaged: whatever they were is made again."""


@dataclass(frozen=True)
class Blob:
    """Bytes that are kept under their own digest."""

    digest: str
    """SHA-256."""
    size: int


@dataclass(frozen=True)
class Handle:
    """What a helping process needs to use the same folder."""

    folder: Path | None
    secret: bytes = field(repr=False)


@dataclass(eq=False)
class Store:
    """What was made before, below one folder; without a folder nothing is kept from run to run."""

    folder: Path | None
    secret: bytes = field(repr=False)
    made: Counter[str] = field(default_factory=Counter)
    """How many of each kind were made by this process."""
    found: Counter[str] = field(default_factory=Counter)
    """How many of each kind were there."""
    _new: bool = False
    """Whether the folder was begun for this store."""
    _held: dict[str, bytes] = field(default_factory=dict, repr=False)
    """Bytes by digest, where there is no folder."""

    # --- bytes ---

    def keep(self, data: bytes) -> Blob:
        """Keep bytes.

        Raises:
            OSError: they can't be kept.
        """
        blob = Blob(hashlib.sha256(data).hexdigest(), len(data))
        if self.folder is None:
            self._held[blob.digest] = data
        elif not self.relied(blob):
            self._put(self._of_blob(blob), data)
        return blob

    def read(self, blob: Blob) -> bytes:
        """Bytes that were kept.

        Raises:
            Lost: they vanished, or are damaged.
        """
        if self.folder is None:
            if blob.digest not in self._held:
                raise Lost(blob.digest)
            return self._held[blob.digest]
        file = self._of_blob(blob)
        try:
            data = file.read_bytes()
        except OSError:
            raise Lost(blob.digest) from None
        if hashlib.sha256(data).hexdigest() != blob.digest:
            self._drop(file)
            raise Lost(blob.digest)
        _freshen(file)
        return data

    def relied(self, blob: Blob) -> bool:
        """Whether bytes are there, for all that can be seen without reading them; they stay then for a while."""
        return blob.digest in self._held if self.folder is None else _freshen(self._of_blob(blob), blob.size)

    # --- what was made from what ---

    def known(self, kind: str, key: str) -> Any:
        """What was noted; None where nothing was, or where it is damaged or not ours."""
        if self.folder is None:
            return None
        file = self._of_note(kind, key)
        try:
            data = file.read_bytes()
        except OSError:
            return None
        if not hmac.compare_digest(data[:_SEAL], self._seal(kind, file.name, data[_SEAL:])):
            self._drop(file)
            return None
        _freshen(file)
        try:
            return pickle.loads(data[_SEAL:])
        except Exception:
            # Written by another kitwright; whatever can't be read any more is made again.
            return None

    def note(self, kind: str, key: str, value: object) -> None:
        """Note what was made; where it can't be written, it is only made again."""
        if self.folder is None:
            return
        file = self._of_note(kind, key)
        data = pickle.dumps(value, pickle.HIGHEST_PROTOCOL)
        with contextlib.suppress(OSError):
            self._put(file, self._seal(kind, file.name, data) + data)

    # --- files ---

    def _of_blob(self, blob: Blob) -> Path:
        assert self.folder is not None
        return self.folder / "bytes" / blob.digest[:2] / blob.digest[2:]

    def _of_note(self, kind: str, key: str) -> Path:
        assert self.folder is not None
        # Whatever another kitwright made, with other libraries, is not ours.
        name = digests.digest(kind, key, digests.code())
        return self.folder / kind / name[:2] / name[2:]

    def _seal(self, kind: str, name: str, data: bytes) -> bytes:
        return hmac.digest(self.secret, f"{kind} {name} ".encode() + data, "sha256")

    def _put(self, file: Path, data: bytes) -> None:
        self._begin(file.parent)
        aside = file.parent / f".new-{secrets.token_hex(6)}"
        try:
            aside.write_bytes(data)
            # Not synced: what a power cut leaves of it is seen to be damaged.
            os.replace(aside, file)
        except BaseException as error:
            with contextlib.suppress(OSError):
                aside.unlink(missing_ok=True)
            if not (isinstance(error, PermissionError) and file.exists()):
                raise  # else on Windows somebody reads what is there already
        _written[self.folder] += len(data)

    def _begin(self, folder: Path) -> None:
        assert self.folder is not None
        if folder.is_dir():
            return
        self._new |= not self.folder.exists()
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in (("CACHEDIR.TAG", TAG), (".gitignore", b"*\n")):
            if not (self.folder / name).exists():
                (self.folder / name).write_bytes(data)

    def _drop(self, file: Path) -> None:
        with contextlib.suppress(OSError):
            file.unlink()

    def bound(self, limit: int = LIMIT, *, now: float | None = None) -> None:
        """Remove what nobody used for long, and beyond the limit what was used longest ago.

        Args:
            limit: bytes.
            now: seconds since 1970; the clock's own when left out.
        """
        if self.folder is None:
            return
        now = time.time() if now is None else now
        there: list[tuple[float, int, str]] = []
        for above, _, names in os.walk(self.folder):
            if above == str(self.folder):
                continue
            for name in names:
                with contextlib.suppress(OSError):
                    state = os.lstat(os.path.join(above, name))
                    there.append((state.st_mtime, state.st_size, os.path.join(above, name)))
        total = sum(size for _, size, _ in there)
        for used, size, name in sorted(there):
            if now - used < RECENT or total <= limit and now - used < STALE:
                break
            with contextlib.suppress(OSError):
                os.unlink(name)
            total -= size

    def withdraw(self) -> None:
        """A command that refuses leaves nothing behind: a folder that was begun for it goes again."""
        if self._new and self.folder is not None:
            self._new = False
            files.clear(self.folder)

    def end(self) -> None:
        """Bound what is kept, where this process added much to it."""
        if _written[self.folder] >= WRITTEN:
            _written[self.folder] = 0
            self.bound()


_written: Counter[Path | None] = Counter()
"""Bytes that this process added to each folder since it last looked: a helping process opens a store for every kit."""


def _freshen(file: Path, size: int | None = None) -> bool:
    """Note that a file was used, now and then; whether it is there, of that size."""
    try:
        state = os.stat(file)
        if time.time() - state.st_mtime > FRESH:
            os.utime(file)
    except OSError:
        return False
    return size is None or state.st_size == size


# --- the one in use -------------------------------------------------------------------------------

_in_use: list[Store] = []


def _here() -> Store:
    if not _in_use:
        _in_use.append(Store(None, b""))
    return _in_use[-1]


@contextlib.contextmanager
def using(folder: Path | None) -> Iterator[Store]:
    """Have this process keep what it makes below a folder; None keeps nothing from run to run."""
    with _with(Store(folder, own_secret() if folder else b"")) as store:
        yield store


@contextlib.contextmanager
def taken_up(given: Handle) -> Iterator[Store]:
    """Use the folder that another process uses, as it handed it over."""
    with _with(Store(given.folder, given.secret)) as store:
        yield store


@contextlib.contextmanager
def _with(store: Store) -> Iterator[Store]:
    _in_use.append(store)
    try:
        yield store
    except UserError:
        store.withdraw()
        raise
    finally:
        _in_use.remove(store)
        store.end()


def handle() -> Handle:
    """What is in use here, for a helping process."""
    return Handle(_here().folder, _here().secret)


def keep(data: bytes) -> Blob:
    """Keep bytes; see `Store.keep`."""
    return _here().keep(data)


def read(blob: Blob) -> bytes:
    """Bytes that were kept; see `Store.read`."""
    return _here().read(blob)


def relied(blob: Blob) -> bool:
    """Whether bytes are there; see `Store.relied`."""
    return _here().relied(blob)


def known(kind: str, key: str) -> Any:
    """What was noted; see `Store.known`."""
    return _here().known(kind, key)


def note(kind: str, key: str, value: object) -> None:
    """Note what was made; see `Store.note`."""
    _here().note(kind, key, value)


def value(kind: str, key: str, make: Callable[[], T]) -> T:
    """What is made from that of which `key` is the digest: as it was kept, else made now, and kept.

    Args:
        kind: what it is, a plain word.
        key: a digest of exactly what it is made from; the program's own code counts besides.
        make: makes it. What it gives must be picklable, and not None.
    """
    store = _here()
    found = store.known(kind, key)
    if found is not None:
        store.found[kind] += 1
        return cast(T, found)
    store.made[kind] += 1
    fresh = make()
    store.note(kind, key, fresh)
    return fresh


def made(kind: str, key: str, make: Callable[[], bytes]) -> bytes:
    """Bytes that are made from that of which `key` is the digest; as for `value`."""
    store = _here()
    blob = store.known(kind, key)
    if isinstance(blob, Blob):
        with contextlib.suppress(Lost):
            found = store.read(blob)
            store.found[kind] += 1
            return found
    store.made[kind] += 1
    fresh = make()
    if store.folder is not None:
        with contextlib.suppress(OSError):
            store.note(kind, key, store.keep(fresh))
    return fresh
