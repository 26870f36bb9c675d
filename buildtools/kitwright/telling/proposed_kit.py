"""The files of a kit that was proposed: its kit.yaml, in the layout of the starter's, and its notes."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from kitwright.kit.model.papers import PaperFace
from kitwright.papers import NamedSize
from kitwright.proposing.families.doors import DOORS
from kitwright.proposing.wish import FoldName, Stock, Unit
from kitwright.proposing.written import DesignOf, GuideLine, GuideOf, KitDraft, LookOf, PaperOf, PieceOf, lines
from kitwright.telling.words import spelled
from kitwright.units import MM, SIXTEENTH, Length, Size

FOLDED: Mapping[FoldName, str] = {"side": "side-fold", "top": "top-fold", "gate": "gate-fold", "flat": "flat"}
WEIGHTS: Mapping[Unit, str] = {"in": "80 lb cover", "mm": "220 gsm"}
"""Usual cardstock of each region that stands as a base (`sources.PRACTICE`)."""
CARDSTOCK = ("Cardstock for the bases", "Cardstock for the mats")
GREETING = "hello there"
SPELT = ("places", "over")
"""Lists of a front whose entries say where they lie."""
NAMES = ("First", "Second")
"""Two designs, until she names them."""


def kit_text(draft: KitDraft, kit: str, title: str) -> str:
    """Its kit.yaml.

    Args:
        draft: what stands in it.
        kit: its id.
        title: as it is to be called.
    """
    return "\n".join((*_top(draft, kit, title), *_papers(draft), *_pieces(draft), *_designs(draft), *_guides(draft))).rstrip() + "\n"


def notes_text(draft: KitDraft) -> str:
    """Its notes.md: which question the sizes answer, and what is left to do."""
    wish, stocks = draft.wish, _stocks(draft)
    if draft.kept:
        same = (
            f"The pieces of these cards are those of {draft.kept.title}, from the same papers: only the card is another. What is "
            "cut for that kit lies on this card as it is."
        )
        return _notes(same, draft)
    papers = _and([f"[[sheets of {one.key}]] of [[name of {one.key}]]" for one in stocks])
    card = "" if len(draft.designs) > 1 else " of [[size of card]]"
    band = ", a band kept free for the greeting" if wish.band else ""
    upright = ", every piece the right way up" if any(stock.one_way for stock in stocks) else ""
    asked = (
        f"The question behind these sizes: what do {papers} give for [[cards]]{card}, "
        f"with pieces that add up on the front{band}{upright}, and as little left over as can be? "
        "The sizes are the answer: change one, and both the sheets and the front have to be worked out anew."
    )
    return _notes(asked, draft)


def _notes(why: str, draft: KitDraft) -> str:
    words = "Put your own words in place of the greeting." if any(design.words for design in draft.designs) else _NO_WORDS
    return f"""\
{_filled(why)}

## Still to do

