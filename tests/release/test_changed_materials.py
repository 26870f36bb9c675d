"""What readers are told where a material, a decoration's look, a liner or a place changed."""

import pytest
from making import BATCH, changed
from release.test_changes import told

STAR = BATCH + "decorations:\n  - {name: a star, shape: star, size: 1/2 x 1/2, on: band, left: 0, top: 0}\n"
LINED = changed(BATCH, ("  M:\n", "  L:\n    for: liner\n    paper: white\n    liner: {envelope: US A2 envelope, flap: 2-1/2}\n  M:\n"))


@pytest.mark.parametrize(
    "base, pair, first",
    [
        (STAR, ("shape: star", "shape: leaf"), ("cosmetic", "“a star” is drawn otherwise")),
        (STAR, ("shape: star", "shape: star, colour: sage"), ("cosmetic", "“a star” is drawn otherwise")),
        (LINED, ("flap: 2-1/2", "flap: 2-3/4"), ("recut", "L is 5½ × 6⅝ in, not 5½ × 6⅜ in: ¼ in taller")),
        (BATCH, ("  cream:\n    kind: cardstock", "  cream:\n    kind: vellum"), ("write in", "Cream cardstock is vellum")),
        (BATCH, ("colours: [sky, white]", 'colours: ["#7a9e7e", white]'), ("cosmetic", "River is drawn with another look")),
        (
            BATCH,
            ("  on: band", "  on: band\n  place: top left"),
            ("write in", "the sentiment has another place or size: see the new sketch"),
        ),
    ],
)
def test_it_is_told_in_its_own_words_and_not_as_an_entry(base, pair, first):
    found = told(base, pair)
    assert found[0] == first and not any("says something else" in words for _, words in found)
