"""Steps in words: every number, size and name agrees with the paper in hand."""

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import demo
import pytest
from cutting_trees import STEP, trees
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.desk import desk_steps
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, Split
from kitwright.geometry import Rect
from kitwright.telling.instructions import step_text
from kitwright.units import ZERO, Length, length_text, parse_size, size_text
from kitwright.work.desk import layout_steps
from making import BATCH, make_worked

KITS = Path(__file__).parents[2] / "kits"
HOLD = Length(Fraction(5, 8))
WORDS = {w: i for i, w in enumerate("no one two three four five six seven eight nine ten eleven twelve".split())}
ONE, MANY = ("stroke", "column", "strip", "half", "part"), ("strokes", "columns", "strips", "halves", "parts")


def said(layout, unit="in", order="together", one_way=False, hold=HOLD, side="left"):
    steps = desk_steps(layout, hold, order, side)
    return list(zip(steps, [step_text(step, unit, one_way) for step in steps]))


def count(word: str) -> int:
    return WORDS.get(word.lower(), -1) if not word.isdigit() else int(word)


@st.composite
def layouts(draw):
    node = draw(trees().filter(lambda n: isinstance(n, Split)))
    return Layout("Test", ("p",), node, "author", 0)


ORDERS, UNITS = st.sampled_from(["together", "one by one"]), st.sampled_from(["in", "mm"])


# --- any layout ---------------------------------------------------------------------------------------


@given(layouts(), UNITS, ORDERS, st.booleans())
def test_sentences_are_whole(layout, unit, order, one_way):
    for _, text in said(layout, unit, order, one_way):
        assert text.endswith(".") and "  " not in text and " ." not in text and "None" not in text and "!" not in text
        for sentence in re.split(r"(?<=[a-zA-Z0-9])\. ", text):
            assert re.match(r"[A-Z0-9]", sentence), sentence


@given(layouts(), UNITS, ORDERS)
def test_numbers_and_names_agree(layout, unit, order):
    for step, text in said(layout, unit, order):
        for word, name in re.findall(rf"\b(\w+) ({'|'.join(ONE + MANY)})\b", text):
            n = count(word)
            if n >= 0:
                assert (name in ONE) == (n == 1), f"“{word} {name}” in: {text}"
        falls = sum(fall.n for fall in step.falls)
        assert f" {'falls' if falls == 1 else 'fall'} off." in text
        assert ("on each." in text) == (step.things > 1)
        strokes = re.search(r": (\w+) strokes?\b", text)
        assert count(strokes[1]) == step.strokes


@given(layouts(), UNITS, ORDERS)
def test_counts_in_words_are_those_of_the_step(layout, unit, order):
    """What falls off and what stays, added up from the words alone."""
    for step, text in said(layout, unit, order):
        fallen = next(s for s in re.split(r"(?<=\.) ", text) if re.search(r"falls? off\.$", s))
        fallen = re.sub(r" falls? off\.$", "", fallen)
        total = sum(1 if re.match(r"(?i)an? ", each) else count(each.split()[0]) for each in re.split(r", | and ", fallen))
        assert total == step.strokes * step.things, text
        for fall in step.falls:
            assert fall.label in fallen if fall.label else size_text(fall.size, unit) in fallen


@given(layouts(), UNITS, ORDERS)
def test_marks_and_sizes_are_in_the_unit_asked_for(layout, unit, order):
    other = "mm" if unit == "in" else "in"
    for step, text in said(layout, unit, order):
        assert f" at {length_text(step.measure, unit)}" in text and f"the {step.side} edge" in text
        assert not re.search(rf"[\d¼½¾⅛⅜⅝⅞] {other}\b", text)
        if step.rest and not step.rest.label:
            assert f"of {size_text(step.rest.size, unit)}." in text


@given(layouts(), ORDERS)
def test_one_way_paper_is_laid_right_way_up_once_and_first(layout, order):
    plain, upright = said(layout, order=order), said(layout, order=order, one_way=True)
    assert upright[0][1] == f"Lay the sheet with its pattern the right way up. {plain[0][1]}"
    assert [t for _, t in upright[1:]] == [t for _, t in plain[1:]] and not any("right way up" in t for _, t in plain)


