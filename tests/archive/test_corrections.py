"""Errata as pages tell them: both states drawn at one scale, what differs circled, and who has to do what."""

from __future__ import annotations

import datetime as dt
import re
from fractions import Fraction
from xml.etree import ElementTree

import pytest
from kitwright.archive.corrections import _Side, corrections_of
from kitwright.cutting.tree import pieces
from kitwright.drawing.ring import STEPS, TURN, frame_of
from kitwright.drawing.scene import SceneShape
from kitwright.release.errata import draft, errata
from making import BATCH, changed
from release.bench import archive, at, edit, kit_in, people_in, publish_erratum, release

FIRST, SECOND, LATER = at("2030-01-04 12:00"), at("2030-01-09 12:00"), at("2030-03-01 00:00")
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
SVG = "{http://www.w3.org/2000/svg}"


def corrected(tmp_path, *pairs, text=BATCH + "reveal: 2030-01-05 18:00\n", advice="", by=None):
    """A kit released, changed, and published again; its errata and their files."""
    kits = archive(tmp_path, text)
    release(kit_in(kits), people_in(kits), FIRST)
    kit = edit(kits, *pairs)
    publish_erratum(draft(kit, people_in(kits)), SECOND, advice, by, bool(by), kits, people_in(kits))
    kit = kit_in(kits)
    return kit, *corrections_of(kit, kit.club, people_in(kits), LATER)


def rings(scene) -> list:
    return [contour for shape in scene.shapes if isinstance(shape, SceneShape) and shape.stroke == "ring" for contour in shape.contours]


def sides(kit) -> tuple:
    """Both states of a kit's newest erratum, and what differs."""
    newest = errata(kit, kit.club, {}, LATER)[0]
    return newest.old, newest.new, newest.changes


def test_a_size_is_drawn_as_it_was_and_as_it_is_at_one_scale(tmp_path, quick):
    kit, (view,), files = corrected(tmp_path, *LOWER, advice="Trim the strips.", by="Ada Bellwether")
    assert [p.what for p in view.pairs] == ["Sheet 1, River", "The card front"]
    ends = ("", "-narrow", "--mm", "--mm-narrow")
    assert set(files) == {f"errata/r2-{n}-{side}{end}.svg" for n in (1, 2) for side in ("was", "now") for end in ends}
    for n in (1, 2):
        for width in ("", "-narrow"):
            was, now = (ElementTree.fromstring(files[f"errata/r2-{n}-{side}{width}.svg"]) for side in ("was", "now"))
            scales = [
                next(t.text for t in one.iter(f"{SVG}text") if t.text and re.match("Drawn at|Scale|True size", t.text))
                for one in (was, now)
            ]
            assert scales[0] == scales[1]
            assert was.get("width") == now.get("width")
    assert (view.grade, view.asks, view.to_do, view.cut_already, view.thanks) == (
        "recut",
        "Cut again",
        "Print the new one before you cut any more.",
        "Trim the strips.",
        "Ada Bellwether",
    )
    assert (
        view.since == "5 January 2030"
        and view.date == "9 January 2030"
        and view.affected.startswith("Your copy is affected if it says revision 1")
    )
    assert view.anchor == f"{kit.id}-r2" and view.css == "recut"
    assert view.pairs[0].was.alt != view.pairs[0].now.alt and "Circled:" in view.pairs[0].was.alt


def test_rings_go_round_the_labels_that_differ_and_no_other(tmp_path, quick):
    kit, _, _ = corrected(tmp_path, *LOWER)
    old, new, _ = sides(kit)
    for worked in (old, new):
        layout = next(i for i, one in enumerate(worked.layouts) if "B" in one.yields)
        rects = [leaf.rect for leaf in pieces(worked.layouts[layout].tree) if leaf.label == "B"][:4]
        side = _Side("x", worked, "sheet", layout, dict.fromkeys(rects, True), 1)
        scene = side.circled(side.scene(340, None))
        frame, _ = frame_of(scene)
        assert len(rings(scene)) == len(rects)
        for line, rect in zip(rings(scene), rects):
            xs, ys = zip(*line[: TURN * STEPS])
            inside = [t for t in scene.texts if min(xs) < t.box.centre[0] < max(xs) and min(ys) < t.box.centre[1] < max(ys)]
            assert "B" in [t.text for t in inside], "the label is in its ring"
            assert not {"A", "M"} & {t.text for t in inside}
            room = frame.box(rect)
            assert room.left < (min(xs) + max(xs)) / 2 < room.right and room.top < (min(ys) + max(ys)) / 2 < room.bottom


