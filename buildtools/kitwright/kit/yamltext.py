"""YAML as plain text with line numbers.

Every scalar stays the text that was typed, so that `3.25` never turns into a float and
`1/0` reaches the reader of lengths. PyYAML does the parsing; this keeps the places.
"""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal, NamedTuple

import yaml

from kitwright import cache
from kitwright.errors import Place, Slips, UserError
from kitwright.kit.folder import leads_out, read_own
from kitwright.kit.yamlparts import compose

Path_ = tuple[str | int, ...]
_NOTE = re.compile(r"\s*(\S[^#]*:|-)[ ]+(#[^\s#].*?)\s*$")
"""A line on which a note takes the place of the value, its # right before a word: it was meant as one."""
BIGGEST = 100_000
"""Bytes; a spec is a page or two, and whatever stands in this many is read in a second."""
LONGEST_NAME = 200
"""Characters of what stands before a colon."""
DEEPEST = 24
FORCED = "\u202d\u202e"
"""The overrides of direction, which turn whatever comes after them; scripts from the right need neither."""


class Block(NamedTuple):
    """How the entries of a mapping stand in the file."""

    indent: int
    """Spaces before each."""
    flow: bool
    """Whether they stand between braces."""


@dataclass
class Document:
    """One YAML file as read."""

    file: Path
    """The file, as the user knows it."""
    data: dict[str, Any]
    """Mappings, lists and text."""
    lines: dict[Path_, int] = field(default_factory=dict)
    """Line of each entry, counted from 1, by its path from the top."""
    text: tuple[str, ...] = ()
    """The lines as they were typed."""
    blocks: dict[Path_, Block] = field(default_factory=dict)
    """How the entries below each stand, where it has some."""
    slips: list[UserError] = field(default_factory=list)
    """What is wrong with the text itself."""
    broken: set[Path_] = field(default_factory=set)
    """Entries that can't be read, of which the text itself tells."""
    unread: set[str] = field(default_factory=set)
    """Words before a colon in lines that can't be read."""
    fault: Literal["empty", "no names"] | None = None
    """Why there are no entries at all."""

    def place(self, path: Path_) -> Place:
        """Where the entry at `path`, or the nearest thing around it, stands."""
        path = tuple(path)
        while path and path not in self.lines:
            path = path[:-1]
        return Place(self.file, self.lines.get(path, 1))

    def end(self, path: Path_) -> int:
        """The last line of an entry: what is indented deeper belongs to it, blank lines and remarks at its end do not."""
        last, block = self.lines[path], self.blocks.get(path[:-1])
        for number, line in enumerate(self.text[last:], last + 1):
            entry = line.lstrip()
            if not entry or entry.startswith("#"):
                continue
            deeper = len(line) - len(entry) - (block.indent if block else 0)
            if deeper < 0 or deeper == 0 and not entry.startswith(("- ", "}", "]")):
                break
            last = number
        return last


def read_text(file: Path, shown: Path) -> str:
    """A text file, as UTF-8.

    Raises:
        UserError: missing, a folder, unreadable, too long, or not UTF-8.
    """
    place = Place(shown)
    if file.is_dir():
        raise UserError("files.a-folder", place=place, name=file.name)
    try:
        if file.exists() and not file.is_file():
            # A device or a pipe may never end.
            raise UserError("files.no-ordinary-text", place=place, name=file.name)
        if leads_out(file, file.parent):
            raise UserError("files.a-link", place=place, name=file.name)
        raw = read_own(file, BIGGEST)
    except FileNotFoundError:
        raise UserError("files.none", place=place) from None
    except OverflowError:
        raise UserError("files.too-long", place=place) from None
    except (OSError, RuntimeError) as error:
        # A link that leads back to itself is a RuntimeError to some Pythons.
        raise UserError("files.unreadable-text", place=place, why=getattr(error, "strerror", None)) from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise UserError("files.no-utf-8", place=Place(shown, line)) from None


def read_yaml(file: Path, shown: Path | None = None) -> Document:
    """Read one YAML file whose top level is a mapping.

    Raises:
        UserError: unreadable, not YAML, a key given twice, or not a mapping.
    """
    document, slips = look_at(file, shown), Slips()
    for one in document.slips:
        slips.add(one)
    if document.fault == "empty":
        slips.add(UserError("yaml.empty", place=document.place(())))
    if document.fault == "no names":
        slips.add(UserError("yaml.no-names", place=document.place(())))
    slips.stop()
    return document


