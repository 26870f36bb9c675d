"""The one home of writing: a file whole, a folder put in its place at once, one command at a time.

Whatever is not yet whole lies under a name of its own, `.kitwright-` and some letters, beside
where it goes, and is locked while a command is at work on it. A command that is killed leaves
no lock behind: the next one sees that, and clears away what it left. Folders of ours tell git
to keep nothing of them.
"""

from __future__ import annotations

import contextlib
import ctypes
import errno
import logging
import os
import re
import secrets
import shutil
import signal
import stat
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

from kitwright.errors import STOPS, Place, UserError, said

try:
    import fcntl
except ImportError:  # Windows
    LOCKS = False
else:
    LOCKS = True

OURS = ".kitwright-"
"""How the name of everything begins that is there for the length of a command only."""
_OURS = re.compile(r"\.kitwright-[0-9a-f]{8}")
_OF_BEFORE = re.compile(r"\.(site|site-team|site-members)-new-[a-z0-9_]{8}")
"""What an earlier kitwright called them."""
PATIENCE = 300.0
"""Seconds that a command waits for another to end."""
OLD = 24 * 3600
"""Seconds after which a leftover is one, where the system knows no locks."""
TRIES = 20


# --- troubles -------------------------------------------------------------------------------------


def trouble(error: OSError, code: str, place: Path | None = None, **values: Any) -> UserError:
    """What a system's error means to a maker: which file, and what could not be done.

    Args:
        error: what the system said; its reason, and its number (0 where it has none), are told with the values.
        code: what could not be done, such as `disk.site`.
        place: the file, where the error itself names none.
        values: what else it takes to tell it.
    """
    name = error.filename if isinstance(error.filename, (str, bytes, os.PathLike)) else None
    file = Path(os.fsdecode(name)) if name else place
    # What is not whole yet has a name that tells nobody anything: the folder that it was to stand in does.
    unfinished = [at for at in (file, *file.parents) if _OURS.fullmatch(at.name)] if file else []
    file = unfinished[-1].parent if unfinished else file
    why = error.strerror or str(error) or type(error).__name__
    return UserError(code, place=Place(file) if file else None, why=why, number=error.errno or 0, **values)


# --- one at a time --------------------------------------------------------------------------------

_held: dict[tuple[int, str], int] = {}


@contextlib.contextmanager
def held(folder: Path, *, shared: bool = False, patience: float | None = None) -> Iterator[None]:
    """Have a folder for oneself, or, shared, together with others that only read it.

    A lock on the folder itself, so that it needs no file and goes with the process. Held
    again by the same thread it is the same lock. Where the system knows no locks, none is held.

    Raises:
        UserError: another command did not end in time.
    """
    key = (threading.get_ident(), os.path.realpath(folder))
    if key in _held:
        _held[key] += 1
        try:
            yield
        finally:
            _held[key] -= 1
        return
    lock = _opened(folder)
    try:
        until = time.monotonic() + (PATIENCE if patience is None else patience)
        told = False
        while lock is not None and _locked(lock, shared) is False:
            if time.monotonic() >= until:
                raise UserError("disk.busy", place=Place(folder))
            if not told:
                logging.getLogger("kitwright").warning(said("disk.waiting", {})[0])
                told = True
            time.sleep(0.05)
        _held[key] = 1
        try:
            yield
        finally:
            del _held[key]
    finally:
        if lock is not None:
            os.close(lock)


def _opened(path: Path) -> int | None:
    """A file or folder opened for a lock; None where that can't be."""
    if not LOCKS:
        return None
    try:
        return os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK) if path.name.startswith(OURS) else os.open(path, os.O_RDONLY)
    except OSError:
        return None


