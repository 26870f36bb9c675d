"""What makes a piece other than a plain rectangle, and what pieces lie on, in words."""

from __future__ import annotations

from kitwright.card.face import Form
from kitwright.card.shapes import form_of
from kitwright.kit.model import Piece
from kitwright.telling.notches import own_tool
from kitwright.telling.words import listed
from kitwright.units import size_text

STAMPED = {"punch": "punched", "die": "die-cut"}
"""How a piece comes out of its blank, by the tool."""


def form_text(form: Form) -> str:
    """What makes it so, to follow its name: `V notch in both ends`; empty for a plain one."""
    return ", ".join(_part(kind, places) for kind, places in form)


def _part(kind: str, places: tuple[str, ...]) -> str:
    if kind == "notch":
        return "V notch in both ends" if len(places) > 1 else f"V notch in the {places[0]} end"
    if kind in ("rounded", "snipped"):
        corners = f"{listed([*places])} corner{'s' if len(places) > 1 else ''}" if places else "corners"
        return f"{kind} {corners}"
    if kind == "arch":
        return f"arch at the {places[0]}"
    return f"tag with its hole at the {places[0]}" if kind == "tag" else kind


def shape_words(piece: Piece) -> str:
    """The same of a piece as the spec has it."""
    return form_text(form_of(piece))


def shaped_with(piece: Piece, unit: str = "in") -> str:
    """The same, with the punch whose measures the notch and the size to cut hold for: `V notch in both ends (square punch of ¾ in or larger)`.

    Where a punch or a die stamps it out of a blank, with its finished size: `circle, punched 2½ × 2½ in`.
    """
    if piece.made_with:
        return ", ".join(filter(None, (shape_words(piece), f"{STAMPED[piece.made_with.tool]} {size_text(piece.size, unit)}")))
    tool = own_tool(piece, unit)
    return f"{shape_words(piece)}{f' ({tool})' if tool else ''}"


def ground_text(on: str) -> str:
    """What something lies on: a label as it is, `M`; anything else by its name, `the base`, `the band`."""
    return on if on[:1].isupper() else f"the {on}"
