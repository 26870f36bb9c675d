"""The post against the rule books and plain arithmetic.

US letters: USPS Domestic Mail Manual 101 and 201 (the classes and the price step from memory).
International small letter: Universal Postal Union letter-post regulations, from memory.
Pound and ounce: international yard and pound agreement, 1959: 0.45359237 kg, 16 ounces.
Grammage: from the definition of basis weight (basis size × 500 sheets). ISO sheets and
envelopes: ISO 216, ISO 269. The thickest place: overlay by shapely, as a reference library.
"""

from fractions import Fraction as F
from itertools import combinations
from pathlib import Path

import demo as demo_kits
import pytest
from kitwright.card.base import Base
from kitwright.card.enclosed import stocks_of
from kitwright.card.face import Face, Placed
from kitwright.card.post import (
    FOAM,
    GRAM_PER_SQUARE_INCH,
    OUNCE,
    SMALL_LETTERS,
    US_LETTERS,
    Parcel,
    Range,
    Stock,
    parcel,
    step_of,
    thickest,
    verdicts,
)
from kitwright.geometry import Rect
from kitwright.papers import envelope_named, grammage, sheet_named
from kitwright.telling.post import verdict_text
from kitwright.units import Length, Size, parse_size
from kitwright.work.post import mailing
from shapely import Polygon, box
from shapely.ops import unary_union

KITS = Path(__file__).parents[2] / "kits"
INCH = F(254, 10)
HAIR = F(1, 10_000)


@pytest.fixture(scope="module", params=demo_kits.BY_ID)
def demo(request):
    return demo_kits.worked(request.param)


def letter(size: Size, thick_mm=F(1), grams=F(10)) -> Parcel:
    wide = size if size.width >= size.height else size.turned
    return Parcel(wide, Range.exact(thick_mm), Range.exact(grams), False, False)


def inches(w, h) -> Size:
    return Size(Length(F(w)), Length(F(h)))


def said(card: Parcel, letters) -> list[tuple[str, bool | None, bool]]:
    return [(verdict_text(v, letters), v.within, v.dearer) for v in verdicts(card, letters)]


# --- US letters ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "size, over, says",
    [
        (inches(5, "7/2"), (-HAIR, 0), "smaller"),
        (inches(5, "7/2"), (0, -HAIR), "smaller"),
        (inches("23/2", "49/8"), (HAIR, 0), "larger"),
        (inches("23/2", "49/8"), (0, HAIR), "larger"),
    ],
)
def test_us_sizes_at_their_limits(size, over, says):
    """USPS DMM 101: 3½ × 5 to 6⅛ × 11½ in, the limits included."""
    assert said(letter(size), US_LETTERS) == []
    beyond = Size(size.width + Length(F(over[0])), size.height + Length(F(over[1])))
    ((words, within, dearer),) = said(letter(beyond), US_LETTERS)
    assert words.startswith(says) and within is False and not dearer


@pytest.mark.parametrize("thick, says", [(F(7, 1000), None), (F(7, 1000) - HAIR, "thinner"), (F(1, 4), None), (F(1, 4) + HAIR, "thicker")])
def test_us_thickness_at_its_limits(thick, says):
    """USPS DMM 101: 0.007 to ¼ in."""
    found = said(letter(inches(5, "7/2"), thick * INCH), US_LETTERS)
    assert [(w.split()[0], ok) for w, ok, dearer in found if not dearer] == ([(says, False)] if says else [])


@pytest.mark.parametrize(
    "size, dearer",
    [
        (inches("13/2", 5), False),
        (inches(F(13, 2) - HAIR, 5), True),
        (inches(10, 4), False),
        (inches(10 + HAIR, 4), True),
        (inches(6, 6), True),
    ],
)
def test_us_shape_at_its_limits(size, dearer):
    """USPS DMM 201: nonmachinable where length ÷ height is outside 1.3 to 2.5."""
    found = said(letter(size), US_LETTERS)
    assert [d for _, _, d in found] == ([True] if dearer else [])


