"""What is wrong between the brackets or quotes of an entry that can't be read: a sign, a quote, a comma, a bracket.

The library that parses YAML tells such a slip in words of its own, often lines further down.
Here the brackets of one entry are read again, character by character, up to the first slip.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from kitwright.errors import Place, UserError

_OPENS = re.compile(r"""[ \t]*(?:- +)*(?:[^\s:#"'\[\]{},][^:#"'\[\]{}]*:[ ]+)?(?=[\[{"'])""")
"""What stands before a bracket or a quote with which a value begins."""
_TEXT_BELOW = re.compile(r"(?:^|[ :-])[|>][+-]?\d?[ ]*$")
"""The end of a line whose words stand below it, where a bracket is one of their characters."""
PAIRS = {"[": "]", "{": "}"}
"""What closes what."""
_SIGNS = "@`*&!%|>"
"""With these no word begins."""


@dataclass
class _Slip(Exception):
    """The first one found."""

    at: int
    """Where in the text."""
    code: str
    values: dict[str, str | bool] = field(default_factory=dict)


def slip_in_brackets(part: list[str], before: int, shown: Path) -> UserError | None:
    """The first slip between brackets of an entry that is no YAML; None where none is found.

    Args:
        part: lines of the entry.
        before: how many lines of the file stand above it.
        shown: the file, for the error.
    """
    text = "\n".join(part)
    try:
        for begin in _beginnings(part):
            _Reader(text, begin).read()
    except _Slip as slip:
        line = before + text.count("\n", 0, slip.at) + 1
        return UserError(slip.code, place=Place(shown, line), **slip.values)
    return None


def _beginnings(part: list[str]) -> Iterator[int]:
    """Where in the text a value begins with a bracket or a quote, outside of words that stand below their entry."""
    at, words = 0, -1
    for line in part:
        indent = len(line) - len(line.lstrip(" "))
        if line.strip() and indent <= words:
            words = -1
        if words < 0:
            if found := _OPENS.match(line):
                yield at + found.end()
            if _TEXT_BELOW.search(line):
                words = indent
        at += len(line) + 1


class _Reader:
    """One value in brackets or quotes, up to its last one or the end of the entry."""

    def __init__(self, text: str, at: int) -> None:
        self.text, self.at = text, at
        self.open: list[int] = []
        """Where brackets stand that are not closed yet."""
        self.note = ""
        """The first note between them that has a bracket in it."""

    def read(self) -> None:
        """Read it.

        Raises:
            _Slip: it can't be.
        """
        if self.text[self.at] in "\"'":
            self._words("")
            return
        entry, colon = "", False
        # `entry` is what was read since the last comma or bracket, `colon` whether a colon was among it.
        while (sign := self._next()) or self.open:
            if not sign:
                raise self._never_closed(self.open[-1])
            if sign in PAIRS:
                if entry.rstrip(": "):
                    self._no_comma(sign)
                self.open.append(self.at)
                self.at, entry, colon = self.at + 1, "", False
            elif sign in PAIRS.values():
                self._close(sign)
                if not self.open:
                    break
                entry, colon = sign, False
            elif sign == ",":
                if not entry:
                    raise _Slip(self.at, "yaml.comma-twice")
                self.at, entry, colon = self.at + 1, "", False
            elif sign == ":" and entry and self._ends_name():
                if colon:
                    raise _Slip(self.at, "yaml.colon-in-brackets", {"words": entry})
                # What follows the colon begins anew, and is none of it the name.
                self.at, entry, colon = self.at + 1, ":", True
            else:
                entry = f"{entry} {self._words(entry)}" if entry not in ("", ":") else self._words(entry)
        after = self.text[self.at : self.text.find("\n", self.at) if "\n" in self.text[self.at :] else None].strip()
        if after[:1] in PAIRS.values() and after:
            raise _Slip(self.at, "yaml.bracket-too-many", {"bracket": after[0]})

    def _next(self) -> str:
        """The next character that is no space and no note; empty at the end."""
        while self.at < len(self.text):
            if self.text[self.at] == "#" and self.text[self.at - 1].isspace():
                end = self.text.find("\n", self.at)
                note = self.text[self.at : end if end >= 0 else None]
                if not self.note and any(each in note for each in PAIRS.values()):
                    self.note = note.rstrip()
                self.at += len(note)
            elif self.text[self.at].isspace():
                self.at += 1
            else:
                return self.text[self.at]
        return ""

    def _ends_name(self) -> bool:
        """Whether the colon here ends a name."""
        return self.text[self.at + 1 : self.at + 2] in ("", " ", "\n", ",", "[", "]", "{", "}") or self.text[self.at - 1] in "\"'"

    def _close(self, sign: str) -> None:
        begin = self.text[self.open[-1]]
        if sign != PAIRS[begin]:
            raise _Slip(self.at, "yaml.bracket-other", {"opened": begin, "closed": sign, "right": PAIRS[begin]})
        self.open.pop()
        self.at += 1

    def _no_comma(self, sign: str) -> None:
        """A bracket right behind words: on a later line, the one before it was not closed."""
        begin = self.open[-1]
        if "\n" in self.text[begin : self.at]:
            raise self._never_closed(begin)
        raise _Slip(self.at, "yaml.no-comma", {"before": sign})

    def _never_closed(self, begin: int) -> _Slip:
        return _Slip(begin, "yaml.bracket-open", {"bracket": self.text[begin], "note": self.note})

    def _words(self, entry: str) -> str:
        """Words up to the next comma, bracket or colon."""
        begin, first = self.at, self.text[self.at]
        first_of_all = entry in ("", ":")
        if first_of_all and first in _SIGNS:
            raise _Slip(begin, "yaml.sign-in-brackets", {"sign": first, "words": self._to_the_comma(begin)})
        if first_of_all and first in "\"'":
            found = re.compile(r'"(?:[^"\\]|\\.)*"' if first == '"' else r"'(?:[^']|'')*'", re.DOTALL).match(self.text, begin)
            if not found:
                raise _Slip(begin, "yaml.quote-open", {"quote": first, "words": self._to_the_comma(begin)})
            self.at = found.end()
            rest = re.compile(r"[ ]*([^\s,:\[\]{}#])").match(self.text, self.at)
            if rest:
                raise _Slip(begin, "yaml.quote-ends-early", {"words": self._to_the_comma(begin)})
            return found[0]
        while self.at < len(self.text):
            sign = self.text[self.at]
            if sign in ",[]{}\n" or sign == ":" and self._ends_name() or sign == "#" and self.text[self.at - 1].isspace():
                break
            self.at += 1
        self.at = max(self.at, begin + 1)
        return self.text[begin : self.at].strip()

    def _to_the_comma(self, begin: int) -> str:
        """The words from here on this line, up to a comma or a bracket where there are brackets."""
        found = re.compile(r"[^,\]}\n]+" if self.open else r"[^\n]+").match(self.text, begin)
        return found[0].strip() if found else self.text[begin]
