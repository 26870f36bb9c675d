"""What stands over and under the cutting guides of a printable."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction

from kitwright.cutting.plan import Layout, half_yields
from kitwright.cutting.tree import pieces
from kitwright.labels import is_base
from kitwright.telling.backs import marked
from kitwright.telling.drawn import two_from_each
from kitwright.telling.slack import slack_both
from kitwright.telling.words import label_text, listed, number, sheets_text
from kitwright.units import Size, is_seen, size_both, size_text
from kitwright.work.worked import Worked

GUIDES = "Cutting guides"
THIS_SIDE_UP = "this side up"
CUT_ALIKE = "cut alike"
CARE = "Mind your hands."
STROKES_SAY = "Cut in the order of the numbers, each right across the piece in hand."
HATCHED = "What is hatched is left over; slack is what a sheet may lack."
SLACK_IS = "Slack is what a sheet may lack."
SLACK = "Slack"
ALSO_LEFT = "Also left over"
TOO_SMALL = "Too small to mark"
PATTERNED, CARDSTOCK, OTHERS, CONTINUED = "patterned papers", "cardstock", "other sheets", "continued"
"""Which guides a page has, where they take several."""


def heading_text(part: str) -> str:
    """Over a page of guides; `part`: which guides, where they take several pages."""
    return f"{GUIDES}, {part}" if part else GUIDES


def whose_text(worked: Worked) -> str:
    """Which kit's guides they are."""
    spec = worked.kit.spec
    return f"{spec.title} · {number(spec.cards, 'card', 'cards')}"


def how_text(rests: bool) -> str:
    """How the guides are read; `rests`: something is left over."""
    return f"{STROKES_SAY} {HATCHED if rests else SLACK_IS}"


def drawn_at(scale: Fraction) -> str:
    """The scale of a guide."""
    return f"drawn at {scale * 100} %"


def sheets_of(layout: Layout, sheets: Fraction, of: str) -> str:
    """How many sheets are cut by a guide; their paper is not named again where the guide is called by it."""
    return sheets_text(sheets) if layout.name == f"{of}{layout.detail}" else f"{sheets_text(sheets)} of {of}"


def alike_text(sheets: Sequence[Fraction]) -> str:
    """The same for several papers, each named already: of each so many, or only that they are cut alike."""
    return f"{sheets_text(sheets[0])} of each, {CUT_ALIKE}" if len({*sheets}) == 1 else f"all {CUT_ALIKE}"


def named(label: str, n: int) -> str:
    """A label as a thing that is counted."""
    return label_text(label, n) if is_base(label) else label


def gives_texts(
    layout: Layout, unit: str, unsized: Collection[str] = (), backs: Mapping[str, str] | None = None, goes: Mapping[str, str] | None = None
) -> tuple[str, str]:
    """What a sheet gives, half of it where that is enough: `A sheet gives`, `12 C of 1¾ × 1¾ in`.

    Args:
        layout: how it is cut.
        unit: the kit's own.
        unsized: labels whose size does not stand on their pieces.
        backs: labels whose pieces lie on the card with their printed back up.
        goes: in a kit of several designs, where the pieces of a label go.
    """
    backs, goes = backs or {}, goes or {}
    gives = []
    for label, n in layout.yields.items():
        size = f" {_size(layout, label, unit)}" if label in unsized else ""
        beside = [backs.get(label, ""), f"for {goes[label]}" if label in goes else ""]
        gives.append(marked(f"{n} {named(label, n)}{size}", ", ".join(filter(None, beside))))
    half = any(each == layout.yields for each in half_yields(layout.tree))
    return "Half a sheet gives" if half else "A sheet gives", listed(gives)


def _size(layout: Layout, label: str, unit: str) -> str:
    leaf = next(leaf for leaf in pieces(layout.tree) if leaf.label == label)
    text = size_text(leaf.rect.size, unit)
    return f"({two_from_each(text)})" if leaf.diagonal else f"of {text}"


def left_text(rests: Sequence[tuple[Size, int]], unit: str) -> str:
    """Leftovers with their number; empty where there are none. A sliver that no ruler shows is none."""
    rests = [(size, n) for size, n in rests if is_seen(size.width, unit) and is_seen(size.height, unit)]
    return listed([f"{n} of {size_both(size, unit)}" if n > 1 else size_both(size, unit) for size, n in rests])


def missing_text(labels: Sequence[str], cuts: Sequence[str]) -> str:
    """Labels and cuts that have no room on a guide, nor beside it; empty where there are none."""
    return listed([*labels, *([f"the numbers {', '.join(cuts)}"] if cuts else [])])


def slack_told(layout: Layout, unit: str) -> str:
    """How far a sheet may fall short, in both units."""
    return slack_both(layout.slack, unit)
