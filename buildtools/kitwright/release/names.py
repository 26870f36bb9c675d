"""Find a person in text, in every spelling of her name and key.

A text is looked at in several views: as it stands; with entities, percent signs and escapes
resolved; without markup; with letters folded so that case, accents and the way they are
composed don't count. Each character of a view knows which characters of the text it came
from, so that whatever is found can be replaced where it stands.

Whole names alone are found: “Ada Bell” is not in “Ada Bellamy”, and not in the longer name of
somebody else on file. How the words are joined is kept: `ada_bell.jpg` becomes `a_maker.jpg`.
"""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from kitwright.kit.model import FORGOTTEN


@dataclass(frozen=True)
class Found:
    """A place in a text where somebody is named."""

    start: int
    end: int
    new: str
    """What stands there instead once she is forgotten: `a maker`, joined as her name was."""


@dataclass(frozen=True)
class Named:
    """Whom to look for."""

    name: str
    """The whole name; empty where only the key counts."""
    key: str = ""
    """The key; one without a dash may be a common word, and is not looked for."""


# --- views ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _View:
    text: str
    starts: list[int] | range
    """Where each character begins in the text as it stands."""
    ends: list[int] | range

    def rewritten(self, pattern: re.Pattern[str], new: Callable[[re.Match[str]], Iterable[tuple[str, int, int]]]) -> _View:
        """The view with each match replaced; `new` gives characters with where they came from in this view."""
        text: list[str] = []
        starts: list[int] = []
        ends: list[int] = []
        at = 0
        for match in pattern.finditer(self.text):
            text.append(self.text[at : match.start()])
            starts += self.starts[at : match.start()]
            ends += self.ends[at : match.start()]
            for characters, first, last in new(match):
                if not characters and ends and ends[-1] == self.starts[first]:
                    # What vanishes belongs to the character before it.
                    ends[-1] = self.ends[last - 1]
                text.append(characters)
                starts += [self.starts[first]] * len(characters)
                ends += [self.ends[last - 1]] * len(characters)
            at = match.end()
        text.append(self.text[at:])
        return _View("".join(text), [*starts, *self.starts[at:]], [*ends, *self.ends[at:]])


_CODED = re.compile(
    r"&(?:amp;)*(?P<entity>\#[0-9]{1,7}|\#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});|(?P<percent>(?:%(?:25)*[0-9A-Fa-f]{2})+)"
    r"|\\(?P<escape>u\{[0-9a-fA-F]{1,6}\}|u[0-9a-fA-F]{4}|U[0-9a-fA-F]{8}|x[0-9a-fA-F]{2}|'[0-9a-fA-F]{2}|[nrtNLP_ ]|\r?\n[ \t]*|[-*_'\"`\[\]().!#&~<>])"
)
_QUOTED = re.compile(r"(?P<soft>=\r?\n)|(?P<bytes>(?:=[0-9A-F]{2})+)")
_FOLDED = re.compile(r"\r?\n[ \t]")
_LINE = {"n": "\n", "r": "\n", "t": " ", "N": "\n", "L": "\n", "P": "\n", "_": "_", " ": " "}


def _resolved(view: _View) -> _View:
    """Entities, percent signs and escapes as the characters that they stand for."""
    if "BEGIN:V" in view.text:
        view = view.rewritten(_FOLDED, lambda m: ())
    if "quoted-printable" in view.text.casefold():
        view = view.rewritten(_QUOTED, lambda m: () if m["soft"] else _bytes(m, "bytes", r"="))
    return view.rewritten(_CODED, _character)


def _character(match: re.Match[str]) -> Iterable[tuple[str, int, int]]:
    if match["percent"]:
        return _bytes(match, "percent", r"%(?:25)*")
    if match["entity"]:
        return [(html.unescape(f"&{match['entity']};"), match.start(), match.end())]
    said = match["escape"]
    if said[0] in "uUx'" and len(said) > 1:
        number = int(said[1:].strip("{}"), 16)
        return [(chr(number) if number < 0x110000 else "", match.start(), match.end())]
    return [("\n" if "\n" in said else _LINE.get(said, said), match.start(), match.end())]


def _bytes(match: re.Match[str], group: str, sign: str) -> Iterator[tuple[str, int, int]]:
    """Characters written as bytes, in UTF-8 as far as they are that."""
    units = [
        (int(m[1], 16), m.start(), m.end())
        for m in re.compile(rf"{sign}([0-9A-Fa-f]{{2}})").finditer(match.string, match.start(group), match.end(group))
    ]
    at = 0
    while at < len(units):
        for length in (1, 2, 3, 4):
            part = units[at : at + length]
            try:
                yield bytes(u[0] for u in part).decode("utf-8"), part[0][1], part[-1][2]
                at += length
                break
            except UnicodeDecodeError:
                continue
        else:
            yield chr(units[at][0]), units[at][1], units[at][2]
            at += 1