def look_at(file: Path, shown: Path | None = None) -> Document:
    """Read one YAML file as far as it can be read; what is wrong with its text is noted in the document.

    Raises:
        UserError: unreadable as a whole.
    """
    shown = shown or file
    text = read_text(file, shown)
    key = cache.digest(text, shown)
    found = cache.known("yaml", key)
    if isinstance(found, Document):
        return found
    document = _looked_at(text, shown)
    if not document.slips:
        cache.note("yaml", key, document)
    return document


def _looked_at(text: str, shown: Path) -> Document:
    slips, document = Slips(), Document(shown, {})
    try:
        composed = compose(text, shown, slips)
        document.broken, document.unread = set(composed.broken), composed.unread
        document.text = tuple(text.split("\n"))
        data = _plain(composed.node, (), document, set(), slips) if composed.node is not None else None
    except RecursionError:
        raise UserError("yaml.too-deep", place=Place(shown, _deepest(text))) from None
    if isinstance(data, dict):
        document.data = data
    elif not document.broken:
        document.fault = "no names" if data is not None else "empty"
    document.slips = slips.errors
    return document


def _deepest(text: str) -> int:
    """The line on which most brackets open."""
    opened = [line.count("[") + line.count("{") for line in text.split("\n")]
    return opened.index(max(opened)) + 1


def text_only(text: str, place: Place) -> None:
    """Refuse what no page can show: control characters, and marks that force the direction of all that follows.

    YAML itself refuses most of them as they are, but not when they are written with a backslash.

    Raises:
        UserError: one of them is there.
    """
    for character in text:
        category = unicodedata.category(character)
        # Half a character, or what Unicode keeps for no character: neither can be written into a page or a feed.
        if (
            category == "Cs"
            or category == "Cn"
            and ord(character) & 0xFFFE == 0xFFFE
            or category == "Cc"
            and character not in "\t\n\r\x85"
            or character in FORCED
        ):
            raise UserError("yaml.odd-character", place=place, character=character)


def _plain(node: yaml.Node, path: Path_, document: Document, seen: set[int], slips: Slips) -> Any:
    """A node as mappings, lists and text; what is wrong with it is noted, and what can still be read is."""
    line = node.start_mark.line + 1
    document.lines.setdefault(path, line)
    place = Place(document.file, line)
    if len(path) > DEEPEST:
        raise UserError("yaml.too-deep", place=place)
    if isinstance(node, yaml.ScalarNode):
        empty = node.style is None and node.value in ("", "~", "null")
        before = len(slips.errors)
        if empty and not node.value and line <= len(document.text) and (note := _NOTE.match(document.text[line - 1])):
            quoted = json.dumps(note[2], ensure_ascii=False)
            slips.add(UserError("yaml.only-a-note", place=place, line=f"{note[1]} {quoted}"))
        slips.trying(text_only, node.value, place)
        if len(slips.errors) > before:
            document.broken.add(path)
        return None if empty else node.value
    # An alias makes one node stand in two places; a chain of them can grow without end.
    if id(node) in seen:
        slips.add(UserError("yaml.alias", place=place))
        document.broken.add(path)
        return None
    seen.add(id(node))
    assert isinstance(node, yaml.CollectionNode)
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, (*path, i), document, seen, slips) for i, item in enumerate(node.value)]
    found: dict[str, Any] = {}
    if node.value:
        document.blocks[path] = Block(node.value[0][0].start_mark.column, bool(node.flow_style))
    for key_node, value_node in node.value:
        key_line = key_node.start_mark.line + 1
        key_place = Place(document.file, key_line)
        if not isinstance(key_node, yaml.ScalarNode):
            slips.add(UserError("yaml.odd-name", place=key_place))
            continue
        key = key_node.value
        if len(key) > LONGEST_NAME or "\n" in key:
            slips.add(UserError("yaml.long-name", place=key_place))
            continue
        before = len(slips.errors)
        slips.trying(text_only, key, key_place)
        if len(slips.errors) > before:
            continue
        if key in found:
            slips.add(UserError("yaml.twice", place=key_place, key=key, first=document.lines[(*path, key)]))
            continue
        document.lines[(*path, key)] = key_line
        found[key] = _plain(value_node, (*path, key), document, seen, slips)
    return found