@pytest.mark.parametrize(
    "size, thick, dearer",
    [
        (inches("23/4", "35/8"), F(8, 1000), True),
        (inches("23/4", "35/8"), F(9, 1000), False),
        (inches("13/2", "17/4"), F(8, 1000), True),
        (inches(6, "17/4"), F(8, 1000), False),
        (inches(6, F(17, 4) + HAIR), F(8, 1000), True),
    ],
)
def test_us_letters_that_are_thin_and_large_cost_more(size, thick, dearer):
    """USPS DMM 201: nonmachinable where thinner than 0.009 in and over 4¼ in high or 6 in long."""
    found = said(letter(size, thick * INCH), US_LETTERS)
    assert bool([d for _, ok, d in found if d]) is dearer and not [w for w, _, d in found if not d]


def test_us_mass_at_its_limit_and_the_price_steps():
    """USPS DMM: the first step ends at 1 oz, letters at 3.5 oz (from memory)."""
    assert OUNCE * 16 == F("453.59237") and OUNCE == F("28.349523125")
    most = OUNCE * F(7, 2)
    assert said(letter(inches(5, "7/2"), grams=most), US_LETTERS) == []
    assert [(w.split()[0], ok) for w, ok, _ in said(letter(inches(5, "7/2"), grams=most + HAIR), US_LETTERS)] == [("heavier", False)]
    assert [step_of(Range.exact(OUNCE * n), US_LETTERS) for n in (F(1, 2), 1, F(3, 2), 2, F(7, 2))] == [
        (1, 1),
        (1, 1),
        (2, 2),
        (2, 2),
        (4, 4),
    ]


@pytest.mark.parametrize(
    "name, found",
    [("US A2 envelope", []), ("US A6 envelope", []), ("US A7 envelope", []), ("slimline envelope", []), ("5½ square envelope", [True])],
)
def test_usual_envelopes_are_letters_and_a_square_one_costs_more(name, found):
    """By the limits above: ratios 1.31, 1.37, 1.38, 2.33 and 1."""
    assert [d for _, _, d in said(letter(envelope_named(name).size), US_LETTERS)] == found


# --- the international small letter ----------------------------------------------------------------------------

MM = Length.mm


@pytest.mark.parametrize(
    "size, says",
    [
        (Size(MM(140), MM(90)), None),
        (Size(MM(140) - MM(HAIR), MM(90)), "smaller"),
        (Size(MM(140), MM(90) - MM(HAIR)), "smaller"),
        (Size(MM(245), MM(165)), None),
        (Size(MM(245) + MM(HAIR), MM(165)), "larger"),
        (Size(MM(245), MM(165) + MM(HAIR)), "larger"),
    ],
)
def test_small_letters_at_their_sizes(size, says):
    """UPU, from memory: 90 × 140 to 165 × 245 mm, the limits included."""
    assert [w.split()[0] for w, _, _ in said(letter(size), SMALL_LETTERS)] == ([says] if says else [])


@pytest.mark.parametrize(
    "thick, grams, says",
    [(F(5), F(100), []), (5 + HAIR, F(100), ["thicker"]), (F(5), 100 + HAIR, ["heavier"]), (F(6), F(101), ["thicker", "heavier"])],
)
def test_small_letters_at_their_thickness_and_mass(thick, grams, says):
    """UPU, from memory: to 5 mm and 100 g."""
    assert [w.split()[0] for w, _, _ in said(letter(Size(MM(162), MM(114)), thick, grams), SMALL_LETTERS)] == says


@pytest.mark.parametrize(
    "name, fits", [("ISO C6 envelope", True), ("ISO DL envelope", True), ("ISO C5 envelope", True), ("ISO C7 envelope", False)]
)
def test_iso_envelopes_as_small_letters(name, fits):
    """ISO 269 against the UPU's limits: C7 is under 90 × 140 mm."""
    assert (said(letter(envelope_named(name).size), SMALL_LETTERS) == []) is fits


