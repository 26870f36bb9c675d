"""Reads a site's search index as a page's script does, for tests that need no browser."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from kitwright.archive.search import tokens
from kitwright.archive.search.index import CALL, FOLDER


@dataclass(frozen=True)
class Index:
    """The index of a built site."""

    site: Path

    def part(self, name: str) -> Any:
        """What a part says."""
        said = (self.site / FOLDER / f"{name}.js").read_text(encoding="utf-8")
        assert said.startswith(f"{CALL}(") and said.endswith(")\n")
        return json.loads(said.removeprefix(f"{CALL}(").removesuffix(")\n"))

    @cached_property
    def map(self) -> dict[str, Any]:
        return self.part("map")

    def _named(self, names: str) -> Iterator[str]:
        length = self.map["name"]
        return (names[at : at + length] for at in range(0, len(names), length))

    @cached_property
    def documents(self) -> list[Any]:
        """What a result shows of each: title, path, month, line, picture, places."""
        return [self.part(f"d-{name}") for name in self._named(self.map["documents"])]

    @cached_property
    def terms(self) -> dict[str, str]:
        """Every term with its entry; in their order, each in the part that its beginning leads to."""
        found: dict[str, str] = {}
        for begin, name in zip(self.map["begins"], self._named(self.map["parts"]), strict=True):
            part = self.part(f"t-{name}")
            assert next(iter(part)) == begin
            found |= part
        assert list(found) == sorted(found)
        return found

    def where(self, text: str) -> set[str]:
        """The addresses at which every word of a text stands, from the top of the site."""
        said = tokens.terms(list(tokens.tokens(text)))
        return set.intersection(*({address for address, _ in self.entry(term)} for term in said))

    def entry(self, term: str) -> list[tuple[str, str]]:
        """Where a term stands: an address, and the field's letter."""
        digits, step = self.map["digits"], self.map["width"] + 1
        found = []
        for field in filter(None, self.terms.get(term, "").removeprefix("*").split("|")):
            for at in range(1, len(field), step):
                number = 0
                for digit in field[at : at + step - 1]:
                    number = number * len(digits) + digits.index(digit)
                document = self.documents[number]
                place = 0 if field[0] == "T" else digits.index(field[at + step - 1])
                folder = document[1].rpartition("/")[0]
                found.append((f"{folder}/{document[5][place][0]}".removeprefix("/"), field[0]))
        return found

    @property
    def addresses(self) -> set[str]:
        """Wherever a result may lead."""
        return {f"{d[1].rpartition('/')[0]}/{at}".removeprefix("/") for d in self.documents for at, _ in d[5]} | {
            d[1] for d in self.documents
        }