def test_many_alike_are_circled_in_the_first_row_and_that_is_said(tmp_path, quick):
    _, (view,), _ = corrected(tmp_path, *LOWER)
    assert view.pairs[0].note == "Circled where it shows first; the others are alike."
    assert "Circled: 3 × B of 3¾ × ¾ in." in view.pairs[0].now.alt, "eighteen in six rows of three"
    assert view.pairs[1].note == "" and "Circled: 2 × B" in view.pairs[1].now.alt


def test_pieces_that_change_places_are_written_in_by_hand(tmp_path, quick):
    """Two strips of one size change places on the card: every piece that is cut stays good."""
    text = (
        changed(BATCH, ("size: 3-3/4 x 7/8", "size: 3-3/4 x 1-1/4"), ("6 strips of 7/8", "6 strips of 1-1/4"))
        + "reveal: 2030-01-05 18:00\n"
    )
    _, (view,), files = corrected(tmp_path, ("- A\n    - B\n    - band\n    - B", "- B\n    - A\n    - band\n    - B"), text=text)
    assert view.grade == "write in" and view.asks == "Write it in by hand" and "good" in view.means
    assert [p.what for p in view.pairs] == ["The card front"] and files


def test_a_score_that_moved_is_circled_on_the_base(tmp_path, quick):
    text = BATCH + "reveal: 2030-01-05 18:00\n"
    kit, (view,), _ = corrected(tmp_path, ("size: 8-1/2 x 5-1/2", "size: 8-1/4 x 5-1/2"), text=text)
    pair = next(p for p in view.pairs if p.what == "The card base")
    assert "Circled: the score line." in pair.was.alt and pair.was.width == pair.now.width
    assert any("scored at 4⅛ in, not 4¼ in" in c.words for c in view.changes)


def test_words_alone_need_no_drawing(tmp_path, quick):
    _, (view,), files = corrected(tmp_path, ("title: Nine strips", "title: Nine fine strips"))
    assert view.pairs == () and files == {} and view.asks == "Nothing to do" and view.title == "Nine fine strips"
    assert view.to_do == "Nothing need be done." and view.css == "cosmetic"


def test_nothing_shows_before_it_is_public(tmp_path, quick):
    kit, _, _ = corrected(tmp_path, *LOWER)
    assert corrections_of(kit, kit.club, {}, SECOND - dt.timedelta(seconds=1)) == ((), {})
    assert len(corrections_of(kit, kit.club, {}, SECOND)[0]) == 1


def test_thanks_need_consent_as_it_is_now(tmp_path, quick):
    kit, (view,), _ = corrected(tmp_path, *LOWER, by="Ada Bellwether")
    assert view.thanks == "Ada Bellwether"
    file = kit.folder.parent / "people" / "ada-bellwether" / "person.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("  - name\n", "", 1), encoding="utf-8")
    assert file.read_text(encoding="utf-8") != text
    assert corrections_of(kit, kit.club, people_in(kit.folder.parent), LATER)[0][0].thanks == ""


def test_the_same_bytes_every_time(tmp_path, quick):
    kit, views, files = corrected(tmp_path, *LOWER)
    assert corrections_of(kit, kit.club, people_in(kit.folder.parent), LATER) == (views, files)


@pytest.mark.parametrize("width", [340, 245])
def test_pictures_show_the_whole_change_on_every_width(tmp_path, quick, width):
    """Nothing of a ring lies outside the picture."""
    kit, _, _ = corrected(tmp_path, *LOWER)
    _, new, found = sides(kit)
    side = _Side("x", new, "sheet", 0, {r: True for d in found for m in d.new if m.on == "sheet" and m.index == 0 for r in m.rects}, 2)
    scene = side.circled(side.scene(width, Fraction(1, 4)))
    assert rings(scene)
    assert all(0 <= x <= scene.width and 0 <= y <= scene.height for line in rings(scene) for x, y in line)
