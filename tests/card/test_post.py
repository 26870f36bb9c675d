"""Thickness, mass and limits: ranges that hold whatever the truth within them is."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.base import Base
from kitwright.card.face import Face, Placed, Spot
from kitwright.card.post import (
    ENVELOPE,
    ENVELOPE_PAPER,
    FOAM,
    OUNCE,
    SMALL_LETTERS,
    US_LETTERS,
    Parcel,
    Stock,
    area,
    covered,
    parcel,
    play,
    step_of,
    thickest,
    verdicts,
)
from kitwright.geometry import Rect
from kitwright.materials import BULK, MATERIALS, NOTHING, Range
from kitwright.telling.post import verdict_text
from kitwright.units import MM, ZERO, Length, Size, parse_size
from shapely import Polygon, box

CARD, ENV = parse_size("4-1/4 x 5-1/2"), parse_size("4-3/8 x 5-3/4")
FOLDED = Base(parse_size("8-1/2 x 5-1/2"), "side", Length(F(17, 4)))
PAPERS = ("p", "q", "r")


def rect(x, y, w, h) -> Rect:
    return Rect(*(Length(F(n, 4)) for n in (x, y, w, h)))


def face(pieces=(), spots=(), over=()) -> Face:
    base = Placed("base", "base", "front", Rect.of(CARD), layer="base")
    return Face(CARD, "side", (base,), Rect.of(CARD), tuple(pieces), tuple(over), (), (), None, None, spots=tuple(spots))


RECTS = st.builds(rect, st.integers(0, 15), st.integers(0, 20), st.integers(1, 12), st.integers(1, 12))
PLACED = st.builds(lambda r, p, up: Placed("A", p, "front", r, raised=up), RECTS, st.sampled_from(PAPERS), st.booleans())
SPOTS = st.builds(lambda r, t: Spot("dots", r, Length.mm(F(t, 10)) if t else None), RECTS, st.integers(0, 40))
FACES = st.builds(face, st.lists(PLACED, max_size=4), st.lists(SPOTS, max_size=2), st.lists(PLACED, max_size=2))
NUMBERS = st.integers(1, 400).map(lambda n: F(n, 100))
RANGES = st.builds(lambda a, b: Range(min(a, b), max(a, b)), NUMBERS, NUMBERS)
STOCKS = st.fixed_dictionaries({key: st.builds(lambda m, c: Stock(m * F(100), c), RANGES, RANGES) for key in ("base", *PAPERS)})


def within(data, r: Range) -> F:
    """Some truth between the bounds."""
    return r.low + (r.high - r.low) * F(data.draw(st.integers(0, 8)), 8)


# --- ranges ----------------------------------------------------------------------------------------


@given(RANGES, RANGES, NUMBERS, st.data())
def test_sums_and_multiples_hold_whatever_is_true(a, b, factor, data):
    x, y = within(data, a), within(data, b)
    assert (a + b).low <= x + y <= (a + b).high and (a * factor).low <= x * factor <= (a * factor).high
    assert a.known == (a.low == a.high) and Range.exact(x).known and a + NOTHING == a


# --- a paper ----------------------------------------------------------------------------------------


@given(NUMBERS, NUMBERS)
def test_what_is_measured_is_exact(grams, thick):
    known = Stock.of(grams * 100, Length.mm(thick), MATERIALS["patterned"])
    assert known.grammage == Range.exact(grams * 100) and known.calliper == Range.exact(thick)


@pytest.mark.parametrize("kind, bounds", [("patterned", Range(F(120), F(220))), ("cardstock", Range(F(176), F(300)))])
def test_what_is_not_known_is_a_range(kind, bounds):
    patterned = MATERIALS[kind]
    guessed = Stock.of(None, None, patterned)
    assert guessed.grammage == bounds and not guessed.calliper.known
    # Grammage × bulk: g/m² × cm³/g is thousandths of a millimetre.
    assert guessed.calliper == Range(bounds.low * BULK.low / 1000, bounds.high * BULK.high / 1000)
    assert Stock.of(F(216), None, patterned).grammage == Range.exact(216) and not Stock.of(F(216), None, patterned).calliper.known
    assert Stock.of(None, Length.mm(F(3, 10)), patterned).calliper == Range.exact(F(3, 10))


@given(st.integers(60, 400), st.integers(0, 100))
def test_grammage_alone_gives_a_range_that_holds_any_usual_bulk(grams, part):
    bulk = BULK.low + (BULK.high - BULK.low) * F(part, 100)
    thick = Stock.of(F(grams), None, MATERIALS["cardstock"]).calliper
    assert thick.low <= grams * bulk / 1000 <= thick.high


# --- thickness ------------------------------------------------------------------------------------------


def pile(front: Face, stocks, foam: F, x: F, y: F) -> F:
    """What lies over one point: counted from all things there."""

    def over(r: Rect) -> bool:
        return r.x.inches < x < r.right.inches and r.y.inches < y < r.bottom.inches

    found = sum((stocks[p.paper] + (foam if p.raised else 0) for p in front.stack if over(p.rect)), F(0))
    return found + sum((s.thickness.millimetres for s in front.spots if s.thickness and over(s.rect)), F(0))


@given(FACES, STOCKS, RANGES, st.data())
def test_the_thickest_place_is_found(front, stocks, foam, data):
    """Brute force over a grid finer than all edges; truths drawn from within the ranges."""
    true = {key: within(data, stock.calliper) for key, stock in stocks.items()}
    lift = within(data, foam)
    most = max(pile(front, true, lift, F(2 * i + 1, 8), F(2 * j + 1, 8)) for i in range(28) for j in range(33))
    told = thickest(front, stocks, foam)
    assert told.low <= most <= told.high
    exact = {key: Stock(NOTHING, Range.exact(t)) for key, t in true.items()}
    assert thickest(front, exact, Range.exact(lift)) == Range.exact(most)


FRAME = rect(1, 1, 12, 12), [(1, 1), (13, 1), (13, 13), (1, 13), (1, 3), (3, 3), (3, 11), (11, 11), (11, 3), (1, 3)]
"""A frame around an opening, joined by a slit, in quarters of an inch."""


def framed(inner: Rect, raised=False) -> Face:
    outline = tuple((Length(F(x, 4)), Length(F(y, 4))) for x, y in FRAME[1])
    return face([Placed("P", "p", "front", inner, raised=raised)], over=[Placed("W", "q", "front", FRAME[0], outline=outline)])


def test_a_piece_in_the_opening_of_a_frame_does_not_lie_under_the_frame():
    """A window adds nothing to the thickness of what shows through it."""
    stocks = {key: Stock(NOTHING, Range.exact(F(t, 10))) for key, t in (("base", 3), ("p", 2), ("q", 5))}
    assert thickest(framed(rect(4, 4, 6, 6)), stocks, FOAM) == Range.exact(F(8, 10)), "base and frame; base and piece are less"
    assert thickest(framed(rect(0, 4, 6, 6)), stocks, FOAM) == Range.exact(F(10, 10)), "here it does lie under"


def test_foam_counts_only_where_a_layer_is_raised():
    stocks = {key: Stock(NOTHING, Range.exact(F(1, 4))) for key in ("base", "p")}
    flat, raised = (face([Placed("A", "p", "front", rect(1, 1, 4, 4), raised=up)]) for up in (False, True))
    assert thickest(flat, stocks, FOAM) == Range.exact(F(1, 2))
    assert thickest(raised, stocks, FOAM) == Range(F(1, 2) + FOAM.low, F(1, 2) + FOAM.high)


def test_two_things_edge_to_edge_do_not_add_up():
    stocks = {key: Stock(NOTHING, Range.exact(1)) for key in ("base", "p")}
    beside = face([Placed("A", "p", "front", rect(0, 0, 4, 4)), Placed("B", "p", "front", rect(4, 0, 4, 4))])
    assert thickest(beside, stocks, NOTHING) == Range.exact(2)


# --- areas ---------------------------------------------------------------------------------------------------


@given(st.lists(st.tuples(st.integers(-40, 40), st.integers(-40, 40)), min_size=3, max_size=8, unique=True))
def test_areas_are_those_of_shapely(corners):
    """shapely, as a reference for areas: polygons that don't cross themselves, corners in either order."""
    shape = Polygon(corners).convex_hull
    if shape.geom_type == "Polygon":
        ring = [(Length(F(int(x))), Length(F(int(y)))) for x, y in list(shape.exterior.coords)[:-1]]
        assert area(ring) == area(ring[::-1]) == F(shape.area).limit_denominator(2)


