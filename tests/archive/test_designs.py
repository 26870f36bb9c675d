"""Pages of a kit of several designs: what is each design's stands under its name, what is the kit's once."""

import re
from fractions import Fraction

import pytest
from archive import rendered
from kitwright.archive.gallery import arrangement_of, gallery_of
from kitwright.archive.offered import for_everybody, sheet_name
from kitwright.archive.search.record import facts_of
from making import ID, make_worked
from several import DESIGNS, GUIDE, SEVERAL, SHEETS, TAG


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
    page, tile = arrangement_of(found, "shore outside", "Lying")
    assert page == "arrangements-lying.html" and tile and tile.name.casefold() == "shore outside"
    # One that no design is said of is the first one's.
    assert arrangement_of(found, "shore outside") == ("", None) != arrangement_of(found, "shore above")
    assert arrangement_of(found, "no such") == arrangement_of(found, None) == ("", None)
    sheets = [sheet_name(design.kit, "a4") for design in worked.designs]
    assert sheets == [f"{ID}-arrangements-standing-a4.pdf", f"{ID}-arrangements-lying-a4.pdf"]
    assert set(for_everybody(worked, dict.fromkeys(sheets, b"%PDF"))) == set(sheets)


@pytest.fixture(scope="module")
def page(worked, galleries):
    return rendered.page("kit.md", rendered.site_of(rendered.made_of(worked, galleries=tuple(gallery for gallery, _ in galleries))))


def test_what_is_the_kit_s_stands_once_and_each_design_under_its_name(page):
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", page) == ["Need", "Pieces", "Cut", "Build", "More"]
    build = rendered.part(page, "build")
    for design, other in (("standing", "Lying:"), ("lying", "Standing:")):
        part = build.split(f'id="design-{design}"')[1].split('id="design-')[0]
        assert other not in part
        for place in ("the-card-base", "layers", "sums", "arrangements", "by-post"):
            assert page.count(f'id="{place}-{design}"') == 1, place
    numbers = [int(n) for n in re.findall(r'class="kw-step__number"[^>]*>(\d+)<', build)]
    assert numbers == [*range(1, len(numbers) + 1)], "one numbering for all of it"


def test_no_name_of_a_place_stands_twice(page):
    names = re.findall(r"\{ #([\w-]+) \}|\bid=\"([\w-]+)\"", page)
    found = [one or other for one, other in names]
    assert len(found) == len(set(found)) and {"the-card-base-standing", "by-post-lying", "step-build-lying", "which-goes-where"} <= set(
        found
    )


def test_a_table_tells_which_piece_goes_where(page):
    table = rendered.words(page.split('id="which-goes-where"')[1].partition("<table")[2].partition(">")[2].split("</table>")[0])
    assert table == "Label Standing, 8 cards Lying, 8 cards A 1 a card – B 1 a card 1 a card C – 2 a card"
    assert "16 envelopes: US A2 envelope" in rendered.words(page)
    assert "Standing 8 cards in two looks, side fold: 4¼ × 5½ in, in a US A2 envelope" in rendered.words(page)


def test_arrangements_lead_to_each_design_s_own_page(page):
    for design in ("standing", "lying"):
        assert f'<a href="arrangements-{design}.html">See them in the gallery' in page


def test_search_finds_the_card_of_every_design(worked, galleries):
    found = facts_of(rendered.made_of(worked, galleries=tuple(gallery for gallery, _ in galleries)))
    assert sorted(found.words) == sorted("side fold/US A2 envelope/Standing/top fold/Lying/tall/upright/wide/landscape/quick".split("/"))
    assert (found.card, *found.more) == ((Fraction(17, 4), Fraction(11, 2)), (Fraction(11, 2), Fraction(17, 4)))


def test_a_tag_has_no_more_on_its_page_than_there_is(tmp_path):
    worked = make_worked(tmp_path, SHEETS + DESIGNS + TAG + GUIDE)
    galleries = tuple(gallery_of(design, {})[0] for design in worked.designs)
    page = rendered.page("kit.md", rendered.site_of(rendered.made_of(worked, galleries=galleries)))
    assert set(re.findall(r'id="([^"]+-tag)"', page)) == {"design-tag", "step-stamp-tag"}
    assert "Tag: stamp the sentiments in one go" in page
