"""A number that kitwright itself had wrong: what was published stays, and an erratum tells the right one in words."""

from __future__ import annotations

from unittest import mock

import pytest
from kitwright.card.enclosed import Enclosed, clearance
from kitwright.release.errata import draft
from kitwright.release.guard import guard
from kitwright.release.history import History
from kitwright.release.numbers import ROOM, numbers_of
from kitwright.release.record import published_numbers, released
from kitwright.telling.errata import draft_lines
from kitwright.telling.lookup import told
from kitwright.work.working import work
from making import BATCH, changed
from release.bench import archive, at, kit_in, people_in, publish_erratum, release

OVERHANG = (
    changed(
        BATCH,
        ("  M:\n", "  S: {size: 4-5/16 x 1, for: strip, paper: cream}\n  M:\n"),
        ("sentiment:\n", "  over:\n    - {piece: S, on: band, meant: overhang}\nsentiment:\n"),
        ("  on: band\n", "  on: S\n"),
    )
    + "reveal: 2030-01-05 18:00\n"
)
"""A strip a sixteenth longer than the card: 1/16 × 1/4 in of room in a US A2 envelope, not 1/8 × 1/4."""


@pytest.fixture
def kits(tmp_path, quick):
    return archive(tmp_path, OVERHANG)


def test_the_room_is_that_of_the_whole_closed_card(kits):
    numbers = numbers_of(work(kit_in(kits)))
    assert numbers[ROOM] == ["1/16", "1/4"]
    assert numbers["base"]["finished"] == ["17/4", "11/2"], "the folded card alone"


def test_what_was_published_without_the_overhang_is_corrected_in_words(kits):
    with mock.patch.object(Enclosed, "room", property(lambda self: clearance(self.folded, self.envelope))):
        release(kit_in(kits), people_in(kits), at("2030-01-02"))
    kit = kit_in(kits)
    assert guard(kit) is None and published_numbers(released(kit)[0])[ROOM] == ["1/8", "1/4"]
    made = draft(kit, people_in(kits))
    assert (
        draft_lines(made) == ["The envelope leaves 1⁄16 × ¼ in of room, not ⅛ × ¼ in. (write it in by hand)"] and made.grade == "write in"
    )
    publish_erratum(made, at("2030-01-09"))
    kit = kit_in(kits)
    assert guard(kit) is None and [r.number for r in released(kit)] == [1, 2]
    # Whoever looks her old copy up is told the same, though both revisions are one spec.
    assert told(History(kit, released(kit)).groups[0]).do.startswith("Write the changes on your copy by hand")
