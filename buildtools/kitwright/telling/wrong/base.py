"""A card base that was typed otherwise than meant, or cut from paper too thin for one."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.materials import Kind
from kitwright.papers import Weight
from kitwright.telling.materials import kind_text
from kitwright.telling.words import typed_size
from kitwright.units import Size, rounded, size_text


def typed_otherwise(slip: str, front: Size | None, size: Size | None, fold: str | None, unscored: bool, finished: Size, unit: str) -> Said:
    """`front`: the card as typed, None where the score leaves none; `size`, `fold`: what to write, where it differs."""
    why = {
        "folded": "this is the size of the folded card: the base is cut flat, twice as large",
        "other-fold": f"this base is right for a {fold} fold",
        "turned": "this base is typed turned",
        "turned-other-fold": f"this base is typed turned, and right for a {fold} fold",
    }[slip]
    now = f"the card is {size_text(front, unit)}, and not everything fits on it" if front else "the score leaves no card"
    write = [f"size: {typed_size(size, unit)}"] if size else []
    write += ([f"fold: {fold}"] if fold else []) + (["no score line"] if unscored else [])
    return f"{why}; as typed, {now}", f"write  {'  and  '.join(write)}  for a card of {size_text(finished, unit)}"


def thin(paper: str, weight: Weight | None) -> Said:
    grams = f" ({rounded(weight.grammage)} g/m²)" if weight and weight.kind else ""
    return (
        f"{paper}{f', {weight.text}{grams},' if weight else ''} is thin for a card base: the card hardly stands",
        "use cardstock of 65 lb cover (176 g/m²) or more, or say  meant: thin  under the base",
    )


def breaks(paper: str, kind: Kind) -> Said:
    return (
        f"{paper} is {kind_text(kind)}, which does not fold: it breaks or springs open",
        "cut the base from cardstock, and lay this on it as a piece; or say  meant: thin  under the base",
    )


def patterned(paper: str, kind: Kind) -> Said:
    return (
        f"{paper} is {kind_text(kind)}, which is mostly too thin for a card base",
        "use cardstock, say the paper's weight, or say  meant: thin  under the base",
    )
