"""The author's notes and other cards of the workbook, and what a file weighs."""

from __future__ import annotations

import io
import re

import pypdf
import pypdfium2
import pytest
from examples import tried
from fontTools.ttLib import TTFont
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.printable import EDITIONS, workbook_pdf
from kitwright.printable.author_notes import HIGHEST, _Reader, blocks_of, pair, sections
from kitwright.printable.blocks import Heading, Listed, Prose, high
from kitwright.printable.document import printables
from kitwright.printable.job import Job
from kitwright.printable.other_cards import MOST, other_cards, others_of
from kitwright.printable.pages import INKS
from kitwright.release.stamp import PreviewStamp

NOTES = """\
Cut [[count of A]] of A from [[name of net]].

## Glue last

Press ![a card](photos/one.png) for a minute, and see [the words](../../words.md).

1. fold
2. press & hold

Or not.

- one <b>way</b>
- another
"""


HEADINGS_IN_A_ROW = [
    *(("heading", 1), ("dashes", 36), ("heading", 1), ("text", 25), ("text", 46), ("heading", 1), ("heading", 1), ("heading", 1)),
    *(("dashes", 55), ("heading", 1), ("heading", 1), ("dashes", 55)),
]
TEXTS = st.lists(st.tuples(st.sampled_from(["heading", "text", "dashes"]), st.integers(1, 60)), min_size=1, max_size=14)


@pytest.mark.parametrize("divided", [pair, sections])
@tried(30)
@given(TEXTS)
@example(HEADINGS_IN_A_ROW)
def test_columns_hold_every_word_once_and_in_order(divided, said):
    words = iter(range(10_000))
    found = [(kind, " ".join(f"w{next(words)}" for _ in range(n if kind != "heading" else min(n, 6)))) for kind, n in said]
    blocks, seen = blocks_of(found), []
    while blocks:
        left, right, rest = divided(blocks, 230)
        for column in (left, right):
            assert high(column, 230) <= HIGHEST + 60  # an item that can't be divided may stand out a little
            seen += [
                word for block in column for item in (block.items if isinstance(block, Listed) else [block]) for word in item.plain.split()
            ]
            if column and rest:
                assert not isinstance(column[-1], Heading), "a heading without what it heads"
        assert len(rest) < len(blocks) or high(rest, 230) < high(blocks, 230)
        blocks = rest
    assert seen == [word for _, text in found for word in text.split()]


def test_a_section_stays_within_one_pair_of_columns():
    """Six sections of equal length, more than a pair of columns holds: the next pair begins with a heading."""
    found = [(kind, f"s{n} " + "word " * length) for n in range(6) for kind, length in (("heading", 1), ("text", 120))]
    rest = blocks_of(found)
    while rest:
        assert isinstance(rest[0], Heading)
        left, right, rest = sections(rest, 230)
        assert left and right


def test_notes_are_read_as_plain_blocks():
    reader = _Reader()
    import markdown

    reader.feed(markdown.markdown(NOTES))
    reader.close()
    kinds = [kind for kind, _ in reader.found]
    assert kinds == ["text", "heading", "text", "numbers 1", "numbers 2", "text", "dashes", "dashes"]
    text = " ".join(text for _, text in reader.found)
    assert "press & hold" in text and "one way" in text and "photos" not in text and "words.md" not in text


def test_the_authors_notes_are_in_the_workbook(tmp_path, kit_texts, club_text):
    from kitwright.kit.read import read_club, read_kit
    from kitwright.work.working import work

    name = "2027-07-night-ferry"
    (tmp_path / "club.yaml").write_text(club_text, encoding="utf-8")
    (tmp_path / name).mkdir()
    (tmp_path / name / "kit.yaml").write_text(kit_texts[name], encoding="utf-8")
    (tmp_path / name / "notes.md").write_text(NOTES.split("Press !")[0], encoding="utf-8")
    data = workbook_pdf(work(read_kit(tmp_path / name, read_club(tmp_path))), "a4")
    text = " ".join(" ".join(p.get_textpage().get_text_bounded().split()) for p in pypdfium2.PdfDocument(io.BytesIO(data)))
    assert "Cut 8 of A from Net." in text and "Glue last" in text and "[[" not in text


def test_other_cards_are_others(all_kits):
    worked = all_kits["2027-05-three-coves"]
    found = arrangements_of(worked)
    others = others_of(found)
    own = {item.name for item in found.items if item.own}
    assert 0 < len(others) <= MOST and not own & {other.name for other in others}
    heading, told, row = other_cards(Job(worked, EDITIONS["letter"], "full", PreviewStamp()))
    assert heading.plain == "The same pieces, placed otherwise" and "kit’s page" in told.plain
    assert [stack[0].name for stack in row.stacks] == [other.name for other in others]


def test_three_inks_are_laid_out_once_and_are_what_each_is_alone(all_kits, pdf_of):
    made = printables(all_kits["2027-07-night-ferry"], "a4")
    assert list(made) == list(INKS)
    for ink, data in made.items():
        assert data == pdf_of("2027-07-night-ferry", "a4", ink)


@pytest.mark.parametrize("edition", ["letter", "a4"])
def test_a_kit_of_many_pieces_and_papers_stays_small(pdf_of, edition):
    data = pdf_of("2027-08-garden", edition)
    assert len(data) < 170_000
    assert b"ASCII85" not in data


def test_faces_are_embedded_without_hints(pdf_of):
    faces = {}
    for page in pypdf.PdfReader(io.BytesIO(pdf_of("2027-07-night-ferry", "a4"))).pages:
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            faces[font["/BaseFont"]] = font["/FontDescriptor"]["/FontFile2"].get_data()
    assert len(faces) > 4
    for name, data in faces.items():
        assert re.match(r"/[A-Z]{6}\+", name), "embedded as a subset"
        with TTFont(io.BytesIO(data)) as face:
            assert not {"fpgm", "prep", "cvt "} & set(face.keys())
            glyphs = [face["glyf"][g] for g in face.getGlyphOrder()]
            assert any(g.numberOfContours for g in glyphs) and not any(
                getattr(g, "program", None) and g.program.getBytecode() for g in glyphs
            )


def test_the_last_item_of_a_list_does_not_go_over_alone():
    items = Listed([Prose("one"), Prose("two"), Prose("three"), Prose("four")], marks="numbers")
    whole = items.wrap(300, 1000)[1]
    first, second = items.split(300, whole - 2)
    assert len(first.items) == len(second.items) == 2 and second.first == 3
