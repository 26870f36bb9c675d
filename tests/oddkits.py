"""Odd little kits: one card, one piece, one sheet, nothing left over; in either unit, with and without everything that may be missing."""

from __future__ import annotations

SIZES = {
    # unit: base, folded, piece, sheet of patterned paper, mat, envelope, greeting, small
    "in": {
        "base": "8-1/2 x 5-1/2",
        "tall": "5-1/2 x 8-1/2",
        "piece": "3-3/4 x 1-1/4",
        "sheet": "6 x 6",
        "exact": "3-3/4 x 2-1/2",
        "mat": "4 x 5-1/4",
        "envelope": "US A2 envelope",
        "greeting": "2 x 3/4",
        "stock": "Letter",
        "border": "1/8",
        "square": "11 x 5-1/2",
    },
    "mm": {
        "base": "210 x 148",
        "tall": "148 x 210",
        "piece": "95 x 32",
        "sheet": "152 x 152",
        "exact": "95 x 64",
        "mat": "101 x 142",
        "envelope": "ISO C6 envelope",
        "greeting": "50 x 18",
        "stock": "A4",
        "border": "3",
        "square": "280 x 140",
    },
}


def kit(
    unit: str = "in",
    cards: int = 1,
    *,
    fold: str = "side",
    mat: bool = True,
    pieces: int = 1,
    exact: bool = False,
    greeting: bool = True,
    envelope: bool = True,
    spot: bool = False,
    raised: bool = False,
    notch: bool = False,
    back: bool = False,
    one_way: bool = False,
    square: bool = False,
) -> str:
    """The text of a kit of so many cards with so many pieces A on each."""
    s = SIZES[unit]
    base = s["square"] if square else s["base" if fold == "side" else "tall"]
    up = ", up: top" if one_way else ""
    lines = [
        "title: Odd",
        "summary: An odd kit.",
        f"cards: {cards}",
        f"unit: {unit}",
        "papers:",
        f"  river: {{kind: patterned, name: River, size: {s['exact'] if exact else s['sheet']}, front: {{look: stripes, colours: [sky, white]{up}}}, back: {{look: dots, colours: [sage, white]}}}}",
        f"  white: {{kind: cardstock, name: White cardstock, size: {'12 x 12 in' if square else s['stock']}}}",
        "pieces:",
        f"  A: {{size: {s['piece']}, for: panel, paper: river, per card: {pieces}}}",
    ]
    lines += [f"  M: {{size: {s['mat']}, for: mat, paper: white}}"] if mat else []
    lines += [f"  S: {{size: {s['piece']}, for: strip, paper: white{', notch: {ends: both}' if notch else ''}}}"] if raised or notch else []
    lines += (
        ["card:", f"  base: {{size: {base}, paper: white}}", f"  fold: {fold}"]
        + (["  layers: [M]"] if mat else [])
        + ([f"  envelope: {s['envelope']}"] if envelope and not square else [])
    )
    lines += [
        "front:",
        *([f"  border: {s['border']}", f"  gap: {s['border']}"] if mat else []),
        "  rows:",
        *([f"    - {{piece: A, place: centre{', face: back' if back else ''}}}"] * pieces),
        "    - band",
    ]
    lines += ["  over:", f"    - {{piece: S, on: band{', raised: yes' if raised else ''}}}"] if raised or notch else []
    lines += ["sentiment:", "  text: hello", f"  size: {s['greeting']}", f"  on: {'S' if raised or notch else 'band'}"] if greeting else []
    lines += (
        ["decorations:", f"  - {{name: a dot, size: {s['border']} x {s['border']}, on: band, left: {s['border']}, top: {s['border']}}}"]
        if spot
        else []
    )
    return "\n".join(lines) + "\n"


KINDS = {
    "plain": {},
    "bare": {"mat": False, "greeting": False, "envelope": False},
    "a sheet that is used up": {"exact": True, "pieces": 2},
    "everything": {"pieces": 2, "spot": True, "raised": True, "notch": True, "back": True, "one_way": True},
    "top fold": {"fold": "top", "mat": False},
    "square": {"square": True, "mat": False, "spot": True},
}
ODD = {
    f"{unit}, {cards} {'card' if cards == 1 else 'cards'}, {name}": kit(unit, cards, **KINDS[name])
    for unit, cards, names in (
        ("in", 1, KINDS),
        ("mm", 1, ("bare", "everything")),
        ("in", 2, ("bare",)),
        ("mm", 3, ("a sheet that is used up", "square")),
    )
    for name in names
}
"""By what is odd about them."""
