"""The gallery: every arrangement once, drawn at one scale, told in words that the numbers bear out."""

from __future__ import annotations

import html
import io
import itertools
import math
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from archive import rendered
from archive.pagecheck import faults_of
from arrange.benches import PAPERS, stack
from kitwright.archive.build import build_archive
from kitwright.archive.gallery import Gallery, gallery_of
from kitwright.archive.offered import arrangements_shown, sheet_name
from kitwright.archive.policy import fault_of
from kitwright.archive.theme import palette_css
from kitwright.drawing.alike import canvas_for, on_canvas
from kitwright.drawing.scene import Clip
from kitwright.errors import UserError
from kitwright.kit.theme import PROGRAM
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.printable.contact_sheet import contact_sheet_pdf
from kitwright.printable.edition import EDITIONS
from kitwright.schemes import HOUSE
from kitwright.telling.arranging import set_name
from kitwright.telling.gallery import counts_text
from kitwright.work.worked import Worked
from making import BATCH, CLUB, TWO_PAPERS, changed, make_worked
from PIL import Image
from pypdf import PdfReader
from release.bench import quickly

ROOT = Path(__file__).resolve().parents[2]
VARIED = "arrangements: {vary: [fold, mat]}\n"


def drawn_of(worked: Worked) -> tuple[Gallery, dict[str, bytes]]:
    """The gallery, its pictures and its contact sheets."""
    found = arrangements_shown(worked)
    sheets = {sheet_name(worked.kit, edition): contact_sheet_pdf(found, edition) for edition in EDITIONS}
    gallery, files = gallery_of(worked, sheets)
    return gallery, files | sheets


@pytest.fixture(scope="module")
def four(tmp_path_factory) -> tuple[Worked, Gallery, dict[str, bytes]]:
    """Four papers in one column, with other folds."""
    worked = make_worked(tmp_path_factory.mktemp("four"), stack(list(PAPERS[:4]), extra=VARIED))
    return worked, *drawn_of(worked)


@pytest.fixture(scope="module")
def six(tmp_path_factory) -> tuple[Gallery, dict[str, bytes]]:
    """Six papers in one column: more than are shown."""
    return drawn_of(make_worked(tmp_path_factory.mktemp("six"), stack(list(PAPERS[:6]))))


def gallery_page(gallery: Gallery) -> str:
    return rendered.page("gallery.md", rendered.site_of(rendered.made_of(gallery.found.worked, galleries=(gallery,))))


def cards(gallery: Gallery) -> list:
    return [tile for tile in gallery.tiles if tile.made == "order"]


def test_every_order_is_there_once_and_turned_ones_stand_together(four):
    """n papers have n! orders; turned round, two of them are one card, so n!/2 differ."""
    _, gallery, _ = four
    assert len(cards(gallery)) == math.factorial(4)
    pairs = next(clusters for group, clusters in gallery.sections if group.kind == "same")
    assert len(pairs) == math.factorial(4) // 2 and all(len(pair) == 2 for pair in pairs)
    read = {tuple(re.findall("|".join(p.capitalize() for p in PAPERS), tile.image.alt)) for tile in cards(gallery)}
    assert read == set(itertools.permutations(p.capitalize() for p in PAPERS[:4]))
    for pair in pairs:
        first, second = (re.findall("|".join(p.capitalize() for p in PAPERS), tile.image.alt) for tile in pair)
        assert first == second[::-1]


def test_every_card_can_be_downloaded_as_it_says(four):
    _, gallery, files = four
    for tile in gallery.tiles:
        with Image.open(io.BytesIO(files[tile.image.png])) as picture:
            assert picture.size == (tile.image.width, tile.image.height)
        drawing = ElementTree.fromstring(files[tile.image.src])
        assert drawing.find("{http://www.w3.org/2000/svg}desc").text == tile.image.alt
    named = (
        {tile.image.src for tile in gallery.tiles}
        | {tile.image.png for tile in gallery.tiles}
        | {s.file for s in gallery.sheets}
        | {swatch for _, _, swatch in gallery.tops}
    )
    assert set(files) == named
    assert all(len(PdfReader(io.BytesIO(files[sheet.file])).pages) == 1 for sheet in gallery.sheets)


