"""Kits for these tests, written as a crafter would, read through the library."""

from __future__ import annotations

from pathlib import Path

from kitwright.kit.read import read_club, read_kit
from kitwright.work.worked import Worked
from kitwright.work.working import work

CLUB = """\
name: Tin Drawer Card Club
tagline: One layout, one afternoon.
about: An archive of monthly kits.
time zone: Europe/Lisbon
region: us
trimmer: {cut length: 12, finest mark: 1/16, least hold: 3/8}
terms: >-
  Print this for yourself and for friends at your table. Make cards to give or to sell by hand.
  Please don't pass on or change the pages themselves.
cautions:
  - Blades stay sharp in the drawer. Keep fingers behind the guard and lock the blade when you put it down.
  - Glue in a room with a window open, and keep it off your skin.
  - Dots and small cut-outs are no toys. Keep them from small children.
"""

COVES = """\
title: Three Coves
summary: Six cards from two eight-inch papers cut alike, three panels round a free band, with a strip for the greeting.
cards: 6
tags: [stamped, quick]
reveal: 2027-05-07 10:00
papers:
  wave: {kind: patterned, name: Harbour wave, size: 8 x 8, front: {look: waves, colours: [sky, night, white]}}
  dot: {kind: patterned, name: Pebble dot, size: 8 x 8, front: {look: dots, colours: [linen, clay]}}
  white: {kind: cardstock, name: White cardstock, size: Letter, weight: 110 lb cover, grain: long}
pieces:
  A: {size: 3-3/4 x 1-3/8, for: top panel, per card: {wave: 1/2, dot: 1/2}}
  B: {size: 1-13/16 x 1-3/8, for: lower panels, per card: {wave: 1, dot: 1}}
  S: {size: 3 x 15/16, for: sentiment strip, paper: white, notch: {ends: right}}
  M: {size: 4 x 5-1/4, for: mat, paper: white}
card:
  base: {size: 8-1/2 x 5-1/2, paper: white}
  fold: side
  layers: [M]
  envelope: US A2 envelope
front:
  border: 1/8
  gap: 1/8
  rows: [A wave, band, [B wave, B dot]]
  over: [{piece: S, on: band, left: 1/4, raised: yes}]
  looks:
    - {name: waves on top, cards: 3}
    - {name: dots on top, cards: 3, swap: {wave: dot, dot: wave}}
sentiment: {text: drop anchor, size: 2 x 1/2, on: S}
guides:
  - papers: [wave, dot]
    cuts:
      - 1 column of 3-3/4 off the left:
          - 3 strips of 1-3/8 off the top: A
      - 2 columns of 1-13/16 off the left:
          - 3 strips of 1-3/8 off the top: B
"""

LANTERN = """\
title: Long Evening
summary: Four landscape cards with a tall panel and two strips.
cards: 4
papers:
  reed: {kind: patterned, name: Reed bed, size: 12 x 12, front: {look: leaves, colours: [linen, sage], up: top}}
  navy: {kind: cardstock, name: Navy cardstock, size: 12 x 12, front: {colours: [night]}, weight: 80 lb cover}
  white: {kind: cardstock, name: White cardstock, size: Tabloid, weight: 100 lb cover}
pieces:
  A: {size: 2-1/4 x 4-1/2, for: tall panel, paper: reed}
  B: {size: 3-7/8 x 1-1/4, for: strip, paper: reed, per card: 2}
  M: {size: 6-1/2 x 4-3/4, for: mat, paper: navy}
card:
  base: {size: 7 x 10, paper: white}
  fold: top
  layers: [M]
  envelope: US A7 envelope
front:
  border: 1/8
  gap: 1/8
  columns: [A, [B, band, B]]
sentiment: {text: stay a while longer, size: 3 x 3/4, on: band}
decorations:
  - {name: a paper lantern, size: 1 x 1, on: A, optional: yes}
"""

FERRY = """\
title: Night Ferry
summary: Eight small cards for A4 stock and 15.2 cm pads.
cards: 8
unit: mm
papers:
  net: {kind: patterned, name: Net, size: 152 x 152, front: {look: checks, colours: [blush, plum]}}
  white: {kind: cardstock, name: White cardstock, size: A4, weight: 300 gsm}
pieces:
  A: {size: 45 x 60, for: side panel, paper: net}
  B: {size: 46 x 60, for: second panel, paper: net}
  M: {size: 97 x 140, for: mat, paper: white}
card:
  base: {size: 210 x 148, paper: white}
  fold: side
  layers: [M]
  envelope: ISO C6 envelope
front:
  border: 2
  gap: 2
  rows: [[A, B], band]
sentiment: {text: safe crossing, size: 60 x 20, on: band}
"""


def stress(pieces: int = 14, papers: int = 6, title: str = "A Very Long Garden Walk With Every Paper in the Drawer at Once") -> str:
    """A kit with many piece kinds, one guide for each of many papers, and a long title."""
    looks = ("stripes", "dots", "checks", "sprigs", "waves", "blossoms", "chevrons", "scatter")
    colours = ("linen, sage", "blush, plum", "butter, clay", "sky, night", "sage, white", "linen, plum", "clay, linen", "butter, night")
    lines = [
        f"title: {title}",
        "summary: Ten cards that use up a pad, fourteen kinds of small panels in two rows and six ways to cut a sheet, to see that the pages hold.",
        "cards: 10",
        "papers:",
    ]
    for i in range(papers):
        lines.append(
            f"  p{i}: {{kind: patterned, name: Garden walk number {i + 1}, size: 6 x 6, "
            f"front: {{look: {looks[i % 8]}, colours: [{colours[i % 8]}]}}}}"
        )
    lines += ["  white: {kind: cardstock, name: Heavy white cardstock, size: Letter, weight: 110 lb cover}", "pieces:"]
    labels = [chr(65 + i) for i in range(pieces - 1)]
    for i, label in enumerate(labels):
        lines.append(
            f"  {label}: {{size: {'5/8' if i % 2 else '9/16'} x 1-{i + 1}/16, for: panel number {i + 1} of the long walk, paper: p{i % papers}}}"
        )
    lines += [
        "  Z9: {size: 5 x 4-1/4, for: mat, paper: white}",
        "card:",
        "  base: {size: 5-1/2 x 8-1/2, paper: white}",
        "  fold: top",
        "  layers: [Z9]",
        "  envelope: US A2 envelope",
        "front:",
        "  border: 1/8",
        "  gap: 1/16",
    ]
    half = len(labels) // 2
    lines += [
        f"  rows: [[{', '.join(labels[:half])}], band, [{', '.join(labels[half:])}]]",
        "  meant: uneven",
        "sentiment: {text: every path leads back, size: 3 x 1/2, on: band}",
    ]
    return "\n".join(lines) + "\n"


KITS = {"2027-05-three-coves": COVES, "2027-06-long-evening": LANTERN, "2027-07-night-ferry": FERRY, "2027-08-garden": stress()}
"""Kit id to the text of its spec."""


def worked(folder: Path, name: str, spec: str | None = None, club: str | None = None) -> Worked:
    """A kit read from files in `folder` and worked out."""
    (folder / "club.yaml").write_text(club or CLUB, encoding="utf-8")
    (folder / name).mkdir()
    (folder / name / "kit.yaml").write_text(spec or KITS[name], encoding="utf-8")
    return work(read_kit(folder / name, read_club(folder)))
