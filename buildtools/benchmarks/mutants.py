"""Kits broken on purpose: one or a few slips, or one hostile idea, in the files of a sound archive.

The same seed gives the same mutants on any machine.
"""

from __future__ import annotations

import os
import random
import re
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

NUMBER = re.compile(r"\d+(?:-\d+/\d+|/\d+|\.\d+)?")
WORD = re.compile(r"[A-Za-z][A-Za-z-]+")

NUMBERS = (
    "0",
    "-1",
    "1",
    "2",
    "3",
    "7",
    "12",
    "59",
    "60",
    "61",
    "100",
    "999",
    "10000",
    "100001",
    "1e9",
    "1e999",
    "99999999999999999999",
    "1/64",
    "1/3",
    "7/0",
    "0/0",
    "1-1/2",
    "3-1/16",
    "0.1",
    ".5",
    "5.",
    "nan",
    "inf",
    "-inf",
    "0x10",
    "0o7",
    "1_000",
    "٣",
    "½",
    "3¼",
    "82 mm",
    "8.2 cm",
    "4 in",
    "1 ft",
    "12 x 12",
    "1e-9 mm",
    "+3",
    "--3",
    "3-",
    "1:20",
    "12:30:45",
    "~",
    "null",
    "yes",
)
WORDS = (
    "A",
    "B",
    "Z",
    "Q9",
    "band",
    "front",
    "base",
    "top",
    "left",
    "back",
    "turned",
    "yes",
    "no",
    "null",
    "~",
    "white",
    "patterned",
    "cardstock",
    "A4",
    "Letter",
    "A2",
    "US A2 envelope",
    "any",
    "dealt",
    "auto",
    "mm",
    "in",
    "rows",
    "columns",
    "cards",
    "places",
    "over",
    "meant: uneven",
    "",
    " ",
    "''",
    "[]",
    "{}",
    "[[[[[[",
    "{a: {b: {c: d}}}",
    "*gone",
    "&x 1",
    "!!python/object:os.system {}",
    "!tag 3",
    "<<: *x",
    "| ",
    "> ",
    "? ",
    "- - - -",
    "2027-02-30",
    "0000-01-01",
    "9999-12-31 23:59",
    "2026-11-01 01:30",
    "12:00",
    "2026-13-01",
    "Europe/Lisbon",
    "EST",
    "UTC+1",
)
PATHS = (
    "../outside/secret.txt",
    "../../outside/secret.txt",
    "../../../outside/secret.txt",
    "/etc/passwd",
    "//etc/passwd",
    "~/x",
    "C:\\x",
    "..\\..\\x",
    "photos/../../../outside/secret.txt",
    "link/secret.txt",
    "link",
    ".",
    "..",
    "./",
    "/",
    "\\\\host\\share",
    "file:///etc/passwd",
    "CON",
    "a" * 300,
    "x\u0000y",
    "kit.yaml",
    "published",
    "published/r1/release.yaml",
)
PROSE = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "<svg onload=alert(1)>",
    "[x](javascript:alert(1))",
    "![x](https://outside.example/x.png)",
    "<iframe src='https://outside.example'></iframe>",
    "<meta http-equiv=refresh content='0;url=https://outside.example'>",
    "<base href='https://outside.example/'>",
    "<form action='https://outside.example'><input></form>",
    "<style>*{display:none}</style>",
    "{{ 7*7 }}",
    "{% raw %}",
    "[[",
    "]]",
    "[[cards",
    "[[size of Q]]",
    "[[[[cards]]]]",
    "[[count of A]]",
    '--8<-- "kit.yaml"',
    "{: onclick=alert(1) }",
    "---\ntemplate: x\n---",
    "\u202e\u2066",
    "\u0000",
    "\ufeff",
    "\ud7ff",
    "𝔸" * 50,
    "e\u0301" * 400,
    "|a|b|\n|-|-|\n|1|2|",
    "*" * 2000,
    "> " * 300,
    "[" * 500,
    "`" * 301,
    "[^1]\n\n[^1]: x",
    "*[HTML]: x",
    "$" * 50,
    "<!--",
    "]]>",
    "&#x3c;script&#x3e;",
    "&" * 200,
)


