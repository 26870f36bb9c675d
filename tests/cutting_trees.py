"""Random cut trees for property tests."""

from fractions import Fraction

from hypothesis import strategies as st
from kitwright.cutting.tree import Leaf, Split
from kitwright.geometry import Rect
from kitwright.units import Length, Size

STEP = Length(Fraction(1, 16))


@st.composite
def trees(draw, rect=None, depth=3):
    """A random tree of the rectangle, labels A to D and leftovers at its leaves."""
    if rect is None:
        rect = Rect.of(Size(STEP * draw(st.integers(8, 200)), STEP * draw(st.integers(8, 200))))
    axis = draw(st.sampled_from("xy"))
    room = int((rect.width if axis == "x" else rect.height) / STEP)
    if depth == 0 or room < 2 or draw(st.integers(0, 3)) == 0:
        return Leaf(rect, draw(st.sampled_from(["A", "B", "C", "D", None])))
    marks = sorted(draw(st.sets(st.integers(1, room - 1), min_size=1, max_size=3)))
    parts, before = [], 0
    for mark in [*marks, room]:
        share = STEP * (mark - before)
        part = (
            Rect(rect.x + STEP * before, rect.y, share, rect.height)
            if axis == "x"
            else Rect(rect.x, rect.y + STEP * before, rect.width, share)
        )
        parts.append(draw(trees(part, depth - 1)))
        before = mark
    return Split(rect, axis, tuple(parts), draw(st.sampled_from(["left", "right"] if axis == "x" else ["top", "bottom"])))