def test_cards_of_a_row_are_at_one_scale_however_they_lie(four):
    worked, gallery, _ = four
    lying, upright = (next(t for t in gallery.tiles if t.slug == slug) for slug in ("landscape-top-fold", "portrait-top-fold"))
    assert (lying.image.width, lying.image.height) == (upright.image.width, upright.image.height)
    faces = [v.face for v in arrangements_of(worked).variations]
    assert len({face.size for face in faces}) == 2
    canvas = canvas_for(faces, 400)
    for face in faces:
        # The lowest piece of paper is the card itself.
        base = next(item for item in on_canvas(face, {}, canvas, "", "").shapes if isinstance(item, Clip)).outline
        (left, right), (top, bottom) = ((min(edge), max(edge)) for edge in zip(*base))
        assert (right - left, bottom - top) == (face.size.width.inches * 72 * canvas.scale, face.size.height.inches * 72 * canvas.scale)
        assert 0 < left and right < canvas.width and 0 < top and bottom < canvas.height
    with pytest.raises(ValueError):
        canvas_for([], 400)


def test_a_very_tall_card_stays_on_its_canvas(tmp_path):
    worked = make_worked(
        tmp_path, changed(BATCH, ("size: 8-1/2 x 5-1/2", "size: 8 x 11"), ("envelope: US A2 envelope", "envelope: 5 x 12"))
    )
    canvas = canvas_for([worked.face], 300)
    scene = on_canvas(worked.face, {}, canvas, "A tall card", "It is tall")
    assert scene.height <= 300 * 7 / 4 and worked.face.size.height.inches * 72 * canvas.scale <= scene.height
    assert (scene.alt, scene.scale) == ("It is tall", canvas.scale)


def test_the_filters_cover_every_card_once(four):
    _, gallery, _ = four
    text = gallery_page(gallery)
    for kind in ("top", "made"):
        choices = re.findall(rf'data-filter="{kind}" data-value="([^"]+)".*?<span>(\d+)</span>', text)
        assert sum(int(n) for _, n in choices) == len(gallery.tiles)
        assert all(int(n) == sum(getattr(t, kind) == key for t in gallery.tiles) > 0 for key, n in choices)
    orders = [t.top for t in cards(gallery)]
    assert all(orders.count(key) == math.factorial(3) for key, _, _ in gallery.tops), "each paper leads as often"


def test_a_paper_with_two_faces_is_chosen_by_the_face_that_shows(tmp_path):
    gallery, files = gallery_of(make_worked(tmp_path, stack(["river"] * 3, back="river")), {})
    assert [name for _, name, _ in gallery.tops] == ["Waves", "Stripes"]
    assert len({files[swatch] for _, _, swatch in gallery.tops}) == 2
    assert len(cards(gallery)) == 2**3


def test_sets_make_the_batch_and_are_said_once(four):
    worked, gallery, _ = four
    sets = [one for one, _ in gallery.sets]
    assert all(sum(part.cards for part in one.parts) == worked.kit.spec.cards for one in sets)
    assert len({frozenset(one.parts) for one in sets}) == len(sets)
    names = [set_name(gallery.found, each) for one, same in gallery.sets for each in (one, *same)]
    assert len(set(names)) == len(names) and all(name in gallery_page(gallery) for name in names)
    assert sets[0].kind == gallery.found.recommended.kind and sets[0].each == 1 and len(sets[0].parts) == worked.kit.spec.cards


def test_over_five_hundred_are_sampled_by_a_rule_that_is_told(six):
    gallery, files = six
    assert f"{math.factorial(6)} arrangements" in counts_text(gallery.found) and f"{math.factorial(6) // 2} different" in counts_text(
        gallery.found
    )
    assert f"Of {math.factorial(6)} arrangements {len(gallery.tiles)} are shown" in gallery.found.rule.words
    assert 50 <= len(gallery.tiles) <= 100 and len({t.slug for t in gallery.tiles}) == len(gallery.tiles)
    shown = {t.slug for t in gallery.tiles}
    assert all(part.slug in shown for one, _ in gallery.sets for part in one.parts), "no set leads to a card that is not there"
    # What a reader downloads to see the whole page.
    assert sum(len(files[t.image.png]) for t in gallery.tiles) < 1_000_000


def test_the_same_bytes_every_time(four):
    worked, gallery, files = four
    again, drawn = drawn_of(worked)
    assert again.cards == gallery.cards and again.tops == gallery.tops and drawn == files


