"""Labels that are the same piece: the same rectangle of the same paper, however typed; and fronts turned by quarters.

Counted against fronts made by trying (`fronts`), which knows neither slots nor counting nor Burnside's lemma.
"""

import examples
import pytest
from arrange.fronts import LAYOUTS, Laid, cards, front_of, text_of, tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.gallery import gallery_of
from kitwright.otherwise.arrangements import arrangements_of, mistakes
from kitwright.otherwise.arrangements.counting import Counting, listing
from kitwright.otherwise.arrangements.slots import places_of
from kitwright.otherwise.arrangements.turning import different, motions_of, orbit
from kitwright.telling.arranging import alike_text, as_json, as_text, group_title, turning_text
from kitwright.telling.gallery import counts_text, small_print
from making import changed, make_worked

MIRROR = "arrangements: {mirror: yes}\n"


def counted(worked):
    """Arrangements and different cards, each counted and listed."""
    places = places_of(worked)
    motions, choices = motions_of(worked, places), [slot.fills for slot in places.slots]
    every = [f for hand in places.hands for f in listing(choices, hand)]
    assert len(set(every)) == len(every) == sum(Counting(choices, hand).total for hand in places.hands)
    assert [c.at(i) for hand in places.hands for c in [Counting(choices, hand)] for i in range(c.total)] == every
    n = sum(different(places, hand, motions) for hand in places.hands)
    assert n == len({frozenset(orbit(f, motions)) for f in every}), "Burnside's lemma and the list agree"
    return len(every), n, motions


@st.composite
def fronts(draw):
    name = draw(st.sampled_from(list(LAYOUTS)))
    laid = [
        Laid(
            draw(st.sampled_from(["river", "meadow", "dusk"])),
            draw(st.booleans()),
            draw(st.sampled_from([True, True, True, False])),
            draw(st.booleans()),
        )
        for _ in LAYOUTS[name]
    ]
    # A one-way piece is never laid on its side, nor is one that may not be turned: both are typed as they lie.
    up = draw(st.sampled_from([(), (), ("river",), ("river", "dusk")]))
    laid = [Laid(one.paper, one.other_way and one.may_turn and one.paper not in up, one.may_turn, one.alone) for one in laid]
    return LAYOUTS[name], laid, up, draw(st.booleans())


@examples.tried(60)
@given(front=fronts())
def test_fronts_of_rectangles_against_trying(tmp_path_factory, front):
    layout, laid, up, mirror = front
    worked = front_of(tmp_path_factory.mktemp("front"), text_of(layout, laid, up=up, extra=MIRROR if mirror else ""))
    every = tried(layout, laid, up)
    n, different_cards, motions = counted(worked)
    assert n == len(every)
    # A label that may not be turned keeps the front from being turned by quarters; half turns it allows.
    quarters = all(one.may_turn for one in laid)
    assert different_cards == cards(every, up, mirror=mirror, quarters=quarters)
    assert quarters or motions.quarter is None


def test_two_by_one_and_one_by_two_are_one_piece(tmp_path):
    """The family's own example: A is 2 × 1, B is 1 × 2 laid turned, both from one paper: swapped, nothing is seen of it."""
    layout = LAYOUTS["two"]
    one_way = [Laid("river"), Laid("river", alone=True)]
    typed_otherwise = [Laid("river"), Laid("river", other_way=True)]
    for name, laid in (("a", one_way), ("b", typed_otherwise)):
        worked = front_of(tmp_path / name, text_of(layout, laid))
        assert counted(worked)[:2] == (1, 1)
    two_papers = front_of(tmp_path / "c", text_of(layout, [Laid("river"), Laid("meadow", other_way=True)]))
    assert counted(two_papers)[:2] == (2, 1)


def test_with_an_up_they_are_two_pieces(tmp_path):
    """One level, one on end: from a one-way paper the one can't stand in for the other, from any other it can."""
    layout = LAYOUTS["cross"]
    laid = [Laid("river"), Laid("river"), Laid("meadow"), Laid("meadow", other_way=True)]
    free = front_of(tmp_path / "free", text_of(layout, laid))
    assert counted(free)[0] == 6, "two and two in four places"
    one_way = front_of(tmp_path / "up", text_of(layout, laid, up=("river",)))
    assert places_of(one_way).stands["A", "river"] != places_of(one_way).stands["B", "river"]
    # One river level and one on end: two places each.
    assert counted(one_way)[0] == 4


