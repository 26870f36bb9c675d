"""Pages that are filled: what is kept whole stays so, in an order that leaves none half empty where there is one."""

from __future__ import annotations

from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.printable.blocks import Heading, Listed, Prose, Side, high
from kitwright.printable.filling import LEAST_FILL, BookPart, Chunk, filled, half_empty
from reportlab.platypus.flowables import Flowable

FULL, WIDTH = 700, 500


class Plain(Flowable):
    """A block of a height of its own."""

    def __init__(self, height: float, before: float = 16) -> None:
        super().__init__()
        self.height, self.before = height, before

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        return room, self.height

    def getSpaceBefore(self) -> float:
        return self.before

    def getSpaceAfter(self) -> float:
        return 4


def part(kind: str, heights: list[int], fixed: bool = False) -> BookPart:
    return BookPart(kind, tuple(Chunk((Plain(height),)) for height in heights), fixed)


PARTS = st.lists(st.tuples(st.sampled_from("abc"), st.lists(st.integers(10, FULL), min_size=1, max_size=4)), min_size=1, max_size=5)


@tried(60)
@given(st.lists(st.integers(10, FULL), max_size=5), PARTS)
def test_every_chunk_stands_once_and_whole_and_parts_of_a_kind_in_order(first, said):
    parts = [part("first", first, fixed=True)] * bool(first) + [part(kind, heights) for kind, heights in said]
    pages = filled(parts, WIDTH, FULL)
    blocks = [block for page in pages for block in page.blocks]
    assert len(blocks) == len(set(map(id, blocks))) == sum(len(each.chunks) for each in parts)
    for page in pages:
        assert page.used == high(page.blocks, WIDTH) <= FULL and page.fill == page.used / FULL
    place = {id(block): i for i, block in enumerate(blocks)}
    for kind in ("first", *"abc"):
        of_kind = [place[id(chunk.blocks[0])] for each in parts if each.kind == kind for chunk in each.chunks]
        assert of_kind == sorted(of_kind)
    usual = filled([BookPart("one", each.chunks, fixed=True) for each in parts], WIDTH, FULL)
    assert (half_empty(pages), len(pages)) <= (half_empty(usual), len(usual))


@tried(60)
@given(st.lists(st.integers(10, FULL // 2 - 20), min_size=1, max_size=30))
def test_what_is_no_higher_than_half_a_page_leaves_none_half_empty(heights):
    assert not half_empty(filled([part("one", heights, fixed=True)], WIDTH, FULL))


def test_an_order_is_found_that_leaves_no_page_half_empty():
    pages = filled([part("steps", [300], fixed=True), part("high", [600]), part("low", [200])], WIDTH, FULL)
    assert [[block.height for block in page.blocks] for page in pages] == [[300, 200], [600]]
    assert all(page.fill >= LEAST_FILL for page in pages)


def test_parts_that_fit_as_they_are_stay_so():
    pages = filled([part(kind, [100]) for kind in "abcd"], WIDTH, FULL)
    assert len(pages) == 1 and pages[0].used == 4 * 100 + 3 * 16


def test_what_begins_a_page_anew_says_so():
    again = Plain(40)
    chunks = (Chunk((Plain(400),)), Chunk((Plain(400),), (again,)), Chunk((Plain(200),), (again,)))
    pages = filled([BookPart("templates", chunks)], WIDTH, FULL)
    assert [[block.height for block in page.blocks] for page in pages] == [[400], [40, 400, 200]]


def test_what_no_page_holds_is_parted_and_a_heading_stays_with_what_it_heads():
    items = [Prose("word " * 60) for _ in range(60)]
    whole = Side([[Heading("Care", 3), Listed(items)], [Heading("Terms", 3), Prose("kind " * 300)]], [240, 240], 20, FULL)
    pages = filled([part("one", [80], fixed=True), BookPart("closing", (Chunk((whole,)),))], WIDTH, FULL)
    assert len(pages) > 1 and not half_empty(pages)
    for page in pages:
        assert page.used <= FULL and not isinstance(page.blocks[-1], Heading)
    lists = [block for page in pages for block in page.blocks if isinstance(block, Listed)]
    assert [item for each in lists for item in each.items] == items