_MARKUP = re.compile(
    r"(?P<comment><!--.{0,400}?-->)|<(?P<close>/?)(?P<tag>[A-Za-z][A-Za-z0-9:]*)\b[^<>]*>|(?P<linked>\](?:\([^()\n]*(?:\([^()\n]*\)[^()\n]*)*\)|\[[^\]\n]*\])?)|(?P<link>!?\[)"
    r"|(?P<run>\*+|~~|`+|(?<![^\W_])_+|_+(?![^\W_]))",
    re.DOTALL,
)
_INLINE = frozenset("a abbr b bdi bdo cite code del dfn em font i ins kbd mark q s samp small span strike strong sub sup tt u var".split())


def _plain(view: _View) -> _View:
    """The words without markup; what begins a line or a field of its own is a space."""
    return view.rewritten(_MARKUP, lambda m: [(" ", m.start(), m.end())] if m["tag"] and m["tag"].lower() not in _INLINE else ())


_LETTERS = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "ħ": "h", "ŧ": "t", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th", "ŋ": "n"})
_SPELT_OUT = re.compile("[äöüÄÖÜ]|[aouAOU]\u0308|[åÅ]|[aA]\u030a|[øØ]")
_MARKS = re.compile("[\u0300-\u036f\u0591-\u05c7\u064b-\u0652\u0670]")


_BEYOND = re.compile(r"[^\x00-\x7f]+")
_SMALL = {ord(c): c.lower() for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}


@lru_cache(maxsize=4096)
def _fold_one(character: str) -> str:
    if unicodedata.category(character) == "Cf":
        return ""
    plain = _MARKS.sub("", unicodedata.normalize("NFKD", character))
    return _MARKS.sub("", unicodedata.normalize("NFKD", plain.casefold())).translate(_LETTERS)


def _folded(view: _View) -> _View:
    """Letters alone: no case, no accents, nothing invisible."""
    if not view.text.isascii():
        view = view.rewritten(_BEYOND, lambda m: [(_fold_one(c), m.start() + i, m.start() + i + 1) for i, c in enumerate(m[0])])
    return _View(view.text.translate(_SMALL), view.starts, view.ends)


def _spelt_out(view: _View) -> _View:
    """With ä as ae, as some write it."""
    return view.rewritten(
        _SPELT_OUT,
        lambda m: [
            (
                "aa"
                if m[0][0] in "åÅ" or "\u030a" in m[0]
                else unicodedata.normalize("NFD", m[0])[0].replace("ø", "o").replace("Ø", "o") + "e",
                m.start(),
                m.end(),
            )
        ],
    )


def _views(text: str) -> Iterator[tuple[_View, bool]]:
    """Every way to look at a text, each with whether letters are spelt out in it."""
    plain = [_View(text, range(len(text)), range(1, len(text) + 1))]
    if re.search(r"[&%\\]|BEGIN:V|quoted-printable", text, re.IGNORECASE):
        plain.append(_resolved(plain[0]))
    plain += [_plain(view) for view in plain if re.search(r"[*_~`\[<]", view.text)]
    for view in plain:
        yield _folded(view), False
        yield (_folded(_spelt_out(view)), True) if not view.text.isascii() else (_folded(view), True)


# --- names ----------------------------------------------------------------------------------------

WINDOW, MARGIN = 200_000, 2_000
"""Characters that are looked at together, and how far a name with its markup may reach beyond."""
ALONE = "alone"
Words = tuple[tuple[int, int], ...]
"""Where the words of a name begin and end in the text as it stands."""
_BREAK = r"[^\S\n]*\n[^\S\n]*(?:(?:\#|>|//)+[^\S\n]*)?"
_SPACE = rf"(?:{_BREAK}|[^\S\n]+)"
_JOINT = "[-\u2010-\u2015\u2212_.+~]"
_APART = re.compile(r"([\s\-\u2010-\u2015_.'’ʼ`´]+)")
_NO_SPACES = re.compile("[\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af\U00020000-\U0003ffff]")
"""Letters of scripts that are written without spaces, or with endings joined to a name."""


def folded(name: str) -> str:
    """A name as it counts when two are compared: no case, no accents, single spaces."""
    name = " ".join(name.split())
    return _folded(_View(name, range(len(name)), range(1, len(name) + 1))).text