@given(layouts(), ORDERS, st.sampled_from(["left", "right"]))
def test_turning_is_said_when_the_paper_is_turned(layout, order, side):
    for step, text in said(layout, order=order, side=side):
        assert bool(re.search(r"\bTurn (the sheet|it|each) so that\b", text)) == step.turned


@given(layouts(), st.integers(1, 40))
def test_tape_is_said_exactly_when_it_is_needed(layout, sixteenths):
    for step, text in said(layout, hold=STEP * sixteenths):
        assert ("tape" in text) == (step.tape or step.too_narrow)
        assert ("keep fingers away from the blade" in text) == step.too_narrow


@given(layouts(), ORDERS)
def test_things_of_one_name_and_size_are_counted_together(layout, order):
    """“Three columns of 1 × 8 in and three columns of 1 × 8 in” is six columns of 1 × 8 in."""
    for step, text in said(layout, order=order):
        named = [(fall.what, fall.label, fall.size) for fall in step.falls]
        fallen = next(s for s in re.split(r"(?<=\.) ", text) if re.search(r"falls? off\.$", s))
        for what, label, size in set(named):
            words = rf"\b{label}\b" if label else rf"{'hal(f|ves)' if what == 'half' else what + 's?'} of {re.escape(size_text(size))}"
            assert len(re.findall(words, fallen)) == 1, text


@given(layouts(), ORDERS)
def test_the_things_taken_are_all_that_lie_there_or_it_says_of_how_many(layout, order):
    """“Take the three columns of 1 × 8 in” is wrong when six of them lie on the bench."""
    loose = Counter()
    for step, text in said(layout, order=order):
        key = step.what, step.hand.size
        if not step.carried and step.what != "sheet":
            if step.things < loose[key]:
                assert not re.search(rf"Take the ({step.what}|\w+ {step.what}s|\w+ halves) of", text), text
            loose[key] -= step.things
        for fall in step.falls:
            if not fall.label:
                loose[fall.what, fall.size] += fall.n


@given(layouts(), ORDERS)
def test_the_other_ones_are_what_is_left_of_a_lot_begun(layout, order):
    """Three of six, then “the other three”; never three of six again."""
    lots = {}
    for step, text in said(layout, order=order):
        key = step.what, step.hand.size
        if not step.carried and step.what != "sheet":
            lying, gone = lots[key]
            lots[key] = lying - step.things, gone + step.things
            assert (step.lying, step.gone) == (lying, gone)
            assert bool(re.search(r"^Take (the (other|last)|another|\w+ more)\b", text)) == bool(gone), text
            assert bool(re.search(r"^Take (the|another of|\w+ more of) ", text)) or f"of the {words_for(lying)}" in text, text
        for thing in (*step.falls, *([step.kept] if step.kept else [])):
            if thing.label is None and thing.what != "leftover":
                lying, gone = lots.get((thing.what, thing.size), (0, 0))
                lots[thing.what, thing.size] = lying + thing.n, gone if lying else 0
    assert all(lying == 0 for lying, _ in lots.values()), "everything that waits is taken up"


def words_for(n: int) -> str:
    return next((word for word, i in WORDS.items() if i == n), str(n))


@given(layouts(), ORDERS)
def test_what_stays_in_hand_to_be_cut_on_is_named(layout, order):
    every = said(layout, order=order)
    for i, (step, text) in enumerate(every):
        goes_on = i + 1 < len(every) and every[i + 1][0].carried
        assert (step.kept is not None) == (step.rest is None and not goes_on)
        assert ("What stays in hand is" in text) == (step.kept is not None or (step.rest is not None and step.rest.label is not None))
        if step.later:
            assert every[step.later - 1][0].hand.size == step.kept.size and step.later > step.number
        named = re.search(r"aside for step (\d+)", text)
        assert named is None or int(named[1]) == step.later


@given(layouts(), ORDERS)
def test_one_more_is_said_of_a_piece_only_after_another(layout, order):
    seen = set()
    for step, text in said(layout, order=order):
        seen |= {fall.label for fall in step.falls if fall.label}
        if step.rest and step.rest.label and step.rest.label not in seen:
            assert " more " not in text, text
        if step.rest and step.rest.label:
            seen.add(step.rest.label)


