"""Random small questions, and what holds of every answer, whoever found it and however."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st
from kitwright.cutting.tree import Leaf, Node, faults, leaves, yields
from kitwright.proposing.families.family import field_of
from kitwright.proposing.records import Answer, Proposal
from kitwright.proposing.wish import Wish

_INCH: dict[str, Any] = {
    "sheet": ("6x6", "8x8", "6 x 8", "12x12", "Letter", "8 x 4", "5-3/4 x 9", "3x3"),
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

    way = " one-way" if maybe(20) else ""
    papers = [f"{pick((1, 2, 3))} of {pick(of['sheet'])}{way}" for _ in range(pick((1, 1, 1, 2)))]
    # Usual cards are four questions in one, and so is any number of them.
    typed: dict[str, Any] = {"unit": unit, "paper": papers, "grid": pick(of["grid"]), "card": pick(of["card"])}
    if maybe(90):
        typed["cards"] = str(pick(range(1, 13)))
    for key, likely in (("border", 40), ("gap", 40), ("band", 25), ("slack", 20), ("mat", 20)):
        if maybe(likely):
            typed[key] = pick(of[key])
    if maybe(60):
        # Sums that come out on the grid, and no wish about them besides, so that many questions have an answer.
        typed = (
            {key: typed[key] for key in typed if key not in ("band", "slack", "mat")} | pick(of["sums"]) | {"waste": pick(("20%", "40%"))}
        )
        if maybe(70):
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
    return typed


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
