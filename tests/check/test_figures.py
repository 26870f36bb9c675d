"""Figures typed in prose: what the kit contradicts is told at its line with a citation; what agrees, or is about something else, is silent."""

import time
from fractions import Fraction

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.starter import write_starter
from kitwright.check import figures
from kitwright.check.typed import numbers, sizes
from kitwright.kit.read import read_club, read_kit
from kitwright.kit.yamltext import BIGGEST
from kitwright.telling.words import spelled
from kitwright.units import Length, Size, size_text
from kitwright.work.cite import value
from kitwright.work.working import work
from making import BATCH, changed, line_of, make_archive, make_worked

METRIC = """\
title: Metric
summary: >-
  {summary}
cards: 12
unit: mm
papers:
  swell: {{kind: patterned, name: Swell, size: 15.2 x 15.2 cm}}
  white: {{kind: cardstock, name: White, size: A4}}
pieces:
  A: {{size: 45 x 88, for: tall piece, paper: swell}}
  M: {{size: 99 x 142, for: mat, paper: white}}
card:
  base: {{size: 210 x 148, paper: white}}
  fold: side
  layers: [M]
  envelope: ISO C6 envelope
front:
  columns: [A, band]
"""


def told(root, summary="Nine cards.", notes="", **more):
    text = more.pop("text", BATCH).replace("summary: Nine cards from one sheet.\n", f"summary: >-\n  {summary}\n")
    return list(figures.find(make_worked(root, text, notes, **more)))


# --- told, and what is offered ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "summary, cite",
    [
        ("Ten cards from one sheet.", "[[cards]]"),
        ("A dozen cards.", "[[cards]]"),
        ("Half a dozen large cards.", "[[cards]]"),
        ("10 side-fold cards.", "[[count of cards]]"),
        ("Twenty-one tall, slim cards", "[[cards]]"),
        ("Makes 10.", "[[count of cards]]"),
        ("A batch of ten.", "[[cards]]"),
        ("4 x 5 in cards.", "[[size of card]]"),
        ("A finished card of 4 × 5 in.", "[[size of card]]"),
        ("Nine cards, 4 x 5 in.", "[[size of"),
        ("Cards of 10 x 15 cm.", "[[size of card]]"),
        ('Nine 4" x 5" cards.', "[[size of card]]"),
        ("The mats are 4 by 5 inches.", "[[size of M]]"),
        ("M is 4 × 5 in.", "[[size of M]]"),
        ("Nine cards from two sheets.", "[[sheets of river]]"),
        ("Nine cards from three sheets of River.", "[[sheets of river]]"),
        ("One and a half sheets of River.", "[[sheets of river]]"),
        ("Four strips on every card.", "[[count of A]]"),
        ("Strips 4 in wide.", "[[width of A]]"),
        ("With a border of 1/4 in.", "[[border]]"),
        ("With ¼ inch gaps.", "[[gap]]"),
        ("Scored at 4 in.", "[[score]]"),
        ("A 1-1/2 in band.", "[[band]]"),
        ("An 8 x 5-1/2 in base.", "[[size of base]]"),
        ("In an envelope of 5 x 6 in.", "[[envelope]]"),
        ("Three mats of cream.", "[[count of M]]"),
    ],
)
def test_a_figure_that_the_kit_contradicts(tmp_path, summary, cite):
    (found,) = told(tmp_path, summary)
    assert found.level == "warning" and cite in found.remedy and found.place.line == line_of(BATCH, "summary:")
    # What is offered can be cited.
    worked = make_worked(tmp_path / "again", BATCH)
    assert value(worked, found.remedy.split("[[")[1].split("]]")[0])


@pytest.mark.parametrize(("summary", "name"), [("A card 9 in wide.", "the finished card"), ("An envelope 9 in tall.", "the envelope")])
def test_what_can_not_be_cited_is_not_offered(tmp_path, summary, name):
    """How wide the finished card is, and how tall its envelope, has no citation of its own."""
    (found,) = told(tmp_path, summary)
    assert name in found.problem and found.remedy == "say the right length"


