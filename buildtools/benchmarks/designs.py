"""Designs of generated kits: eight families, each with sizes, papers, counts, guides and batches of its own at every throw of the dice.

A design adds up by the way it is made, so that `check` finds no error in it: strips are as wide
as the mat between its borders, and a free band takes what is left. Thrown again with `slip`, one
size of it is another, and it adds up as well: how a kit is changed, and what an erratum mends.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import yaml
from invented import SENTIMENTS, phrase

COLOURS = "linen butter blush sky sage clay plum night".split()
DARK = "clay plum night sage".split()
LOOKS = "stripes pinstripes dots checks sprigs blossoms scatter waves diagonals chevrons herringbone".split()
ONE_WAY = "leaves houses bunting".split()
WHITE, LINEN = "white", "linen"
"""Papers of the club."""


@dataclass
class Design:
    """What a kit's spec says of its making."""

    cards: int
    papers: dict[str, Any]
    pieces: dict[str, Any]
    card: dict[str, Any]
    front: dict[str, Any]
    sentiment: dict[str, Any]
    guides: list[Any] = field(default_factory=list)
    decorations: list[Any] = field(default_factory=list)
    vary: tuple[str, ...] = ()
    unit: str = "in"
    metric: bool = False

    @property
    def text(self) -> str:
        """As YAML, a piece or a paper a line."""
        lines = [f"cards: {self.cards}", f"unit: {self.unit}"]
        for key, each in (("papers", self.papers), ("pieces", self.pieces)):
            lines += [f"{key}:", *(f"  {name}: {flow(value)}" for name, value in each.items())]
        rest = {"card": self.card, "front": self.front, "sentiment": self.sentiment}
        rest |= {"decorations": self.decorations} if self.decorations else {}
        rest |= {"guides": self.guides} if self.guides else {}
        rest |= {"arrangements": {"vary": [*self.vary]}} if self.vary else {}
        return "\n".join(lines) + "\n" + yaml.safe_dump(rest, sort_keys=False, width=1000, allow_unicode=True)


def flow(value: Any) -> str:
    """A value on one line."""
    return yaml.safe_dump(value, default_flow_style=True, sort_keys=False, width=10_000, allow_unicode=True).strip()


def inches(value: Fraction | int) -> str:
    """As it is typed: 3-3/4."""
    whole, part = divmod(Fraction(value), 1)
    return str(whole) if not part else f"{whole}-{part}" if whole else str(part)


def by(width: Fraction | int, height: Fraction | int) -> str:
    """A size in inches."""
    return f"{inches(width)} x {inches(height)}"


def sixteenths(number: int) -> Fraction:
    """A length in inches."""
    return Fraction(number, 16)


def patterned(dice: random.Random, key: str, size: str, one_way: bool = False, sheets: str = "") -> dict[str, Any]:
    """A patterned paper."""
    look = dice.choice(ONE_WAY if one_way else LOOKS)
    paper = {"kind": "patterned", "name": f"{key.capitalize()} {look}", "size": size}
    paper["front"] = {"look": look, "colours": dice.sample(COLOURS, dice.randint(2, 3))} | ({"up": "top"} if one_way else {})
    return paper | ({"sheets": sheets} if sheets else {})


def cardstock(dice: random.Random, key: str, size: str = "Letter", weight: str = "80 lb cover", colour: str = "") -> dict[str, Any]:
    """Cardstock of one colour."""
    colour = colour or dice.choice(DARK)
    face = {"look": "plain", "colours": colour}
    return {"kind": "cardstock", "name": f"{key.capitalize()} cardstock", "size": size, "front": face, "weight": weight}


def named(dice: random.Random, count: int) -> list[str]:
    """Keys of papers."""
    found: list[str] = []
    while len(found) < count:
        key = phrase(dice, 1)
        if len(key) > 5 and key not in (*found, WHITE, LINEN, "base", "front"):
            found.append(key)
    return found


