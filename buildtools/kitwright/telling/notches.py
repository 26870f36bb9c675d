"""How notches are made, in words: each way with its own lengths, and the rule for a reader's own punch."""

from __future__ import annotations

from kitwright.card.notches import Way, along, notch_depth, notch_ends, strip_height, strip_height_of, ways
from kitwright.kit.model import Piece
from kitwright.telling.words import led, listed
from kitwright.units import Length, length_text, size_text


def way_title(way: Way) -> str:
    """What a way is called."""
    return led(_way(way))


def _way(way: Way) -> str:
    return {
        "scissors": "with scissors and a centre mark",
        "square punch": "with the corner of a square punch",
        "shaped punch": "with a shaped punch",
    }[way.tool]


def punch_text(way: Way, unit: str = "in") -> str:
    """The measures of the punch that the lengths hold for: `1½ in wide, ½ in deep, ⅛ in trim`; empty for scissors."""

    def say(length: Length) -> str:
        return length_text(length, unit)

    if way.punch:
        return f"{say(way.punch.width)} wide, {say(way.punch.depth)} deep, {f'{say(way.punch.trim)} trim' if way.punch.trim else 'no trim'}"
    if way.tool == "square punch":
        return (
            f"{say(way.side)}, or any of {say(way.least)} or larger" if way.side and way.side > way.least else f"{say(way.least)} or larger"
        )
    return ""


def tool_text(way: Way, unit: str = "in") -> str:
    """The tool with its measures: `shaped punch 1½ in wide, ½ in deep, ⅛ in trim`, `square punch of ¾ in or larger`; empty for scissors."""
    measures = punch_text(way, unit)
    return f"{way.tool} {'of ' if way.tool == 'square punch' else ''}{measures}" if measures else ""


def own_tool(piece: Piece, unit: str = "in") -> str:
    """The author's tool with its measures, which the size to cut and the notch hold for; empty for scissors and without a notch."""
    if piece.notch is None:
        return ""
    return tool_called(ways(piece, unit)[0], unit)


def tool_called(way: Way, unit: str = "in") -> str:
    """The same of a way to make the notches."""
    return f"{length_text(way.side, unit)} square punch" if way.side else tool_text(way, unit)


def punch_rule(piece: Piece, unit: str = "in") -> str:
    """How long to cut the strip, from the measures of any shaped punch."""
    start, more, each, height = _terms(piece, unit)
    return f"Measure your punch on a scrap as wide as it takes, {height} or wider. Cut the strip {start} long, and {each} longer by its {more}."


def short_rule(label: str, piece: Piece, unit: str = "in") -> str:
    """The same as a sum: `S 3 in, plus trim + depth × (width − 1 in) ÷ width at each end`."""
    start, more, each, _ = _terms(piece, unit)
    return f"{label} {start}, plus {more} {each}"


def _terms(piece: Piece, unit: str) -> tuple[str, str, str, str]:
    """What a strip's length starts from, what a shaped punch adds to it, where, and how tall the strip is."""
    notch, size = piece.notch, piece.size
    if notch is None:
        raise ValueError("a piece without a notch needs no rule")
    ends, height = notch_ends(size, notch), length_text(strip_height(size, notch), unit)
    each = "at each end" if len(ends) > 1 else f"at the {ends[0]} end"
    if notch.keeps == "bottoms":
        clear = along(size, ends) - notch_depth(size, notch) * len(ends)
        return length_text(clear, unit), "depth + trim", each, height
    return length_text(along(size, ends), unit), f"trim + depth × (width − {height}) ÷ width", each, height


def way_steps(way: Way, unit: str = "in", *, measured: bool = True) -> tuple[str, ...]:
    """How to make the notches this way: sentences in the order of the work, each way with its own lengths.

    Args:
        way: which.
        unit: of the lengths.
        measured: whether to name the punch that they hold for; not where that stands over them.
    """

    def say(length: Length) -> str:
        return length_text(length, unit)

    height = strip_height_of(way)
    several = len(way.ends) > 1
    end = "each end" if several else f"the {way.ends[0]} end"
    measured = measured and bool(way.punch or way.side)
    lines = [f"Cut the strip {size_text(way.cut, unit)}.", f"These lengths are for a {tool_text(way, unit)}." if measured else ""]
    if way.tool == "scissors":
        lines.append(
            f"At {end}, make a pencil dot in the middle of the strip, {say(height / 2)} from both long edges and {say(way.depth)} from the end."
        )
        lines.append("Snip from each corner to the dot, and no further.")
    elif way.tool == "square punch":
        lines.append("Hold the punch upside down, so that you see the strip in its opening.")
        lines.append(
            f"Slide {end} in with a corner of the square on the middle of the strip, until both corners of the end lie on its sides; then punch."
        )
        lines.append(_square_fits(way, height, unit))
    else:
        lines.append(f"Slide {end} in as far as it goes, in the middle of the opening; then punch.")
        if way.trim:
            lines.append(f"It takes {say(way.trim)} off {end} beyond the tips; the strip was cut longer for that.")
        if not way.big_enough:
            lines.append(
                f"The punch named in this kit is too small for this strip: it must take {say(way.least)}. Make the notch another way."
            )
    lines.append(
        f"The finished strip is {say(along(way.finished, way.ends))} from tip to tip; the notch is {say(way.depth)} deep, "
        f"and {say(way.clear)} stay clear {'between the notches' if several else 'beside the notch'}."
    )
    return tuple(line for line in lines if line)


def _square_fits(way: Way, height: Length, unit: str) -> str:
    if way.big_enough is None:
        return f"A square of {length_text(way.least, unit)} or larger takes this strip."
    if way.big_enough:
        return ""
    return f"The square named in this kit is too small for a strip {length_text(height, unit)} tall: use one of {length_text(way.least, unit)} or larger, or scissors."


def notch_differences(found: tuple[Way, ...], unit: str = "in") -> str:
    """What changes when a reader makes the notches another way than the author, to follow a colon; empty when nothing does."""
    own = found[0]
    said: list[str] = []
    for way in found[1:]:
        changes = []
        if way.finished != own.finished:
            changes.append(f"the strip is {length_text(along(way.finished, way.ends), unit)} from tip to tip")
        if way.clear != own.clear:
            changes.append(f"{length_text(way.clear, unit)} stay clear")
        if way.cut != own.cut:
            changes.append(f"it is cut {length_text(along(way.cut, way.ends), unit)} long")
        if changes:
            measures = f" ({punch_text(way, unit)})" if way.punch else ""
            said.append(f"{way_title(way) if said else _way(way)}{measures}, {listed(changes)}.")
    return " ".join(said)


def tool_needed(way: Way, unit: str = "in") -> str:
    """How large the tool must be, and whether the kit's own is."""
    if not way.least:
        return "any scissors with a fine tip"
    if way.punch:
        needs = punch_text(way, unit)
    else:
        own = f", here {length_text(way.side, unit)}" if way.side and way.side != way.least else ""
        needs = f"a square of {length_text(way.least, unit)} or larger{own}"
    return f"{needs}; the one named in this kit is too small" if way.big_enough is False else needs