@lru_cache(maxsize=512)
def _pattern(name: str, as_key: bool, spelt_out: bool) -> re.Pattern[str] | None:
    parts = _APART.split(" ".join(name.split()))
    words, between = [p for p in parts[::2] if p], list(parts[1::2])
    if parts[0] == "":
        between = between[1:]
    if not words:
        return None
    made = ""
    for i, word in enumerate(words):
        letters = re.escape(folded(_spelt_out(_View(word, range(len(word)), range(1, len(word) + 1))).text if spelt_out else word))
        if i:
            gap = between[i - 1]
            if as_key:
                made += f"(?:{_JOINT}|(?P<camel{i}>))"
            elif "." in gap or len(words[i - 1]) == 1:
                made += rf"\.?(?:{_SPACE}|{_JOINT}|['’ʼ`´]|)"
            elif gap.strip():
                made += f"(?:{_SPACE}|{_JOINT}|['’ʼ`´]|)"
            else:
                made += f"(?:{_SPACE}|{_JOINT}|(?P<camel{i}>))"
        made += f"(?P<word{i}>{letters})"
    return re.compile(made)


def find(text: str, her: Named, others: Iterable[Named] = (), kept: Iterable[str] = ()) -> list[Found]:
    """Every place where somebody is named whole, in order.

    Args:
        text: any text.
        her: whom to look for.
        others: other people on file, whose longer names stay whole.
        kept: words that stay whole though they hold a name, such as the ids of kits.
    """
    if len(text) > WINDOW * 2:
        return _in_windows(text, lambda part: find(part, her, others, kept))
    spans = _places(text, her)
    if not spans:
        return []
    longer = [(s, e) for other in others for s, e, *_ in _places(text, other)]
    longer += [(m.start(), m.end()) for word in kept for m in re.finditer(re.escape(word), text)]
    found: list[Found] = []
    for start, end, joint, words in sorted(spans, key=lambda s: (s[0], -s[1])):
        if any(s <= start and end <= e and e - s > end - start for s, e in longer):
            continue
        wide, stop, before, after = _balanced(text, start, end, words)
        if found and wide < found[-1].end:
            continue
        if after:
            # An address that stays may name her too.
            after = replaced(after, her, others, kept)
        found.append(Found(wide, stop, before + _joined(text, start, end, joint) + after))
    return found


def _in_windows(text: str, look: Callable[[str], list[Found]]) -> list[Found]:
    """A long text looked at piece by piece, so that memory is bounded; a name that lies across two is found in the one where it begins."""
    found: list[Found] = []
    for at in range(0, len(text), WINDOW):
        first = max(0, at - MARGIN)
        for one in look(text[first : at + WINDOW + MARGIN]):
            if at <= one.start + first < at + WINDOW and (not found or one.start + first >= found[-1].end):
                found.append(Found(one.start + first, one.end + first, one.new))
    return found


def replaced(text: str, her: Named, others: Iterable[Named] = (), kept: Iterable[str] = ()) -> str:
    """A text in which `a maker` stands wherever she was named."""
    new, at = [], 0
    for found in find(text, her, others, kept):
        new += [text[at : found.start], found.new]
        at = found.end
    return "".join([*new, text[at:]])


def find_parts(text: str, name: str) -> list[int]:
    """Where single words of a name stand, written with a capital as a name is: they may mean somebody else."""
    words = {folded(w) for w in name.split() if len(w) > 2 and not w[0].islower()}
    found: set[int] = set()
    for view, spelt_out in _views(text):
        for word in words if not spelt_out else ():
            for match in re.finditer(rf"(?<![^\W\d_]){re.escape(word)}(?![^\W\d_])", view.text):
                start = view.starts[match.start()]
                if not text[start].islower():
                    found.add(start)
    return sorted(found)


def _places(text: str, who: Named) -> set[tuple[int, int, str, Words]]:
    """Start, end, how the words are joined (by a space, by the joint itself, by nothing, or a name of one word), and where each stands."""
    sought = [(who.name, False)] if who.name else []
    if "-" in who.key:
        sought.append((who.key, True))
    found: set[tuple[int, int, str, Words]] = set()
    for view, spelt_out in _views(text):
        for name, as_key in sought:
            pattern = _pattern(name, as_key, spelt_out)
            for match in pattern.finditer(view.text) if pattern else ():
                fit = _fits(text, view, match, name)
                if fit is not None:
                    found.add((view.starts[match.start()], view.ends[match.end() - 1], *fit))
    return found


