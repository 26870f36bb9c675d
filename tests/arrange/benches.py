"""Kits whose arrangements are known: stacks of equal strips, a pinwheel, a narrow mat."""

from __future__ import annotations

PAPERS = ("river", "meadow", "dusk", "frost", "brick", "barley", "ember", "cloud")
COLOURS = (
    "[sky, white]",
    "[sage, white]",
    "[night, blush]",
    "[white, sky]",
    "[clay, butter]",
    "[butter, clay]",
    "[plum, linen]",
    "[linen, night]",
)
LOOKS = ("waves", "sprigs", "dots", "scatter", "checks", "herringbone", "chevrons", "diagonals")


def stack(
    papers: list[str], *, cards: int = 12, extra: str = "", up: tuple[str, ...] = (), back: str = "", layers: str = "\n  layers: [M]"
) -> str:
    """A kit whose front is one column of equal strips, one for each entry; the same paper may come twice.

    Args:
        papers: of the strips, from the top.
        cards: in the batch.
        extra: more lines for the spec.
        up: papers whose pattern has an up.
        back: a paper with this second face: `plain linen`.
        layers: what lies on the base.
    """
    from fractions import Fraction

    n = len(papers)
    strip = (Fraction(21, 4) - Fraction(1, 8) * (n + 1)) / n
    kinds = list(dict.fromkeys(papers))
    lines = ["title: A stack", "summary: Strips of one size.", f"cards: {cards}", "papers:"]
    for key in kinds:
        i = PAPERS.index(key)
        lines += [
            f"  {key}:",
            "    kind: patterned",
            f"    name: {key.capitalize()}",
            "    size: 12 x 12",
            f"    front: {{look: {LOOKS[i]}, colours: {COLOURS[i]}{', up: top' if key in up else ''}}}",
        ]
        if key == back:
            lines.append(f"    back: {{look: stripes, colours: {COLOURS[i]}}}")
    lines += [
        "  white: {kind: cardstock, name: White cardstock, size: Letter, front: {colours: white}}",
        "pieces:",
        "  M: {size: 4 x 5-1/4, for: mat, paper: white}",
        f"  A: {{size: 3-3/4 x {strip.numerator}/{strip.denominator}, for: strip, per card: {{{', '.join(f'{k}: {papers.count(k)}' for k in kinds)}}}}}",
        "card:",
        "  base: {size: 8-1/2 x 5-1/2, paper: white}",
        f"  fold: side{layers}",
        "  envelope: US A2 envelope",
        "front:",
        "  border: 1/8",
        "  gap: 1/8",
        "  rows:",
        *(f"    - A {key}" for key in papers),
    ]
    return "\n".join(lines) + "\n" + extra
