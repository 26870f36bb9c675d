"""Bettered sizes as a kit of their own: the first kit's text, and nothing found in it that was not found before."""

from __future__ import annotations

from collections import Counter
from functools import cache
from shutil import copy

import pytest
from demo import KITS, worked
from kitwright.archive.bettered import changed_text, write_bettered
from kitwright.errors import UserError
from kitwright.kit.read import KIT_FILE, read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.proposing.improve import improve
from kitwright.proposing.near.records import Nearby
from kitwright.work.working import work


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


def test_a_size_that_is_typed_otherwise_is_told():
    kit = "2026-02-room-keys"
    with pytest.raises(UserError) as told:
        changed_text("title: Keys\n", worked(kit), offered(kit), "Better")
    assert told.value.code == "proposing.typed-otherwise" and "size" in told.value.problem
