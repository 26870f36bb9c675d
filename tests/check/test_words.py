"""Words and decoration on any face, piece, tag or pocket: each is looked at where it stands."""

import pytest
from making import BATCH, changed, look_over, make_worked

FACED = (
    changed(
        BATCH,
        ("sentiment:\n", "faces:\n  inside:\n    over:\n      - {piece: N, on: inside, bottom: 1/4}\nsentiment:\n"),
        ("  M:\n", "  N: {size: 3 x 2, paper: cream}\n  M:\n"),
    )
    + """\
sentiments:
  - {text: come in, size: 2 x 1/2, on: N, place: top left}
  - {text: and sit down, size: 2 x 1/2, on: inside, place: top}
decorations:
  - {name: a leaf, shape: leaf, size: 1/2 x 1/2, on: N, right: 1/8, bottom: 1/8}
"""
)


def found(tmp_path, *pairs):
    text = changed(FACED, *pairs)
    return text, [one for one in look_over(tmp_path, text) if one.code.startswith(("front.", "legible.", "decoration."))]


def test_several_words_stand_on_several_faces_and_nothing_is_wrong_with_them(tmp_path):
    worked = make_worked(tmp_path / "made", FACED)
    assert [said.text for face in worked.face.every for said in face.sentiments] == ["thank you", "come in", "and sit down"]
    assert found(tmp_path)[1] == []


@pytest.mark.parametrize(
    "pair, code, line",
    [
        (("size: 2 x 1/2, on: N, place: top left", "size: 3-1/2 x 1/2, on: N"), "front.sentiment-past", "come in"),
        (("size: 2 x 1/2, on: inside, place: top", "size: 5 x 1/2, on: inside"), "front.sentiment-past", "and sit down"),
        (("on: inside, place: top", "on: inside, place: bottom, inset: 1/2"), "front.over-the-sentiment", "{piece: N"),
        (("right: 1/8, bottom: 1/8", "left: 1/4, top: 1/4"), "front.decoration-on-the-sentiment", "a leaf"),
        (("size: 1/2 x 1/2, on: N, right: 1/8, bottom: 1/8", "size: 1 x 2-1/2, on: N"), "decoration.too-large", "a leaf"),
        (
            ("    name: Cream cardstock\n", "    name: Cream cardstock\n    front: {look: stripes, colours: [white, night]}\n"),
            "legible.words",
            "come in",
        ),
    ],
)
def test_slips_inside_are_told_at_their_line(tmp_path, pair, code, line):
    text, told = found(tmp_path, pair)
    wanted = text[: text.index(line)].count("\n") + 1
    assert (code, wanted) in [(one.code, one.place.line) for one in told]
