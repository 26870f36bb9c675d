"""Look for words in every byte of a built site: names of files, pages, pictures, PDFs, packed files."""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import re
import zipfile
from collections.abc import Iterable, Iterator
from html import escape, unescape
from pathlib import Path
from urllib.parse import quote

import pypdf
import pypdfium2
from PIL import Image

_READ: dict[tuple[str, bytes], list[str]] = {}


def _read_once(file: Path) -> list[str]:
    """The readings of a file; many sites hold the same ones, and a PDF takes its time."""
    data = file.read_bytes()
    key = file.suffix if file.suffix != ".js" else file.name, hashlib.sha256(data).digest()
    if key not in _READ:
        _READ[key] = list(dict.fromkeys(readings(file.name, data)))
    return _READ[key]


def readings(name: str, data: bytes) -> Iterator[str]:
    """Everything that a file says, in every way that it may say it; small letters, blanks as one."""
    yield _plain(data.decode("utf-8", "replace"))
    if name.endswith(".html"):
        yield _plain(re.sub(r"<[^>]*>", "", unescape(data.decode("utf-8", "replace"))))
    if name.endswith((".json", "index.js")):
        text = data.decode("utf-8")
        yield _plain(json.dumps(json.loads(text[text.index("{") :]), ensure_ascii=False))
        yield _plain(re.sub(r"<[^>]*>", "", unescape(json.dumps(json.loads(text[text.index("{") :]), ensure_ascii=False))))
    if name.endswith(".ics"):
        # A line may be folded inside a word, and commas are escaped (RFC 5545, sections 3.1 and 3.3.11).
        yield _plain(re.sub(r"\\([\\;,])", r"\1", re.sub(r"\r?\n[ \t]", "", data.decode("utf-8"))))
    if name.endswith(".gz"):
        yield from readings(name[:-3], gzip.decompress(data))
    if name.endswith(".zip"):
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            for inside in packed.namelist():
                yield _plain(inside)
                yield from readings(inside, packed.read(inside))
    if name.endswith((".png", ".jpg", ".jpeg")) and len(data) > 100:
        with Image.open(io.BytesIO(data)) as picture:
            yield _plain(str(picture.info))
    if data.startswith(b"%PDF") and len(data) > 200:
        yield from _pdf(data)


def pdf_pages(data: bytes) -> list[str]:
    """The text of each page."""
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pypdfium2.PdfDocument(io.BytesIO(data))]


def _pdf(data: bytes) -> Iterator[str]:
    """The text of its pages, and every object with every stream unpacked: metadata, bookmarks, structure, alternate texts."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    yield _plain(" ".join(pdf_pages(data)))
    yield _plain(str(reader.metadata))
    for number in range(1, int(reader.trailer["/Size"])):
        try:
            found = reader.get_object(pypdf.generic.IndirectObject(number, 0, reader))
        except (pypdf.errors.PdfReadError, KeyError):
            continue
        yield _plain(str(found))
        if isinstance(found, pypdf.generic.StreamObject):
            raw = found.get_data()
            yield _plain(raw.decode("utf-8", "replace"))
            yield _plain(raw.decode("utf-16-be", "replace"))


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()


def found_in(site: Path, words: Iterable[str]) -> dict[str, set[str]]:
    """Where each word stands: word → files, named from the top of the site."""
    spellings = {
        word: {_plain(s) for s in (word, escape(word), quote(word), json.dumps(word)[1:-1], word.replace(" ", "_"), word.replace(" ", "-"))}
        for word in words
    }
    found: dict[str, set[str]] = {word: set() for word in spellings}
    for file in sorted(f for f in site.rglob("*") if f.is_file()):
        name = file.relative_to(site).as_posix()
        said = [_plain(name), *_read_once(file)]
        for word, ways in spellings.items():
            if any(way in text for way in ways for text in said):
                found[word].add(name)
    return found


def nowhere(site: Path, words: Iterable[str]) -> list[str]:
    """Words that stand somewhere after all, with a file; empty when all is well."""
    return [f"{word}: {sorted(files)[0]}" for word, files in found_in(site, words).items() if files]
