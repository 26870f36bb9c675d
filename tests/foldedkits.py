"""Small kits of folds with more than one score line, for tests: their numbers are worked by hand where they are used."""

_PAPERS = """\
papers:
  rose: {kind: patterned, name: Rose, size: 12 x 12, thickness: 0.008, front: {look: blossoms, colours: [linen, blush]}}
  moss: {kind: cardstock, name: Moss cardstock, size: Letter, thickness: 0.012, front: {colours: sage}}
  white: {kind: cardstock, name: White cardstock, size: Letter, thickness: 0.012, grain: long}
"""

GATE = f"""\
title: Two doors
summary: Two doors meet on the front, and a plate keeps them shut.
cards: 4
{_PAPERS}pieces:
  P: {{size: 1-7/8 x 5-1/4, for: door, paper: rose, per card: 2}}
  N: {{size: 4 x 5-1/4, for: inside, paper: white}}
  S: {{size: 2-1/2 x 2-1/2, for: plate, paper: moss}}
  W: {{size: 1-3/4 x 1/2, for: words, paper: white}}
card:
  base: {{size: 8-1/2 x 5-1/2, paper: white}}
  fold: gate
  envelope: US A2 envelope
faces:
  left door: {{border: 1/8, rows: [P]}}
  right door: {{border: 1/8, rows: [P]}}
  doors:
    over:
      - {{piece: S, fixed to: left door}}
      - {{piece: W, on: S}}
  inside: {{border: 1/8, rows: [N]}}
sentiments:
  - {{text: come in, size: 1-1/2 x 3/8, on: W}}
  - {{text: the kettle is on, size: 2-1/2 x 1/2, on: N}}
"""
"""A gate fold: the plate S lies across both doors, glued to the left one; W lies on S alone."""

TRI = f"""\
title: Three in a row
summary: A flap rolled in under the front.
cards: 2
{_PAPERS.replace("long", "short")}pieces:
  A: {{size: 3-3/8 x 5-1/4, for: front, paper: rose}}
  B: {{size: 3-3/8 x 5, for: inside, paper: rose}}
  C: {{size: 3-1/4 x 5-1/4, for: flap, paper: moss}}
card:
  base: {{size: 10-3/4 x 5-1/2, paper: white}}
  fold: tri-fold
faces:
  front: {{border: 1/8, rows: [A]}}
  inside: {{over: [{{piece: B}}]}}
  flap: {{over: [{{piece: C}}]}}
"""
"""A tri-fold: panels of 3⅝, 3⅝ and 3½ in, the flap C rolled in with ⅛ in of room."""

Z = """\
title: Three hills
summary: One hill on each of three panels.
cards: 2
unit: mm
papers:
  dawn: {kind: patterned, name: Dawn, size: 305 x 305, thickness: 0.2, front: {look: waves, colours: [blush, white], up: top}}
  white: {kind: cardstock, name: White cardstock, size: A4, thickness: 0.3, grain: short}
pieces:
  A: {size: 91 x 140, for: hill, paper: dawn, per card: 3}
card:
  base: {size: 297 x 148, paper: white}
  fold: z-fold
  envelope: ISO C6 envelope
faces:
  front: {border: 4, rows: [A]}
  middle: {border: 4, rows: [A]}
  last: {border: 4, rows: [A]}
"""
"""A z-fold in millimetres: panels of 99 mm, a hill of a one-way paper on the outside of each."""
