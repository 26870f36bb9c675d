"""All records as an index in parts, each a script that hands its data to the page's own (a page from a folder on disk may load scripts, and nothing else).

- `map.js`: what there is: which part begins with which term, where each document lies, the table of words;
- `t-….js`: terms in their order, each with where it stands;
- `w-….js`: every word that is no number, for what was typed with a slip, and what is asked of one that denies;
- `d-….js`: a document: what a result shows of a kit, or of a page.

Parts are called by a digest of what is in them, so that no part is ever taken for one of another build: only the map has to be asked for anew.

An entry says by field in which documents a term stands: the field's letter, then for each document
its number in two digits (three where there are many) and the place's; fields are parted by a bar. A
star before it all: it stands in most documents, and where it is mere prose is left out.
"""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from kitwright.archive.called import call
from kitwright.archive.search import tokens
from kitwright.archive.search.record import BESIDE, BREAK, DIGITS, PROSE, Record
from kitwright.release.codes import ALPHABET, DATA, GROUP, ROOT
from kitwright.telling import searching

FOLDER = "search"
"""In the site."""
MAP = f"{FOLDER}/map.js"
CALL = "kitwrightFound"
"""The page's function that takes a part."""
PART = 24_000
"""Letters after which a part of the terms is full."""
MANY = 64
"""From as many documents on, prose that more than half of them share is left out."""
NAME = 8
"""Letters of a part's name: forty bits."""
_WORD = re.compile(r"[^\W\d_]{3,}")
"""What a slip may be mended to."""
_LETTERS = "abcdefghijkmnpqrstuvwxyz23456789"


@dataclass(frozen=True)
class Ways:
    """Where the search leads besides what it finds."""

    pages: tuple[tuple[str, str], ...] = ()
    """What an empty box offers: a page's address from the top of the site, and what it is called."""
    copies: tuple[str, str] | None = None
    """The page on which a copy's code is looked up, likewise."""


def index_files(records: Iterable[Record], many: int, ways: Ways = Ways()) -> dict[str, bytes]:
    """The files of the index, by their path in the site; none where there is nothing to find.

    Args:
        records: pages without a kit first, then kits, oldest first, so that a new one changes no number. Each is let go
            when it is laid out.
        many: how many there are at most.
        ways: where else it leads.
    """
    index = _Index(2 if many <= len(DIGITS) ** 2 else 3)
    for record in records:
        index.add(record)
    return index.written(ways) if index.documents else {}