def test_one_arrangement_gets_no_page(tmp_path):
    up = stack(["river", "river"], up=("river",))
    gallery, files = gallery_of(make_worked(tmp_path, up), {})
    assert not gallery.has_page and files == {}
    assert counts_text(gallery.found) == "The pieces fit in one order only, the one in the sketch." and gallery.sets == []


def test_a_sample_that_used_no_such_arrangement_is_an_error_at_its_line(tmp_path):
    text = stack(list(PAPERS[:2]), extra="samples:\n  - {by: somebody, arrangement: upside down}\n")
    with pytest.raises(UserError, match="no arrangement “upside down”") as caught:
        gallery_of(make_worked(tmp_path, text), {})
    assert caught.value.place.file.name == "kit.yaml" and text.splitlines()[caught.value.place.line - 1] == "samples:"


def test_a_sample_finds_its_card_by_name_or_link_even_among_many(tmp_path, six):
    shown, _ = six
    hidden = next(word for word in ("_".join(order) for order in itertools.permutations(PAPERS[:6])) if shown.tile(word) is None)
    asked = make_worked(tmp_path / "b", stack(list(PAPERS[:6]), extra=f"samples:\n  - {{by: somebody, arrangement: {hidden}}}\n"))
    gallery, files = gallery_of(asked, {})
    tile = gallery.tile(hidden)
    assert tile and tile.slug == hidden and tile.image.src in files and gallery.tile(tile.name.upper()) == tile
    assert gallery.tile("no such card") is None


# --- the page ----------------------------------------------------------------------------------------

KITS = {
    "2030-03-two": TWO_PAPERS,
    "2030-04-four": changed(stack(list(PAPERS[:4]), extra=VARIED), ("name: River", 'name: "River <b> & _reed_"')),
    "2030-05-one": stack(["river", "river"], up=("river",)),
}


@pytest.fixture(scope="module")
def built(tmp_path_factory) -> Path:
    """A site of three kits: two arrangements, twenty-four, one."""
    root = tmp_path_factory.mktemp("galleries")
    for name, text in KITS.items():
        (root / "kits" / name).mkdir(parents=True)
        (root / "kits" / name / "kit.yaml").write_text(text, encoding="utf-8")
    (root / "kits" / "club.yaml").write_text(CLUB, encoding="utf-8")
    with quickly():
        build_archive(root, root / "site")
    return root / "site"


def test_pages_are_sound_and_keep_the_content_policy(built: Path):
    assert faults_of(built) == []
    for page in built.rglob("*.html"):
        assert fault_of(page.read_text(encoding="utf-8")) is None


def test_a_page_for_each_kit_that_has_something_to_show(built: Path):
    assert sorted(p.parent.name for p in built.rglob("arrangements.html")) == ["2030-03-two", "2030-04-four"]
    for name in KITS:
        text = (built / "kits" / name / "index.html").read_text(encoding="utf-8")
        assert 'id="arrangements"' in text
        assert ("arrangements.html" in text) == (name != "2030-05-one")
    assert "one order only" in (built / "kits/2030-05-one/index.html").read_text(encoding="utf-8")


def test_each_card_has_a_place_of_its_own_and_its_names_are_text(built: Path):
    text = (built / "kits/2030-04-four/arrangements.html").read_text(encoding="utf-8")
    places = re.findall(r'<li class="kw-tile" id="([^"]+)"', text)
    assert len(places) == len(set(places)) >= 24
    assert all(f'href="#{place}"' in text for place in places)
    shown = " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).split())
    assert "River <b> & _reed_ on top" in shown
    assert "24 arrangements of the same pieces make 12 different cards" in shown
    assert "The shortcut" in shown and "Left over:" in shown and "How this was counted" in shown


def test_what_is_refused_is_told_with_its_reason(built: Path):
    text = (built / "kits/2030-04-four/arrangements.html").read_text(encoding="utf-8")
    folded = text[text.index('id="kw-not"') :]
    assert "<details" in folded and "Mat moved along the base" in folded and "even borders" in folded


def test_the_gallery_names_no_colour_and_no_unknown_variable():
    theme = PROGRAM / "assets"
    css = (theme / "gallery.css").read_text(encoding="utf-8")
    defined = set(re.findall(r"(--kw-[\w-]+)\s*:", palette_css(HOUSE) + (theme / "site.css").read_text(encoding="utf-8")))
    assert set(re.findall(r"var\((--kw-[\w-]+)", css)) <= defined
    assert not re.search(r":\s*[^;{]*#[0-9a-fA-F]{3,8}\b", css)