{"" if draft.kept else _STAND_INS}{"" if _whole(draft) else _CARDSTOCK}- {words}
- Cut one card from scraps, then one whole sheet, before you trust the batch.
- Write here what else a maker should know, and take this list out.
"""


def _filled(text: str) -> str:
    """A paragraph in lines, no citation broken in two."""
    whole = re.sub(r"\[\[.*?\]\]", lambda cite: cite[0].replace(" ", "\0"), text)
    return textwrap.fill(whole, 100, break_long_words=False, break_on_hyphens=False).replace("\0", " ")


_STAND_INS = "- Give each paper its own name and look: where you said none, they are stand-ins.\n"
_CARDSTOCK = "- Choose the cardstock, and say its weight as its label does.\n"
_NO_WORDS = "Find a place for your own words, outside or in."


# --- the top --------------------------------------------------------------------------------------------


def _top(draft: KitDraft, kit: str, title: str) -> Iterator[str]:
    wish = draft.wish
    yield "# yaml-language-server: $schema=../kit.schema.json"
    yield "#"
    if draft.kept:
        yield f"# The pieces of {draft.kept.title} on another card, found by   kitwright propose --same-pieces"
    else:
        yield f"# Sizes found by   kitwright propose   from {_and(_of_sheets(draft))}."
    yield f"# Change what you like, then run   kitwright check {kit}"
    yield ""
    yield f"title: {text_typed(title)}"
    yield f"summary: {text_typed(_summary(draft))}"
    if len(draft.designs) == 1:
        yield f"cards: {draft.cards}"
    yield f"unit: {wish.unit}"
    yield ""


def _summary(draft: KitDraft) -> str:
    """A sentence for the archive, without a figure that a changed size would belie."""
    each = [sum(design.side.each.values()) for design in draft.designs]
    folds = list(dict.fromkeys(FOLDED[design.side.card.fold] for design in draft.designs))
    pieces = _and([spelled(n) for n in dict.fromkeys(each)])
    what = "piece" if each == [1] else "pieces"
    kinds = "Two designs of" if len(draft.designs) > 1 else "A batch of"
    return f"{kinds} {_and(folds)} cards with {pieces} {what} of patterned paper on each."


def _stocks(draft: KitDraft) -> list[Stock]:
    used = {paper for piece in draft.pieces for paper in piece.papers}
    return [stock for stock in draft.wish.stocks if stock.key in used]


def _of_sheets(draft: KitDraft) -> list[str]:
    """What lay on the table, sheets of one size together."""
    found: dict[str, int] = {}
    for stock in _stocks(draft):
        what = f"{_sheet(stock.sheet, draft.wish.unit)}{' one-way' if stock.one_way else ''}"
        found[what] = found.get(what, 0) + sum(n for cut in draft.proposal.cuts for key, n in cut.stocks if key == stock.key)
    return [f"{spelled(sheets)} {'sheet' if sheets == 1 else 'sheets'} of {what}" for what, sheets in found.items()]


# --- papers ---------------------------------------------------------------------------------------------


def _papers(draft: KitDraft) -> Iterator[str]:
    if not draft.papers:
        return
    yield "papers:"
    for paper in draft.papers:
        yield from _paper(paper, paper.name or CARDSTOCK[paper.key != draft.bases], draft.wish.unit)
    yield ""


def _whole(draft: KitDraft) -> bool:
    """Whether all cardstock is another kit's, weight and all."""
    return all(paper.said for paper in draft.papers if paper.kind == "cardstock")


def _paper(paper: PaperOf, name: str, unit: Unit) -> Iterator[str]:
    yield f"  {paper.key}:"
    if paper.said:
        yield from (f"    {line}".rstrip() for line in paper.said)
    else:
        yield from _described(paper, name, unit)
    if paper.sheets is not None:
        yield f"    sheets: {paper.sheets}"


def _described(paper: PaperOf, name: str, unit: Unit) -> Iterator[str]:
    yield f"    kind: {paper.kind}"
    yield f"    name: {text_typed(name)}"
    yield f"    size: {_sheet(paper.sheet, unit)}"
    yield f"    front: {{{_look(paper.face)}}}"
    if paper.kind == "cardstock":
        yield f"    weight: {WEIGHTS[unit]}"


def _look(face: PaperFace) -> str:
    colours = [colour if colour.isalpha() else json.dumps(colour) for colour in face.drawn_colours]
    said = [f"look: {face.drawn_look}"]
    if colours:
        said.append(f"colours: {colours[0]}" if len(colours) == 1 else f"colours: [{', '.join(colours)}]")
    return ", ".join([*said, f"up: {face.up}"] if face.up else said)


# --- pieces ---------------------------------------------------------------------------------------------


def _pieces(draft: KitDraft) -> Iterator[str]:
    yield "pieces:"
    for piece in draft.pieces:
        yield f"  {piece.label}: {{{', '.join(_piece(piece, _called(piece, draft.pieces), draft.wish.unit))}}}"
    yield ""


