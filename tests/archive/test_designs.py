"""Pages of a kit of several designs: what is each design's stands under its name, what is the kit's once."""

import pytest
from kitwright.archive.gallery import arrangement_of, gallery_of
from kitwright.archive.offered import for_everybody, sheet_name
from making import ID, make_worked
from several import SEVERAL


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("designs"), SEVERAL)


@pytest.fixture(scope="module")
def galleries(worked):
    return tuple(gallery_of(design, {}) for design in worked.designs)


def test_every_design_has_arrangements_with_a_page_and_files_of_its_own(worked, galleries):
    found, files = zip(*galleries)
    assert [gallery.page for gallery in found] == ["arrangements-standing.html", "arrangements-lying.html"]
    assert not set(files[0]) & set(files[1])
    page, tile = arrangement_of(found, "shore outside")
    assert page == "arrangements-lying.html" and tile and tile.name.casefold() == "shore outside"
    assert arrangement_of(found, "no such") == arrangement_of(found, None) == ("", None)
    sheets = [sheet_name(design.kit, "a4") for design in worked.designs]
    assert sheets == [f"{ID}-arrangements-standing-a4.pdf", f"{ID}-arrangements-lying-a4.pdf"]
    assert set(for_everybody(worked, dict.fromkeys(sheets, b"%PDF"))) == set(sheets)