# --- worked by hand ---------------------------------------------------------------------------------------


def test_the_batch_reads_like_a_good_instruction(tmp_path):
    layout = make_worked(tmp_path, BATCH).layouts[0]
    assert [text for _, text in said(layout, one_way=True, hold=Length(Fraction(1, 2)))] == [
        "Lay the sheet with its pattern the right way up. Line the left edge up at 3¾ in, and up to the mark again after each stroke: three strokes. "
        "Three columns of 3¾ × 12 in fall off. Set the rest aside: a leftover of ¾ × 12 in.",
        "Take the three columns of 3¾ × 12 in, one after another. Turn each so that the top edge lies at the ruler, and line it up at 1¼ in, "
        "and up to the mark again after each stroke: three strokes on each. Nine A fall off.",
        "Go on with what is left of each. Line the top edge up at ⅞ in, and up to the mark again after each stroke: six strokes on each. "
        "18 B fall off. Set the rest aside: three leftovers of 3¾ × 3 in.",
    ]


def test_a_letter_sheet_halved_for_bases(tmp_path):
    white = next(layout for layout in make_worked(tmp_path, BATCH).layouts if "base" in layout.yields)
    assert [text for _, text in said(white)] == [
        "Turn the sheet so that the top edge lies at the ruler, and line it up at 5½ in: one stroke. "
        "One base falls off. What stays in hand is one more base."
    ]


def test_words_take_their_plural_and_letters_do_not():
    sheet = Rect.of(parse_size("9 x 3"))

    def row(label):
        leaves = tuple(Leaf(Rect(Length(3 * i), ZERO, Length(3), Length(3)), label) for i in range(3))
        ((_, text),) = said(Layout("T", ("p",), Split(sheet, "x", leaves, "left"), "author", 0))
        return text

    assert row("base").endswith("Two bases fall off. What stays in hand is one more base.")
    assert row("A").endswith("Two A fall off. What stays in hand is one more A.")


def columns(*makers, width=3, height=12) -> Layout:
    """Columns side by side, each made by a function of its rectangle; an inch of leftover beyond them."""
    rects = [Rect(Length(width * i), ZERO, Length(width), Length(height)) for i in range(len(makers))]
    sheet = Rect(ZERO, ZERO, Length(width * len(makers) + 1), Length(height))
    rest = Leaf(Rect(Length(width * len(makers)), ZERO, Length(1), Length(height)))
    return Layout("T", ("p",), Split(sheet, "x", (*(make(r) for make, r in zip(makers, rects)), rest), "left"), "author", 0)


def sliced(label, tall):
    def make(r):
        return Split(
            r,
            "y",
            (Leaf(Rect(r.x, r.y, r.width, Length(tall)), label), Leaf(Rect(r.x, r.y + Length(tall), r.width, r.height - Length(tall)))),
            "top",
        )

    return make


def test_three_of_six_then_the_other_three():
    texts = [t for _, t in said(columns(*[sliced("A", 5)] * 3, *[sliced("B", 7)] * 3))]
    assert texts[1].startswith("Take three of the six columns of 3 × 12 in, one after another.")
    assert texts[2].startswith("Take the other three columns of 3 × 12 in, one after another.")


def test_one_of_three_then_another_then_the_last():
    texts = [t for _, t in said(columns(sliced("A", 5), sliced("B", 7), sliced("C", 8)))]
    assert [t[: t.index(" of 3 ×")] for t in texts[1:]] == [
        "Take one of the three columns",
        "Take another of the columns",
        "Take the last column",
    ]
    texts = [t for _, t in said(columns(sliced("A", 5), sliced("B", 7)))]
    assert texts[2].startswith("Take the other column of 3 × 12 in.")