@pytest.mark.parametrize(
    "summary",
    [
        "Nine cards from one sheet.",
        "[[cards]] from [[sheets of river]].",
        "Nine 4¼ × 5½ in cards.",
        "A card of 10.8 x 14 cm.",
        "Three strips on each.",
        "Strips 3¾ in wide.",
        "With ⅛ in borders.",
        "For two friends and one cat.",
        "9 cards in 20 minutes.",
        "One card at a time.",
        "For the 12 days of winter.",
        "Made in 2027 for the first time.",
        "From one 12 × 12 sheet.",
        "Two colours, one fold, three strips.",
        "Scored at 4¼.",
        "Bases of 8½ x 5½, from Letter.",
        "In a US A2 envelope.",
    ],
)
def test_a_figure_that_agrees_or_is_about_something_else(tmp_path, summary):
    assert told(tmp_path, summary) == []


@pytest.mark.parametrize(
    "notes",
    [
        "If you have a 6 x 6 pad, it makes four cards.",
        "Another ten cards come from a second sheet.",
        "Letter is 8½ x 11 in.",
        "Post takes letters up to 6 x 11 in.",
        "Twelve cards a day is too many.",
        "Set the trimmer at 3¾ and cut 3 columns.",
        "Use 2 lines of glue, 1/2 in apart.",
        "Make ten more cards if you like.",
        "Photos of 4 x 6 in fit too.",
        "Five cards fit a box.",
        "Four strips of tape hold it.",
        "See https://x.example/10-cards-4x5",
        "Write `ten cards` there.",
        "The first five cards are the hardest.",
        "Two sheets of tissue go between.",
        "Hold it for 10 seconds.",
        "A ruler 12 in long.",
    ],
)
def test_notes_about_something_else(tmp_path, notes):
    assert told(tmp_path, notes=notes + "\n") == []


@pytest.mark.parametrize(
    "notes, line",
    [
        ("One.\n\nTen cards in all.\n", 3),
        ("It makes ten\ncards.\n", 1),
        ("Cut A 3 x 1-1/4.\n", 1),
        ("[[cards]],\nand strip A is 3¾ x 1½ in.\n", 2),
        ("We cut 5 B from it.\n", 1),
        ("You need\n4 sheets of River.\n", 2),
        ("**Ten cards** come of it.\n", 1),
        ("`code\nhere`\nThe gap is 1/4 in.\n", 3),
        ("- Take two sheets of Cream cardstock.\n", 1),
    ],
)
def test_a_figure_in_the_notes_at_its_line(tmp_path, notes, line):
    (found,) = told(tmp_path, notes=notes)
    assert (found.place.file.name, found.place.line) == ("notes.md", line)


def test_title_steps_answers_and_decorations(tmp_path):
    text = (
        changed(BATCH, ("title: Nine strips", "title: Ten cards of spring"))
        + "steps:\n  build:\n    - Glue the strips.\n    - Make all ten cards.\nquestions:\n  - {ask: 'May I make 30 cards?', answer: The mats are 4 x 5 in.}\n"
        "decorations:\n  - {name: a flower on all ten cards, size: 1/4 x 1/4, on: M, left: 0, top: 0}\n"
    )
    found = told(tmp_path, text=text)
    # The summary takes a line more than it did.
    assert len(found) == 4 and {f.place.line for f in found} == {
        1,
        *(line_of(text, words) + 1 for words in ("a flower", "Make all ten", "answer:")),
    }
    title = next(f for f in found if f.place.line == 1)
    assert "[[" not in title.remedy and "9 cards" in title.remedy


@pytest.mark.parametrize(
    "summary, wrong",
    [
        ("Twelve cards from a pad.", False),
        ("Ten cards.", True),
        ("Cards of 105 x 148 mm.", False),
        ("Cards of 10.5 × 14.8 cm.", False),
        ("Cards of 100 x 150 mm.", True),
        ("Mats of 99 x 142.", False),
        ("Mats of 100 x 142.", True),
        ("Cards of 4⅛ x 5 13/16 in.", False),
        ("Cards of 4 x 6 in.", True),
        ("Tall pieces of 4.5 x 8.8 cm.", False),
        ("Tall pieces of 4.5 x 8.2 cm.", True),
    ],
)
def test_a_metric_kit_in_either_unit(tmp_path, summary, wrong):
    assert bool(list(figures.find(make_worked(tmp_path, METRIC.format(summary=summary))))) == wrong


# --- by property ----------------------------------------------------------------------------------


