"""A worked kit told in the other unit: every figure is the kit's own, read on another ruler."""

from __future__ import annotations

import pytest
from kitwright.archive.picture import pixels_of
from kitwright.archive.pictures import pictures_of
from kitwright.drawing.scene import Scene
from kitwright.schemes import HOUSE
from kitwright.telling.kitpage import left_text, line_of
from kitwright.telling.steps import steps_of
from kitwright.units import Length, Rough, figure, length_text, parse_size, size_text
from kitwright.work.worked import Worked
from making import BATCH, make_worked
from several import SEVERAL


@pytest.fixture(scope="module")
def worked(tmp_path_factory) -> Worked:
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


def test_nothing_is_worked_out_in_the_other_unit(worked):
    told = worked.told_in("mm")
    assert (worked.unit, told.unit, told.kit.spec.unit) == ("in", "mm", "in") and told.told_in("mm") is told
    assert told.plans is worked.plans and told.layouts is worked.layouts and told.planner is worked.planner
    assert told.once("asked", lambda: 1) == worked.once("asked", lambda: 2) == 1, "what is asked is worked out once for both"
    assert told.enclosed == worked.enclosed and told.designs == (told,) and told.told_in("in").unit == "in"


def test_every_text_asks_it_for_its_unit(worked):
    told = worked.told_in("mm")
    assert "in" in line_of(worked)[-1].split() and "mm" in line_of(told)[-1].split()
    own, other = ([line for step in steps_of(each) for line in step.lines] for each in (worked, told))
    assert len(own) == len(other) and own != other and not any(" mm" in line for line in own)
    assert " mm" in left_text(worked.layouts[0], "mm") and any(" mm" in line for line in other)


def test_designs_and_faces_are_told_with_their_kit(tmp_path):
    worked = make_worked(tmp_path, SEVERAL).told_in("mm")
    assert [design.unit for design in worked.designs] == ["mm"] * len(worked.designs) and len(worked.designs) > 1
    assert all(design.whole is worked for design in worked.designs)
    (first, *_) = make_worked(tmp_path / "again", SEVERAL).designs
    assert first.told_in("mm").kit is first.kit and first.told_in("mm").whole.unit == "mm"


def test_a_rough_unit_rounds_without_a_sign():
    length, size = Length(parse_size("1/3 x 1").width.inches), parse_size("4-1/4 x 5-1/2")
    assert figure(length, "mm") == "≈8.5" and figure(length, Rough("mm")) == "8.5" and length_text(length, Rough("mm")) == "8.5 mm"
    assert size_text(size, "mm") == "≈108 × 139.5 mm" and size_text(size, Rough("mm")) == "108 × 139.5 mm" and Rough("mm") == "mm"


def test_drawings_with_figures_are_there_in_both_units_in_one_shape(worked):
    pictures = pictures_of(worked)
    figured = {name for name, picture in pictures.items() if picture.beside}
    assert {"sketch", "guide-1", "base", "layers"} <= figured
    assert not [name for name in figured if name.startswith(("hand", "card", "thumbnail", "look", "paper"))]
    shown = pictures["base"].drawn(HOUSE)
    own, other = shown.image, shown.image.other
    assert set(shown.files) == {"base.svg", "base.png", "base-narrow.svg", "base--mm.svg", "base--mm-narrow.svg"}
    assert other and (own.unit, other.unit, other.png) == ("in", "mm", "") and " mm" in other.alt and " mm" not in own.alt
    assert (own.width, own.height, own.narrow_width, own.narrow_height) == (
        other.width,
        other.height,
        other.narrow_width,
        other.narrow_height,
    )
    # Room is kept to a hundredth of a pixel of what is drawn.
    scene: Scene = pictures["guide-1"].wide
    width, height = pixels_of(scene)
    assert abs(scene.height / scene.width - height / width) * 800 < 0.05


def test_alternate_texts_name_papers_and_tell_looks_apart(worked):
    pictures = pictures_of(worked)
    assert pictures["guide-1"].alt.startswith(f"{worked.layouts[0].name}. A sheet of ")
    assert "River" in pictures["card"].alt and " in " not in pictures["card"].alt.replace(" in words", "")
    looks = [picture.alt for name, picture in pictures.items() if name.startswith("look-")]
    assert len(set(looks)) == len(looks)
