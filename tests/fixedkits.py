"""Kits of pockets, shakers and bands for tests: small, their numbers worked by hand where they are used."""

from __future__ import annotations

from pathlib import Path

from kitwright.card.layout import base_of, faces_of
from kitwright.work.measured import measured
from kitwright.work.worked import Worked
from making import make_kit

SHAKE = """\
title: Shake and pull
summary: A window to shake and a tag to pull.
cards: 4
papers:
  tide: {kind: patterned, name: Tide, size: 12 x 12, thickness: 0.008, front: {look: waves, colours: [butter, clay]}}
  white: {kind: cardstock, name: White cardstock, size: Letter, thickness: 0.012, grain: long}
  clear: {kind: film, name: Clear film, size: Letter, thickness: 0.005}
pieces:
  P: {size: 4-3/4 x 6-3/4, for: floor, paper: tide}
  F: {size: 4 x 3-1/2, for: frame, paper: white, shape: {window: {border: 3/4}}}
  K: {size: 4-1/2 x 2-1/2, for: pocket, paper: white, pocket: {open: top, glue: 1/4, holds: T}}
  T: {size: 3-3/4 x 2-3/4, for: tag, paper: white, shape: {tag: {end: top, snip: 1/4, hole: 1/8}}}
card:
  base: {size: 10 x 7, paper: white}
  fold: side
  foam: 1/8
  envelope: US A7 envelope
front:
  border: 1/8
  rows: [P]
  over:
    - piece: F
      top: 1/4
      shaker: {film: clear, lap: 1/4, foam: 1/4, from window: 1/8, inside: beads, inside thickness: 1/16}
    - {piece: K, bottom: 1/4}
    - {piece: T, in: K}
"""

GATE = """\
title: Garden door
summary: Two doors, a plate on one of them, and a tag inside.
cards: 4
papers:
  roses: {kind: patterned, name: Roses, size: 12 x 12, thickness: 0.008, front: {look: dots, colours: [linen, blush]}}
  white: {kind: cardstock, name: White cardstock, size: Letter, thickness: 0.012}
pieces:
  P: {size: 1-7/8 x 5-1/4, for: left panel, paper: roses}
  Q: {size: 1-7/8 x 5-1/4, for: right panel, paper: roses}
  N: {size: 4 x 5-1/4, for: inside, paper: white}
  S: {size: 2-1/2 x 2-1/2, for: plate, paper: white}
  K: {size: 3-1/2 x 3, for: pocket, paper: roses, pocket: top}
  T: {size: 2-3/4 x 4, for: tag, paper: white}
card:
  base: {size: 8-1/2 x 5-1/2, paper: white}
  fold: gate
  envelope: US A2 envelope
faces:
  left door: {border: 1/8, rows: [P]}
  right door: {border: 1/8, rows: [Q]}
  inside:
    border: 1/8
    rows: [N]
    over:
      - {piece: K, bottom: 1/4}
      - {piece: T, in: K}
  doors:
    over:
      - {piece: S, fixed to: left door}
"""
"""A gate fold with a plate across its doors, and a pocket inside."""


def laid_out(root: Path, text: str) -> Worked:
    """A kit whose card is worked out, and nothing planned."""
    kit = measured(make_kit(root, text))
    return Worked(kit, base_of(kit), faces_of(kit), (), (), ())
