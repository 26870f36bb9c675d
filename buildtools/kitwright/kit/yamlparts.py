"""YAML of which a part is broken: what can still be read of it, so that one slip hides no other.

A parser stops at the first thing it can't take. Here the text is then taken apart at its own
entries, and what is broken in one of them leaves the others as they are.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from kitwright.errors import MOST_TOLD, Place, Slips, UserError
from kitwright.kit.brackets import slip_in_brackets

_TABBED = re.compile(r"^([ \t]*\t[ \t]*)(?=\S)|(?<=[:,\-{\[])[ ]*\t[ \t]*(?=[^\s#])", re.MULTILINE)
"""Tabs where YAML takes none: before an entry, or right before its value."""
_WORD = re.compile(r"""^[ \t]*(?:- +)*["']?([^\s"'#:{}\[\],-][^"'#:{}\[\],]*?)["']?[ \t]*:(?=\s|$)""")
"""What stands before the colon of a line."""
_WORDS_WITH_COLON = re.compile(r"([^:#]+:)[ ]+(?=[^\s\"'\[{>|&*!%@`#])(.*?(?=:(?: |$))(:).*)")
"""An entry whose words hold a colon that YAML takes for one more entry's."""
_SIGN_FIRST = re.compile(r"""((?:[ ]*- +)*(?:[^\s:#"'\[\]{},>|&*!%@`-][^:#"'\[\]{}]*:[ ]+)?)([@`*&!%|>'"\[{?-].*?)(?:\s+\#\s.*|\s*)$""")
"""An entry whose words begin with a sign that YAML reads for itself."""
_WORDS_AFTER = re.compile(r"""\[[^\]]*\]\s*\w|\{[^}]*\}\s*\w|"[^"]*"\s*\w|[^\["{]""")
"""Where it is a bracket or a quote, it is closed before the words end; else it only lacks its end."""
_ENTRY = re.compile(r"[^\s#\-%]|-\S")
"""How a line begins that begins an entry of its own."""
_BLOCK = re.compile(r":(?:\s+#.*|\s*)$")
"""How a line ends below which more stands, with a note behind the colon or none."""
_WIDTHS = (2, 4, 8)
"""Spaces that a tab may have stood for."""
LEVELS = 6
"""How deep a broken entry is taken apart; each level is read anew."""
_BARE_COLOUR = re.compile(r"[:,\[{][ ]*(?<=[ \[])(#[0-9A-Fa-f]{6})(?![0-9A-Za-z])")
"""A colour that no quotes hold together."""
LONG = 20_000
"""Characters of a text that is longer than a spec should be."""


@dataclass
class Composed:
    """A text as nodes, as far as it can be read."""

    node: yaml.Node | None
    """The top; None where there is nothing."""
    broken: list[tuple[str, ...]] = field(default_factory=list)
    """Paths of entries that can't be read."""
    unread: set[str] = field(default_factory=set)
    """Words before a colon in lines that can't be read: they are there, and none is missing."""


def compose(text: str, shown: Path, slips: Slips) -> Composed:
    """A text as nodes; whatever can't be read is noted, and the rest is read.

    Raises:
        RecursionError: it is nested far too deeply.
    """
    text = _without_odd(text, shown, slips)
    try:
        return Composed(_whole(text))
    except yaml.MarkedYAMLError as error:
        first = error
    tabs = _Tabs(text, shown, slips)
    if tabs.blamed(first):
        try:
            return Composed(tabs.whole(text))
        except yaml.MarkedYAMLError:
            text = _spaced(text, _WIDTHS[0])
    if re.search(r"^(?:---|\.\.\.)", text, re.MULTILINE):
        # More than one document: no entry of the file is to blame alone.
        if not tabs.told:
            slips.add(_told(first, shown))
        return Composed(None, unread=_words(text.split("\n")), broken=[()])
    made, before = Composed(None), len(slips.errors)
    made.node = _parts(text.split("\n"), 0, (), shown, slips, made, tabs)
    if made.node is None:
        made.broken.append(())
    if len(slips.errors) == before and not tabs.told:
        # It is no entry's own fault.
        slips.add(_told(first, shown))
    return made


class _Tabs:
    """Tabs where YAML takes none: told once for a file, and read as spaces."""

    def __init__(self, text: str, shown: Path, slips: Slips) -> None:
        found = (text.count("\n", 0, each.start()) + 1 for each in _TABBED.finditer(text)) if "\t" in text else ()
        self.lines = tuple(dict.fromkeys(found))
        self.told = False
        self._shown, self._slips = shown, slips

    def blamed(self, error: yaml.MarkedYAMLError) -> bool:
        """Whether a tab is to blame for an error, which is then told."""
        if _line(error) not in self.lines:
            return False
        if not self.told:
            self.told = True
            self._slips.add(UserError("yaml.tabs", place=Place(self._shown, self.lines[0]), lines=self.lines))
        return True

    def whole(self, text: str, before: int = 0) -> yaml.Node | None:
        """A text as one node, with as many spaces for a tab as make it one.

        Raises:
            MarkedYAMLError: none do.
        """
        # A long text is tried once: it is broken by more than the width of a tab.
        *widths, last = _WIDTHS if len(text) < LONG else _WIDTHS[:1]
        for width in widths:
            try:
                return _whole(_spaced(text, width), before)
            except yaml.MarkedYAMLError:
                continue
        return _whole(_spaced(text, last), before)


def _spaced(text: str, width: int) -> str:
    """Text with spaces for the tabs that YAML does not take."""
    return _TABBED.sub(lambda found: found[0].replace("\t", " " * width), text)


def _whole(text: str, before: int = 0) -> yaml.Node | None:
    """A text as one node; `before`: how many lines of the file stand above it."""
    loader = _Loader(text)
    loader.line = before
    try:
        node: yaml.Node | None = loader.get_single_node()
        loader.all_counted()
        return node
    except (ValueError, OverflowError):
        # The reader takes any eight digits behind a backslash, and only then asks which character that is.
        raise yaml.MarkedYAMLError(problem="no such character", problem_mark=loader.get_mark()) from None
    finally:
        loader.dispose()


class _Loader(yaml.SafeLoader):
    """YAML in which no word is lost: what `&` or `!` begins is no text to it, and so would go unseen."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self._named: dict[str, yaml.Mark] = {}

    def compose_node(self, parent: yaml.Node | None, index: int) -> yaml.Node | None:
        event: Any = self.peek_event()
        alias, words = isinstance(event, yaml.AliasEvent), isinstance(event, yaml.ScalarEvent)
        if alias:
            self._named.pop(event.anchor, None)
        elif words and event.anchor is not None:
            self._named[event.anchor] = event.start_mark
        if words and (event.tag or "").startswith("!"):
            raise yaml.MarkedYAMLError(problem="a word begins with !", problem_mark=event.start_mark)
        return super().compose_node(parent, index)

    def all_counted(self) -> None:
        """Refuse a name (`&name`) of some words that nothing refers to.

        Raises:
            MarkedYAMLError: there is one.
        """
        if self._named:
            raise yaml.MarkedYAMLError(problem="a word begins with &", problem_mark=next(iter(self._named.values())))


def _line(error: yaml.MarkedYAMLError) -> int | None:
    mark = error.problem_mark or error.context_mark
    return mark.line + 1 if mark else None


def _told(error: yaml.MarkedYAMLError, shown: Path) -> UserError:
    return UserError("yaml.unreadable", place=Place(shown, _line(error)), why=error.problem or error.context)


def _slip_of(part: list[str], before: int, error: yaml.MarkedYAMLError, shown: Path) -> UserError | None:
    """A usual slip in an entry that can't be read, if there is one; `before`: how many lines of the file stand above it."""
    return (
        _second_colon(part[0], error, shown)
        or _bare_colour(part, before, shown)
        or _sign_first(part, before, shown)
        or slip_in_brackets(part, before, shown)
    )


def _bare_colour(part: list[str], before: int, shown: Path) -> UserError | None:
    """A colour without quotes inside brackets: what follows its # is a note, the closing bracket too."""
    for i, line in enumerate(part):
        if found := _BARE_COLOUR.search(line):
            return UserError("yaml.bare-colour", place=Place(shown, before + i + 1), colour=found[1])
    return None


def _second_colon(line: str, error: yaml.MarkedYAMLError, shown: Path) -> UserError | None:
    """What is wrong with a line in whose words a colon stands, if that is it: the commonest slip of all."""
    found = _WORDS_WITH_COLON.match(line)
    if not found or error.problem_mark is None or error.problem_mark.column != found.start(3):
        return None
    quoted = json.dumps(found[2].rstrip(), ensure_ascii=False)
    return UserError("yaml.second-colon", place=Place(shown, _line(error)), line=f"{found[1].strip()} {quoted}")


def _sign_first(part: list[str], before: int, shown: Path) -> UserError | None:
    """Words that begin with a sign that YAML reads for itself, such as `@home` or `’tis` with a straight apostrophe."""
    found = _SIGN_FIRST.match(part[0])
    if not found or not _WORDS_AFTER.match(found[2]) or any(line.strip() and not line.lstrip().startswith("#") for line in part[1:]):
        return None
    quoted = json.dumps(found[2], ensure_ascii=False)
    return UserError("yaml.sign-first", place=Place(shown, before + 1), sign=found[2][0], line=f"{found[1].strip()} {quoted}")


def _without_odd(text: str, shown: Path, slips: Slips) -> str:
    """The text without characters that YAML refuses, each of which is noted."""
    for found in list(yaml.reader.Reader.NON_PRINTABLE.finditer(text))[:MOST_TOLD]:
        slips.add(UserError("yaml.no-text", place=Place(shown, text[: found.start()].count("\n") + 1)))
    return yaml.reader.Reader.NON_PRINTABLE.sub(" ", text)


def _words(lines: list[str]) -> set[str]:
    return {found[1].strip() for line in lines if (found := _WORD.match(line))}


def _parts(
    lines: list[str], start: int, path: tuple[str, ...], shown: Path, slips: Slips, made: Composed, tabs: _Tabs
) -> yaml.MappingNode | None:
    """The entries of a block, each composed by itself.

    Args:
        lines: of the block.
        start: how many lines of the file come before.
        path: where the block stands.
        shown: the file, for errors.
        slips: where they are noted.
        made: where broken entries are noted.
        tabs: those of the file.
    """
    indents = [len(line) - len(line.lstrip(" ")) for line in lines if line.strip() and not line.lstrip().startswith("#")]
    if not indents:
        return None
    indent = min(indents)
    begins = [i for i, line in enumerate(lines) if line.strip() and line[:indent].isspace() | (indent == 0) and _ENTRY.match(line[indent:])]
    values: list[tuple[yaml.Node, yaml.Node]] = []
    for i, end in zip(begins, [*begins[1:], len(lines)]):
        part = lines[i:end]
        if len(slips.errors) > MOST_TOLD:
            made.unread |= _words(lines[i:])
            break
        try:
            try:
                node = _whole("\n".join(part), start + i)
            except yaml.MarkedYAMLError as error:
                if not tabs.blamed(error):
                    raise
                node = tabs.whole("\n".join(part), start + i)
        except yaml.MarkedYAMLError as error:
            problem = None if _line(error) in tabs.lines else _slip_of(part, start + i, error, shown) or _told(error, shown)
        else:
            if isinstance(node, yaml.MappingNode):
                values += node.value
                continue
            problem = UserError("yaml.no-entry", place=Place(shown, start + i + 1), text=part[0].strip())
            words = part[0].split()
            made.unread |= {" ".join(words[:many]) for many in range(1, 1 + min(3, len(words)))}
        named = _WORD.match(part[0])
        below = None
        if named and _BLOCK.search(part[0]) and len(path) < LEVELS:
            # The entry is a block: what is broken in it is one of its own entries.
            below = _parts(part[1:], start + i + 1, (*path, named[1].strip()), shown, slips, made, tabs)
        if named and below is not None:
            mark = yaml.Mark(str(shown), 0, start + i, indent, None, 0)
            values.append((yaml.ScalarNode("tag:yaml.org,2002:str", named[1].strip(), mark, mark), below))
            continue
        made.unread |= _words(part)
        if named:
            made.broken.append((*path, named[1].strip()))
        if problem:
            slips.add(problem)
    if not values:
        return None
    first, last = values[0][0].start_mark, values[-1][1].end_mark
    return yaml.MappingNode("tag:yaml.org,2002:map", values, first, last, flow_style=False)