def _locked(opened: int, shared: bool = False) -> bool | None:
    """Whether the lock could be had at once; None where the system knows no locks."""
    try:
        fcntl.flock(opened, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
        return True
    except BlockingIOError:
        return False
    except OSError:
        return None


@contextlib.contextmanager
def undisturbed() -> Iterator[None]:
    """Let a wish to stop wait until a short stroke is done."""
    if threading.current_thread() is not threading.main_thread():
        yield  # Signals are told to the main thread alone.
        return
    waiting: list[tuple[int, FrameType | None]] = []
    before = {}
    for each in STOPS:
        if callable(signal.getsignal(each)) or signal.getsignal(each) is signal.SIG_DFL:
            before[each] = signal.signal(each, lambda number, frame: waiting.append((number, frame)))
    try:
        yield
    finally:
        for each, handler in before.items():
            signal.signal(each, handler)
        for number, frame in waiting[:1]:
            own = before[signal.Signals(number)]
            if callable(own):
                own(number, frame)
            else:
                os.kill(os.getpid(), number)


# --- a file ---------------------------------------------------------------------------------------


def write_file(file: Path, data: bytes) -> None:
    """Write one file so that it holds either the old bytes or all the new ones, on the disk.

    A link is replaced, not followed. The rights of a file that is there stay.

    Raises:
        OSError: it can't be written; the old one stands.
    """
    sweep(file.parent)
    aside = None
    try:
        aside, opened = _new_file(file.parent)
        with open(opened, "wb") as stream:
            with contextlib.suppress(OSError):
                there = os.lstat(file)
                if stat.S_ISREG(there.st_mode):
                    os.chmod(aside, stat.S_IMODE(there.st_mode))
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
            # Renamed while it is locked, so that nobody takes it for a leftover.
            if os.name != "nt":
                os.replace(aside, file)
        if os.name == "nt":
            os.replace(aside, file)
    except BaseException as error:
        if aside is not None:
            with contextlib.suppress(OSError):
                aside.unlink(missing_ok=True)
        if isinstance(error, OSError):
            # The name that the reader knows, not the one aside.
            raise OSError(error.errno, error.strerror or str(error), str(file)) from None
        raise
    sync_folder(file.parent)


def _new_file(folder: Path) -> tuple[Path, int]:
    while True:
        aside = folder / f"{OURS}{secrets.token_hex(4)}"
        try:
            opened = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        except FileExistsError:
            continue
        # Another command may have taken it for a leftover before it was locked.
        if not LOCKS or _locked(opened) is not False and aside.exists():
            return aside, opened
        os.close(opened)


def sync_folder(folder: Path) -> None:
    """Have the names in a folder on the disk; where the system can't promise it, as well as it can."""
    if os.name == "nt":
        return
    with contextlib.suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


def sync_tree(folder: Path) -> None:
    """Have a small folder with all that is in it on the disk.

    Raises:
        OSError: a file could not be synced.
    """
    for above, _, names in os.walk(folder):
        for name in names:
            with open(Path(above) / name, "rb+" if os.name == "nt" else "rb") as stream:
                os.fsync(stream.fileno())
        sync_folder(Path(above))


# --- a folder -------------------------------------------------------------------------------------


@contextlib.contextmanager
def workshop(beside: Path) -> Iterator[Path]:
    """A folder of our own in `beside`, for as long as it takes; leftovers there are cleared first.

    Raises:
        OSError: it can't be made.
    """
    sweep(beside)
    folder, lock = _own_folder(beside)
    try:
        (folder / ".gitignore").write_bytes(b"*\n")
        yield folder
    finally:
        try:
            clear(folder)
        finally:
            if lock is not None:
                os.close(lock)


def _own_folder(beside: Path) -> tuple[Path, int | None]:
    while True:
        folder = beside / f"{OURS}{secrets.token_hex(4)}"
        try:
            os.mkdir(folder, 0o700)
        except FileExistsError:
            continue
        lock = _opened(folder)
        # Another command may have taken it for a leftover before it was locked; once it is, none does.
        if (lock is None or _locked(lock) is not False) and folder.is_dir():
            return folder, lock
        if lock is not None:
            os.close(lock)


def sweep(folder: Path) -> None:
    """Clear away what killed commands left in a folder; what is in use, or can't be removed, stays."""
    try:
        with os.scandir(folder) as entries:
            left = [Path(e.path) for e in entries if (_OURS.fullmatch(e.name) or _OF_BEFORE.fullmatch(e.name)) and not e.is_symlink()]
    except OSError:
        return
    for path in left:
        lock = _opened(path)
        try:
            free = None if lock is None else _locked(lock)
            if free or free is None and _age(path) > OLD:
                clear(path)
        finally:
            if lock is not None:
                os.close(lock)


def _age(path: Path) -> float:
    try:
        return time.time() - path.lstat().st_mtime
    except OSError:
        return 0


def clear(path: Path) -> bool:
    """Remove a file or a folder of ours, as far as it can be; whether nothing is left."""

    def loosen(function, name, _error) -> None:
        # Copies of read-only folders are read-only.
        with contextlib.suppress(OSError):
            os.chmod(Path(name).parent, 0o700)
            # Of a file only Windows asks; elsewhere its rights belong to whatever else links to it.
            if not os.path.islink(name) and (os.name == "nt" or os.path.isdir(name)):
                os.chmod(name, 0o700)
            if function in (os.rmdir, os.unlink):
                function(name)
            elif not os.path.islink(name):
                shutil.rmtree(name, ignore_errors=True)

    with contextlib.suppress(OSError):
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path, onerror=loosen)
        else:
            path.unlink(missing_ok=True)
    return not os.path.lexists(path)


