"""A style sheet taken apart rule by rule, and cut down to what can match."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

_TOKEN = re.compile(r"""("(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'|/\*.*?\*/)|([{};])""", re.DOTALL)


def without_texts(text: str) -> str:
    """A style sheet's braces and semicolons, and whatever stands in no text and no comment."""
    return _TOKEN.sub(lambda token: token[2] or "", text)


def cut(text: str, may: Callable[[str], bool], beside: str = "") -> str:
    """A style sheet without rules that match nothing, nor variables that nothing else asks for.

    Args:
        text: the style sheet.
        may: whether a selector may match something.
        beside: a sheet that the same pages load besides.
    """
    kept = list(_cut(text, may))
    while True:
        asked = set(re.findall(r"var\((--[\w-]+)", "".join([*kept, beside])))
        fewer = [rule for rule in kept if not _only_defines(rule, asked)]
        if len(fewer) == len(kept):
            return "\n".join(kept) + "\n"
        kept = fewer


def _cut(text: str, may: Callable[[str], bool]) -> Iterator[str]:
    for head, body in rules(text):
        if head.startswith(("@media", "@supports", "@container")):
            inner = "".join(_cut(body, may))
            if inner:
                yield f"{head}{{{inner}}}"
        elif head.startswith("@"):
            if not head.startswith("@charset"):
                yield f"{head}{{{body}}}" if body else f"{head};"
        else:
            left = [selector for selector in selectors(head) if may(selector)]
            if left:
                yield f"{','.join(left)}{{{body}}}"


def rules(text: str) -> Iterator[tuple[str, str]]:
    """The rules of a style sheet: what stands before each one's braces, and between them; no comments."""
    depth, start, inside = 0, 0, 0
    for token in _TOKEN.finditer(text):
        sign = token[2]
        if token[1] and token[1].startswith("/*") and depth == 0 and not text[start : token.start()].strip():
            start = token.end()
        elif sign == "{":
            depth += 1
            inside = token.end() if depth == 1 else inside
        elif sign == "}":
            depth -= 1
            if depth == 0:
                yield text[start : inside - 1].strip(), text[inside : token.start()]
                start = token.end()
        elif sign == ";" and depth == 0:
            yield text[start : token.start()].strip(), ""
            start = token.end()


def selectors(head: str) -> list[str]:
    """The selectors of a list, parted at its own commas."""
    found, depth, start = [], 0, 0
    for n, letter in enumerate(head):
        depth += (letter in "([") - (letter in ")]")
        if letter == "," and depth == 0:
            found.append(head[start:n])
            start = n + 1
    return [*found, head[start:]]


def _only_defines(rule: str, asked: set[str]) -> bool:
    """Whether a rule only gives values to variables, none of which is asked for."""
    if rule.startswith("@") or not rule.startswith(":root{"):
        return False
    names = re.findall(r"(?:^|[{;])\s*([\w-]+)\s*:", re.sub(r"""url\([^)]*\)|"[^"]*\"""", "", rule.partition("{")[2]))
    return bool(names) and all(name.startswith("--") and name not in asked for name in names)
