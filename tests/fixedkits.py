"""A kit of pockets, shakers and bands for tests: small, its numbers worked by hand where they are used."""

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