def _called(piece: PieceOf, pieces: Sequence[PieceOf]) -> str:
    """What a piece is, told from others that are the same: by how it lies, then by how wide it is."""
    role: str = piece.role
    alike = [one for one in pieces if one.role == role]
    if len(alike) == 1 or role == "mat":
        return role
    way = [one for one in alike if (one.size.width < one.size.height) == (piece.size.width < piece.size.height)]
    if len(way) < len(alike):
        role = f"{'upright' if piece.size.width < piece.size.height else 'level'} {role}"
    by_size = sorted(way, key=lambda one: min(one.size.width, one.size.height))
    widest, narrowest = piece is by_size[-1], piece is by_size[0]
    return role if len(way) == 1 or not (widest or narrowest) else f"{'wide' if widest else 'narrow'} {role}"


def _piece(piece: PieceOf, called: str, unit: Unit) -> Iterator[str]:
    yield f"size: {size_typed(piece.size, unit)}"
    if not piece.said:
        yield f"for: {called}"
    yield f"paper: {piece.papers[0]}" if len(piece.papers) == 1 else f"papers: [{', '.join(piece.papers)}]"
    if piece.each is not None and piece.each > 1:
        yield f"per card: {piece.each}"
    if piece.said:
        yield from piece.said
        return
    if piece.halved:
        yield "shape: triangle" if piece.halved == "falling" else "shape: {triangle: rising}"
    if piece.tool and piece.blank is not None:
        yield f"made with: {{tool: {piece.tool}, margin: {length_typed(piece.blank, unit)}}}"


# --- fronts ---------------------------------------------------------------------------------------------


def _designs(draft: KitDraft) -> Iterator[str]:
    if len(draft.designs) == 1:
        yield from _design(draft.designs[0], draft, spaced=True)
        return
    yield "designs:"
    for name, design in zip(NAMES, draft.designs):
        yield f"  {name}:"
        yield f"    cards: {design.cards}"
        for line in _design(design, draft):
            yield f"    {line}" if line else ""
        yield ""


def _design(design: DesignOf, draft: KitDraft, *, spaced: bool = False) -> Iterator[str]:
    unit, names = draft.wish.unit, {stock.key: stock.name for stock in draft.wish.stocks}
    yield "card:"
    yield f"  base: {{size: {size_typed(design.base, unit)}, paper: {draft.bases}}}"
    yield f"  fold: {design.side.card.fold}"
    doors = design.side.card.fold == "gate"
    if design.mat and not doors:
        yield f"  layers: [{design.mat}]"
    if design.envelope:
        yield f"  envelope: {_sheet(design.envelope, unit)}"
    if spaced:
        yield ""
    if doors:
        yield "faces:"
        for door in DOORS:
            yield f"  {door}:"
            if design.mat:
                yield f"    layers: [{design.mat}]"
            for line in _front(design.front[door], unit):
                yield f"    {line}"
        if design.looks:
            yield "  doors:"
            for line in _looks(design.looks, names):
                yield f"    {line}"
    else:
        yield "front:"
        for line in (*_front(design.front, unit), *_looks(design.looks, names)):
            yield f"  {line}"
    if spaced:
        yield ""
    if design.words:
        yield f"sentiment: {{text: {GREETING}, size: {size_typed(design.words, unit)}, on: {design.words_on}}}"
        if spaced:
            yield ""


def _front(front: Mapping[str, Any], unit: Unit) -> Iterator[str]:
    for key, value in front.items():
        if isinstance(value, Length):
            yield f"{key}: {length_typed(value, unit)}"
            continue
        yield f"{key}:"
        for entry in value:
            yield f"  - {_entry(entry, unit, key in SPELT)}"


def _entry(entry: Any, unit: Unit, spelt: bool = False) -> str:
    """An entry of a row in short, `A meadow turned`; of `places` and `over` always spelt out."""
    if isinstance(entry, list):
        return f"[{', '.join(_entry(one, unit) for one in entry)}]"
    if isinstance(entry, str):
        return entry
    if spelt:
        return f"{{{', '.join(f'{key}: {_value(value, unit)}' for key, value in entry.items())}}}"
    turned = " turned" if entry.get("turned") else ""
    return f"{entry['piece']} {entry['paper']}{turned}{' point ' + entry['point'] if 'point' in entry else ''}"


