"""What the file of a piece is called.

By its label; a mat, which is a plain layer over the base, by its paper and its size as it was
typed, since that is what she looks for among her cut files. Where something was released, the
names that readers may have stay.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from kitwright.card.face import Placed
from kitwright.kit.kit import Kit
from kitwright.labels import dashed, is_base
from kitwright.units import size_text
from kitwright.work.worked import Worked

FOLDER = "pieces"
LONGEST = 40
"""Signs of a typed size that still make a handy name of a file."""


def names_of(worked: Worked, released: Collection[str] = ()) -> dict[str, str]:
    """The path of each piece's file without its ending, by label.

    Args:
        worked: the kit.
        released: such paths of its newest revision; a piece that has one by its label keeps it.
    """
    labels = [label for label in (*worked.kit.spec.pieces, *filter(is_base, worked.sizes)) if worked.counts(label)]
    found = {label: f"{FOLDER}/{label.replace(' ', '-')}" for label in labels}
    mats = dict.fromkeys(placed.label for placed in _layers(worked))
    for label in mats:
        if label in found and found[label] not in released:
            name = f"{FOLDER}/{'_'.join(worked.counts(label))}-{_slug(size_typed(worked.kit, label))}"
            taken = name in found.values()
            found[label] = f"{name}-{label}" if taken else name
    return found


def labelled(kit: Kit) -> frozenset[str]:
    """The paths that pieces have by their labels."""
    return frozenset(f"{FOLDER}/{label}" for label in kit.spec.pieces)


def _layers(worked: Worked) -> Iterator[Placed]:
    """Full layers on any face of any design; a panel inside is no mat."""
    for face in (side for design in worked.designs for look in design.faces for side in look.every):
        yield from (placed for placed in face.layers if placed.layer == "layer" and placed.said != ("card", "inside"))


def size_typed(kit: Kit, label: str) -> str:
    """A piece's size as it stands in the spec; as it is shown, where it is not typed."""
    pieces = kit.document.data.get("pieces")
    entry = pieces.get(label) if isinstance(pieces, dict) else None
    typed = entry.get("size") if isinstance(entry, dict) else None
    return typed.strip() if isinstance(typed, str) and len(typed) <= LONGEST else size_text(kit.spec.pieces[label].size, kit.spec.unit)


def _slug(text: str) -> str:
    """As a part of a path: `2-1/2 x 2-1/2` is `2-1-2-x-2-1-2`, `2½ × 2½` too."""
    plain = text
    for sign, figure in (("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"), ("⅞", "7/8"), ("×", "x")):
        plain = plain.replace(sign, f" {figure}")
    return dashed(plain.lower(), "a-z0-9.").strip("-.")