BACKED = (
    "front: {look: dots, colours: [sky, white], up: top}",
    "front: {look: dots, colours: [sky, white], up: top}, back: {look: checks, colours: [clay, butter]}",
)


def test_backs_without_an_up_look_the_same(tmp_path):
    """Two labels of a paper that is one-way in front only: face up they differ, face down nobody can tell."""
    text = changed(text_of(LAYOUTS["cross"], [Laid("river"), Laid("river"), Laid("meadow"), Laid("meadow")], up=("river",)), BACKED)
    # Dealt by hand: A (level) and B (on end) from river, one of each; river lies in two of four places.
    fronts = set()
    for a in range(4):
        for b in range(4):
            if a != b:
                for face_a in ("back", *(["front"] if a in (0, 2) else [])):
                    for face_b in ("back", *(["front"] if b in (1, 3) else [])):
                        fronts.add(frozenset({(a, face_a), (b, face_b)}))
    assert counted(front_of(tmp_path, text))[0] == len(fronts)


@pytest.mark.parametrize(
    "a, b, up, same",
    [
        ("notch: {ends: left}", "notch: {ends: right}", "", True),
        ("notch: {ends: left}", "notch: {ends: right}", "river", False),
        ("notch: {ends: left}", "notch: {ends: both}", "", False),
        ("notch: {ends: left}", "notch: {ends: left, depth: 7/16}", "", True),  # half as deep as it is tall, said or not
        ("notch: {ends: left}", "notch: {ends: left, depth: 3/8}", "", False),
        ("notch: {ends: left}", "notch: {ends: left, made with: square punch}", "", False),  # other readers get another strip
        ("shape: {snipped: 1/4, corners: top left}", "shape: {snipped: 1/4, corners: bottom right}", "", True),
        ("shape: {snipped: 1/4, corners: top left}", "shape: {snipped: 1/4, corners: bottom right}", "river", False),
        ("shape: {snipped: 1/4, corners: top left}", "shape: {snipped: 1/4, corners: top right}", "", False),  # its mirror image
        ("shape: {rounded: 7/16, corners: [top left, bottom left]}", "shape: {arch: left}", "", True),
        ("shape: {window: {border: 1/4}}", "shape: {window: {size: 3/2 x 3/8}}", "", True),
    ],
)
def test_the_same_outline_however_typed(tmp_path, a, b, up, same):
    layout = ((*LAYOUTS["two"][0][:2], 2, LAYOUTS["two"][0][3] / 2), (*LAYOUTS["two"][1][:2], 2, LAYOUTS["two"][1][3] / 2))
    text = text_of(layout, [Laid("river"), Laid("river", alone=True)], up=(up,))
    lines = [
        f"{line[:-1]}, {a if line.startswith('  A:') else b}}}" if line.startswith(("  A:", "  B:")) else line for line in text.splitlines()
    ]
    stands = places_of(front_of(tmp_path, "\n".join(lines) + "\n")).stands
    assert (stands["A", "river"] == stands["B", "river"]) == same


def test_a_paper_alike_on_both_faces_may_be_turned_over(tmp_path):
    """Snipped at the left or at the right: mirror images, the same piece where nobody can tell its faces apart."""
    text = text_of(LAYOUTS["two"], [Laid("river"), Laid("river", alone=True)])
    for label, corner in (("A", "left"), ("B", "right")):
        line = next(line for line in text.splitlines() if line.startswith(f"  {label}:"))
        text = text.replace(line, f"{line[:-1]}, shape: {{snipped: 1/4, corners: top {corner}}}}}")
    both = changed(
        text,
        (
            "front: {look: dots, colours: [sky, white]}",
            "front: {look: dots, colours: [sky, white]}, back: {look: dots, colours: [sky, white]}",
        ),
    )
    for name, spec, same in (("one", text, False), ("both", both, True)):
        places = places_of(front_of(tmp_path / name, spec))
        assert (places.stands["A", "river"] == places.stands["B", "river"]) == same
        assert [len(slot.fills) for slot in places.slots] == [1, 1]