def test_a_half_that_is_cut_together_with_a_column_is_called_so_too():
    """A column, and half of what stays in hand, both of 2 × 5: taken up as two columns, nothing else may lie there."""

    def in_two(x):
        halves = tuple(Leaf(Rect(Length(x + i), ZERO, Length(1), Length(5)), "A") for i in range(2))
        return Split(Rect(Length(x), ZERO, Length(2), Length(5)), "x", halves, "right")

    rest = Rect(Length(2), ZERO, Length(4), Length(5))
    within = Split(rest, "x", (in_two(2), Leaf(Rect(Length(4), ZERO, Length(2), Length(5)), "B")), "left")
    layout = Layout("T", ("p",), Split(Rect.of(parse_size("6 x 5")), "x", (in_two(0), within), "left"), "author", 0)
    texts = [text for _, text in said(layout)]
    assert "One column of 2 × 5 in falls off. What stays in hand is a column of 4 × 5 in." in texts[0]
    assert "One column of 2 × 5 in falls off." in texts[1]
    assert texts[2].startswith("Take the two columns of 2 × 5 in, one after another.")


def test_the_other_half_and_what_is_set_aside_for_later_are_named(worked_kits):
    """Street party halves its terrace paper; its white sheets keep a column for the sentiment until the base is cut."""
    terrace, white = (
        next(layout for layout in worked_kits["2026-06-street-party"].layouts if layout.papers == (key,)) for key in ("terrace", "white")
    )
    assert said(terrace)[0][1].endswith("One half of 6 × 3 in falls off. What stays in hand is the other half.")
    assert said(white)[0][1].endswith("What stays in hand is a column of 2¼ × 11 in: set it aside for step 3.")


def test_columns_whose_slices_go_different_ways_are_sliced_together(worked_kits):
    (melt,) = (layout for layout in worked_kits["2027-01-first-thaw"].layouts if "melt" in layout.papers)
    texts = [t for _, t in said(melt)]
    assert len(texts) == 3 and "Twelve A and twelve strips of 3¾ × 1⅜ in fall off." in texts[1]


def test_too_narrow_on_both_sides_warns():
    sheet = Rect.of(parse_size("1 x 3"))
    leaves = tuple(Leaf(Rect(Length(Fraction(i, 2)), ZERO, Length(Fraction(1, 2)), Length(3)), "A") for i in range(2))
    ((_, text),) = said(Layout("T", ("p",), Split(sheet, "x", leaves, "left"), "author", 0))
    assert re.search(r"too narrow to hold.* removable tape, and keep fingers away from the blade\.$", text)


# --- the demo kits ---------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def worked_kits():
    return {kit_id: demo.worked(kit_id) for kit_id in demo.BY_ID}


@pytest.fixture(params=demo.BY_ID)
def worked(request):
    return demo.worked(request.param)


def test_no_demo_kit_says_one_thing_twice_in_a_sentence(worked):
    for layout in worked.layouts:
        for step in layout_steps(worked, layout):
            text = step_text(step, worked.kit.spec.unit)
            for sentence in re.split(r"(?<=\.) ", text):
                named = re.findall(r"(?:columns?|strips?|half|halves|parts?) of [^,.]+? (?:in|mm)\b|\b[A-Z]\b(?= and|,| falls?)", sentence)
                assert len(named) == len({re.sub(r"s\b", "", n) for n in named}), sentence


def test_a_demo_step_writes_its_counts_one_way(worked):
    """“Three B fall off. Set the rest aside: 3 leftovers” writes one number in two ways."""
    for layout in worked.layouts:
        for step in layout_steps(worked, layout):
            text = step_text(step, worked.kit.spec.unit)
            for word, n in WORDS.items():
                if n > 1 and re.search(rf"\b{word}\b", text, re.I):
                    assert not re.search(rf"\b{n} (leftovers|columns|strips|halves|parts|strokes)\b", text), text


def test_every_demo_step_stays_on_the_ruler(worked):
    """The marks a maker is sent to exist: on the trimmer's ruler, at its finest mark or half a millimetre."""
    trimmer = worked.kit.club.trimmer
    for layout in worked.layouts:
        for step in layout_steps(worked, layout):
            assert step.measure <= (trimmer.reach or trimmer.cut_length)
            assert "≈" not in step_text(step, worked.kit.spec.unit), "a mark or size that the ruler can't show"


def test_no_demo_step_leaves_fingers_too_near(worked):
    assert not any(step.too_narrow for layout in worked.layouts for step in layout_steps(worked, layout))
