"""One digest over values, the same on every machine and in every process."""

from __future__ import annotations

import dataclasses
import datetime as dt
import enum
import hashlib
import os
import re
import sys
import zlib
from collections.abc import Callable, Iterable, Mapping, Set
from fractions import Fraction
from functools import cache, lru_cache
from operator import attrgetter
from pathlib import Path, PurePath
from typing import Any
from zoneinfo import ZoneInfo

from kitwright.exact import Exact
from kitwright.units import Length


def digest(*values: object) -> str:
    """A digest of values: 64 hexadecimal digits, of equal values the same and of others, for all that is known, another.

    Values are None, booleans, numbers, text, bytes, fractions, moments, paths, enumerations, classes and
    functions by their name, tuples, lists, mappings in their order, sets in none, data classes and models field
    by field, and whatever has a method `digested`, which gives the values that count. A tuple and a list differ, as do 1 and "1".

    Raises:
        TypeError: a value of another type, which nothing is known of.
    """
    found: list[bytes] = []
    for value in values:
        _lay(value, found.append)
    return hashlib.sha256(b"".join(found)).hexdigest()


def _lay(value: Any, put: Callable[[bytes], object]) -> None:
    """Lay a value out as bytes: a letter for its type, how long it is, and what it is."""
    kind = type(value)
    if kind is Length:
        # Two thirds of what there is: as every other record, told at once.
        terms = b"%d/%d" % (value.inches.numerator, value.inches.denominator)
        put(b"%sq%d:%s" % (_LENGTH, len(terms), terms))
    elif (plain := _PLAIN.get(kind)) is not None:
        mark, data = plain(value)
        put(b"%s%d:%s" % (mark, len(data), data))
    elif kind is tuple or kind is list:
        put(b"%s%d:" % (b"t" if kind is tuple else b"l", len(value)))
        for each in value:
            _lay(each, put)
    elif kind is dict:
        _pairs(b"m", value.items(), len(value), put)
    elif known := _KNOWN.get(kind):
        head, fields = known
        put(head)
        for each in fields(value):
            _lay(each, put)
    else:
        _other(value, put)


_PLAIN: dict[type, Callable[[Any], tuple[bytes, bytes]]] = {
    type(None): lambda value: (b"0", b""),
    bool: lambda value: (b"b", b"1" if value else b""),
    int: lambda value: (b"i", b"%d" % value),
    str: lambda value: (b"s", value.encode("utf-8", "surrogatepass")),
    bytes: lambda value: (b"y", value),
    Fraction: lambda value: (b"q", b"%d/%d" % (value.numerator, value.denominator)),
    Exact: lambda value: (b"q", b"%d/%d" % (value.numerator, value.denominator)),
    float: lambda value: (b"f", value.hex().encode()),
    dt.date: lambda value: (b"d", value.isoformat().encode()),
    dt.time: lambda value: (b"h", value.isoformat().encode()),
    dt.datetime: lambda value: (b"D", f"{value.isoformat()} {value.fold} {value.tzinfo or ''}".encode()),
    dt.timedelta: lambda value: (b"e", f"{value.days} {value.seconds} {value.microseconds}".encode()),
    ZoneInfo: lambda value: (b"z", str(value).encode()),
}


_KNOWN: dict[type, tuple[bytes, Callable[[Any], Iterable[object]]]] = {}
"""How data classes that were met begin, and what gives their fields, so that each is looked at once for what it is."""


def _other(value: Any, put: Callable[[bytes], object]) -> None:
    kind: Any = type(value)
    counted = getattr(value, "digested", None)
    if isinstance(value, type) or callable(value) and hasattr(value, "__qualname__"):
        _named(b"c", value, put)
    elif callable(counted):
        _named(b"o", kind, put)
        _lay(counted(), put)
    elif isinstance(value, enum.Enum):
        _named(b"n", kind, put)
        _lay(value.name, put)
    elif isinstance(value, PurePath):
        data = os.fsencode(value.as_posix())
        put(b"p%d:" % len(data) + data)
    elif isinstance(value, dt.datetime):
        _lay(dt.datetime.combine(value.date(), value.timetz()), put)
    elif dataclasses.is_dataclass(value):
        names = [field.name for field in dataclasses.fields(value)]
        _KNOWN[kind] = _head(b"r", kind.__module__, kind.__qualname__), _fields_of(names)
        _lay(value, put)
    elif hasattr(kind, "__pydantic_fields__"):
        _named(b"r", kind, put)
        private = getattr(value, "__pydantic_private__", None) or {}
        _pairs(b"m", [*value.__dict__.items(), *private.items()], len(value.__dict__) + len(private), put)
    elif isinstance(value, Mapping):
        _pairs(b"m", value.items(), len(value), put)
    elif isinstance(value, Set):
        put(b"u%d:" % len(value))
        for each in sorted(digest(one) for one in value):
            put(each.encode())
    elif isinstance(value, (tuple, str, int)):
        # A subclass counts as what it is, by a name of its own.
        base: Any = next(base for base in (tuple, str, int) if isinstance(value, base))
        _named(b"k", kind, put)
        _lay(base(value), put)
    else:
        raise TypeError(f"no digest of {type(value).__qualname__}")


def _fields_of(names: list[str]) -> Callable[[Any], Iterable[object]]:
    """What gives the fields of a data class, in order."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda value: [getattr(value, name) for name in names]  # of a single name a getter gives no row of fields


def _pairs(mark: bytes, pairs: Iterable[tuple[object, object]], count: int, put: Callable[[bytes], object]) -> None:
    put(b"%s%d:" % (mark, count))
    for name, each in pairs:
        _lay(name, put)
        _lay(each, put)


def _named(mark: bytes, which: Any, put: Callable[[bytes], object]) -> None:
    put(_head(mark, which.__module__, which.__qualname__))


@lru_cache(maxsize=1024)
def _head(mark: bytes, module: str, name: str) -> bytes:
    said = f"{module}.{name}".encode()
    return b"%s%d:" % (mark, len(said)) + said


_LENGTH = _head(b"r", Length.__module__, Length.__qualname__)


# --- our own code ---------------------------------------------------------------------------------

_PACKAGE = Path(__file__).resolve().parent.parent
_INSTALLED = re.compile(r"(.+)\.(?:dist|egg)-info")


@cache
def code() -> str:
    """A digest of the program itself and of what it stands on: each of its files, and every library by its version.

    The theme is no part of it: whatever is made with a file of the theme says so.
    """
    own = [
        (file.relative_to(_PACKAGE).as_posix(), hashlib.sha256(file.read_bytes()).hexdigest())
        for file in sorted(_PACKAGE.rglob("*"))
        if file.is_file() and file.suffix != ".pyc"
    ]
    return digest(own, libraries(), sys.version, sys.platform, zlib.ZLIB_RUNTIME_VERSION)


def libraries() -> list[str]:
    """Every library that is installed here, by name and version, as its folder says them."""
    found = set()
    for place in dict.fromkeys(sys.path):
        try:
            with os.scandir(place or ".") as entries:
                found |= {installed[1] for entry in entries if (installed := _INSTALLED.fullmatch(entry.name))}
        except OSError:
            continue
    return sorted(found)
