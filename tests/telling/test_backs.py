"""A piece that lies with its printed back up says so wherever a hand acts on it."""

import re

import pytest
from archive.rendered import kit_page, part, rows, words
from kitwright.archive.pictures import pictures_of
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.telling import contents
from kitwright.telling.backs import back_text, backs_on
from kitwright.telling.facts import tables
from kitwright.telling.instructions import desk_text
from kitwright.telling.steps import steps_of
from kitwright.work.desk import layout_steps
from making import BATCH, TWO_PAPERS, changed, make_worked

BACK = changed(
    BATCH,
    (
        "    front: {look: stripes, colours: [sky, white]}\n",
        "    front: {look: stripes, colours: [sky, white]}\n    back: {look: dots, colours: [sage, white]}\n",
    ),
    ("    - A\n", "    - A back\n"),
)
"""A lies back up on every card, B never does."""
SOME = changed(BACK, ("    - A back\n    - B\n    - band\n    - B\n", "    - A\n    - B back\n    - band\n    - B\n"))
"""One of the two B of a card lies back up."""
LOOKS = changed(
    TWO_PAPERS,
    (
        "    front: {look: stripes, colours: [sky, white]}\n",
        "    front: {look: stripes, colours: [sky, white]}\n    back: {look: dots, colours: [sage, white]}\n",
    ),
    (
        "    front: {look: dots, colours: [sage, white]}\n  cream",
        "    front: {look: dots, colours: [sage, white]}\n    back: {look: checks, colours: [sage, white]}\n  cream",
    ),
    ("    - A river\n", "    - A river back\n"),
)
"""Two looks, the papers of which change places."""


def told(scene):
    return [text.text for text in scene.texts]


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("back"), BACK)


def test_how_many_of_a_label(tmp_path, worked):
    assert (back_text(worked, "A"), back_text(worked, "B"), back_text(worked, "M")) == ("back up", "", "")
    some = make_worked(tmp_path / "some", SOME)
    assert back_text(some, "B") == "9 of 18 back up" and dict(backs_on(some, some.layouts[0])) == {"B": "9 of 18 back up"}
    looks = make_worked(tmp_path / "looks", LOOKS)
    assert [back_text(looks, "A", [paper]) for paper in ("river", "meadow")] == ["back up"] * 2 and back_text(looks, "A") == "back up"


def test_lists_guides_and_steps(worked):
    every = {table.title: table.rows for table in tables(worked)}
    assert [row[2] for row in every["Pieces"] if row[0] in "AB"] == ["River, back up", "River"] and every["Cutting guides"][0][
        1
    ] == "9 A (back up), 18 B"
    page = kit_page(worked)
    told = {row[0].split()[0]: row[2] for row in rows(part(page, "pieces"))}
    assert told["A"].endswith(" River, back up") and told["B"].endswith(" River")
    assert "each gives 9 A (back up) and 18 B" in words(part(page, "guide-1"))
    (build,) = [step for step in steps_of(worked) if step.stage == "build"]
    assert any(line.startswith("A (River, back up): ") for line in build.lines) and any(
        line.startswith("B (River): ") for line in build.lines
    )
    assert contents.piece_title(worked, "A").endswith(", back up") and "back" not in contents.piece_title(worked, "B")


def test_every_drawing_and_its_words(worked):
    pictures = pictures_of(worked)
    for picture in (pictures["sketch"], pictures["guide-1"], pictures["layers"]):
        for scene in (picture.wide, picture.narrow):
            assert any("back up" in text for text in told(scene)), picture.name
            assert "back up" in scene.alt
    layout = worked.layouts[0]
    steps = {step.number: desk_text(worked, layout, step) for step in layout_steps(worked, layout)}
    assert [n for n, text in steps.items() if "A (back up)" in text and "A goes on the card back up" in pictures[f"hand-1-{n}"].alt]
    assert not [text for text in steps.values() if "B (back up)" in text]


def test_a_sketch_tells_which_of_two_lies_back_up(tmp_path):
    worked = make_worked(tmp_path, SOME)
    for scene in (pictures_of(worked)["sketch"].wide, pictures_of(worked)["sketch"].narrow):
        assert len([text for text in told(scene) if "back up" in text]) == 1 and scene.alt.count("back up") == 1
    (build,) = [step for step in steps_of(worked) if step.stage == "build"]
    assert [bool(re.match(r"B \(River, back up\)", line)) for line in build.lines if line.startswith("B ")].count(True) == 1


def test_where_a_card_is_too_small_for_it_a_note_says_it(tmp_path):
    from kitwright.archive.pictures import looks_of
    from kitwright.drawing.sketch import card_sketch

    worked = make_worked(tmp_path, BACK)
    scene = card_sketch(worked.face, looks_of(worked), width=110)
    assert any("back up" in text for text in told(scene))


def test_arrangements_tell_it_where_it_differs(worked):
    found = arrangements_of(worked)
    sketch, *others = found.items
    turned = [told for item in others for difference in item.differences if "(back up)" in (told := difference.words)]
    assert turned


def test_a_kit_without_backs_says_nothing_of_them(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    pictures = pictures_of(worked)
    words = [
        *told(pictures["sketch"].wide),
        *told(pictures["guide-1"].wide),
        *told(pictures["layers"].wide),
        *(line for step in steps_of(worked) for line in step.lines),
    ]
    assert not [text for text in words if "back up" in text]
