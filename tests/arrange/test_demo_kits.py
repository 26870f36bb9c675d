"""The demo kits: counts proved in two ways, and sets that use exactly what is cut."""

from collections import Counter
from collections.abc import Iterator

import demo
import pytest
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.otherwise.arrangements.batch import pool_of
from kitwright.otherwise.arrangements.slots import face_of, places_of
from kitwright.work.worked import Worked


def each(test):
    return pytest.mark.parametrize("name", demo.BY_ID)(test)


def dealt(left: list[int], fits: list[list[list[int]]]) -> Iterator[tuple[int, ...]]:
    """The pieces that are left (how many of each kind), dealt into the slots from the first on; like pieces are one, and one that fits nowhere goes no further."""
    if not fits:
        yield ()
        return
    for kind, fills in enumerate(fits[0]):
        if left[kind] and fills:
            for rest in dealt([n - (i == kind) for i, n in enumerate(left)], fits[1:]):
                yield from ((fill, *rest) for fill in fills)


def tried(worked: Worked) -> set[tuple[int, ...]]:
    """Every way, by dealing each look's pieces out in every order and keeping what fits: no list, no counting of ours. A way is which fill is in which slot."""
    places = places_of(worked)
    kinds = list(dict.fromkeys(piece.kind for look in places.looks for piece in look))
    fits = [[[n for n, fill in enumerate(slot.fills) if fill.kind == kind] for kind in kinds] for slot in places.slots]
    looks = [Counter(piece.kind for piece in look) for look in places.looks]
    return {way for look in looks for way in dealt([look[kind] for kind in kinds], fits)}


@each
def test_counts_agree_three_ways(name):
    counts = demo.arranged(name).counts
    if demo.worked(name).kit.spec.arrangements.papers == "dealt":
        assert counts.counted == counts.listed == len(tried(demo.worked(name)))
    assert counts.counted == counts.listed
    assert counts.different == counts.grouped


def test_known_counts():
    """Worked by hand: a pinwheel of four papers on a square mat has 4! orders, four of them one card, turned by quarters; two columns of two papers 2! × 2! each;
    tags of three papers hang in 3! orders, none of them another's turn, since a tag turned round hangs head down."""
    free = {
        name: (demo.arranged(name).counts.counted, demo.arranged(name).counts.different)
        for name in demo.BY_ID
        if demo.worked(name).kit.spec.arrangements.papers == "dealt"
    }
    known = {
        "2026-03-window-boxes": (2, 2),
        "2026-11-weathervane": (24, 6),
        "2026-01-low-tide": (8, 4),
        "2026-11-evening-post": (8, 8),
        "2026-06-street-party": (1, 1),
        "2025-09-bud-vases": (3, 3),
        "2026-02-room-keys": (6, 6),
    }
    assert {name: n for name, n in free.items() if name in known} == {name: n for name, n in known.items() if name in free}


def test_the_most_varied_set_has_every_different_card():
    """A pinwheel's six cards all lie in a batch of twelve: a card turned by a quarter is no new one while there are others."""
    found = demo.arranged("2026-11-weathervane")
    cards = {item.slug: item.card for item in found.items}
    varied = next(one for one in found.sets if one.kind == "varied")
    assert len(varied.parts) == 12 and len({cards[part.slug] for part in varied.parts}) == 6
    assert varied.note.words == "Put the fronts together in 6 orders, then turn 6 of them round."


@pytest.mark.parametrize("name, n", [(name, n) for name, kit in demo.BY_ID.items() for n in range(len(kit.designs))])
def test_every_set_makes_the_batch_from_exactly_the_pieces_cut(name, n):
    worked = demo.worked(name).designs[n]
    found = demo.arranged(name) if len(worked.whole.designs) == 1 else arrangements_of(worked)
    places = found.places
    made = Counter()
    for plan in worked.plans:
        made.update({(label, plan.paper): n for label, n in plan.made.items()})
    # What lies on other faces, and on cards of other designs, is no piece of this front.
    for look in worked.faces:
        for side in look.sides:
            for placed in side.stack:
                if placed.layer != "base":
                    made[placed.label, placed.paper] -= look.cards or worked.kit.spec.cards
    for other in worked.whole.designs:
        if other is not worked:
            made.subtract({(label, paper): n for label in other.sizes for paper, n in other.counts(label).items()})
    pool = pool_of(places, +made)
    items = {item.slug: item for item in found.items}
    assert {"alike", "varied"} <= {s.kind for s in found.sets}
    for one in found.sets:
        assert sum(part.cards for part in one.parts) == worked.kit.spec.cards
        used = Counter()
        for part in one.parts:
            for fill in items[part.slug].filling:
                used[fill.kind] += part.cards
        left = Counter({(label, paper): n for label, paper, n in one.left})
        assert used + left == Counter(pool), one.kind
        spare = sum(plan.spare.get(label, 0) for plan in worked.plans for label in places.members)
        assert sum(left.values()) == spare, "what is left is what the sheets yield beyond the need"


@each
def test_names_and_links_are_unique_and_usable(name):
    found = demo.arranged(name)
    shown = [*found.items, *found.variations]
    assert len({s.name.casefold() for s in shown}) == len({s.slug for s in shown}) == len(shown)
    assert all(s.slug.replace("-", "").replace("_", "").isalnum() and s.slug.isascii() and s.slug == s.slug.lower() for s in shown)


@each
def test_the_sketch_is_among_them_and_faces_hold_the_same_pieces(name):
    worked, found = demo.worked(name), demo.arranged(name)
    sketch = next(item for item in found.items if not item.differences)
    assert sketch.face.pieces == worked.face.pieces and sketch.face.over == worked.face.over
    for item in found.items:
        assert [p.rect for p in item.face.stack] == [p.rect for p in worked.face.stack]
        assert face_of(found.places, item.filling, worked.kit, worked.face).pieces == item.face.pieces


@each
def test_turned_twins_point_at_each_other(name):
    items = {item.slug: item for item in demo.arranged(name).items}
    for item in items.values():
        if item.turned:
            twin = items[item.turned]
            assert twin.turned == item.slug and twin.card == item.card


@each
def test_variations_are_checked_and_say_what_changes(name):
    found = demo.arranged(name)
    assert all(v.changes for v in found.variations) and all(r.why for r in found.refused)


@each
def test_same_every_time(name):
    again = arrangements_of(demo.worked(name))
    assert (again.items, again.sets, again.groups, again.counts) == (
        demo.arranged(name).items,
        demo.arranged(name).sets,
        demo.arranged(name).groups,
        demo.arranged(name).counts,
    )
