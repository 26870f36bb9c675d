"""The text of a starter kit: commented, small, and sound, in inches or in millimetres."""

from __future__ import annotations

from dataclasses import asdict, dataclass

_KIT = """\
# yaml-language-server: $schema=../kit.schema.json
# A kit: change what you like, then run   kitwright check {id}
# Sizes are width x height as the thing lies in front of you. Write {ways}.
# What else a maker should know stands in notes.md, for her to read: cite sizes there, as [[size of A]], never retype them.

title: {title}
summary: Six side-fold cards with two panels of one paper, from {sheets}.
cards: 6
unit: {unit}                       # in or mm: shown first, and what a bare number means
tags: [quick, stamped]
# reveal: {month}-15 10:00     # when it becomes public; left out, with the first of its month

papers:                        # the papers on the table; the short name is yours to choose
  pattern:
    kind: patterned
    name: Patterned paper
    size: {pattern}
    front: {{look: stripes, colours: [sage, linen]}}
    # up: top                  # add this inside the braces for a one-way paper
  white:
    kind: cardstock
    name: White cardstock
    size: {sheet:<20} # Letter, A4, 12 x 12 in …
    front: {{look: plain, colours: white}}
    weight: {weight:<18} # {weighed}

pieces:                        # a label for every size
  A: {{size: {tall}, for: tall panel, paper: pattern, per card: 1}}
  B: {{size: {short}, for: short panel, paper: pattern, per card: 1}}
  M: {{size: {mat}, for: mat, paper: white}}

card:
  base: {{size: {base}, paper: white}}
  fold: side                   # side or top
  layers: [M]                  # what lies on the base, lowest first
  envelope: {envelope}

front:                         # how the pieces lie on the topmost layer
  border: {edge}
  gap: {edge}
  columns:                     # from the left; a list inside runs the other way
    - A
    - [B, band]                # the band is the free space that is left

sentiment:
  text: hello there
  size: {sentiment}
  on: band

guides:                        # your own cuts, in order; papers without a guide are cut by auto
  - papers: pattern
    cuts:
{cuts}"""


@dataclass(frozen=True)
class _Measures:
    """A starter's measures, as typed."""

    unit: str
    ways: str
    """How lengths may be written."""
    sheets: str
    """What the batch takes of the patterned paper."""
    pattern: str
    sheet: str
    weight: str
    weighed: str
    """How else a weight may be written."""
    tall: str
    short: str
    mat: str
    base: str
    envelope: str
    edge: str
    """The borders and gaps of the front."""
    sentiment: str
    cuts: str


_MEASURES = {
    "us": _Measures(
        unit="in",
        ways="3-1/4, 3¼, 3.25 or 82 mm",
        sheets="one sheet of 8 × 8 in",
        pattern="8 x 8",
        sheet="Letter",
        weight="80 lb cover",
        weighed="or 216 gsm",
        tall="1-1/4 x 4-3/4",
        short="2-3/8 x 1-1/2",
        mat="4 x 5",
        base="8-1/2 x 5-1/2",
        envelope="US A2 envelope",
        edge="1/8",
        sentiment="2 x 3/4",
        cuts="""\
      - 1 strip of 4-3/4 off the top:
          - 6 panels of 1-1/4 off the left: A
      - 2 strips of 1-1/2 off the top:
          - 3 panels of 2-3/8 off the left: B
""",
    ),
    "metric": _Measures(
        unit="mm",
        ways="82, 82.5, 8.2 cm or 3-1/4 in",
        sheets="two sheets of a 15.2 cm pad",
        pattern="15.2 cm x 15.2 cm",
        sheet="A4",
        weight="220 gsm",
        weighed="or 80 lb cover",
        tall="31 x 134",
        short="57 x 44",
        mat="97 x 140",
        base="210 x 148",
        envelope="ISO C6 envelope",
        edge="3",
        sentiment="45 x 20",
        cuts="""\
      - 1 strip of 134 off the top:
          - 3 panels of 31 off the left: A
          - 1 panel of 57 off the left:
              - 3 strips of 44 off the top: B
""",
    ),
}
"""The measures that a club of each region is at home in."""


def kit_text(kit: str, title: str, region: str) -> str:
    """A starter's kit.yaml.

    Args:
        kit: its id.
        title: its title, quoted as YAML where that needs it.
        region: whose sheets, envelopes and unit it takes, `us` or `metric`.
    """
    return _KIT.format(id=kit, month=kit[:7], title=title, **asdict(_MEASURES[region]))


NOTES = """\
Any paper with a small pattern will do. Cut one tall panel of [[size of A]] from a scrap first:
if you like it on the mat, the other panels for the [[cards]] will sit well too.
"""
"""Its notes.md, as it is."""