def test_metric_kits_are_held_against_it_and_inch_kits_against_us_letters(demo):
    found = mailing(demo)
    assert found.letters is (SMALL_LETTERS if demo.kit.spec.unit == "mm" else US_LETTERS)
    if demo.kit.spec.unit == "mm":
        # A square one of 14 cm is in no standard: typed by its measure.
        measured = demo.kit.id == "2025-08-picnic-wicker"
        assert demo.kit.spec.card.envelope.source == ("measured" if measured else "ISO 269")


def test_sources_are_named_with_their_date():
    for letters, name in ((US_LETTERS, "USPS Domestic Mail Manual"), (SMALL_LETTERS, "Universal Postal Union")):
        sources = [source for source in (letters.rules, letters.prices) if source]
        assert any(name in source.name for source in sources) and any(source.memory for source in sources)
        assert any(source.noted.endswith(("2026", "2027")) for source in sources)


# --- grammage to mass -----------------------------------------------------------------------------------------


def one_layer(size: Size, grams: F) -> Parcel:
    """A base alone, in no envelope to speak of."""
    base = Base(size, "side", size.width / 2)
    front = Face(
        base.finished,
        "side",
        (Placed("base", "p", "front", Rect.of(base.finished), layer="base"),),
        Rect.of(base.finished),
        (),
        (),
        (),
        (),
        None,
        None,
    )
    return parcel(
        base, front, {"p": Stock(Range.exact(grams), Range.exact(F(1, 4)))}, None, base.finished, envelope_grammage=Range.exact(0)
    )


@pytest.mark.parametrize("kind, width, height", [("cover", 20, 26), ("text", 25, 38), ("bond", 17, 22), ("index", F(51, 2), F(61, 2))])
@pytest.mark.parametrize("pounds", [20, 80, 110])
def test_five_hundred_basis_sheets_weigh_what_the_paper_is_named_for(kind, width, height, pounds):
    """Definition of basis weight, and the avoirdupois pound of 453.59237 g."""
    whole = one_layer(Size(Length(F(width)), Length(F(height))), grammage(pounds, kind))
    assert whole.mass == Range.exact(pounds * F("453.59237") / 500)
    assert whole.mass.low / OUNCE == pounds * F(16, 500)


def test_a_square_metre_weighs_its_grammage():
    """ISO 216: A0, of which A4 is a sixteenth but for rounding; and 1 m² itself."""
    assert one_layer(Size(MM(1000), MM(1000)), F(216)).mass == Range.exact(216)
    assert one_layer(sheet_named("A4").size, F(80)).mass.low == F(210 * 297 * 80, 1_000_000)
    assert GRAM_PER_SQUARE_INCH * 1550 == pytest.approx(1, rel=1e-4), "1550.003 square inches in a square metre"


def test_a_card_weighed_by_hand():
    """An 80 lb cover base of 8½ × 5½ in: 46.75 sq in of 216.3 g/m² is 6.52 g."""
    assert float(one_layer(parse_size("8-1/2 x 5-1/2"), grammage(80, "cover")).mass.low) == pytest.approx(6.524, abs=0.002)


def shape(placed) -> Polygon:
    if placed.outline:
        return Polygon([(float(x.inches), float(y.inches)) for x, y in placed.outline]).buffer(0)
    r = placed.rect
    return box(*(float(v.inches) for v in (r.x, r.y, r.right, r.bottom)))


def known(paper) -> tuple[float, float]:
    """Bounds of a paper's grammage, said once more: common practice, no source, where it has no weight."""
    if paper.weight:
        return (float(paper.weight.grammage),) * 2
    if paper.kind == "film":  # by its calliper and a bulk of 0.7 to 0.85 cm³/g
        thick = float(paper.thickness.inches) * 25.4
        return thick * 1000 / 0.85, thick * 1000 / 0.7
    return {"patterned": (120.0, 220.0), "vellum": (90.0, 150.0)}.get(paper.kind, (176.0, 300.0))


