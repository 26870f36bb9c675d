"""Random small questions, and what holds of every answer, whoever found it and however."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st
from kitwright.cutting.tree import Leaf, Node, cuts, faults, leaves, slack, yields
from kitwright.papers import sheet_named
from kitwright.proposing.families.family import field_of
from kitwright.proposing.records import Answer, Proposal
from kitwright.proposing.wish import Wish

_INCH: dict[str, Any] = {
    "sheet": ("6x6", "8x8", "6 x 8", "12x12", "Letter", "8 x 4", "5-3/4 x 9", "3x3"),
    "sheets": ("6x6", "8x8", "Letter", "6 x 8", "12x12"),
    "card": ("4 x 5", "3 x 4", "4-1/4 x 5-1/2", "5x7", "5 x 5", "3-1/2 x 8-1/2", "5-1/2 x 4-1/4", "3-1/8 x 4-1/8"),
    "grid": ("1/4", "1/4", "1/2", "1/8"),
    "border": ("1/8", "1/4", "0", "1/8, 1/4", "3/16", "1/2"),
    "gap": ("1/8", "0", "1/4", "1/16", "0, 1/8"),
    "band": ("1", "1-1/2", "2-1/4", "6"),
    "tool": ("2 x 2", "1-1/2 x 1-1/2", "3 x 1", "2-1/4 x 1-3/4"),
    "slack": ("1/8", "1/4", "1/2", "1", "0"),
    "mat": ("1/8", "1/4"),
    "sums": (
        {"grid": "1/4", "card": "4-1/4 x 5-1/2", "border": "1/8", "gap": "1/4"},
        {"grid": "1/4", "card": "4 x 5", "border": "1/4", "gap": "1/4"},
        {"grid": "1/4", "card": "5x7", "border": "1/4", "gap": "0, 1/4"},
        {"grid": "1/8", "card": "3 x 4", "border": "1/8"},
    ),
}
_MM: dict[str, Any] = {
    "sheet": ("150 x 150", "A5", "200 x 200", "A4", "305 x 305", "152 x 152"),
    "sheets": ("150 x 150", "200 x 200", "A4", "A5", "305 x 305"),
    "card": ("105 x 148", "100 x 120", "135 x 135", "148 x 105", "74 x 105", "121 x 171"),
    "grid": ("5", "5", "10", "3"),
    "border": ("3", "5", "0", "3, 5", "4"),
    "gap": ("3", "0", "5", "2.5"),
    "band": ("25", "40", "61"),
    "tool": ("50 x 50", "40 x 40", "75 x 25"),
    "slack": ("3", "6", "12", "30"),
    "mat": ("3", "5"),
    "sums": (
        {"grid": "5", "card": "100 x 120", "border": "5", "gap": "5"},
        {"grid": "5", "card": "135 x 135", "border": "5", "gap": "5, 0"},
        {"grid": "5", "card": "105 x 150", "border": "5", "gap": "0"},
    ),
}
_ODD: tuple[dict[str, Any], ...] = (
    {"cards": "400"},
    {"cards": "0"},
    {"paper": []},
    {"paper": ["60 of 12x12"]},
    {"paper": ["1000 of 6x6"]},
    {"paper": ["1 of 1 x 1"]},
    {"paper": ["1 of 8-1/2 x 11", "1 of A4"]},
    {"paper": ["2 of River", "1 of 12x12 one-way as Fern"]},
    {"paper": ["2 of the blue one"]},
    {"card": "14 x 20"},
    {"card": "1 x 1"},
    {"card": ["4 x 5", "5 x 5"]},
    {"card": "A6", "envelope": "C6"},
    {"card": "4-1/4 x 5-1/2", "envelope": "US A2 envelope", "cardstock": "Letter"},
    {"card": "5x7", "envelope": "DL"},
    {"grid": "1/16"},
    {"grid": "1/64"},
    {"grid": "mm"},
    {"grid": "7"},
    {"border": "3", "mat": "2"},
    {"border": "0, 1/8, 1/4, 3/8, 1/2", "gap": "0, 1/8, 1/4"},
    {"border": "0, 1, 2, 3, 4, 5", "gap": "0, 1, 2, 3, 4, 5"},
    {"gap": "2"},
    {"band": "20"},
    {"slack": "200"},
    {"waste": "0%", "slack": "1/2"},
    {"waste": "99%"},
    {"kinds": "5", "pieces": "12-16"},
    {"kinds": "1", "pieces": "7"},
    {"pieces": "40"},
    {"pieces": "5-2"},
    {"family": ["rows", "bunting"], "fold": "gate"},
    {"family": ["gate doors"], "fold": "gate", "band": "1"},
    {"family": ["band across"], "whole": "yes"},
    {"family": ["zigzag"]},
    {"designs": "2", "cards": "1"},
    {"designs": "2", "cards": "7"},
    {"designs": "2", "fold": "gate"},
    {"share": "yes", "whole": "yes"},
    {"punch": ["2 x 2", "1-1/2 x 1-1/2"], "die": "3 x 2"},
    {"die": "5 x 7"},
    {"punch": "40 mm x 40 mm"},
)
"""What nobody can have, or hardly ever asks: contradictory, absurd, in the other unit, many values, names of things."""
_FAMILIES = ("rows", "columns", "grid", "rows beside a panel", "framed panel", "wound strips", "band across", "bunting", "gate doors")


Pick = Callable[[Sequence[Any]], Any]


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    """What somebody types; much of it can't be had together."""
    return question(lambda choices: draw(st.sampled_from(choices)))