def _value(value: Any, unit: Unit) -> str:
    if isinstance(value, Length):
        return length_typed(value, unit)
    return "yes" if value is True else str(value)


def _looks(looks: Sequence[LookOf], names: Mapping[str, str]) -> Iterator[str]:
    if looks:
        yield "looks:"
    seen: dict[str, int] = {}
    for look in looks:
        name = names.get(look.leads, look.leads)
        seen[name] = seen.get(name, 0) + 1
        called = f"{name} first" if seen[name] == 1 else f"{name} first, {spelled(seen[name])}"
        swap = f", swap: {{{', '.join(f'{a}: {b}' for a, b in look.swap.items())}}}" if look.swap else ""
        yield f"  - {{name: {text_typed(called)}, cards: {look.cards}{swap}}}"


# --- guides ---------------------------------------------------------------------------------------------


def _guides(draft: KitDraft) -> Iterator[str]:
    if draft.guides:
        yield "guides:"
    for guide in draft.guides:
        yield from _guide(guide, draft)


def _guide(guide: GuideOf, draft: KitDraft) -> Iterator[str]:
    yield f"  - papers: {guide.papers[0]}" if len(guide.papers) == 1 else f"  - papers: [{', '.join(guide.papers)}]"
    if guide.sheets is not None:
        yield f"    sheets: {guide.sheets}"
    yield "    cuts:"
    yield from (f"      {line}" for line in cut_lines(lines(guide.tree), draft.wish.unit))


def cut_lines(found: Sequence[GuideLine], unit: Unit) -> Iterator[str]:
    """The lines of a guide as its file has them."""
    for line in found:
        said = _cut(line, unit)
        if line.inside:
            yield f"- {said}:"
            yield from (f"    {inner}" for inner in cut_lines(line.inside, unit))
        else:
            yield f"- {said}: {line.label or 'leftover'}"


def _cut(line: GuideLine, unit: Unit) -> str:
    if line.what == "corners":
        return "corner to corner"
    if line.what == "rest":
        return "the rest"
    what = "column" if line.side in ("left", "right") else "strip"
    return f"{spelled(line.count)} {what}{'' if line.count == 1 else 's'} of {length_typed(line.measure, unit)} off the {line.side}"


# --- single values --------------------------------------------------------------------------------------


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def text_typed(words: str) -> str:
    """Words as YAML reads them back: JSON's quoting is YAML's too."""
    bare = words.replace(" ", "").isalpha() and words.casefold() not in ("null", "true", "false", "yes", "no", "on", "off", "y", "n")
    return words if bare else json.dumps(words, ensure_ascii=False)


def _figure(value: Fraction) -> str:
    """A number as a maker types it, exactly."""
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole}-{part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"


def length_typed(length: Length, unit: Unit) -> str:
    """A length as the file has it, a bare number of the kit's unit."""
    if unit == "mm":
        value = length.millimetres
        return f"{value // 1}.5" if value % 1 == Fraction(1, 2) else _figure(value)
    return _figure(length.inches)


def size_typed(size: Size, unit: Unit) -> str:
    """A size as the file has it."""
    return f"{length_typed(size.width, unit)} x {length_typed(size.height, unit)}"


def _sheet(sheet: NamedSize, unit: Unit) -> str:
    """A sheet or an envelope by its name, else by its measure in the unit that says it on a mark."""
    if sheet.name:
        return sheet.name
    on = {"in": SIXTEENTH, "mm": MM}
    other: Unit = "mm" if unit == "in" else "in"
    odd = any(side.inches % on[unit] for side in (sheet.size.width, sheet.size.height))
    shown = other if odd and not any(side.inches % on[other] for side in (sheet.size.width, sheet.size.height)) else unit
    return f"{size_typed(sheet.size, shown)} {shown}" if shown != unit else size_typed(sheet.size, unit)