def sentiment(dice: random.Random, on: str, widest: Fraction) -> dict[str, Any]:
    """Words that have room."""
    return {"text": dice.choice(SENTIMENTS), "size": by(min(widest, sixteenths(dice.randrange(20, 37))), Fraction(3, 8)), "on": on}


def strip(dice: random.Random, widest: Fraction, paper: str) -> tuple[dict[str, Any], Fraction]:
    """A strip for the sentiment, with room for words of some width."""
    width = widest - sixteenths(4 * dice.randint(1, 3))
    piece: dict[str, Any] = {"size": by(width, Fraction(3, 4)), "for": "sentiment strip", "paper": paper}
    ends = dice.choice(("plain", "plain", "notched", "rounded"))
    if ends == "notched":
        piece["notch"] = {"ends": "both", "depth": "3/8"}
    if ends == "rounded":
        piece["shape"] = {"rounded": "1/4"}
    return piece, width - 1


FRONTS = {"US A2 envelope": (68, 88), "US A6 envelope": (72, 100), "US A7 envelope": (80, 112)}
"""Front of an upright card for an envelope, in sixteenths."""


def strips(dice: random.Random, slip: bool) -> Design:
    """Strips across a mat, over or around a free band: the commonest."""
    envelope = dice.choice([*FRONTS, "US A2 envelope"])
    wide, tall = (sixteenths(n) for n in FRONTS[envelope])
    lying, twins = dice.random() < 0.4, dice.random() < 0.4
    wide, tall = (tall, wide) if lying else (wide, tall)
    rim, border, gap = (sixteenths(dice.choice(of)) for of in ((2, 2, 3, 4), (2, 2, 3), (2, 2, 4)))
    width, free = wide - 2 * rim - 2 * border, tall - 2 * rim - 2 * border - sixteenths(18)
    most = max(n for n in (2, 3, 4) if n == 2 or free - n * gap >= n * sixteenths(12))
    count = dice.randint(2, most)
    even = (free - count * gap) / count
    heights = [max(sixteenths(10), min(even, sixteenths(dice.randrange(10, int(even * 16) + 1)))) for _ in range(count)]
    # Whole sixteenths, no label the size of another.
    heights = [sixteenths(int(h * 16)) for h in heights]
    heights = [h - sixteenths(heights[:n].count(h)) if h > sixteenths(12) else h for n, h in enumerate(heights)]
    if slip:
        heights[1] -= sixteenths(1)
    keys, colour = named(dice, dice.randint(1, 3)), dice.choice((WHITE, LINEN))
    one_way = dice.random() < 0.15
    papers = {key: patterned(dice, key, dice.choice(("12 x 12", "12 x 12", "8 x 8")), one_way and n == 0) for n, key in enumerate(keys)}
    matted = named(dice, 1)[0] + "ish"
    papers[matted] = cardstock(dice, matted)
    labels = "ABCD"[:count]
    pieces: dict[str, Any] = {"M": {"size": by(wide - 2 * rim, tall - 2 * rim), "for": "mat", "paper": matted}}
    pair = twins and (width - gap) * 16 % 2 == 0
    rows: list[Any] = []
    for n, label in enumerate(labels):
        half = pair and n == count - 1
        pieces[label] = {
            "size": by((width - gap) / 2 if half else width, heights[n]),
            "for": f"{dice.choice(('upper', 'low', 'main', 'thin'))} strip",
        }
        pieces[label] |= {"paper": keys[n % len(keys)]} | ({"per card": 2} if half else {})
        rows.append([label, label] if half else label)
    rows.insert(dice.randint(0, count), "band")
    pieces["S"], room = strip(dice, width, colour)
    cards, guides = dice.choice((6, 8, 8, 9, 10, 12)), []
    if len(keys) == 1 and not pair and papers[keys[0]]["size"] == "12 x 12" and dice.random() < 0.7:
        columns, down = int(12 / width), int(12 / sum(heights))
        cards = min(12, columns * down)
        cuts = [
            {
                f"{columns} columns of {inches(width)} off the left": [
                    {f"{down} strips of {inches(h)} off the top": label} for label, h in zip(labels, heights)
                ]
            }
        ]
        guides = [{"papers": keys[0], "cuts": cuts}]
    base = by(wide, 2 * tall) if lying else by(2 * wide, tall)
    if dice.random() < 0.5:
        guides.append({"papers": matted, "cuts": "auto"})
    card = {"base": {"size": base, "paper": colour}, "fold": "top" if lying else "side", "layers": ["M"], "envelope": envelope}
    front = {"border": inches(border), "gap": inches(gap), "rows": rows, "over": [{"piece": "S", "on": "band", "raised": "yes"}]}
    vary = dice.choice(((), (), ("strip", "raised"), ("fold", "mat"), ("fold", "mat", "strip", "raised", "stamped")))
    return Design(cards, papers, pieces, card, front, sentiment(dice, "S", room), guides, vary=vary)


