"""The text of a starter kit: commented, small, and sound. Braces are filled in with its id and title."""

from __future__ import annotations

KIT = """\
# yaml-language-server: $schema=../kit.schema.json
# A kit: change what you like, then run   kitwright check {id}
# Sizes are width x height as the thing lies in front of you. Write 3-1/4, 3¼, 3.25 or 82 mm.

title: {title}
summary: Six side-fold cards with two panels of one paper, from one 8 x 8 sheet.
cards: 6
unit: in                       # in or mm: shown first, and what a bare number means
tags: [quick, stamped]

papers:                        # the papers on the table; the short name is yours to choose
  pattern:
    kind: patterned
    name: Patterned paper
    size: 8 x 8
    front: {{look: stripes, colours: [sage, linen]}}
    # up: top                  # add this inside the braces for a one-way paper
  white:
    kind: cardstock
    name: White cardstock
    size: Letter               # Letter, A4, 12 x 12 …
    weight: 80 lb cover        # or 216 gsm

pieces:                        # a label for every size
  A: {{size: 1-1/4 x 4-3/4, for: tall panel, paper: pattern, per card: 1}}
  B: {{size: 2-3/8 x 1-1/2, for: short panel, paper: pattern, per card: 1}}
  M: {{size: 4 x 5, for: mat, paper: white}}

card:
  base: {{size: 8-1/2 x 5-1/2, paper: white}}
  fold: side                   # side or top
  layers: [M]                  # what lies on the base, lowest first
  envelope: US A2 envelope

front:                         # how the pieces lie on the topmost layer
  border: 1/8
  gap: 1/8
  columns:                     # from the left; a list inside runs the other way
    - A
    - [B, band]                # the band is the free space that is left

sentiment:
  text: hello there
  size: 2 x 3/4
  on: band

guides:                        # your own cuts, in order; papers without a guide are cut by auto
  - papers: pattern
    cuts:
      - 1 strip of 4-3/4 off the top:
          - 6 panels of 1-1/4 off the left: A
      - 2 strips of 1-1/2 off the top:
          - 3 panels of 2-3/8 off the left: B
"""
"""Its kit.yaml."""

NOTES = """\
Write here what a maker should know. Sizes are cited, never retyped: the tall panel is
[[size of A]], and the batch is [[cards]].
"""
"""Its notes.md, as it is."""