def test_a_frame_weighs_no_more_than_its_rim():
    (frame,) = framed(rect(4, 4, 2, 2)).over
    outer, inner = box(0.25, 0.25, 3.25, 3.25), box(0.75, 0.75, 2.75, 2.75)
    assert float(covered(frame)) == pytest.approx(outer.difference(inner).area)
    assert covered(Placed("A", "p", "front", rect(0, 0, 3, 5))) == F(15, 16)


# --- a whole card ------------------------------------------------------------------------------------------------


@given(FACES, STOCKS, RANGES, RANGES, st.booleans(), st.data())
def test_a_parcel_holds_any_truth_within_its_bounds(front, stocks, foam, wrap, has_inside, data):
    """Every paper, the foam and the envelope take some true value; mass and thickness come out within what was told."""
    inside = Placed("I", "p", "front", rect(0, 1, 16, 20)) if has_inside else None
    wrap = wrap * F(50)
    told = parcel(FOLDED, front, stocks, inside, ENV, foam=foam, envelope_grammage=wrap)
    grams = {key: within(data, s.grammage) for key, s in stocks.items()}
    thick = {key: within(data, s.calliper) for key, s in stocks.items()}
    lift, envelope = within(data, foam), within(data, wrap)
    bulk = within(data, BULK)
    square_metre = F(10000, 254) ** 2
    mass = grams["base"] * FOLDED.cut.area + sum(grams[p.paper] * p.rect.area for p in front.stack[1:])
    mass += (grams["p"] * 20 if has_inside else 0) + envelope * ENV.area * ENVELOPE_PAPER
    assert told.mass.low <= mass / square_metre <= told.mass.high

    def sealed(x, y):
        """All that lies over one place: the front, the panel inside and the back."""
        there = has_inside and 0 < x < 4 and F(1, 4) < y < F(21, 4)
        return pile(front, thick, lift, x, y) + (thick["p"] if there else 0) + (thick["base"] if x < F(17, 4) and y < F(11, 2) else 0)

    whole = max(sealed(F(2 * i + 1, 8), F(2 * j + 1, 8)) for i in range(28) for j in range(33)) + 2 * envelope * bulk / 1000
    assert told.thickness.low <= whole <= told.thickness.high


