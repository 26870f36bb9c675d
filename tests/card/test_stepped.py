"""A card whose back reaches past its front is seen with that step."""

from __future__ import annotations

from dataclasses import replace

import demo
import pytest
from kitwright.archive.elsewhere import Choice, subjects
from kitwright.archive.pictures import share_of
from kitwright.card.face import Placed
from kitwright.card.stepped import with_step
from kitwright.drawing.display.display import Hand
from kitwright.units import ZERO, Length

SHELF = demo.worked("2025-11-lending-shelf")


def test_what_lies_on_the_step_is_seen_beside_the_front():
    # A base of 10 × 4¼ in scored at 5½: the back is an inch wider than the front.
    shut = with_step(SHELF.face, SHELF.base)
    assert shut.size.width - SHELF.face.size.width == Length(1) and shut.size.height == SHELF.face.size.height
    (inside,) = SHELF.face.sides
    assert shut.stack == (*inside.stack, *SHELF.face.stack), "the front lies on the inside, and nothing is left out"
    beside = [placed.label for placed in shut.stack if placed.rect.x >= SHELF.face.size.width]
    assert beside == ["B"]


def test_a_step_on_which_nothing_lies_is_bare():
    shut = with_step(replace(SHELF.face, sides=()), SHELF.base)
    ground: Placed = shut.stack[0]
    assert ground.layer == "base" and (ground.rect.x, ground.rect.width) == (ZERO, shut.size.width) and shut.stack[1:] == SHELF.face.stack


def test_it_is_seen_wherever_the_card_is_shown_closed():
    shut = with_step(SHELF.face, SHELF.base).size
    shown = {subject.name: subject.exhibits for subject in subjects(SHELF, Choice()) if not subject.name.startswith("open")}
    assert shown.keys() >= {"card", "fan", "batch"}
    assert {face.size for ways in shown.values() for way in ways if isinstance(way, Hand) for face in way.faces} == {shut}
    faces, looks, *_ = share_of(SHELF).made_from
    assert {face.size for face in faces} == {shut} and len(looks) == len(faces), "and on what goes with a link"


@pytest.mark.parametrize("kit", ["2026-11-weathervane", "2026-07-lock-by-lock", "2025-12-winter-shutters"])
def test_no_other_fold_has_a_step(kit: str):
    for design in demo.worked(kit).designs:
        assert with_step(design.face, design.base) is design.face