def _fits(text: str, view: _View, match: re.Match[str], name: str) -> tuple[str, Words] | None:
    """How the words of a match are joined and where each stands; None where it is part of another word or name."""

    def stands(i: int) -> str:
        return text[view.starts[i]]

    words = sorted(match.span(n) for n in match.groupdict() if n.startswith("word"))
    for _n, at in ((n, match.start(n)) for n, said in match.groupdict().items() if n.startswith("camel") and said is not None):
        if not (stands(at).isupper() and stands(at - 1).islower()):
            return None
    gap = view.text[words[0][1] : words[1][0]] if len(words) > 1 else ""
    spaced = len(words) == 1 or any(c.isspace() for c in match[0])
    if len(words) == 1 and stands(match.start()).islower() and name[:1].isupper():
        return None
    before = view.text[match.start() - 1] if match.start() else ""
    after = view.text[match.end()] if match.end() < len(view.text) else ""
    first, last = view.text[match.start()], view.text[match.end() - 1]
    if (
        before.isalpha()
        and not _NO_SPACES.match(first)
        and (spaced or not (stands(match.start()).isupper() and stands(match.start() - 1).islower()))
    ):
        return None
    if (
        after.isalpha()
        and not _NO_SPACES.match(last)
        and (spaced or not (stands(match.end()).isupper() and stands(match.end() - 1).islower()))
    ):
        return None
    if spaced:
        # Of a double-barrelled name she has only a half.
        if re.match(_JOINT, after) and after not in "._+~" and match.end() + 1 < len(view.text) and stands(match.end() + 1).isupper():
            return None
        if re.match(_JOINT, before) and before not in "._+~" and match.start() > 1 and view.text[match.start() - 2].isalpha():
            return None
    joint = ALONE if len(words) == 1 else " " if spaced else gap[:1]
    return joint, tuple((view.starts[s], view.ends[e - 1]) for s, e in words)


def _joined(text: str, start: int, end: int, joint: str) -> str:
    """`a maker`, joined as the name was."""
    first, last = FORGOTTEN.split()
    if joint == "":
        return first.capitalize() + last.capitalize()
    if joint == ALONE:
        in_path = text[start - 1 : start] in tuple("/-_") or re.match(r"[/\-_]|\.\w", text[end : end + 2])
        return f"{first}-{last}" if in_path else FORGOTTEN
    if joint != " ":
        return f"{first}{joint if joint.isascii() and joint not in chr(39) + '`' else '-'}{last}"
    if re.search(r"%(?:25)*(?:20|0[AD]|C2%A0)", text[start:end], re.IGNORECASE):
        return f"{first}%20{last}"
    return FORGOTTEN


# --- markup about a name ----------------------------------------------------------------------------


def _balanced(text: str, start: int, end: int, words: Words) -> tuple[int, int, str, str]:
    """A name with the markup that belongs to it alone; and what of the markup inside must stay, before and after."""
    opened: list[tuple[str, str]] = []
    closed: list[tuple[str, str]] = []
    edges = {end for _, end in words}
    for match in _MARKUP.finditer(text, start, end):
        kind, token = _kind(match), match[0]
        if kind is None:
            continue
        if match.start() in edges:
            # Right behind a word, or behind what is.
            edges.add(match.end())
        within = any(s <= match.start() < e for s, e in words)
        closes = (
            bool(match["linked"] or match["close"])
            or bool(match["run"])
            and (bool(opened and opened[-1][0] == kind) if within else match.start() in edges)
        )
        if not closes:
            opened.append((kind, token))
        elif opened and opened[-1][0] == kind:
            opened.pop()
        else:
            closed.append((kind, token))
    stay_closed, stay_opened = [], []
    for i, (kind, token) in enumerate(closed):
        wide = _opener_before(text, start, kind, token)
        if wide is None:
            stay_closed = closed[i:]
            break
        start = wide
    for i, (kind, token) in enumerate(reversed(opened)):
        wide = _closer_after(text, end, kind, token)
        if wide is None:
            stay_opened = opened[: len(opened) - i]
            break
        end = wide
    while stay_closed and stay_opened and stay_closed[-1][0] == stay_opened[0][0]:
        # Closed and opened again between the words: one stretch, now that there is nothing between.
        stay_closed.pop()
        stay_opened.pop(0)
    return start, end, "".join(t for _, t in stay_opened), "".join(t for _, t in stay_closed)


def _kind(match: re.Match[str]) -> str | None:
    if match["comment"]:
        return None
    if match["tag"]:
        return None if match[0].endswith("/>") or match["tag"].lower() in ("br", "wbr", "hr", "img") else f"<{match['tag'].lower()}"
    return "[" if match["linked"] or match["link"] else match["run"]


def _opener_before(text: str, start: int, kind: str, token: str) -> int | None:
    near = text[max(0, start - 400) : start]
    found = (
        re.search(rf"{re.escape(kind)}\b[^<>]*>\Z", near, re.IGNORECASE)
        if kind[0] == "<"
        else re.search(r"!?\[\Z", near)
        if kind == "["
        else re.search(rf"{re.escape(token)}\Z", near)
    )
    return start - len(found[0]) if found else None


def _closer_after(text: str, end: int, kind: str, token: str) -> int | None:
    if kind == "[":
        found = _MARKUP.match(text, end)
        return found.end() if found and found["linked"] else None
    found = re.compile(rf"</{re.escape(kind[1:])}\s*>" if kind[0] == "<" else re.escape(token), re.IGNORECASE).match(text, end)
    return found.end() if found else None
