"""Pages as they were filled in from their templates, remembered by everything that they were filled in from.

What a page reads is its template with all that this includes and imports, the club, its own
values, the kits among these by their keys, and of the names of pages and of people only what
was asked: whether a page stands, whether somebody is named.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, field
from functools import cached_property, partial
from hashlib import sha256
from pathlib import Path

from jinja2 import Environment, TemplateError, nodes

from kitwright import cache
from kitwright.archive.listing import Listed
from kitwright.archive.watched import Span
from kitwright.kit.loose import SCHEMA
from kitwright.kit.theme import TEMPLATES, Theme
from kitwright.release.ledger import LEDGER
from kitwright.telling.templates import dynamic_in, named_in

KIND, SEEN = "filled", "seen"
"""What is kept: of a site's pages, all of one site together; of a template what it asks for."""


@dataclass(frozen=True)
class Filled:
    """A page as it was filled in."""

    key: str
    """Digest of all that it was filled in from, answers aside."""
    source: str
    """Digest of its Markdown."""
    head: bytes
    """What it says of itself first, down to the line that ends that."""
    changed: str = ""
    """When it last changed, as it says there; empty where it does not."""
    asked: Mapping[str, Answers] = field(default_factory=dict)
    """What was asked of each set of names meanwhile."""
    span: Span = field(default_factory=Span)
    """For which moments it holds."""


@dataclass(frozen=True)
class Answers:
    """What was asked of a set of names, and answered."""

    there: frozenset[str] = frozenset()
    missing: frozenset[str] = frozenset()
    whole: str = ""
    """A digest of all of it, where more was asked than whether a name is in it."""

    def hold(self, names: Asked) -> bool:
        """Whether the answers would be the same now."""
        return self.there <= names.names and self.missing.isdisjoint(names.names) and self.whole in ("", names.whole)


class Asked(Set[str]):
    """A set of names that notes what is asked of it."""

    def __init__(self, names: Set[str]) -> None:
        self.names = frozenset(names)
        self._asked: set[str] = set()
        self._more = False

    def __contains__(self, name: object) -> bool:
        if isinstance(name, str):
            self._asked.add(str(name))
        return name in self.names

    def __iter__(self) -> Iterator[str]:
        self._more = True
        return iter(self.names)

    def __len__(self) -> int:
        self._more = True
        return len(self.names)

    def answers(self) -> Answers:
        """All that was asked since the last time."""
        asked, more = frozenset(self._asked), self._more
        self._asked, self._more = set(), False
        return Answers(asked & self.names, asked - self.names, self.whole if more else "")

    @cached_property
    def whole(self) -> str:
        """A digest of all of it."""
        return cache.digest(self.names)


def remembered(key: str) -> Mapping[str, Filled]:
    """What is known of a site's pages, by their paths.

    Args:
        key: tells sites apart: of which archive, for whom.
    """
    found = cache.known(KIND, key)
    return found if isinstance(found, dict) else {}


def remember(key: str, pages: Mapping[str, Filled]) -> None:
    """Keep what is known of a site's pages."""
    cache.note(KIND, key, dict(pages))


# --- what goes in -----------------------------------------------------------------------------------


class Unknown(Exception):
    """A value of which nobody can say whether it is the same again."""


def valued(value: object) -> object:
    """A value as it counts in a key, kits by their own keys.

    Raises:
        Unknown: it holds something that no digest is known of.
    """
    if isinstance(value, Listed):
        if not value.listing.key:
            raise Unknown
        return "kit", value.listing.key
    if isinstance(value, Mapping):
        return {name: valued(each) for name, each in value.items()}
    if isinstance(value, (tuple, list)):
        return [valued(each) for each in value]
    try:
        return cache.digest(value)
    except TypeError:
        raise Unknown from None


def club_of(kits: Path) -> str:
    """A digest of what a club says of itself: its file, and the pictures beside that."""
    files = [file for file in sorted(kits.iterdir()) if file.is_file() and not (file.name.startswith(".") or file.name.endswith(SCHEMA))]
    return cache.digest([(file.name, sha256(file.read_bytes()).hexdigest()) for file in files if file.name != LEDGER])


class Closures:
    """What each template is made of: its own text, and that of whatever it includes, imports or extends."""

    def __init__(self, theme: Theme, env: Environment) -> None:
        self._theme, self._env = theme, env
        self._read: dict[str, tuple[str, frozenset[str] | None, bool]] = {}
        self._found: dict[str, tuple[str, bool]] = {}

    def of(self, name: str) -> tuple[str, bool]:
        """A digest of a template with all that it takes in, and whether any of it asks for every kit."""
        if name not in self._found:
            names = self._all_from(name)
            asks = any(self._one(each)[2] for each in names)
            self._found[name] = cache.digest([(each, self._one(each)[0]) for each in sorted(names)]), asks
        return self._found[name]

    def _all_from(self, name: str) -> set[str]:
        found, left = set(), [name]
        while left:
            one = left.pop()
            if one in found:
                continue
            found.add(one)
            named = self._one(one)[1]
            # Where a name is worked out, it may be any.
            left += self._every() if named is None else named
        return found

    def _every(self) -> Iterable[str]:
        return {*self._theme.programs_in(TEMPLATES), *self._theme.hers_in(TEMPLATES)}

    def _one(self, name: str) -> tuple[str, frozenset[str] | None, bool]:
        """A template's text as a digest, the templates that it names (None: any), and whether it asks for every kit."""
        if name not in self._read:
            file, own = self._theme.hers(f"{TEMPLATES}/{name}"), self._theme.program_file(f"{TEMPLATES}/{name}")
            data = file.data if file else own.read_bytes() if own else b""
            digest = cache.digest(data)
            self._read[name] = digest, *cache.value(SEEN, digest, partial(self._seen, data))
        return self._read[name]

    def _seen(self, data: bytes) -> tuple[frozenset[str] | None, bool]:
        try:
            tree = self._env.parse(data.decode())
        except (TemplateError, UnicodeDecodeError, RecursionError):
            return None, True
        named = None if dynamic_in(tree) else frozenset(named_in(tree))
        return named, any(one.name == "made" for one in tree.find_all(nodes.Name))