def remove(path: Path) -> None:
    """Remove a file or a folder with all that is in it.

    Raises:
        OSError: something of it can't be removed.
    """
    if not clear(path):
        try:
            shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink()
        except OSError as error:
            # What is inside is told by its bare name.
            raise OSError(error.errno, error.strerror or str(error), str(path)) from None


def put_folder(new: Path, home: Path, *, small: bool = False, copied: bool = False) -> bool:
    """Put a whole folder where it belongs, at one stroke; what stood there then stands where the new one was made.

    Args:
        new: in a workshop on the same disk.
        home: where it goes, with the folders above it.
        small: sync it file by file, not with everything else that waits to be written.
        copied: it is a copy already, made on the disk of its place.

    Returns:
        Whether something stood there before.

    Raises:
        OSError: it can't be put there; what stood there stands.
    """
    if small:
        sync_tree(new)
    elif hasattr(os, "sync"):
        os.sync()
    home.parent.mkdir(parents=True, exist_ok=True)
    failed: OSError
    for _ in range(TRIES):
        try:
            if not os.path.lexists(home):
                os.rename(new, home)
                sync_folder(home.parent)
                return False
            if _exchange(new, home) or _exchange_in_two(new, home):
                sync_folder(home.parent)
                return True
        except (FileExistsError, FileNotFoundError) as error:
            failed = error  # Another command was there first, or has just taken it away.
        except OSError as error:
            if error.errno == errno.EXDEV and not copied:
                # Another disk after all, as where a folder is mounted.
                with workshop(nearest(home.parent)) as near:
                    shutil.copytree(new, near / new.name, symlinks=True)
                    return put_folder(near / new.name, home, small=small, copied=True)
            if error.errno != errno.ENOTEMPTY:
                raise
            failed = error
        if not os.path.lexists(new):
            break
    raise failed


def _exchange(one: Path, other: Path) -> bool:
    """Let two folders change places, so that there is no moment without either; whether this system can."""
    try:
        system = ctypes.CDLL(None, use_errno=True)
        a, b = os.fsencode(one), os.fsencode(other)
        if sys.platform == "darwin":
            call, given = system.renamex_np, (a, b, ctypes.c_uint(2))
        else:
            call, given = system.renameat2, (-100, a, -100, b, ctypes.c_uint(2))
    except (OSError, TypeError, AttributeError):
        return False
    sys.audit("os.rename", str(one), str(other), -1, -1)
    if call(*given) == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP):
        return False
    raise OSError(code, os.strerror(code), str(one), None, str(other))


def _exchange_in_two(new: Path, home: Path) -> bool:
    old = set_aside(home)
    with undisturbed():
        os.rename(home, old)
        try:
            os.rename(new, home)
        except BaseException:
            os.rename(old, home)
            raise
        os.rename(old, new)
    return True


def set_aside(home: Path) -> Path:
    """Where an exchange in two strokes leaves what stood in a place, for a moment."""
    return home.parent / f".{home.name}-old"


def mend(home: Path) -> Path | None:
    """Put back what an exchange that was cut short left aside; what stands aside for nothing any more, if that is so."""
    old = set_aside(home)
    if not old.is_dir() or old.is_symlink():
        return None
    if os.path.lexists(home):
        return old
    os.rename(old, home)
    return None


def real(path: Path) -> Path:
    """Where a path leads, links followed as far as they lead anywhere; one that leads back to itself is left as it is."""
    return Path(os.path.realpath(path))


def nearest(folder: Path) -> Path:
    """The nearest folder, from this one upward, that is there."""
    while not folder.is_dir() and folder.parent != folder:
        folder = folder.parent
    return folder
