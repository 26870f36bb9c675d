"""The tables of a page, read with Python's own HTML parser."""

from __future__ import annotations

from html.parser import HTMLParser


class _Tables(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[set[str], list[list[str]]]] = []
        self._cell: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "table":
            self.found.append((set((dict(attrs).get("class") or "").split()), []))
        elif tag == "tr":
            self.found[-1][1].append([])
        elif tag in ("td", "th"):
            self._cell = []
        elif tag in ("span", "li", "br", "b", "p") and self._cell is not None:
            self._cell.append(" ")

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th"):
            self.found[-1][1][-1].append(" ".join("".join(self._cell).split()))
            self._cell = None

    def handle_data(self, data: str) -> None:
        if self._cell is not None:
            self._cell.append(data)


def tables(html: str, name: str) -> list[list[list[str]]]:
    """Every table of a class: its rows of cells, each as plain text, the head's row first."""
    reader = _Tables()
    reader.feed(html)
    return [rows for classes, rows in reader.found if name in classes]
