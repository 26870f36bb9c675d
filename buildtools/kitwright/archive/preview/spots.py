"""Where on a kit's page something stands that a line of its files says.

A spot is a thing on the page that a script can find: a heading by its id or its words, a row of a
table by what its first cell says. Several are tried in order; where none is there, the top of the page is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.kit import NOTES_FILE
from kitwright.kit.read import KIT_FILE
from kitwright.kit.yamltext import Document
from kitwright.labels import named

Spot = Mapping[str, str]
"""`{"id": …}`; `{"heading": …}`, perhaps with the `nth` of several that begin so; `{"row": …, "in": …}` with the class of the table."""
Path_ = tuple[str | int, ...]

PIECES, PAPERS = "kw-table--pieces", "kw-table--papers"
SECTIONS: Mapping[str, tuple[str, ...]] = {
    "papers": ("what-you-need",),
    "pieces": ("the-pieces",),
    "card": ("the-card-base",),
    "front": ("the-sketch",),
    "faces": ("the-sketch",),
    "designs": ("the-sketch",),
    "sentiment": ("the-sketch",),
    "sentiments": ("the-sketch",),
    "decorations": ("the-sketch",),
    "arrangements": ("arrangements",),
    "guides": ("cutting-guides",),
    "also from": ("cutting-guides",),
    "steps": ("step-by-step",),
    "cut files": ("cut-files",),
    "photos": ("finished-cards",),
    "samples": ("samples",),
    "questions": ("asked",),
    "video": ("more-in-the-video", "step-by-step"),
    "links": ("what-you-need",),
    "members": ("cut-files",),
}
"""Ids of headings on a kit's page, by the key of its file at whose drawing or words they stand."""
POST = ("by-post",)
OF_THE_CARD: Mapping[str, tuple[str, ...]] = {"envelope": POST, "envelope weight": POST, "foam": POST}
"""The same for what a card says that is not its base."""


def path_of(document: Document, line: int) -> Path_:
    """The entry that a line of a file belongs to, as deep as the line tells."""
    before = [(start, path) for path, start in document.lines.items() if path and start <= line]
    if not before:
        return ()
    nearest = max(start for start, _ in before)
    there = [path for start, path in before if start == nearest]
    shared = there[0]
    for other in there[1:]:
        # Several entries on one line: what they have in common.
        same = 0
        while same < min(len(shared), len(other)) and shared[same] == other[same]:
            same += 1
        shared = shared[:same]
    return shared or there[0][:1]


def spots(found: Finding, file: str, document: Document | None) -> list[Spot]:
    """Where on the kit's page something stands that was found, best first.

    Args:
        found: what was found, with its place.
        file: the name of the file, in the kit's folder.
        document: the kit's file as it was read; None where it can't be.
    """
    if file == NOTES_FILE:
        return [{"id": "notes"}]
    if file != KIT_FILE or document is None:
        return []
    path = path_of(document, found.place.line or 1)
    if path[:1] == ("designs",) and len(path) > 2:
        # What is one design's stands under its name, or where the same of a kit of one does.
        return [each for spot in _by_path(path[2:], document) for each in _of_design(spot, str(path[1]))]
    return [*_by_values(found.values, path), *_by_path(path, document)]


def _by_values(values: Mapping[str, Any], path: Path_) -> Iterator[Spot]:
    """A cutting guide that is called by its name."""
    guide = values.get("guide")
    if isinstance(guide, str) and path[:1] in (("papers",), ("guides",)):
        yield {"heading": guide}


def _of_design(spot: Spot, design: str) -> Iterator[Spot]:
    """A spot as it is called under the name of a design, then as it is."""
    if "id" in spot:
        yield {"id": named(spot["id"], design)}
    yield spot


def _by_path(path: Path_, document: Document) -> Iterator[Spot]:
    match path:
        case ("pieces", str(label), *_):
            yield {"row": label, "in": PIECES}
        case ("papers", str(key), *_):
            yield {"row": _called(document, key), "in": PAPERS}
        case ("guides", int(number), *_):
            yield from _guide(document, number)
        case ("steps", str(stage), *_):
            yield {"id": f"step-{stage}"}
        case ("card", str(key), *_) if key in OF_THE_CARD:
            yield from ({"id": each} for each in OF_THE_CARD[key])
    yield from ({"id": each} for each in SECTIONS.get(str(path[0]) if path else "", ()))


def _guide(document: Document, number: int) -> Iterator[Spot]:
    """A cutting guide by the name that its author gave it, or the papers that it is for."""
    said = document.data.get("guides")
    guide = said[number] if isinstance(said, list) and number < len(said) and isinstance(said[number], dict) else {}
    if isinstance(guide.get("name"), str):
        yield {"heading": guide["name"]}
        return
    papers = _papers(guide)
    before = sum(_papers(one)[:1] == papers[:1] for one in said[:number]) if isinstance(said, list) else 0
    if papers:
        yield {"heading": _called(document, papers[0]), "nth": str(before)}


def _papers(guide: object) -> list[str]:
    papers = guide.get("papers") if isinstance(guide, dict) else None
    return [str(each) for each in (papers if isinstance(papers, list) else [papers] if papers else [])]


def _called(document: Document, key: str) -> str:
    papers = document.data.get("papers")
    paper = papers.get(key) if isinstance(papers, dict) else None
    name = paper.get("name") if isinstance(paper, dict) else None
    return name if isinstance(name, str) else key


def file_in(place: Place, kit: str) -> str:
    """The name of a file as it lies in its kit's folder."""
    parts = place.file.parts if place.file else ()
    return "/".join(parts[parts.index(kit) + 1 :]) if kit in parts else ""
