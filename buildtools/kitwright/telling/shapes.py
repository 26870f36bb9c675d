"""What makes a piece other than a plain rectangle, and what pieces lie on, in words."""

from __future__ import annotations

from kitwright.card.face import Form, Placed
from kitwright.card.shapes import form_of, scalloped_edges
from kitwright.geometry import Diagonal
from kitwright.kit.model import Piece
from kitwright.labels import is_base
from kitwright.telling.folds import face_text
from kitwright.telling.notches import own_tool
from kitwright.telling.words import listed
from kitwright.units import Size, length_text, size_text

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
    if kind == "triangle":
        return f"triangle, its long side {places[0]}"
    if kind == "trapezoid":
        return f"trapezoid, narrower at the {places[0]}"
    if kind == "parallelogram":
        return f"parallelogram leaning {places[0]}"
    if kind == "scalloped":
        return "scalloped all round" if len(places) > 3 else f"scalloped at the {listed([*places])}"
    if kind == "thumb notch":
        return f"thumb notch at the {places[0]}"
    if kind == "arch":
        return f"arch at the {places[0]}"
    return f"tag with its hole at the {places[0]}" if kind == "tag" else kind


def shape_words(piece: Piece) -> str:
    """The same of a piece as the spec has it."""
    return form_text(form_of(piece))


CORNERS: dict[Diagonal, str] = {"falling": "top left and bottom right corners", "rising": "bottom left and top right corners"}
"""The two corners that a cut joins, named with the sheet upright."""


def blank_word(size: Size, n: int = 1) -> str:
    """What a piece of which two triangles come is called: `square`, or `rectangles`."""
    return f"{'square' if size.width == size.height else 'rectangle'}{'' if n == 1 else 's'}"


def made_text(label: str, piece: Piece, unit: str = "in") -> str:
    """How a piece is made of its rectangle with a blade or an edge punch, where that is more than its template says; empty otherwise.

    Args:
        label: its label.
        piece: as the spec has it.
        unit: of the lengths.
    """
    shape, size = piece.shape, size_text(piece.size, unit)
    if shape is None or piece.made_with:
        return ""
    if piece.diagonal:
        return (
            f"Cut each {size} {blank_word(piece.size)} for {label} with its {CORNERS[piece.diagonal]} on the blade line, without the ruler. "
            f"It gives two {label}: turn one by half a turn and it covers the other."
        )
    if shape.trapezoid:
        end, by = shape.trapezoid.end, length_text(shape.trapezoid.by, unit)
        return f"Mark {label} along its {end}, {by} from both corners, and cut from each mark to the nearer corner of the {_OPPOSITE[end]}."
    if shape.parallelogram:
        lean, by = shape.parallelogram.lean, length_text(shape.parallelogram.by, unit)
        one, other = _LEANING[lean]
        return f"Mark {label} at its {one} and at its {other}, and cut from each mark to the nearer corner opposite.".replace("*", by)
    if shape.scalloped:
        edges = "all four edges" if len(scalloped_edges(shape.scalloped)) > 3 else f"the {listed([*scalloped_edges(shape.scalloped)])} of"
        return (
            f"Punch {edges} {label} with an edge punch of half circles {length_text(shape.scalloped.width, unit)} wide; they come out even."
        )
    return ""


_OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
_LEANING = {
    "right": ("top, * from the left", "bottom, * from the right"),
    "left": ("top, * from the right", "bottom, * from the left"),
    "up": ("left end, * from the top", "right end, * from the bottom"),
    "down": ("left end, * from the bottom", "right end, * from the top"),
}
"""Where the two slanted cuts of a leaning piece begin."""


def shaped_with(piece: Piece, unit: str = "in") -> str:
    """The same, with the punch whose measures the notch and the size to cut hold for: `V notch in both ends (square punch of ¾ in or larger)`.

    Where a punch or a die stamps it out of a blank, with its finished size: `circle, punched 2½ × 2½ in`.
    """
    if piece.made_with:
        return ", ".join(filter(None, (shape_words(piece), f"{STAMPED[piece.made_with.tool]} {size_text(piece.size, unit)}")))
    tool = own_tool(piece, unit)
    return f"{shape_words(piece)}{f' ({tool})' if tool else ''}"


def lying_text(placed: Placed) -> str:
    """Which way round a piece lies, to follow its name: `, turned`, `, upside down`, `, its point down`; empty as its size is written."""
    if placed.point:
        return f", its point {placed.point}"
    if placed.upside_down:
        return ", turned to the left" if placed.turned else ", upside down"
    return ", turned" if placed.turned else ""


def ground_text(on: str) -> str:
    """What something lies on: a label as it is, `M`; anything else by its name, `the base`, `the band`."""
    return on if on[:1].isupper() and not is_base(on) else face_text(on)
