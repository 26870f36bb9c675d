"""What goes into the envelope, recomputed with shapely: union boxes of everything, panels folded by an affine map."""

from __future__ import annotations

import tempfile
from fractions import Fraction as F
from pathlib import Path

from archive.rendered import kit_page, lines
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.enclosed import clearance, enclosed_of, goes_in
from kitwright.card.layout import base_of, faces_of
from kitwright.card.post import FOAM, SMALL_LETTERS, US_LETTERS, letters_for
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.printable.card_facts import facts
from kitwright.printable.edition import EDITIONS
from kitwright.printable.job import Job
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.facts import tables
from kitwright.telling.post import post_lines, verdict_text
from kitwright.units import Length, Size, length_text, parse_size
from kitwright.work.post import mailing
from making import BATCH, CLUB, changed, make_kit, make_worked
from shapely import box
from shapely.affinity import scale, translate
from shapely.ops import unary_union

SIXTEENTH = F(1, 16)
quarters = st.integers(4, 40).map(lambda n: F(n, 4))
offsets = st.none() | st.integers(0, 60).map(lambda n: n * SIXTEENTH)


@st.composite
def cards(draw):
    """A base folded anywhere, with a layer, strips, a decoration and a panel inside that may stick out on any side."""
    width, height, fold = draw(quarters), draw(quarters), draw(st.sampled_from(["side", "top"]))
    across = width if fold == "side" else height
    score = draw(st.integers(1, int(across * 16) - 1)) * SIXTEENTH
    sizes = {label: (draw(quarters) / 2, draw(quarters) / 2) for label in "MST"}
    at = {
        label: (draw(st.sampled_from(["left", "right"])), draw(offsets), draw(st.sampled_from(["top", "bottom"])), draw(offsets))
        for label in ("M", "S", "T", "dots")
    }
    return {
        "base": (width, height),
        "fold": fold,
        "score": score,
        "sizes": sizes,
        "at": at,
        "inside": draw(st.booleans()),
        "dots": draw(quarters) / 2,
    }


def said(at) -> str:
    side, across, end, along = at
    return "".join(f", {name}: {value}" for name, value in ((side, across), (end, along)) if value is not None)


def text_of(card) -> str:
    width, height = card["base"]
    pieces = "".join(f"  {label}: {{size: {w} x {h}, paper: white, for: piece}}\n" for label, (w, h) in card["sizes"].items())
    inside = f"  inside: {{piece: T{said(card['at']['T'])}}}\n" if card["inside"] else ""
    return (
        f"title: T\nsummary: S.\ncards: 1\npapers:\n  white: {{kind: cardstock, name: White, size: 30 x 30}}\npieces:\n{pieces}"
        f"card:\n  base: {{size: {width} x {height}, paper: white}}\n  fold: {card['fold']}\n  score: {card['score']}\n"
        f"  layers:\n    - {{piece: M{said(card['at']['M'])}}}\n{inside}  envelope: 9 x 6\n"
        f"front:\n  on: base\n  places:\n    - {{piece: S{said(card['at']['S'])}}}\n"
        f"decorations:\n  - {{name: dots, size: {card['dots']} x 1{said(card['at']['dots'])}}}\n"
    )


def lying(size, at, on):
    """A box laid on another, in sixteenths: measured from an edge, or in the middle."""
    (w, h), (side, across, end, along) = size, at
    left, top, right, bottom = on.bounds
    x = (left + right - w) / 2 if across is None else left + across if side == "left" else right - across - w
    y = (top + bottom - h) / 2 if along is None else top + along if end == "top" else bottom - along - h
    return box(x, y, x + w, y + h)


def closed(card):
    """Bounds of the closed card: the flat base cut at its score, its back folded over, and everything laid on."""

    def n(value):
        return None if value is None else float(value * 16)

    (width, height), fold, score = (n(e) for e in card["base"]), card["fold"], n(card["score"])
    flat = box(0, 0, width, height)
    # The flat base is moved so that the score is the axis; what lies before it is folded over.
    flat = translate(flat, -score, 0) if fold == "side" else translate(flat, 0, -score)
    far = 10_000
    front = flat.intersection(box(0, -far, far, far) if fold == "side" else box(-far, 0, far, far))
    back = flat.intersection(box(-far, -far, 0, far) if fold == "side" else box(-far, -far, far, 0))
    over = {"xfact": -1, "yfact": 1} if fold == "side" else {"xfact": 1, "yfact": -1}
    back = scale(back, **over, origin=(0, 0))
    at = {label: tuple(n(v) if isinstance(v, F) else v for v in where) for label, where in card["at"].items()}
    sizes = {label: (n(w), n(h)) for label, (w, h) in card["sizes"].items()}
    things = [
        front,
        back,
        lying(sizes["M"], at["M"], front),
        lying(sizes["S"], at["S"], front),
        lying((n(card["dots"]), 16.0), at["dots"], front),
    ]
    if card["inside"]:
        panel = lying(sizes["T"], at["T"], back)
        half = box(0, -far, far, far) if fold == "side" else box(-far, 0, far, far)
        things += [panel.intersection(half), scale(panel.difference(half), **over, origin=(0, 0))]
    return unary_union([thing for thing in things if not thing.is_empty]).bounds, unary_union([front, back]).bounds


def enclosed(card):
    with tempfile.TemporaryDirectory() as folder:
        kit = make_kit(Path(folder), text_of(card))
        return enclosed_of(kit, base_of(kit), faces_of(kit))


