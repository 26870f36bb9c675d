"""YAML as plain text with line numbers.

Every scalar stays the text that was typed, so that `3.25` never turns into a float and
`1/0` reaches the reader of lengths. PyYAML does the parsing; this keeps the places.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from kitwright.errors import Place, Slips, UserError
from kitwright.kit.folder import leads_out, read_own

Path_ = tuple[str | int, ...]
BIGGEST = 100_000
"""Bytes; a spec is a page or two, and whatever stands in this many is read in a second."""
LONGEST_NAME = 200
"""Characters of what stands before a colon."""
DEEPEST = 24
FORCED = "\u202d\u202e"
"""The overrides of direction, which turn whatever comes after them; scripts from the right need neither."""


@dataclass
class Document:
    """One YAML file as read."""

    file: Path
    """The file, as the user knows it."""
    data: dict[str, Any]
    """Mappings, lists and text."""
    lines: dict[Path_, int] = field(default_factory=dict)
    """Line of each entry, counted from 1, by its path from the top."""

    def place(self, path: Path_) -> Place:
        """Where the entry at `path`, or the nearest thing around it, stands."""
        path = tuple(path)
        while path and path not in self.lines:
            path = path[:-1]
        return Place(self.file, self.lines.get(path, 1))


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
    shown = shown or file
    text = read_text(file, shown)
    try:
        node = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        where = Place(shown, mark.line + 1 if mark else None)
        raise UserError("yaml.unreadable", place=where, why=error.problem or error.context) from None
    except yaml.reader.ReaderError as error:
        line = text[: error.position].count("\n") + 1
        raise UserError("yaml.no-text", place=Place(shown, line)) from None
    except RecursionError:
        raise UserError("yaml.too-deep", place=Place(shown)) from None
    if node is None:
        raise UserError("yaml.empty", place=Place(shown, 1))
    document, slips = Document(shown, {}), Slips()
    data = _plain(node, (), document, set(), slips)
    slips.stop()
    if not isinstance(data, dict):
        raise UserError("yaml.no-names", place=Place(shown, node.start_mark.line + 1))
    document.data = data
    return document


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
        slips.trying(text_only, node.value, place)
        return None if empty else node.value
    # An alias makes one node stand in two places; a chain of them can grow without end.
    if id(node) in seen:
        slips.add(UserError("yaml.alias", place=place))
        return None
    seen.add(id(node))
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, (*path, i), document, seen, slips) for i, item in enumerate(node.value)]
    found: dict[str, Any] = {}
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
