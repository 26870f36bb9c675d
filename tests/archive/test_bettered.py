"""Bettered sizes as a kit of their own: the first kit's text, and nothing found in it that was not found before."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from shutil import copy

import pytest
import yaml
from demo import KITS, worked
from kitwright.archive.bettered import changed_text, write_bettered
from kitwright.archive.recut import recut
from kitwright.errors import UserError
from kitwright.kit.read import KIT_FILE, read_club, read_kit, shown
from kitwright.otherwise.checked import check
from kitwright.proposing.improve import improve
from kitwright.proposing.near.records import Nearby
from kitwright.work.working import work
from making import BATCH, changed, make_worked


@cache
def offered(kit: str) -> Nearby:
    return improve(worked(kit)).nearby[0]


@pytest.mark.parametrize("kit", ["2026-02-room-keys", "2026-07-lock-by-lock"])
def test_what_is_offered_is_what_is_written(kit, tmp_path):
    """One with guides, whose cuts move with the sizes, and one whose front stands among its faces."""
    for name in ("club.yaml", "logo.svg"):
        copy(KITS / name, tmp_path)
    of = worked(kit)
    offer = offered(kit)
    folder, found = write_bettered(tmp_path, "2028-05-better", of, offer)
    assert {one.place.file for one in found} <= {shown(folder / KIT_FILE)}
    new = work(read_kit(folder, read_club(tmp_path)))
    assert not Counter((one.level, one.code) for one in found) - Counter((one.level, one.code) for one in check(of))
    assert {label: piece.size for label, piece in new.kit.spec.pieces.items()} == {
        label: piece.size for label, piece in offer.changed.kit.spec.pieces.items()
    }
    assert [face.border for face in new.face.every] == [face.border for face in offer.changed.face.every]
    assert all(plan.sheets == offer.changed.plan(plan.paper).sheets for plan in new.plans)
    assert new.kit.spec.title == "Better" and sorted(path.name for path in folder.iterdir()) == ["kit.yaml", "notes.md"]
    # What tells of the first one's release and makers is true of no other; all else stands as it stood, remarks too.
    assert of.kit.spec.reveal and of.kit.spec.tested and new.kit.spec.reveal is None and not new.kit.spec.tested
    before, after = (set((path / KIT_FILE).read_text(encoding="utf-8").splitlines()) for path in (of.kit.folder, folder))
    assert len(before - after) < len(before) / 3


def test_measures_change_in_their_places_and_remarks_stay(tmp_path):
    """A band in a row's short form, and cuts with remarks inside; where all is cut anew, remarks stand before it."""
    said = (
        ("  M:\n    size: 4 x 5-1/4\n    for: mat\n    paper: cream\n", ""),
        ("  layers:\n    - M\n", ""),
        ("  border: 1/8\n", "  border: 1/4\n"),
        ("    - band\n", "    - band 1-5/8  # for the words\n"),
        ("1-1/4 off the top: A\n", "1-1/4 off the top: A  # tall ones first\n          # then the low ones\n"),
    )
    text = changed(BATCH, *said)
    of = make_worked(tmp_path, text)
    offers = improve(of).nearby
    assert any(moved.what == "band" for one in offers for moved in one.moved)
    for one in offers:
        new = changed_text(text, of, one, "Better").splitlines()
        moved = [(old, now) for old, now in zip(text.splitlines(), new) if old != now]
        assert len(new) == len(text.splitlines()) and len(moved) == 1 + sum(1 + bool(each.label) for each in one.moved)
        assert all(re.sub(r"[\d/-]+", "", old) == re.sub(r"[\d/-]+", "", now) for old, now in moved[1:])
    cuts = dict(yaml.compose(text, Loader=yaml.SafeLoader).value[-1][1].value[0].value)
    (node,) = (value for key, value in cuts.items() if key.value == "cuts")
    ((_, _, anew),) = recut(text, node, of.plans[0].runs[0].layout.tree, None, "in")
    assert [line.strip() for line in anew.split("\n")] == ["# tall ones first", "# then the low ones", "auto"]


def test_a_size_that_is_typed_otherwise_is_told():
    kit = "2026-02-room-keys"
    with pytest.raises(UserError) as told:
        changed_text("title: Keys\n", worked(kit), offered(kit), "Better")
    assert told.value.code == "proposing.typed-otherwise" and "size" in told.value.problem