# --- names and links -----------------------------------------------------------------------------


def twins(*mix: str) -> str:
    """River and meadow, either of them under A or B; the batch in two looks, so that both come from both."""
    text = text_of(LAYOUTS["two"], [Laid("river"), Laid("river", other_way=True)])
    text = changed(
        text,
        ("  white:", "  meadow: {kind: patterned, name: Meadow, size: 12 x 12, front: {look: checks, colours: [sage, white]}}\n  white:"),
    )
    text = text.replace("per card: {river: 1}", "per card: {river: 1, meadow: 1}")
    said = f", mix: {{{', '.join(mix)}}}" if mix else ""
    return f"{text}arrangements: {{papers: any{said}}}\n"


def test_links_stay_and_a_vanished_twin_leads_to_what_it_is_the_same_as(tmp_path):
    """While A and B were taken for two pieces, every paper stood in each place twice, once for either label."""
    found = arrangements_of(make_worked(tmp_path / "a", twins()))
    assert found.counts.counted == found.counts.listed == 4
    slugs = [item.slug for item in found.items]
    assert len(set(slugs)) == 4 and "river_a_river_b" in slugs, "the sketch keeps its link"
    names = {item.slug: item.name for item in found.items}
    assert names["river_a_river_b"] == "River everywhere"
    # Other twins: B on top and A below, or the same label twice where the pool has enough of it.
    old = ["river_b_river_a", "river_a_river_a", "River (B) on top, River (A) at the bottom"]
    again = arrangements_of(make_worked(tmp_path / "b", twins()), also=old)
    assert set(again.called.values()) == {"river_a_river_b"}
    mixed = arrangements_of(make_worked(tmp_path / "c", twins("river_b_river_a: 5", "River everywhere: 7")))
    assert [(part.slug, part.cards) for part in mixed.recommended.parts] == [("river_a_river_b", 12)]


def test_a_sample_that_names_a_vanished_twin_finds_its_card(tmp_path):
    worked = make_worked(tmp_path, twins() + "samples:\n  - {by: mara, arrangement: river_b_river_a}\n")
    assert not list(mistakes(worked))
    gallery, _ = gallery_of(worked, {})
    assert gallery.tile("river_b_river_a").slug == "river_a_river_b"


def test_what_was_never_there_is_told_at_its_line(tmp_path):
    (found,) = mistakes(make_worked(tmp_path, twins("river_c_river_a: 12")))
    assert "river_c_river_a" in found.problem and found.place and found.place.line


# --- turned by quarters ----------------------------------------------------------------------------


def any_of(papers: int, extra: str = "") -> str:
    """A window of four squares, each from any of so many papers, of which there are enough."""
    names = ["river", "meadow", "dusk", "frost"]
    laid = [Laid(names[i % papers]) for i in range(4)]
    return text_of(LAYOUTS["window"], laid, extra=f"arrangements: {{papers: any{extra}}}\n")


@pytest.mark.parametrize("papers, necklaces, bracelets", [(1, 1, 1), (2, 6, 6), (3, 24, 21), (4, 70, 55)])
def test_four_squares_are_necklaces_and_mirrored_bracelets(tmp_path, papers, necklaces, bracelets):
    """Four beads of n colours, turned: (n⁴ + n² + 2n) / 4, OEIS A006528; turned and mirrored: (n⁴ + 2n³ + 3n² + 2n) / 8,
    OEIS A002817. Formulas by Burnside's lemma; the sequences' numbers from memory."""
    assert (papers**4 + papers**2 + 2 * papers, papers**4 + 2 * papers**3 + 3 * papers**2 + 2 * papers) == (4 * necklaces, 8 * bracelets)
    for name, extra, expected in (("a", "", necklaces), ("b", ", mirror: yes", bracelets)):
        n, different_cards, motions = counted(front_of(tmp_path / name, any_of(papers, extra)))
        assert (n, different_cards) == (papers**4, expected)
        assert len(motions.all) == (1 if papers == 0 else 8 if extra else 4)