@dataclass(frozen=True)
class Mutant:
    """One archive broken in one way."""

    name: str
    """What was done, with the file and the seed that does it again."""
    file: Path
    """What is changed, from the folder of kits."""
    apply: Callable[[Path], None]
    """Breaks the archive whose folder of kits is given."""


def mutants_of(kits: Path, files: list[Path], seed: str) -> Mutant:
    """The mutant that a seed names.

    Args:
        kits: the folder of kits, sound.
        files: what may be changed, from that folder.
        seed: any text.
    """
    chance = random.Random(seed)
    file = chance.choice(files)
    if chance.random() < 0.06:
        act, what = chance.choice(_FILE_ACTS)
        return Mutant(f"{what} {file} ({seed})", file, lambda root: act(root / file, root))
    text = (kits / file).read_bytes().decode("utf-8", "surrogateescape")
    done = []
    for _ in range(1 if chance.random() < 0.8 else chance.randint(2, 4)):
        act = chance.choice(_TEXT_ACTS)
        text = act(text, chance)
        done.append(act.__name__.strip("_"))
    data = text.encode("utf-8", "surrogateescape") if chance.random() < 0.97 else text.encode("utf-16", "replace")
    if chance.random() < 0.02:
        data = _bytes(data, chance)
        done.append("bytes")
    return Mutant(f"{'+'.join(done)} {file} ({seed})", file, lambda root: _put(root / file, data))


def _put(file: Path, data: bytes) -> None:
    file.write_bytes(data)


# --- slips of a hand -------------------------------------------------------------------------


def _lines(text: str) -> list[str]:
    return text.split("\n")


def _drop_line(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines)


