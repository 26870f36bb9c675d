"""A kit of two designs whose sheets leave nothing over, for tests: a standing card and a lying one."""

SHEETS = """\
title: Moss and shore
summary: One sheet of each of two papers makes eight standing cards and eight lying ones.
papers:
  moss: {kind: patterned, name: Moss, size: 12 x 12, sheets: 1, front: {look: stripes, colours: [linen, sage]}}
  shore: {kind: patterned, name: Shore, size: 12 x 12, sheets: 1, front: {look: dots, colours: [sky, white]}}
  white: {kind: cardstock, name: White cardstock, size: Letter, sheets: 8}
pieces:
  A: {size: 4 x 3, papers: [moss, shore]}
  B: {size: 4 x 1, papers: [moss, shore]}
  C: {size: 4 x 2, papers: [moss, shore]}
"""

STANDING = """\
  Standing:
    cards: 8
    card:
      base: {size: 8-1/2 x 5-1/2, paper: white}
      fold: side
      envelope: US A2 envelope
    front:
      border: 1/8
      gap: 1/8
      rows: [A moss, B shore, band]
      looks:
        - {name: moss above, cards: 4}
        - {name: shore above, cards: 4, swap: {moss: shore, shore: moss}}
    sentiment: {text: thinking of you, size: 2-1/2 x 1/2, on: band}
"""

LYING = """\
  Lying:
    cards: 8
    card:
      base: {size: 5-1/2 x 8-1/2, paper: white}
      fold: top
      envelope: US A2 envelope
    front:
      border: 1/8
      gap: 1/8
      columns: [C moss turned, B shore turned, C moss turned]
      looks:
        - {name: moss outside, cards: 4}
        - {name: shore outside, cards: 4, swap: {moss: shore, shore: moss}}
"""

TAG = """\
  Tag:
    cards: 16
    card:
      base: {size: 2 x 3-1/2, paper: white}
      fold: flat
    front:
      rows: [band]
    sentiment: {text: for you, size: 1-1/2 x 1/2, on: band}
"""

GUIDE = """\
guides:
  - papers: [moss, shore]
    cuts:
      - 1 column of 4:
          - 4 rows of 3: A
      - 2 columns of 4:
          - 4 rows of 2: C
          - 4 rows of 1: B
"""

DESIGNS = f"designs:\n{STANDING}{LYING}"
BY_AUTO = SHEETS + DESIGNS
SEVERAL = BY_AUTO + GUIDE


def alone(design: str) -> str:
    """One of the designs as a kit of its own."""
    return SHEETS + "\n".join(line.removeprefix("    ") for line in design.split("\n")[1:])
