"""Breaking lines, and the small words of the guide page."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st
from kitwright.printable.stroke_table import measures, ranges
from kitwright.printable.typeset import SANS, broken, line_width, words

TEXT = st.text(alphabet="abc defg hij,.½×—é", min_size=1, max_size=300)


@given(TEXT, st.floats(20, 500), st.booleans())
def test_lines_hold_all_words_in_order_and_fit(text, room, even):
    lines = broken(words(text), 10, room, even)
    assert "".join(w.text for line in lines for w in line).replace(" ", "") == "".join(text.split())
    for line in lines:
        assert line_width(line, 10) <= room + 0.02 or len(line) == 1 and len(line[0].text) == 1


@given(TEXT, st.floats(60, 500))
def test_even_lines_are_no_more_lines(text, room):
    assert len(broken(words(text), 10, room, even=True)) == len(broken(words(text), 10, room))


def test_a_size_is_never_broken():
    text = "Cut it to 3 15\u204416 × 5½ in and then to ≈82.5 × 140 mm."
    for room in range(80, 400, 7):
        drawn = [" ".join(w.text for w in line) for line in broken(words(text), 10, room)]
        joined = "\n".join(drawn)
        assert "3 15\u204416 × 5½ in" in joined
        assert "≈82.5 × 140 mm" in joined


def test_a_date_is_never_broken():
    for room in range(70, 300, 7):
        lines = broken(words("Revision 2, released 3 June 2026, and nothing since then."), 10, room)
        assert any("3 June 2026" in w.text for line in lines for w in line)


@given(st.sets(st.integers(1, 60), min_size=1))
def test_ranges_name_exactly_the_numbers(numbers):
    named: set[int] = set()
    for part in ranges(sorted(numbers)).split(", "):
        first, _, last = part.partition("–")
        named |= set(range(int(first), int(last or first) + 1))
    assert named == numbers


def test_measures_hold_every_cut_once(all_kits):
    for worked in all_kits.values():
        for layout in worked.layouts:
            numbers = [n for m in measures(layout) for n in m.numbers]
            assert sorted(numbers) == [cut.number for cut in layout.cuts]
            for measure in measures(layout):
                for label in measure.falls:
                    assert label in ("strip", "scrap", "base") or re.fullmatch("[A-Z][A-Za-z0-9]*", label)


def test_words_of_one_blank_are_none():
    assert words("   ", SANS) == []