@tried(60)
@given(cards())
def test_the_outline_of_the_closed_card_is_that_of_shapely(card):
    found, (bounds, folded) = enclosed(card), closed(card)
    r = found.outline
    assert [float(v.inches * 16) for v in (r.x, r.y, r.right, r.bottom)] == list(bounds)
    assert [float(v.inches * 16) for v in (found.folded.width, found.folded.height)] == [folded[2] - folded[0], folded[3] - folded[1]]
    assert found.overhangs == (bounds != folded) == bool(found.reaches)
    furthest = {
        side: max((float(x.by.inches * 16) for x in found.reaches if x.side == side), default=0.0)
        for side in ("left", "top", "right", "bottom")
    }
    assert list(furthest.values()) == [
        max(0.0, folded[0] - bounds[0]),
        max(0.0, folded[1] - bounds[1]),
        max(0.0, bounds[2] - folded[2]),
        max(0.0, bounds[3] - folded[3]),
    ]
    # Into 9 × 6 in, whichever way round: by brute force over the two.
    width, height = bounds[2] - bounds[0], bounds[3] - bounds[1]
    ways = [(144 - width, 96 - height), (96 - width, 144 - height)]
    assert found.enters == any(min(way) > 0 for way in ways)
    assert min(found.room.width, found.room.height) == Length(F(max(min(way) for way in ways)) / 16)
    assert found.parcel.thickness.low > 0 and found.parcel.envelope == parse_size("9 x 6")


@given(*[st.integers(1, 200)] * 4)
def test_a_card_enters_the_same_whichever_way_it_or_the_envelope_is_written(a, b, c, d):
    card, envelope = Size(Length(F(a, 8)), Length(F(b, 8))), Size(Length(F(c, 8)), Length(F(d, 8)))
    assert (
        goes_in(card, envelope)
        == goes_in(card.turned, envelope)
        == goes_in(card, envelope.turned)
        == (min(a, b) < min(c, d) and max(a, b) < max(c, d))
    )
    one, other = clearance(card, envelope), clearance(card.turned, envelope)
    assert {one.width, one.height} == {other.width, other.height}


# --- one number everywhere -----------------------------------------------------------------------------

OVERHANG = changed(
    BATCH,
    ("  M:\n", "  S:\n    size: 4-5/8 x 1\n    for: strip\n    paper: cream\n  M:\n"),
    ("US A2 envelope", "US A6 envelope\n  foam: 1/16\n  score: 4"),
    ("sentiment:\n", "  over:\n    - {piece: S, on: band, raised: yes, meant: overhang}\nsentiment:\n"),
    ("  on: band\n", "  on: S\n"),
    ("guides:\n", "arrangements:\n  vary: raised\nguides:\n"),
)


def test_show_page_printable_and_post_tell_one_number(tmp_path):
    """A front of 4½, a back of 4, a strip of 4⅝: 4⅝ × 5½ in all, in an envelope of 6½ × 4¾."""
    worked = make_worked(tmp_path, OVERHANG)
    lying = worked.enclosed
    assert (lying.folded, lying.size, lying.room) == (parse_size("4-1/2 x 5-1/2"), parse_size("4-5/8 x 5-1/2"), parse_size("1/8 x 1"))
    shown = {row[0]: row[1] for row in next(t for t in tables(worked) if t.title == "Card").rows}
    assert (
        shown["finished card"].startswith("4½ × 5½ in")
        and shown["with what overhangs"].startswith("4⅝ × 5½ in")
        and "⅛ × 1 in of room" in shown["envelope"]
    )
    page = lines(kit_page(worked))
    assert "to 4½ × 5½ in" in page["Fold"] and page["Overall"].startswith("4⅝ × 5½ in with S overhanging")
    job = Job(worked, EDITIONS["letter"], "full", PreviewStamp())
    printed = {fact.name: fact.lines for fact in facts(job, looks=True)}
    assert "4½ × 5½ in" in printed["Finished card"] and any("4⅝ × 5½ in with S overhanging" in line for line in printed["Finished card"])
    post = mailing(worked)
    assert post.parcel is lying.parcel and f"with {length_text(lying.room.width, 'in')} of room" in post_lines(worked, post)[0].text


def test_the_gallery_tells_of_the_post_as_the_page_does(tmp_path):
    """Foam of a sixteenth is a sixteenth there too; what is new in a variation's post is what its own page would say."""
    worked = make_worked(tmp_path, OVERHANG)
    (flat,) = [v for v in arrangements_of(worked).variations if v.kind == "raised"]
    before, after = mailing(worked), mailing(flat.worked)
    assert any("about 0.06 in thinner" in line.words for line in flat.changes) and FOAM.low != FOAM.high
    # The foam is the thickest place of this card.
    assert before.parcel.thickness.high - after.parcel.thickness.high == F(127, 80)
    new = [v.about for v in after.verdicts if v.about not in {w.about for w in before.verdicts}]
    assert [line.words for line in flat.changes if line.words.startswith("By post")] == [
        f"By post: {verdict_text(v, after.letters)}{'' if v.within is False else ', perhaps'}." for v in after.verdicts if v.about in new
    ]


def test_the_kits_own_unit_decides_whose_limits_count(tmp_path):
    """The club's region does not: a metric kit of a US club is posted in an ISO envelope."""
    for region in ("us", "metric"):
        worked = make_worked(tmp_path / region, BATCH, club=CLUB.replace("region: us", f"region: {region}"))
        assert mailing(worked).letters is US_LETTERS
    assert letters_for("mm") is SMALL_LETTERS and letters_for("in") is US_LETTERS
