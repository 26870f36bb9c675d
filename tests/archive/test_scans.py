"""Scans on the site: seen where they may be, with where the paper is from, and made again when they change."""

import pytest
from kitwright.archive import gallery, picture, unit
from kitwright.archive.drawn_from import drawn_from
from kitwright.archive.gallery import gallery_of
from kitwright.archive.pictures import pictures_of
from making import BATCH, CLUB, make_archive
from scanned import saved, sheet, worked_with

SOURCE = "River, by A & B’s mill"


@pytest.fixture(autouse=True)
def one_pen(monkeypatch):
    """SVGs are looked at here, and PNGs not even made."""
    for module in (gallery, picture):
        monkeypatch.setattr(module, "png", lambda *said, **more: b"")


def shown(worked, team: bool) -> set[str]:
    """Names of the pictures that show a scan."""
    files = {}
    for name, each in pictures_of(worked, team).items():
        if name.split("-")[0] in ("card", "thumbnail", "paper", "sketch", "guide", "layers"):
            files |= each.files(worked.kit.club.palette)
    files |= gallery_of(worked, {}, team)[1]
    return {name for name, data in files.items() if b"data:image/jpeg" in data}


@pytest.mark.parametrize("public", ["yes", "no"])
def test_what_may_not_be_public_is_for_the_team_alone(tmp_path, public):
    worked = worked_with(tmp_path, f'front: {{scan: river.png, public: {public}, source: "{SOURCE}"}}')
    seen = shown(worked, True)
    assert {"card.svg", "thumbnail.svg", "paper-river.svg"} <= seen and not any(
        name.startswith(("sketch", "guide", "layers")) for name in seen
    )
    assert any(name.startswith("arrangements/") for name in seen)
    assert shown(worked, False) == (seen if public == "yes" else set())
    captions = {name: picture.caption for name, picture in pictures_of(worked).items() if picture.caption}
    assert captions == ({"card": f"Paper: {SOURCE}", "thumbnail": f"Paper: {SOURCE}", "paper-river": SOURCE} if public == "yes" else {})
    assert pictures_of(worked, True)["card"].caption == f"Paper: {SOURCE}"


def test_other_pixels_are_another_drawing(tmp_path):
    one, same, other = (
        worked_with(tmp_path / name, files={"river.png": saved(sheet(edge))}) for name, edge in (("a", 240), ("b", 240), ("c", 250))
    )
    assert drawn_from(one) == drawn_from(same) != drawn_from(other)
    cards = [pictures_of(each)["card"].files(each.kit.club.palette) for each in (one, same, other)]
    assert cards[0] == cards[1] != cards[2]
    part = worked_with(tmp_path / "d", "front: {scan: river.png, shows: 6 x 6}")
    assert pictures_of(part)["card"].files(part.kit.club.palette) != cards[0]


def test_a_kit_is_made_again_when_a_scan_of_the_club_changes(tmp_path):
    club = CLUB + "papers:\n  shelf: {kind: patterned, name: Shelf, size: 12 x 12, front: {scan: shelf.png}}\n"
    kits = make_archive(tmp_path, BATCH, club=club).parent
    keys = set()
    for edge in (240, 240, 250):
        (kits / "shelf.png").write_bytes(saved(sheet(edge)))
        keys.add(unit.read_shared(kits).whose)
    assert len(keys) == 2