@given(FACES)
def test_the_envelope_lies_long_side_across_and_lumps_are_seen(front):
    stocks = {key: Stock(Range.exact(200), Range.exact(F(1, 4))) for key in ("base", *PAPERS)}
    for envelope in (ENV, ENV.turned):
        told = parcel(FOLDED, front, stocks, None, envelope)
        assert told.envelope == ENV.turned
    assert told.lumpy == (any(p.raised for p in front.stack) or any(s.thickness for s in front.spots))
    assert told.decorated == bool(front.spots)


def test_play_is_what_the_thickness_leaves():
    assert play(Length(F(1, 8)), Range(F(1), F(2))) == Length(F(1, 8)) - Length.mm(2)
    assert play(Length.mm(2), Range(F(1), F(2))) == ZERO


# --- verdicts -------------------------------------------------------------------------------------------------------

SIDES = st.integers(20, 110).map(lambda n: Length(F(n, 8)))
PARCELS = st.builds(
    lambda a, b, t, m, lumps: Parcel(Size(max(a, b), min(a, b)), t * F(2), m * F(30), lumps, False),
    SIDES,
    SIDES,
    RANGES,
    RANGES,
    st.booleans(),
)


@given(PARCELS, st.sampled_from([US_LETTERS, SMALL_LETTERS]), st.data())
def test_a_verdict_holds_whatever_is_true(told, letters, data):
    """“May not be” is said when no truth would do, “it depends” when some would, and nothing when all would."""
    true = Parcel(told.envelope, Range.exact(within(data, told.thickness)), Range.exact(within(data, told.mass)), told.lumpy, False)
    bounds = {v.about: v.within for v in verdicts(told, letters)}
    for v in verdicts(true, letters):
        if v.within is False:
            assert v.about in bounds and bounds[v.about] in (False, None)
    for about, ok in bounds.items():
        if ok is False:
            assert about in [v.about for v in verdicts(true, letters)]
    ends = [
        Parcel(told.envelope, Range.exact(t), Range.exact(m), told.lumpy, False)
        for t in (told.thickness.low, told.thickness.high)
        for m in (told.mass.low, told.mass.high)
    ]
    for about, ok in bounds.items():
        if ok is None and about != "lumpy":
            assert len({about in [v.about for v in verdicts(end, letters)] for end in ends}) == 2


@given(PARCELS, st.sampled_from([US_LETTERS, SMALL_LETTERS]), st.data())
def test_the_price_step_holds_whatever_is_true(told, letters, data):
    low, high = step_of(told.mass, letters)
    step, same = step_of(Range.exact(within(data, told.mass)), letters)
    assert step == same and 1 <= low <= step <= high <= len(letters.steps) + 1


@pytest.mark.parametrize(
    "grams, step", [(F(1), 1), (OUNCE, 1), (OUNCE + F(1, 1000), 2), (2 * OUNCE, 2), (3 * OUNCE, 3), (3 * OUNCE + F(1, 1000), 4)]
)
def test_the_step_ends_at_the_ounce_itself(grams, step):
    assert step_of(Range.exact(grams), US_LETTERS) == (step, step)


def test_only_a_square_is_called_square():
    """6 × 5 in is too nearly square for a machine, but it is no square."""

    def said(size):
        return " ".join(
            verdict_text(v, US_LETTERS)
            for v in verdicts(Parcel(parse_size(size), Range.exact(1), Range.exact(10), False, False), US_LETTERS)
        )

    assert "square" in said("5-1/2 x 5-1/2")
    assert "costs more" in said("6 x 5") and "a square card" not in said("6 x 5")


def test_an_unknown_envelope_is_a_usual_one():
    told = parcel(FOLDED, face(), {"base": Stock(Range.exact(216), Range.exact(F(1, 4)))}, None, ENV)
    paper = FOLDED.cut.area * 216
    assert told.mass == Range(
        (paper + ENV.area * ENVELOPE_PAPER * ENVELOPE.low) * (MM * MM) ** -1 / 1_000_000,
        (paper + ENV.area * ENVELOPE_PAPER * ENVELOPE.high) * (MM * MM) ** -1 / 1_000_000,
    )