def question(pick: Pick) -> dict[str, Any]:
    """The same, by whatever picks one of several."""
    unit = pick(("in", "in", "mm"))
    of = _INCH if unit == "in" else _MM

    def maybe(likely: int) -> bool:
        return bool(pick(range(100)) < likely)

    # One paper or several, of which one may have an up and the others none.
    way, apart = " one-way" if maybe(20) else "", maybe(10)
    papers = [
        f"{pick((1, 2, 3))} of {pick(of['sheet'])}{way if i == 0 or not apart else ''}" for i in range(pick((1, 1, 1, 1, 1, 2, 2, 3)))
    ]
    # Usual cards are four questions in one, and so is any number of them.
    typed: dict[str, Any] = {"unit": unit, "paper": papers, "grid": pick(of["grid"]), "card": pick(of["card"])}
    if maybe(90):
        typed["cards"] = str(pick(range(1, 13)))
    for key, likely in (("border", 40), ("gap", 40), ("band", 25), ("slack", 20), ("mat", 20)):
        if maybe(likely):
            typed[key] = pick(of[key])
    if maybe(60):
        # Sums that come out on the grid, cards that fill the sheets, and no wish about them besides, so that many questions have an answer.
        typed = {key: typed[key] for key in typed if key not in ("band", "slack", "mat")} | pick(of["sums"])
        typed["waste"] = pick(("20%", "40%"))
        if maybe(60):
            typed["family"] = [pick(_FAMILIES)]
            if typed["family"] == ["gate doors"]:
                typed["fold"] = "gate"
        if maybe(80):
            # Sheets alike, of two papers where one lies over the other.
            number, sheet = pick((1, 2, 3)), pick(of["sheets"])
            papers = [f"{number} of {sheet}{way}"] * (2 if typed.get("family") == ["band across"] else pick((1, 1, 2)))
            each = _filling(sheet, typed["card"], unit, pick((60, 70, 80, 90, 100)))
            typed |= {"paper": papers, "cards": str(number * each * len(papers)), "waste": "40%"}
        if maybe(60):
            return typed
    if maybe(15):
        typed["fold"] = pick(("top", "gate", "flat"))
    if maybe(20):
        typed["pieces"] = pick(("2-3", "3-5", "4", "1", "6-9"))
    if maybe(30):
        typed["kinds"] = pick("1234")
    if maybe(30):
        typed["family"] = [pick(_FAMILIES)]
    if maybe(10):
        typed[pick(("punch", "die"))] = [pick(of["tool"])]
    if maybe(10):
        typed[pick(("share", "whole"))] = "yes"
    if maybe(10):
        typed["designs"] = "2"
    if maybe(40):
        typed["waste"] = pick(("0%", "5%", "10%", "30%", "60%"))
    if maybe(5):
        # Usual cards then.
        typed.pop("card")
    if maybe(5):
        typed.pop("unit")
    for _ in range(pick((0, 0, 0, 0, 0, 0, 1, 1, 2))):
        typed |= pick(_ODD)
    return typed


def _filling(sheet: str, card: str, unit: str, part: int) -> int:
    """So many cards that their fronts, three quarters covered, take such a part of a sheet, in hundredths."""
    (whole, front), covered = (sheet_named(name, unit).size.area for name in (sheet, card)), Fraction(3, 4)
    return max(1, int(whole * part / 100 / (front * covered)))


# --- what holds of every answer -------------------------------------------------------------------


def wrong(answer: Answer) -> Iterator[str]:
    """What does not hold of an answer; nothing where all is well."""
    if not answer.proposals:
        if not answer.why:
            yield "empty without its reason"
        return
    if [one.number for one in answer.proposals] != list(range(1, len(answer.proposals) + 1)) or len(answer.proposals) > 12:
        yield "numbers"
    for one in answer.proposals:
        for fault in (*_cuts(one, answer.wish), *_faces(one, answer.wish), *_wished(one, answer.wish)):
            yield f"{one.number}: {fault}"