def test_the_words_say_which_turns_were_counted(tmp_path):
    laid = [Laid(paper) for paper in ("river", "meadow", "dusk", "frost")]
    for name, text, turns, said in (
        ("a", text_of(LAYOUTS["pinwheel"], laid), ["half turn", "quarter turn"], "Counted as one card: half turns and quarter turns."),
        (
            "b",
            text_of(LAYOUTS["cross"], laid, extra=MIRROR),
            ["half turn", "quarter turn", "mirror image"],
            "Counted as one card: half turns, quarter turns and mirror images.",
        ),
        ("c", text_of(LAYOUTS["two"], laid[:2]), ["half turn"], "Counted as one card: half turns."),
        ("d", text_of(LAYOUTS["crooked"], laid[:3]), [], "No turn makes two of these one card."),
    ):
        worked = make_worked(tmp_path / name, text)
        found = arrangements_of(worked)
        assert as_json(found)["counted as one"] == turns
        assert f"  {said}" in as_text(found)
        assert said in small_print(found)
        if "quarter turn" in turns:
            assert "by quarters" in turning_text(found) and "turned by quarters" in counts_text(found)
            assert any(group_title(found, group) == f"One card, {alike_text(found.motions)}" for group in found.groups)


@pytest.mark.parametrize("more, mat, turns", [({}, "", True), ({"up": ("river",)}, "", True), ({}, ", may turn: no", True)])
def test_what_stands_in_the_way_of_a_quarter(tmp_path, more, mat, turns):
    """A plain mat looks the same on its side, whatever its sheet asks for; a one-way piece counts for the fronts that show it."""
    laid = [Laid("river"), Laid("river"), Laid("meadow"), Laid("dusk")]
    layout = LAYOUTS["window"]
    text = text_of(layout, laid, mat=mat, **more)
    n, different_cards, motions = counted(front_of(tmp_path, text))
    assert (motions.quarter is not None) == turns
    assert different_cards == cards(tried(layout, laid, more.get("up", ())), more.get("up", ()), mirror=False)


def test_a_mat_that_has_a_pattern_and_may_not_be_turned_keeps_its_way_up(tmp_path):
    text = text_of(LAYOUTS["window"], [Laid(p) for p in ("river", "meadow", "dusk", "frost")], mat=", may turn: no")
    text = changed(
        text,
        ("name: White cardstock, size: Letter}", "name: White cardstock, size: Letter, front: {look: stripes, colours: [linen, white]}}"),
    )
    motions = counted(front_of(tmp_path, text))[2]
    assert motions.turn and not motions.quarter and any("M may not be turned" in note.words for note in motions.why)


def test_on_a_mat_that_is_not_square_only_half_turns_count(tmp_path):
    """The same pinwheel, with more of the mat above and below: turned by a quarter, the mat would lie across."""
    text = text_of(LAYOUTS["pinwheel"], [Laid(p) for p in ("river", "meadow", "dusk", "frost")])
    text = changed(text, ("M: {size: 4 x 4,", "M: {size: 4 x 4-1/2,"), ("size: 8-1/2 x 4-1/4", "size: 8-1/2 x 4-3/4"))
    for top, lower in (("top: 1/8", "top: 3/8"), ("top: 11/4", "top: 3"), ("top: 11/8", "top: 13/8")):
        text = text.replace(top, lower)
    assert counted(front_of(tmp_path, text))[:2] == (24, 12)


def test_a_set_tells_the_fewest_orders_to_put_together(tmp_path):
    found = arrangements_of(make_worked(tmp_path, text_of(LAYOUTS["pinwheel"], [Laid(p) for p in ("river", "meadow", "dusk", "frost")])))
    assert (found.counts.counted, found.counts.different, found.counts.grouped) == (24, 6, 6)
    of = {item.slug: item.card for item in found.items}
    for one in found.sets:
        cards_of = {of[part.slug] for part in one.parts}
        if len(cards_of) < len(one.parts):
            assert one.note.words.startswith(f"Put the fronts together in {len(cards_of)} order"), one
            turned = sum(part.cards for part in one.parts) - sum(
                next(p.cards for p in one.parts if of[p.slug] == card) for card in cards_of
            )
            assert sum(int(n) for n in one.note.words.split("then turn")[1].split() if n.isdigit()) == turned