def test_the_mass_of_a_demo_card_by_plain_floats(demo):
    kit = demo.kit
    card, envelope = kit.spec.card, kit.spec.card.envelope.size
    bounds = []
    for face in demo.faces:
        for end in (0, 1):
            placed = [*face.stack[1:], *(p for side in face.sides for p in side.stack if p.layer != "base")]
            grams = sum(shape(p).area * known(kit.papers[p.paper])[end] for p in placed)
            # A belly band goes along, overlap and all.
            for label, piece in kit.spec.pieces.items():
                if piece.band:
                    grams += float(demo.sizes[label].area) * known(kit.papers[piece.paper])[end]
            grams += float(demo.base.cut.area) * known(kit.papers[card.base.paper])[end]
            if card.inside:
                piece = kit.spec.pieces[card.inside.piece]
                grams += float(piece.size.area) * known(kit.papers[card.inside.paper or next(iter(piece.share))])[end]
            wrap = float(card.envelope_weight.grammage) if card.envelope_weight else (90.0, 120.0)[end]
            grams += 2.25 * float(envelope.area) * wrap
            bounds.append(grams * 0.0254**2)
    told = mailing(demo).parcel.mass
    assert (float(told.low), float(told.high)) == pytest.approx((min(bounds), max(bounds)), rel=1e-6)


# --- the thickest place --------------------------------------------------------------------------------------------


def stacked(things: list[tuple[Polygon, float]]) -> float:
    """The most that lies over one another, by overlaying every set of shapes that share area."""
    most, layers = max(t for _, t in things), [(s, t, i) for i, (s, t) in enumerate(things)]
    while layers:
        deeper = []
        for s, t, i in layers:
            for j in range(i + 1, len(things)):
                shared = s.intersection(things[j][0])
                if shared.area > 1e-9:
                    deeper.append((shared, t + things[j][1], j))
        most = max([most, *(t for _, t, _ in deeper)])
        layers = deeper
    return most


@pytest.mark.parametrize("end", ["low", "high"])
def test_the_thickest_place_of_a_demo_card_by_overlay(demo, end):
    """shapely: bounds of every paper, foam where raised, decoration where its height is given."""
    papers = stocks_of(demo.kit)
    foam = Range.exact(demo.kit.spec.card.foam.millimetres) if demo.kit.spec.card.foam else FOAM
    for face in demo.faces:
        things = [(shape(p), float(getattr(papers[p.paper].calliper, end) + (getattr(foam, end) if p.raised else 0))) for p in face.stack]
        things += [
            (box(*(float(v.inches) for v in (s.rect.x, s.rect.y, s.rect.right, s.rect.bottom))), float(s.thickness.millimetres))
            for s in face.spots
            if s.thickness
        ]
        assert float(getattr(thickest(face, papers, foam), end)) == pytest.approx(stacked(things))


def test_the_overlay_itself():
    """Three squares in a row that overlap in pairs, never all: the pair that is thickest, not the sum."""
    row = [(box(0, 0, 2, 2), 1.0), (box(1, 0, 4, 2), 2.0), (box(3, 0, 5, 2), 4.0)]
    assert stacked(row) == 6.0 and unary_union([s for s, _ in row]).area == 10
    assert all(a.intersects(b) for (a, _), (b, _) in combinations(row[:2], 2))


def test_a_demo_card_goes_as_a_letter_or_says_why_not(demo):
    found = mailing(demo)
    size = found.parcel.envelope
    inside = (
        found.letters.least.width <= size.width <= found.letters.most.width
        and found.letters.least.height <= size.height <= found.letters.most.height
    )
    assert inside is not any(v.about in ("small", "large") for v in found.verdicts)
    if size.width == size.height and found.letters is US_LETTERS:
        assert "square" in [v.about for v in found.verdicts]
    assert 2 < found.parcel.mass.low <= found.parcel.mass.high < 100, "grams of any paper card"
    assert F(1, 4) < found.parcel.thickness.low <= found.parcel.thickness.high < 12, "millimetres of any paper card"