def _cuts(one: Proposal, wish: Wish) -> Iterator[str]:
    """Its sheets are sound, are there, and give what the batch needs; what is left over and left free is as said."""
    stocks = {stock.key: stock for stock in wish.stocks}
    wanted = {kind.label: kind.cut for kind in one.kinds}
    halved = {kind.label: kind.halved for kind in one.kinds if kind.halved}
    used: Counter[str] = Counter()
    made: Counter[str] = Counter()
    for cut in one.cuts:
        for key, sheets in cut.stocks:
            used[key] += sheets
            fixed = frozenset(wanted) if stocks[key].one_way else frozenset()
            if found := faults(cut.tree, stocks[key].sheet.size, wanted, fixed, halved):
                yield f"tree {found[0]}"
            for label, n in yields(cut.tree).items():
                made[label] += n * sheets
    if any(used[key] > stock.sheets for key, stock in stocks.items()):
        yield "more sheets than there are"
    for label in wanted:
        if made[label] < sum(side.each.get(label, 0) * side.cards for side in one.sides):
            yield f"too few {label}"
    pieces = sum((sum(_areas(cut.tree)) * sum(n for _, n in cut.stocks) for cut in one.cuts), Fraction(0))
    whole = sum((stock.sheet.size.area * stock.sheets for stock in wish.stocks), Fraction(0))
    if one.measured.waste > wish.waste:
        yield "more left over than was wished"
    if one.measured.left < whole - pieces or one.measured.waste != one.measured.left / whole:
        yield "not what is left over"
    if wish.slack is not None and one.measured.slack < wish.slack:
        yield "less slack than was wished"
    if any(min(size.width, size.height) < one.measured.slack for size in (slack(cut.tree) for cut in one.cuts)):
        yield "less slack than is said"
    if len({stroke.measure for cut in one.cuts for stroke in cuts(cut.tree)}) != one.measured.measures:
        yield "other measures than are said"


def _areas(node: Node) -> Iterator[Fraction]:
    return (leaf.rect.size.area for leaf in leaves(node) if isinstance(leaf, Leaf) and leaf.label is not None)


def _faces(one: Proposal, wish: Wish) -> Iterator[str]:
    """Every piece lies inside the border, none on another but what lies over, and each is of its kind's size."""
    sizes = {kind.label: kind for kind in one.kinds}
    for side in one.sides:
        inner = field_of(wish, side.card, side.border, side.gap).inner
        flat = [spot for spot in side.spots if not spot.over and not spot.point]
        for spot in flat:
            size = sizes[spot.label].size
            if spot.rect.size != (size.turned if spot.turned else size):
                yield f"{spot.label} is not of its size"
        if side.band and any(side.band.overlaps(spot.rect) for spot in side.spots):
            yield "something in the band"
        if side.band and side.card.fold != "gate" and not inner.contains(side.band):
            yield "band past the border"
        for spot in side.spots if side.card.fold != "gate" else ():
            r = spot.rect
            if r.x < inner.x or r.y < inner.y or r.x + r.width > inner.x + inner.width or r.y + r.height > inner.y + inner.height:
                yield f"{spot.label} past the border"
        for i, spot in enumerate(flat):
            for other in flat[:i]:
                a, b = spot.rect, other.rect
                if a.x < b.x + b.width and b.x < a.x + a.width and a.y < b.y + b.height and b.y < a.y + a.height:
                    yield f"{spot.label} on {other.label}"


def _wished(one: Proposal, wish: Wish) -> Iterator[str]:
    if wish.cards is not None and one.cards != wish.cards or sum(side.cards for side in one.sides) != one.cards:
        yield "not the cards that were asked for"
    if len(one.sides) != wish.designs:
        yield "not the designs that were asked for"
    if len({kind.size for kind in one.kinds}) > wish.kinds and wish.designs == 1:
        yield "too many kinds"
    if wish.made and not {kind.size for kind in one.kinds} & {size for made in wish.made for size in (made.size, made.size.turned)}:
        yield "nothing made with the tool"
    for side in one.sides:
        lots = {spot.lot for spot in side.spots}
        if wish.sharing == "whole" and len(lots) > 1 or wish.sharing == "share" and len(lots) < 2:
            yield "papers meet otherwise than was wished"
        if wish.pieces and not wish.pieces[0] <= len(side.spots) <= wish.pieces[1]:
            yield "another number of pieces"
        if wish.band is not None and (side.band is None or side.band.height < wish.band):
            yield "no band"
        if wish.families and side.family not in wish.families:
            yield "another family"
        if side.border not in wish.borders or side.gap not in wish.gaps or side.card not in wish.cards_of:
            yield "another border, gap or card"
        if any(length.inches % wish.step.inches for kind in one.kinds for length in (kind.size.width, kind.size.height)):
            yield "off the grid"
