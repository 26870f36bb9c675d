"""What stands on the pages of the preview: what was found, where, and which state is shown."""

from __future__ import annotations

import hashlib
import re
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from kitwright.archive.preview.good import SHARED, Held, Part, named
from kitwright.archive.preview.spots import file_in, spots
from kitwright.errors import UserError
from kitwright.findings import Finding, in_order
from kitwright.kit.project import KITS, page_of
from kitwright.kit.read import KIT_FILE, shown
from kitwright.kit.yamltext import Document, look_at
from kitwright.telling import preview as words

Said = dict[str, Any]
"""What a page's script is told, as JSON has it."""


@dataclass(frozen=True)
class State:
    """How the site stands after a build, and all that there is to say of it."""

    root: Path
    """The archive."""
    site: Path
    """The built site; not there before the first good build."""
    good: bool = False
    """Whether there is one."""
    found: tuple[Finding, ...] = ()
    """What was found, at places as the user knows them; hints are left out."""
    held: Mapping[Part, Held] = field(default_factory=dict)
    digests: Mapping[str, str] = field(default_factory=dict)
    """Every file of the site with its digest, by path."""

    later: frozenset[str] = frozenset()
    """Kits whose downloads are still being drawn."""

    # --- by kit -----------------------------------------------------------------------------------

    @cached_property
    def by_kit(self) -> Mapping[str, tuple[Finding, ...]]:
        """What was found, by kit; the empty name has what concerns no kit, or all."""
        found: dict[str, list[Finding]] = {}
        for one in in_order(self.found):
            found.setdefault(self.kit_of(one), []).append(one)
        return {kit: tuple(ones) for kit, ones in sorted(found.items())}

    def kit_of(self, found: Finding) -> str:
        """The kit in whose folder something was found; empty where it was in none."""
        if found.place.file is None:
            return ""
        try:
            way = found.place.file.absolute().relative_to(self.root / KITS).parts
        except ValueError:
            return ""
        return way[0] if way and f"{KITS}/{way[0]}" not in SHARED and (len(way) > 1 or f"{KITS}/{way[0]}" in self.held) else ""

    @cached_property
    def _documents(self) -> dict[str, Document | None]:
        return {}

    def _document(self, kit: str) -> Document | None:
        """A kit's file as far as it can be read now."""
        if kit not in self._documents:
            try:
                self._documents[kit] = look_at(self.root / KITS / kit / KIT_FILE)
            except (UserError, OSError):
                self._documents[kit] = None
        return self._documents[kit]

    # --- a page -----------------------------------------------------------------------------------

    def page(self, path: str) -> Said:
        """All that stands on a page beside what its author wrote.

        Args:
            path: the page, from the top of the site.
        """
        kit = self._kit_at(path)
        notes = [*self._of_all(), *(self._of_kit(kit, path) if kit else ())]
        for n, note in enumerate(notes, 1):
            note["id"] = f"kw-found-{n}"
        return {"token": self.token(path), "notes": notes, "bar": self._bar(kit, path, notes), "later": sorted(self.later)}

    def _kit_at(self, path: str) -> str:
        parts = path.split("/")
        return parts[1] if len(parts) > 2 and parts[0] == KITS else ""

    def _of_all(self) -> Iterator[Said]:
        """What concerns every page."""
        for one in self.by_kit.get("", ()):
            yield _note(one, [])

    def _of_kit(self, kit: str, path: str) -> Iterator[Said]:
        own = path == page_of(kit)
        for one in self.by_kit.get(kit, ()):
            yield _note(one, spots(one, file_in(one.place, kit), self._document(kit)) if own else [])

    def _bar(self, kit: str, path: str, notes: list[Said]) -> Said | None:
        """What stands at the top of a page: which state is shown, and what leads to what was found."""
        states = [self._state(part) for part in self.held if part in SHARED or part == f"{KITS}/{kit}"]
        counts = Counter(note["level"] for note in notes)
        others = {name: ones for name, ones in self.by_kit.items() if name and name != kit}
        waiting = [part.removeprefix(f"{KITS}/") for part in self.held if part not in SHARED]
        others |= {name: () for name in waiting if name not in others and name != kit}
        links = [
            {"words": name, "count": words.counted(Counter(one.level for one in ones)), "way": page_of(name)}
            for name, ones in sorted(others.items())
        ]
        if not states and not notes and not links:
            return None
        errors = bool(counts["error"] or states)
        return {
            "level": "error" if errors or any(one.level == "error" for ones in others.values() for one in ones) else "warning",
            "alert": errors,
            "words": words.here(counts) if notes else "",
            "states": states,
            "elsewhere": words.ELSEWHERE if kit else words.STANDS_IN_KITS,
            "links": links,
        }

    def _state(self, part: Part) -> str:
        now, held = time.time(), self.held[part]
        name = shown(self.root / named(part)).as_posix()
        at = [None if each is None else words.at_text(each, now) for each in (held.shown, held.saved)]
        return words.held(name, *at)

    def put_off(self, path: str) -> bool:
        """Whether a file is still being drawn."""
        return path.endswith(DOWNLOADS) and self._kit_at(path) in self.later

    def waits(self, path: str) -> bool:
        """Whether a page that is not there may be there once something is mended."""
        held = self.held.get(f"{KITS}/{self._kit_at(path)}")
        return not self.good or held is not None and held.shown is None

    # --- whether it changed -----------------------------------------------------------------------

    @cached_property
    def _tokens(self) -> dict[str, str]:
        return {}

    def token(self, path: str) -> str:
        """The same as long as a page, with all that it shows, is the same."""
        if path not in self._tokens:
            self._tokens[path] = self._token(path)
        return self._tokens[path]

    def _token(self, path: str) -> str:
        if path not in self.digests:
            return "none" if self.good else ""
        try:
            text = (self.site / path).read_text(encoding="utf-8")
        except OSError:
            return "none"
        total = hashlib.sha256(self.digests[path].encode())
        for name in sorted(shown_by(text, path)):
            total.update(f"{name} {self.digests.get(name, '')}\n".encode())
        for name, digest in self.digests.items():
            # Styles bring fonts and pictures of their own.
            if name.startswith(("look/", "assets/")):
                total.update(f"{name} {digest}\n".encode())
        return total.hexdigest()[:16]


DOWNLOADS = (".pdf", ".zip")
"""Endings of what readers download of a kit."""
_SHOWN = re.compile(r'\s(src|srcset|poster|data-src)="([^"]+)"')


def shown_by(text: str, path: str) -> set[str]:
    """Every file of the site that a page itself shows, by path from the top; what it only leads to is not among them."""
    found = set()
    for kind, value in _SHOWN.findall(text):
        for each in value.split(",") if kind == "srcset" else [value]:
            name = each.split()[0] if each.split() else ""
            if name and ":" not in name and not name.startswith("/"):
                found.add(_joined(path, name.partition("?")[0].partition("#")[0]))
    return found


def _joined(page: str, name: str) -> str:
    parts = page.split("/")[:-1]
    for each in name.split("/"):
        if each == "..":
            parts = parts[:-1]
        elif each not in ("", "."):
            parts.append(each)
    return "/".join(parts)


def _note(found: Finding, at: Iterable[Mapping[str, str]]) -> Said:
    return {
        "level": found.level,
        "mark": words.LEVELS[found.level],
        "where": str(found.place) if found.place.file else "",
        "problem": found.problem,
        "remedy": found.remedy,
        "at": list(at),
    }