@given(
    st.integers(2, 12),
    st.sampled_from(["{} cards", "{} side-fold cards", "Makes {}.", "A batch of {}", "All {} of one kind: {} cards"]),
    st.booleans(),
    st.booleans(),
)
@tried(25)
def test_any_other_number_of_cards_is_told_however_typed(tmp_path_factory, n, sentence, words, capital):
    said = spelled(n) if words else str(n)
    found = told(tmp_path_factory.mktemp("n"), sentence.replace("{}", said.capitalize() if capital else said))
    assert bool(found) == (n != 9)


@given(st.integers(16, 160), st.integers(16, 160), st.sampled_from([" × ", " x ", " by "]), st.booleans())
@tried(25)
def test_any_size_but_its_own_is_told_of_a_mat(tmp_path_factory, w, h, times, plain):
    size = Size(Length(Fraction(w, 16)), Length(Fraction(h, 16)))
    found = told(tmp_path_factory.mktemp("s"), f"The mat is {size_text(size, plain=plain).replace(' × ', times)}.")
    assert bool(found) == ({w, h} != {64, 84})


@given(st.integers(1, 400), st.integers(1, 400), st.sampled_from(["in", "mm"]))
def test_sizes_are_read_as_they_are_written(w, h, unit):
    step = Length(Fraction(1, 16)) if unit == "in" else Length.mm(1)
    size = Size(step * w, step * h)
    for plain in (True, False):
        (read,) = sizes(f"It is {size_text(size, unit, plain=plain)}, all told.", "in")
        assert read.value == size


@pytest.mark.parametrize(
    "text, values",
    [
        ("twenty-one", [21]),
        ("Half a dozen", [6]),
        ("two dozen", [24]),
        ("a dozen and one", [12, 1]),
        ("2½ and 1 1/2 and 3-1/4", [Fraction(5, 2), Fraction(3, 2), Fraction(13, 4)]),
        ("one and a half", [Fraction(3, 2)]),
        ("half a sheet", [Fraction(1, 2)]),
        ("someone, often, tenfold, A4, B5, x2, 2x, v1.2", []),
        ("1/0 of it", [0]),
        ("12:30, 2027-03-04, £5, #3", []),
    ],
)
def test_numbers_are_read(text, values):
    assert [n.value for n in numbers(text)] == values


@pytest.mark.parametrize("words", ["ten cards ", "4 x 5 in ", "9 ", "1 1/2 x ", "border 1/4 in "])
def test_long_notes_are_read_in_time(tmp_path, words):
    """As long as notes may be: told up to a bound, and without a quadratic wait."""
    notes, before = words * ((BIGGEST - 9) // len(words)), time.process_time()
    assert len(told(tmp_path, notes=notes + "\n")) <= 40
    assert time.process_time() - before < 5


def test_the_starter_tells_its_own_figures(tmp_path):
    make_archive(tmp_path, BATCH)
    folder = write_starter(tmp_path / "kits", "2031-01-first")
    assert list(figures.find(work(read_kit(folder, read_club(tmp_path / "kits"))))) == []


# --- emphasis, and answers about another batch -------------------------------------------------------


@pytest.mark.parametrize(
    "summary",
    ["**Ten** cards.", "*Ten* cards.", "__Ten__ cards.", "<b>Ten</b> cards.", "***10*** *cards*, all alike.", "Nine mats, **4 x 5 in**."],
)
def test_emphasis_hides_no_figure(tmp_path, summary):
    assert len(told(tmp_path, summary)) == 1


@pytest.mark.parametrize(
    "summary",
    [
        "**Nine** cards.",
        "_9_ cards from *one* sheet.",
        "- *Nine* cards\n  * from **one** sheet",
        "<b>Nine</b> cards",
        "2*9 cards, snake_10_cards",
    ],
)
def test_emphasis_on_a_right_figure_is_silent(tmp_path, summary):
    assert told(tmp_path, summary) == []


@pytest.mark.parametrize(
    "ask, count",
    [
        ("Can I make more?", 0),
        ("What do eighteen cards take?", 0),
        ("And from A4?", 0),
        ("Does it come out for 12 lovely cards?", 0),
        ("How long does it take?", 2),
        ("What do nine cards take?", 2),
    ],
)
def test_an_answer_about_another_batch_is_its_own_matter(tmp_path, ask, count):
    text = BATCH + f'questions:\n  - {{ask: "{ask}", answer: "All 18 cards come from two sheets of River."}}\n'
    assert len(told(tmp_path, text=text)) == count