def _twice(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    at = chance.randrange(len(lines))
    return "\n".join(lines[:at] + [lines[at]] * chance.choice((1, 1, 2, 200)) + lines[at:])


def _swap(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    a, b = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return "\n".join(lines)


def _indent(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    at = chance.randrange(len(lines))
    lines[at] = chance.choice((" ", "  ", "\t", "    ")) + lines[at] if chance.random() < 0.5 else lines[at].lstrip() or "x"
    return "\n".join(lines)


def _block_out(text: str, chance: random.Random) -> str:
    """A line and all that is indented under it go."""
    lines = _lines(text)
    at = chance.randrange(len(lines))
    depth, end = len(lines[at]) - len(lines[at].lstrip()), at + 1
    while end < len(lines) and lines[end].strip() and len(lines[end]) - len(lines[end].lstrip()) > depth:
        end += 1
    return "\n".join(lines[:at] + lines[end:])


def _number(text: str, chance: random.Random) -> str:
    found = list(NUMBER.finditer(text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + chance.choice(NUMBERS) + text[one.end() :]


def _near(text: str, chance: random.Random) -> str:
    """A digit more, less or other: the slip that still looks right."""
    found = list(re.finditer(r"\d", text))
    if not found:
        return text
    at = chance.choice(found).start()
    return text[:at] + chance.choice((str(chance.randrange(10)), "", text[at] * 2)) + text[at + 1 :]


def _other_number(text: str, chance: random.Random) -> str:
    found = list(NUMBER.finditer(text))
    if not found:
        return text
    one, other = chance.choice(found), chance.choice(found)
    return text[: one.start()] + other.group() + text[one.end() :]


def _word(text: str, chance: random.Random) -> str:
    found = list(WORD.finditer(text))
    if not found:
        return text
    one = chance.choice(found)
    new = chance.choice(WORDS) if chance.random() < 0.5 else chance.choice(found).group()
    return text[: one.start()] + new + text[one.end() :]


def _misspell(text: str, chance: random.Random) -> str:
    at = chance.randrange(max(len(text) - 1, 1))
    return text[:at] + text[at : at + 2][::-1] + text[at + 2 :]


def _value(text: str, chance: random.Random) -> str:
    """What stands after a colon becomes something else."""
    found = list(re.finditer(r"(?m)(?<=: )\S.*$", text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + chance.choice((*NUMBERS, *WORDS, *PATHS, *PROSE)) + text[one.end() :]


def _path(text: str, chance: random.Random) -> str:
    found = list(re.finditer(r"[\w/-]+\.(?:png|jpg|jpeg|pdf|svg|yaml|md|json)\b", text))
    if not found:
        return _value(text, chance)
    one = chance.choice(found)
    return text[: one.start()] + chance.choice(PATHS) + text[one.end() :]


def _prose(text: str, chance: random.Random) -> str:
    found = list(WORD.finditer(text)) or [re.search("$", text)]
    at = chance.choice(found).start()
    return text[:at] + chance.choice(PROSE) + text[at:]


def _cut(text: str, chance: random.Random) -> str:
    return text[: chance.randrange(len(text) + 1)]


def _character(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    return (
        text[:at]
        + chance.choice("{}[]:,-#&*!|>'\"%@`?\t\r\n\u0000\u0007\u0085\u2028\ufeff\u200b\u00a0½×é")
        + text[at + chance.randrange(2) :]
    )


def _deep(text: str, chance: random.Random) -> str:
    at, depth = chance.randrange(len(text) + 1), chance.choice((20, 300, 5000))
    return (
        text[:at]
        + chance.choice(("[" * depth + "]" * depth, "{a: " * depth, "\n".join(" " * i + "- x:" for i in range(min(depth, 400)))))
        + text[at:]
    )


def _long(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    return text[:at] + chance.choice(("x", "9", "A, ", "\n", " ", "- A\n", "é")) * chance.choice((100, 5000, 200_000)) + text[at:]


def _key(text: str, chance: random.Random) -> str:
    """A key moves under another one, or a line of another place is said here too."""
    lines = list(_lines(text))
    keyed = [line for line in lines if ":" in line]
    if not keyed:
        return text
    at = chance.randrange(len(lines))
    depth = len(lines[at]) - len(lines[at].lstrip())
    return "\n".join(lines[: at + 1] + [" " * depth + chance.choice(keyed).strip()] + lines[at + 1 :])


_TEXT_ACTS = (
    _drop_line,
    _twice,
    _swap,
    _swap,
    _indent,
    _block_out,
    _number,
    _number,
    _near,
    _near,
    _other_number,
    _word,
    _word,
    _misspell,
    _value,
    _value,
    _path,
    _prose,
    _cut,
    _character,
    _deep,
    _long,
    _key,
)


def _bytes(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    return data[:at] + chance.randbytes(chance.choice((1, 2, 40))) + data[at + chance.choice((0, 1, 30)) :]


# --- files that are not what they should be --------------------------------------------------------


def _gone(file: Path, _: Path) -> None:
    file.unlink()


def _empty(file: Path, _: Path) -> None:
    file.write_bytes(b"")


def _folder(file: Path, _: Path) -> None:
    file.unlink()
    file.mkdir()


def _link_out(file: Path, kits: Path) -> None:
    file.unlink()
    file.symlink_to(kits.parent.parent / "outside" / "secret.txt")


def _link_to_itself(file: Path, _: Path) -> None:
    file.unlink()
    file.symlink_to(file.name)


def _link_into_nothing(file: Path, _: Path) -> None:
    file.unlink()
    file.symlink_to("nothing-here")


def _pipe(file: Path, _: Path) -> None:
    file.unlink()
    os.mkfifo(file)


def _folder_linked_out(file: Path, kits: Path) -> None:
    """Its whole folder lies elsewhere, reached by a link."""
    away = kits.parent / "elsewhere"
    shutil.move(file.parent, away)
    file.parent.symlink_to(away)


def _sub_link(file: Path, kits: Path) -> None:
    (file.parent / "link").symlink_to(kits.parent.parent / "outside")


def _huge(file: Path, _: Path) -> None:
    with file.open("ab") as stream:
        stream.truncate(3 << 30)


def _noise(file: Path, _: Path) -> None:
    file.write_bytes(random.Random(file.name).randbytes(3000))


_FILE_ACTS = (
    (_gone, "gone"),
    (_empty, "empty"),
    (_folder, "a folder for"),
    (_link_out, "a link out for"),
    (_link_to_itself, "a link to itself for"),
    (_link_into_nothing, "a dead link for"),
    (_pipe, "a pipe for"),
    (_folder_linked_out, "folder linked out of"),
    (_sub_link, "a link beside"),
    (_huge, "3 GB of"),
    (_noise, "noise for"),
)
