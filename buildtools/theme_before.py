"""Adds the theme as it is now to the lists of earlier ones, `theme_before.txt` and `theme_before.xz` in `kitwright/kit/`.

Run when a version is published, before its number in CHANGELOG.md is followed by the next:

    .venv/bin/python buildtools/theme_before.py

By the digests `kitwright theme` knows a copy that nobody changed, and lets the program's own stand; by
the texts it sees from which version a changed one was made.
`--history` adds every state that the theme has had in this repository instead, and notes no version.
"""

from __future__ import annotations

import subprocess
import sys
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path

from kitwright.kit.taken import BEFORE, TEXTS, digest, packed, plain, texts

HOME = Path(__file__).resolve().parents[1]


def grown(table: str, theme: Iterable[tuple[str, bytes]], version: str | None = None) -> str:
    """The table with more files in it: what it had stays, each line once, in order of names; a version that is whole in it is noted above."""
    lines = table.splitlines()
    head = [line for line in lines if line.startswith("#")]
    mark = f"# {version}"
    rows = {line for line in lines if line and not line.startswith("#")} | {f"{digest(data)} {name}" for name, data in theme}
    return (
        "\n".join([*head, *([mark] if version and mark not in head else []), *sorted(rows, key=lambda row: row.split(" ", 1)[::-1])]) + "\n"
    )


def said(known: Mapping[str, Iterable[str]], theme: Iterable[tuple[str, bytes]]) -> dict[str, list[str]]:
    """The texts with more files in them, each above those that were there; what is no text is left out."""
    found = {name: list(texts) for name, texts in known.items()}
    for name, data in reversed(list(theme)):
        if b"\0" not in data and (text := plain(data).decode()) not in found.get(name, []):
            found.setdefault(name, []).insert(0, text)
    return found


def theme_now(home: Path = HOME) -> list[tuple[str, bytes]]:
    """Every file of the theme as it is."""
    theme = home / "theme"
    return [(file.relative_to(theme).as_posix(), file.read_bytes()) for file in sorted(theme.rglob("*")) if file.is_file()]


def theme_ever(home: Path = HOME) -> list[tuple[str, bytes]]:
    """Every file of the theme as it was in any commit, the newest first."""

    def git(*asked: str) -> bytes:
        return subprocess.run(["git", "-C", str(home), *asked], check=True, capture_output=True).stdout

    found = {}
    for commit in git("log", "--format=%H", "--", "theme").decode().split():
        for line in git("ls-tree", "-r", commit, "theme/").decode().splitlines():
            (_, kind, blob), name = line.split("\t")[0].split(), line.split("\t")[1].removeprefix("theme/")
            if kind == "blob" and (blob, name) not in found:
                found[blob, name] = git("cat-file", "blob", blob)
    return [(name, data) for (_, name), data in found.items()]


if __name__ == "__main__":
    number = tomllib.loads((HOME / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    more = (theme_ever(),) if "--history" in sys.argv else (theme_now(), number)
    BEFORE.write_text(grown(BEFORE.read_text(encoding="utf-8"), *more), encoding="utf-8", newline="\n")
    TEXTS.write_bytes(packed(said(texts() if TEXTS.exists() else {}, more[0])))
