"""What common sheets give for common cards, as it is kept: `sheets_answered.json`, which `buildtools/sheets_answered.py` writes.

A build asks nothing: to decide all layouts of all questions takes minutes. A test asks one of them
again and holds it against what is kept.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, partial
from pathlib import Path

from kitwright.archive.picture import Image, Picture, one_scene
from kitwright.drawing.proposals.plate import plates
from kitwright.drawing.proposals.row import row_of_fronts
from kitwright.drawing.scene import Scene
from kitwright.exact import Exact
from kitwright.proposing.beforehand import QUESTIONS, SHEETS, Question, Sheet
from kitwright.proposing.records import Proposal
from kitwright.proposing.wish import Unit
from kitwright.release.kept import plain, restored
from kitwright.schemes import Palette
from kitwright.telling.beforehand import fronts_alt
from kitwright.telling.yields import size_of

ANSWERED = Path(__file__).with_name("sheets_answered.json")
FOLDER = "sheets"
"""Where the pictures lie, below the top of the site."""
_HIGH = Exact(48)
"""The highest card of a row of fronts, points."""


@dataclass(frozen=True, slots=True)
class Given:
    """A layout that a sheet gives, with its picture."""

    question: Question
    proposal: Proposal
    picture: Image
    """The finished card and the sheet as it is cut; its paths are those seen from the top."""


@dataclass(frozen=True, slots=True)
class OfSheet:
    """All that one sheet gives."""

    sheet: Sheet
    given: tuple[Given, ...]
    fronts: Image
    """A card of each size, side by side; that of the other ruler is beside it."""


def written(found: Mapping[Question, tuple[Proposal, ...]]) -> str:
    """What was chosen as JSON text, a layout a line."""
    lines = [
        json.dumps([question.sheet, question.unit, question.card, plain(one)], ensure_ascii=False, separators=(",", ":"))
        for question, proposals in found.items()
        for one in proposals
    ]
    return "[\n" + ",\n".join(lines) + "\n]\n"


@cache
def answers() -> dict[Question, tuple[Proposal, ...]]:
    """What was chosen for each question; nothing for one that gives nothing plain."""
    found: dict[Question, tuple[Proposal, ...]] = dict.fromkeys(QUESTIONS, ())
    for sheet, unit, card, data in json.loads(ANSWERED.read_text(encoding="utf-8")):
        found[Question(sheet, unit, card)] += (restored(data, Proposal),)
    return found


def _scene(question: Question, one: Proposal) -> Scene:
    """The finished card, and the sheet as it is cut."""
    return plates(question.wish, ((question.wish, one),))[0].scene


def _fronts(sheet: Sheet, units: tuple[Unit, Unit]) -> Picture:
    """What makes most cards of each size, where a sheet gives cards of the size; in a club's own unit, with the other beside it."""
    pictures = []
    for unit in units:
        made = [(q.wish, one) for q, found in answers().items() if (q.sheet, q.unit) == (sheet.key, unit) for one in found[:1]]
        said = fronts_alt(sheet.size(unit).name, len(made))
        draw = partial(row_of_fronts, made, _HIGH, said, said)
        pictures.append(one_scene(f"{FOLDER}/{sheet.key}-{unit}", (made, said), draw, unit=unit))
    return replace(pictures[0], beside=pictures[1])


def part(key: str) -> str:
    """By what a sheet's part of the page is called in addresses."""
    return f"sheet-{key}"


def addresses() -> list[tuple[str, str]]:
    """Sides of each sheet as the finder writes them, and its part of the page."""
    return [("x".join(map(str, size_of(size.size))), part(sheet.key)) for sheet in SHEETS for size in sheet.sizes]


@cache
def given(palette: Palette, units: tuple[Unit, Unit]) -> tuple[tuple[OfSheet, ...], dict[str, bytes]]:
    """Everything that the page shows, sheet by sheet, and its pictures by their paths below the top; `units`: the club's own, and the other."""
    sheets: dict[str, list[Given]] = {sheet.key: [] for sheet in SHEETS}
    files: dict[str, bytes] = {}
    for question, proposals in answers().items():
        for one in proposals:
            name = f"{FOLDER}/{question.sheet}-{question.unit}-{question.card + 1}-{one.number}"
            shown = one_scene(name, (question.wish, one), partial(_scene, question, one)).shown(palette)
            files |= shown.files
            sheets[question.sheet].append(Given(question, one, shown.image))
    fronts = {sheet.key: _fronts(sheet, units).shown(palette) for sheet in SHEETS if sheets[sheet.key]}
    for shown in fronts.values():
        files |= shown.files
    return tuple(OfSheet(sheet, tuple(sheets[sheet.key]), fronts[sheet.key].image) for sheet in SHEETS if sheet.key in fronts), files