def swapped(dice: random.Random, slip: bool) -> Design:
    """Two panes under a panel, from two papers that change places on half of the cards."""
    gap = sixteenths(dice.choice((2, 4)))
    width = Fraction(31, 8)
    pane, panel = (width - gap) / 2, sixteenths(dice.randrange(22, 31))
    low = sixteenths(dice.randrange(22, 29)) - (sixteenths(1) if slip else 0)
    keys, matted = named(dice, 2), "moss"
    size = dice.choice(("8 x 8", "12 x 12"))
    papers = {key: patterned(dice, key, size) for key in keys} | {matted: cardstock(dice, matted)}
    first, other = keys
    pieces = {
        "M": {"size": "4-1/8 x 5-3/8", "for": "mat", "paper": matted},
        "A": {"size": by(width, panel), "for": "wide panel", "per card": {first: "1/2", other: "1/2"}},
        "B": {"size": by(pane, low), "for": "window pane", "per card": {first: 1, other: 1}},
    }
    cards = dice.choice((4, 6, 8, 10))
    looks = [
        {"name": f"{first} above", "cards": cards // 2},
        {"name": f"{other} above", "cards": cards - cards // 2, "swap": {first: other, other: first}},
    ]
    rows = [f"A {first}", "band", [f"B {other}", f"B {other}"]]
    card = {"base": {"size": "8-1/2 x 5-1/2", "paper": WHITE}, "fold": "side", "layers": ["M"], "envelope": "US A2 envelope"}
    front = {"border": "1/8", "gap": inches(gap), "rows": rows, "looks": looks}
    words = sentiment(dice, "band", Fraction(9, 4)) | {"place": "left", "inset": "3/16"}
    dots = {"name": "a small flower", "size": "3/4 x 3/8", "on": "band", "right": "3/16", "thickness": "1/16", "optional": "yes"}
    return Design(cards, papers, pieces, card, front, words, decorations=[dots])


def columns(dice: random.Random, slip: bool) -> Design:
    """A tall piece and a square in each of two columns, in millimetres, from a small pad."""
    border, gap = dice.choice(((3, 3), (4, 3), (3, 5), (2, 3), (4, 5), (2, 5)))
    wide = (99 - 2 * border - gap) // 2
    tall = dice.randrange(72, 98) - (1 if slip else 0)
    short = 142 - 2 * border - gap - tall
    keys = named(dice, dice.choice((2, 4)))
    papers = {key: patterned(dice, key, "15.2 x 15.2 cm") for key in keys}
    papers |= {"a4-white": cardstock(dice, "a4-white", "A4", "270 gsm", "white"), "a4-deep": cardstock(dice, "a4-deep", "A4", "216 gsm")}
    share = {2: "1", 4: "1/2"}[len(keys)]
    pieces = {
        "M": {"size": "99 x 142", "for": "mat", "paper": "a4-deep"},
        "A": {"size": f"{wide} x {tall}", "for": "tall piece", "per card": dict.fromkeys(keys, share)},
        "B": {"size": f"{wide} x {short}", "for": "short piece", "per card": dict.fromkeys(keys, share)},
        "S": {"size": f"{dice.choice((111, 90, 80))} x 16", "for": "sentiment strip", "paper": "a4-white"},
    }
    cards = dice.choice((6, 8, 12))
    looks = [
        {"name": "the first pair", "cards": cards // 2},
        {"name": "the other pair", "cards": cards // 2, "swap": dict(zip(keys, keys[2:]))},
    ]
    front = {"border": border, "gap": gap, "columns": [[f"A {keys[0]}", f"B {keys[1]}"], [f"B {keys[0]}", f"A {keys[1]}"]]}
    front |= {"over": [{"piece": "S", "raised": "yes", "meant": "overhang"}]} | ({"looks": looks} if len(keys) == 4 else {})
    card = {"base": {"size": "210 x 148", "paper": "a4-white"}, "fold": "side", "layers": ["M"], "envelope": "ISO C6 envelope"}
    guides = [
        {
            "papers": keys,
            "name": "All pad papers",
            "cuts": [
                {
                    f"3 columns of {wide} off the left": [
                        {f"one piece of {tall} off the top": "A"},
                        {f"one piece of {short} off the top": "B"},
                    ]
                }
            ],
        }
    ]
    words = {"text": dice.choice(SENTIMENTS), "size": f"{dice.randrange(40, 64)} x 9", "on": "S"}
    return Design(cards, papers, pieces, card, front, words, guides, unit="mm", metric=True)


def tags(dice: random.Random, slip: bool) -> Design:
    """Key tags in a row under a rail: a shape with a hole."""
    count, wide, gap = dice.choice(((3, 18, 3), (3, 16, 6), (2, 28, 4), (2, 29, 2)))
    tall = sixteenths(dice.randrange(36, 46)) - (sixteenths(1) if slip else 0)
    keys, matted = named(dice, count), "plumb"
    papers = {key: patterned(dice, key, dice.choice(("6 x 6", "8 x 8"))) for key in keys} | {matted: cardstock(dice, matted)}
    pieces = {
        "M": {"size": "4 x 5-1/4", "for": "mat", "paper": matted},
        "R": {"size": "3-3/4 x 3/4", "for": "rail", "paper": LINEN},
        "T": {
            "size": by(sixteenths(wide), tall),
            "for": "key tag",
            "per card": dict.fromkeys(keys, 1),
            "shape": {"tag": {"end": "top", "snip": "1/4", "hole": "3/16"}},
        },
        "S": {"size": "3 x 3/4", "for": "sentiment strip", "paper": LINEN, "shape": {"rounded": "1/4"}},
    }
    front = {"border": "1/8", "gap": inches(sixteenths(gap)), "rows": ["R", [f"T {key}" for key in keys], "band"]}
    front["over"] = [{"piece": "S", "on": "band", "raised": "yes"}]
    card = {"base": {"size": "8-1/2 x 5-1/2", "paper": WHITE}, "fold": "side", "layers": ["M"], "envelope": "US A2 envelope"}
    guides = [{"papers": WHITE, "cuts": [{"2 strips of 5-1/2 off the top": "base"}]}, {"papers": LINEN, "cuts": "auto"}]
    words = sentiment(dice, "S", Fraction(19, 8))
    return Design(dice.choice((6, 8, 10, 12)), papers, pieces, card, front, words, guides)


def panes(dice: random.Random, slip: bool) -> Design:
    """One picture in two or three panes, on a one-way paper, over a wide band."""
    count, wide, gap = dice.choice(((2, 39, 2), (2, 38, 4), (3, 24, 4)))
    tall = sixteenths(dice.randrange(26, 39)) - (sixteenths(1) if slip else 0)
    key, matted, labels = named(dice, 1)[0], "slate", "BCD"[:count]
    papers = {key: patterned(dice, key, "12 x 12", one_way=True), matted: cardstock(dice, matted)}
    pieces: dict[str, Any] = {"M": {"size": "5-1/4 x 4", "for": "mat", "paper": matted}}
    sides = ("left", "right") if count == 2 else ("left", "middle", "right")
    pieces |= {label: {"size": by(sixteenths(wide), tall), "for": f"{side} pane", "paper": key} for label, side in zip(labels, sides)}
    pieces["S"] = {"size": "4 x 3/4", "for": "sentiment strip", "paper": LINEN}
    front = {
        "border": "1/8",
        "gap": inches(sixteenths(gap)),
        "rows": [[*labels], "band"],
        "over": [{"piece": "S", "on": "band", "raised": "yes"}],
    }
    card = {"base": {"size": "5-1/2 x 8-1/2", "paper": LINEN}, "fold": "top", "layers": ["M"], "envelope": "US A2 envelope"}
    groups = int(12 / (count * sixteenths(wide)))
    down = int(12 / tall)
    cut = [{f"one piece of {inches(sixteenths(wide))} off the left": label} for _ in range(groups) for label in labels]
    guides = [{"papers": key, "cuts": [{f"{down} strips of {inches(tall)} off the top": cut}]}]
    return Design(min(12, groups * down), papers, pieces, card, front, sentiment(dice, "S", Fraction(11, 4)), guides)


def vases(dice: random.Random, slip: bool) -> Design:
    """Three strips of three heights on a slim card, in three papers that change places."""
    low, middle, high = (sixteenths(dice.randrange(a, b)) for a, b in ((40, 54), (62, 74), (84, 102)))
    low -= sixteenths(1) if slip else 0
    keys, based = named(dice, 3), "rosy"
    papers = {key: patterned(dice, key, "8 x 8") for key in keys} | {based: cardstock(dice, based, weight="100 lb cover", colour="blush")}
    third = dict.fromkeys(keys, "1/3")
    pieces = {
        "A": {"size": by(1, low), "for": "short vase", "per card": third},
        "B": {"size": by(1, high), "for": "tall vase", "per card": dict(third)},
        "C": {"size": by(1, middle), "for": "middle vase", "per card": dict(third)},
        "S": {"size": "2-3/4 x 3/4", "for": "sentiment strip", "paper": LINEN},
        "I": {"size": "3-1/4 x 8-1/4", "for": "inside panel", "paper": LINEN},
    }
    one, two, three = keys
    stands = [{"piece": label, "paper": key, "place": "bottom"} for label, key in zip("ABC", keys)]
    looks = [
        {"name": f"{two} tallest", "cards": 3},
        {"name": f"{three} tallest", "cards": 3, "swap": {one: two, two: three, three: one}},
        {"name": f"{one} tallest", "cards": 3, "swap": {one: three, three: two, two: one}},
    ]
    front = {"border": "1/8", "gap": "1/8", "columns": stands, "over": [{"piece": "S", "bottom": 1, "raised": "yes"}], "looks": looks}
    card = {"base": {"size": "7 x 8-1/2", "paper": based}, "fold": "side", "inside": "I", "envelope": "slimline envelope"}
    flower = {"name": "a flower", "size": "7/8 x 7/8", "thickness": "1/16", "optional": "yes"}
    stands_in = [flower | {"bottom": inches(high + sixteenths(2))}]
    guides = [
        {
            "papers": keys,
            "name": "All three patterned papers",
            "cuts": [
                {"3 columns of 1 off the left": [{f"one piece of {inches(high)} off the top": "B"}]},
                {
                    "3 columns of 1 off the left": [
                        {f"one piece of {inches(middle)} off the top": "C"},
                        {f"one piece of {inches(low)} off the top": "A"},
                    ]
                },
            ],
        }
    ]
    return Design(9, papers, pieces, card, front, sentiment(dice, "S", Fraction(9, 4)), guides, stands_in)


def sails(dice: random.Random, slip: bool) -> Design:
    """Four strips around a raised square, placed from the edges, on a square card."""
    low = sixteenths(dice.randrange(18, 24)) - (sixteenths(1) if slip else 0)
    wide = Fraction(37, 8) - low
    keys = named(dice, 4)
    papers = {key: patterned(dice, key, "12 x 12", sheets="half") for key in keys}
    papers |= {"midnight": cardstock(dice, "midnight", "12 x 12"), "snow": cardstock(dice, "snow", "12 x 12", "100 lb cover", "white")}
    pieces = {
        "M": {"size": "5 x 5", "for": "mat", "paper": "midnight"},
        "A": {"size": by(wide, low), "for": "sail", "per card": dict.fromkeys(keys, 1)},
        "C": {"size": "1-3/4 x 1-3/4", "for": "raised centre", "paper": WHITE},
    }
    edges = (("left", "top"), ("right", "top"), ("right", "bottom"), ("left", "bottom"))
    places: list[Any] = [
        {"piece": "A", "paper": key} | ({"turned": "yes"} if n % 2 else {}) | dict.fromkeys(sides, "1/8")
        for n, (key, sides) in enumerate(zip(keys, edges))
    ]
    one, two, three, four = keys
    looks = [
        {"name": "cool sails level", "cards": 6},
        {"name": "warm sails level", "cards": 6, "swap": {one: two, two: one, three: four, four: three}},
    ]
    front = {"border": "1/8", "gap": "1/8", "places": [*places, {"piece": "C", "raised": "yes"}], "looks": looks}
    card = {"base": {"size": "10-1/2 x 5-1/4", "paper": "snow"}, "fold": "side", "layers": ["M"], "envelope": "5½ square envelope"}
    cuts = [{"halve at 6 across": [{f"3 columns of {inches(wide)} off the left": [{f"4 strips of {inches(low)} off the top": "A"}]}]}]
    guides = [{"papers": keys, "name": "All four patterned papers", "sheets": "half", "cuts": cuts}]
    words = {"text": dice.choice(SENTIMENTS), "size": "1-3/8 x 3/4", "on": "C"}
    return Design(12, papers, pieces, card, front, words, guides, vary=dice.choice(((), ("fold",))))


def post(dice: random.Random, slip: bool) -> Design:
    """A tall panel beside two strips from the other side of one double-sided sheet, on a large card."""
    tall, wide = Fraction(9, 2), sixteenths(dice.randrange(28, 42))
    rest, upper, lower = Fraction(51, 8) - wide, sixteenths(dice.randrange(20, 28)), sixteenths(dice.randrange(12, 16))
    upper -= sixteenths(1) if slip else 0
    key, matted, based = named(dice, 1)[0], "plumb", "cream"
    papers = {key: patterned(dice, key, "12 x 12") | {"back": {"look": "pinstripes", "colours": dice.sample(COLOURS, 2)}}}
    papers |= {matted: cardstock(dice, matted), based: cardstock(dice, based, weight="100 lb cover", colour="linen") | {"grain": "short"}}
    pieces = {
        "M": {"size": "6-3/4 x 4-3/4", "for": "mat", "paper": matted},
        "A": {"size": by(wide, tall), "for": "tall panel", "paper": key},
        "B": {"size": by(rest, upper), "for": "upper strip", "paper": key},
        "C": {"size": by(rest, lower), "for": "lower strip", "paper": key},
        "S": {"size": by(rest - Fraction(1, 2), Fraction(3, 4)), "for": "sentiment strip", "paper": based},
    }
    front = {
        "border": "1/8",
        "gap": "1/8",
        "columns": ["A", ["B back", "band", "C"]],
        "over": [{"piece": "S", "on": "band", "raised": "yes"}],
    }
    card = {"base": {"size": "7 x 10", "paper": based}, "fold": "top", "score": 5, "layers": ["M"], "envelope": "US A7 envelope"}
    vary = dice.choice(((), ("strip", "raised", "stamped")))
    return Design(dice.choice((4, 5, 6)), papers, pieces, card, front, sentiment(dice, "S", rest - 1), vary=vary)


FAMILIES: tuple[Callable[[random.Random, bool], Design], ...] = (
    strips, swapped, strips, columns, panes, strips, tags, columns, strips, post, vases, strips, sails, columns, strips, panes,
)  # fmt: skip
"""In turn, kit after kit."""


def design(seed: int, number: int, slip: bool = False) -> Design:
    """The design of a kit by its number; with `slip` one size is a sixteenth, or a millimetre, less."""
    return FAMILIES[number % len(FAMILIES)](random.Random(f"{seed} design {number}"), slip)