class _Index:
    """Records on their way into an index. Of each only what its files hold is kept."""

    def __init__(self, width: int) -> None:
        self.width = width
        self.files: dict[str, bytes] = {}
        self.documents: list[str] = []
        """What their parts are called."""
        self.weights: list[float] = []
        self.found: dict[str, bytearray] = {}
        """By term and field: in which documents, in their order, and at which place."""
        self.sizes: Counter[str] = Counter()
        self.tags: Counter[str] = Counter()

    def add(self, record: Record) -> None:
        """Lay a record out."""
        n, many = len(self.documents), len(DIGITS)
        self.documents.append(_put(self.files, "d", _document(record)))
        if not record.when:
            self.weights.append(float(record.weight))
        self.sizes.update([record.card] if record.card else ())
        self.tags.update(record.tags)
        number = "".join(DIGITS[n // many**place % many] for place in reversed(range(self.width)))
        where = {digit: (number + digit).encode() for digit in DIGITS}
        found = self.found
        for key, digit in record.terms.items():
            if key in found:
                found[key] += where[digit]
            else:
                found[key] = bytearray(where[digit])

    def written(self, ways: Ways) -> dict[str, bytes]:
        """All files, the map last."""
        begins, names = [], []
        words = {term for key in self.found for term in (key.partition(BREAK)[0],) if _WORD.fullmatch(term)}
        for part in _parts(self.found, len(self.documents) // 2 * (self.width + 1) if len(self.documents) >= MANY else 0):
            begins.append(next(iter(part)))
            names.append(_put(self.files, "t", part))
        said = {
            "documents": "".join(self.documents),
            "weights": self.weights,
            "width": self.width,
            "digits": DIGITS,
            "begins": begins,
            "parts": "".join(names),
            "name": NAME,
            "words": searching.table(),
            "every": _put(
                self.files,
                "w",
                {"words": " ".join(sorted(words)), "told": " ".join(sorted(_always_told())), **searching.table_of_denying()},
            ),
            "ways": [list(way) for way in ways.pages],
            "copies": {
                "path": ways.copies[0],
                "title": ways.copies[1],
                "alphabet": ALPHABET,
                "root": ROOT,
                "length": DATA + 1,
                "group": GROUP,
            }
            if ways.copies
            else None,
            "offers": [_most(self.sizes, 1), _most(self.tags, 2)],
        }
        self.files[MAP] = call(CALL, said)
        return self.files


def _document(record: Record) -> list[object]:
    """What a result shows. Places below a page are told by what differs from the page's own address."""
    folder = record.path.rpartition("/")[0]
    small, start = record.thumbnail, f"{folder}/" if folder else ""
    return [
        record.title,
        record.path,
        record.when,
        list(record.line),
        [small.src.removeprefix(start), small.width, small.height] if small else 0,
        [[address.removeprefix(start), label] for address, label in record.places],
    ]


def _parts(found: Mapping[str, bytearray], most: int) -> Iterator[dict[str, str]]:
    """Terms with their entries, a part at a time; prose that takes more letters than `most` is left out.

    A part ends where it is full, sooner where terms begin to begin otherwise: the ends then mostly stay where they are
    when a kit is added, and what begins alike mostly stands in one part.
    """
    part: dict[str, str] = {}
    size = 0
    for term, entry in _terms(found, most):
        if part and (size > PART or size > PART // 4 and term[:2] != _last(part)[:2]):
            yield part
            part, size = {}, 0
        part[term] = entry
        size += len(term) + len(entry) + 6
    if part:
        yield part


def _last(part: dict[str, str]) -> str:
    return next(reversed(part))


def _terms(found: Mapping[str, bytearray], most: int) -> Iterator[tuple[str, str]]:
    """Each term with its whole entry, in their order."""
    for term, keys in groupby(sorted(found), lambda key: key.partition(BREAK)[0]):
        yield term, _entry([key[-1] + found[key].decode() for key in keys], most)


def _entry(told: list[str], most: int) -> str:
    mere = [one for one in told if one[0] in (PROSE, BESIDE)]
    if most and mere and sum(map(len, told)) > most:
        return "*" + "|".join(one for one in told if one not in mere)
    return "|".join(told)


def _always_told() -> set[str]:
    """The words of what is known of every kit, but for those that say no more than that it is a part of one."""
    said = {term for words in searching.ALWAYS_TOLD for term in tokens.tokens(words)}
    return said - searching.COMMON - searching.COUNTED - searching.OF_ANY_CARD


OFFERED = 6
"""Of each kind."""


def _most(counted: Counter[str], least: int) -> list[str]:
    """What an empty box offers to begin with: what most kits have, the sizes of their cards, and the tags that several share."""
    return [said for said, n in sorted(counted.items(), key=lambda one: (-one[1], one[0])) if n >= least][:OFFERED]


def _put(files: dict[str, bytes], kind: str, data: object) -> str:
    """Add a part to the files; its name."""
    script, n = call(CALL, data), 0
    while True:
        digest = hashlib.sha256(script + b"%d" % n).digest()
        name = "".join(_LETTERS[byte % len(_LETTERS)] for byte in digest[:NAME])
        file = f"{FOLDER}/{kind}-{name}.js"
        if files.setdefault(file, script) == script:
            return name
        n += 1
