"""Pictures are drawn once: again only where something that is drawn in them differs, and then as if nothing were kept."""

from dataclasses import replace

import pytest
from kitwright import cache
from kitwright.archive import gallery, picture, pictures
from kitwright.archive.gallery import gallery_of
from kitwright.archive.pictures import pictures_of
from making import BATCH, changed, make_worked

BACK = ("colours: [sky, white]}\n", "colours: [sky, white]}\n    back: {look: dots, colours: [sage, white]}\n")
CHANGES = {
    "the title": [("title: Nine strips", "title: Nine")],
    "what is told of it": [("summary: Nine cards from one sheet.", "summary: Nine cards.")],
    "a paper's name": [("name: River", "name: Brook")],
    "a colour": [("colours: [sky, white]", "colours: [sage, white]")],
    "a look": [("look: stripes", "look: dots")],
    "an up": [("{look: stripes, colours: [sky, white]}", "{look: stripes, colours: [sky, white], up: left}")],
    "a size": [("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4")],
    "a back": [BACK, ("    - A\n", "    - A back\n")],
    "the greeting": [("text: thank you", "text: hello")],
}
FOLDED = changed(BATCH, ("fold: side", "fold: gate"))
UNTOUCHED = {"what is told of it"}


@pytest.fixture(autouse=True)
def scenes(monkeypatch):
    """The scenes themselves in place of what pens make of them: they say as much, at once."""
    for module in (picture, gallery):
        monkeypatch.setattr(module, "svg", lambda scene, palette: f"{scene} {palette.light}")
        monkeypatch.setattr(module, "png", lambda scene, pixels, palette: f"{scene} {pixels} {palette.light}".encode())


def drawn(worked, folder):
    """All that is drawn of a kit, and how many of it were not kept from before."""
    with cache.using(folder) as store:
        found = {name: each.shown(worked.kit.club.palette) for name, each in pictures_of(worked).items()}
        return found, gallery_of(worked, {})[1], store.made["picture"] + store.made["tile"]


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("plain"), BATCH)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    return tmp_path_factory.mktemp("kept")


@pytest.mark.parametrize("what", CHANGES)
def test_what_differs_is_drawn_anew_and_nothing_else(tmp_path, plain, kept, what):
    other = make_worked(tmp_path, changed(BATCH, *CHANGES[what]))
    before = drawn(plain, kept)
    assert drawn(plain, kept) == (*before[:2], 0)
    *found, made = drawn(other, kept)
    assert found == list(drawn(other, None)[:2]), "what was kept of another kit is shown"
    assert (found == list(before[:2])) == (made == 0) == (what in UNTOUCHED)


def test_it_is_drawn_in_the_clubs_colours(plain, kept):
    palette, picture = plain.kit.club.palette, pictures_of(plain)["sketch"]
    other = replace(palette, light={**palette.light, "accent": "#004488"})
    with cache.using(kept):
        assert picture.shown(palette) != picture.shown(other) == picture.drawn(other)


def test_one_drawing_of_the_card_does_for_every_width(plain, kept):
    found, _, _ = drawn(plain, kept)
    card, sketch, small = (found[name] for name in ("card", "sketch", "thumbnail"))
    assert card.image.narrow == card.image.src == "card.svg" and set(card.files) == {"card.svg", "card.png"}
    assert sketch.image.narrow == "sketch-narrow.svg" and set(small.files) == {"thumbnail.svg"}


def test_what_goes_with_a_link_is_one_file_of_pixels_and_shows_the_cards_fanned(plain):
    share = pictures.share_of(plain).drawn(plain.kit.club.palette)
    image = share.image
    assert {*share.files} == {"share.png"} and image.src == image.narrow == image.png == "share.png"
    assert (image.width, image.height) == (1280, 670)
    assert image.alt.startswith("Cards of Nine strips, fanned.") and "“thank you”" in image.alt


def test_it_is_drawn_where_there_is_an_address_to_link_to(plain):
    assert "share" not in pictures_of(plain)
    club = plain.kit.club.model_copy(update={"address": "https://cards.example/"})
    assert "share" in pictures_of(plain.seen_as(replace(plain.kit, club=club)))


def test_how_a_card_folds_is_drawn_where_that_is_more_than_once_in_the_middle(plain, kept, tmp_path):
    assert "fold" not in pictures_of(plain)
    gate = make_worked(tmp_path, FOLDED)
    shown = pictures_of(gate)
    assert [text.text for text in shown["fold"].wide.texts].count("fold forward") == 2
    assert {"left", "inside"} <= {text.text for text in shown["fold"].narrow.texts}
    assert [text.text for text in shown["base"].wide.texts].count("fold forward") == 2, "the flat base too has both its score lines"
    found, _, made = drawn(gate, kept)
    again, _, more = drawn(gate, kept)
    assert found == again and made and not more
