"""What a site wears of its club: colours, logo or initials, a picture for links, links at the foot; and what stays as published."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from archive.small import CLUB, FIRST, OLD, SECOND
from kitwright.archive import offered
from kitwright.archive.dress import card_of, dress_of
from kitwright.archive.gather import Archive
from kitwright.archive.make import Made
from kitwright.archive.pages import write_tree
from kitwright.archive.picture import Image as Shown
from kitwright.archive.pictures import share_of
from kitwright.archive.placing import Placing
from kitwright.archive.site import make_pages
from kitwright.archive.theme import palette_css
from kitwright.drawing.initials import initials, initials_svg
from kitwright.errors import UserError
from kitwright.kit.read import read_club
from kitwright.kit.theme import PROGRAM, Theme, read_theme
from kitwright.release.carry import _read as read_to_carry
from kitwright.release.revisions import as_published, files_of, frozen
from kitwright.release.state import release_code
from kitwright.schemes import HOUSE
from making import ID
from PIL import Image
from release.bench import archive, at, kit_in, release

THEME = Theme()
MORE = """\
address: https://cards.example/club/
logo: our mark.svg
colours:
  accent: "#6A1B9A"
  second: "#00695C"
share picture:
  file: bench.jpg
  alt: A "long" bench & three cards
links:
  - {name: Our <channel>, address: "https://video.example/?a=1&b=2"}
  - {name: Write to us, address: mailto:hello@cards.example}
"""
MARK = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 20"><path d="M0 0h60v20H0z" fill="#6A1B9A"/></svg>'


def dressed(folder: Path, more: str = MORE):
    """A club file with these lines, its pictures beside it, read."""
    folder.mkdir(exist_ok=True)
    (folder / "club.yaml").write_text(CLUB + more, encoding="utf-8")
    (folder / "our mark.svg").write_text(MARK, encoding="utf-8")
    Image.new("RGB", (1600, 840), "teal").save(folder / "bench.jpg")
    return read_club(folder)


# --- on the site ----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def site(small_site: Path, drawn: dict[str, Made], tmp_path_factory) -> Path:
    """The small archive's site for a club that has everything; its kits are those that were drawn for another."""
    folder = tmp_path_factory.mktemp("dressed")
    club = dressed(folder / "kits")
    # With an address a kit has a picture for links.
    first = share_of(drawn[FIRST].worked).drawn(club.palette)
    linked = replace(drawn[FIRST], files={**drawn[FIRST].files, **first.files}, images={**drawn[FIRST].images, "share": first.image})
    made: list[Made] = [drawn[OLD], linked, drawn[SECOND]]
    whole = Archive(club, tuple(one.entry for one in made), tuple(one.kit for one in made), folder / "kits")
    tree = write_tree(folder, THEME, whole, made, club.address)
    (folder / "site").mkdir()
    make_pages(tree, Placing(folder / "site"), 0, folder / "kits", THEME, whole)
    return folder / "site"


def page(site: Path, name: str) -> str:
    return (site / name).read_text(encoding="utf-8")


def shared(text: str) -> dict[str, str]:
    return dict(re.findall(r'<meta property="(og:[^"]+)" content="([^"]*)">', text))


def test_the_logo_stands_in_the_header_and_initials_in_the_tab_where_it_is_too_long(site: Path):
    for name, up in (("index.html", ""), (f"kits/{FIRST}/index.html", "../../")):
        text = page(site, name)
        assert f'<img src="{up}look/club-logo.svg" alt="" width="72" height="24">' in text
        assert f'<link rel="icon" href="{up}look/mark.svg" type="image/svg+xml">' in text
    assert "#6a1b9a" in page(site, "look/club-logo.svg") and "#6A1B9A" in page(site, "look/mark.svg")


def test_style_sheet_and_the_drawing_of_a_lost_page_have_the_colours(site: Path):
    assert "--kw-accent: #6A1B9A;" in page(site, "look/palette.css") and "#B73C1C" not in page(site, "look/palette.css")
    assert "#6A1B9A" in page(site, "look/lost.svg") and "#B73C1C" not in page(site, "look/lost.svg")


def test_links_stand_at_the_foot_of_every_page_in_order_and_safe(site: Path):
    for name in ("index.html", f"kits/{FIRST}/index.html", "404.html"):
        foot = page(site, name).split('<ul class="kw-colophon kw-links"')[1]
        assert re.findall(r'<li><a href="([^"]+)" rel="noopener external">([^<]+)</a>', foot) == [
            ("https://video.example/?a=1&amp;b=2", "Our &lt;channel&gt;"),
            ("mailto:hello@cards.example", "Write to us"),
        ]


def test_a_link_to_a_page_brings_the_picture_that_fits_it(site: Path):
    # The Open Graph protocol (ogp.me): title, type, image and url are required; an image has a description beside it.
    home, kit, old = (shared(page(site, name)) for name in ("index.html", f"kits/{FIRST}/index.html", f"kits/{OLD}/index.html"))
    assert home["og:url"] == "https://cards.example/club/index.html" and home["og:type"] == "website"
    assert home["og:title"] == "The &lt;Test&gt; &amp; Bench"
    assert home["og:image"] == "https://cards.example/club/look/share.jpg"
    assert home["og:image:alt"] in ("A &#34;long&#34; bench &amp; three cards", "A &quot;long&quot; bench &amp; three cards")
    assert (home["og:image:width"], home["og:image:height"]) == ("1200", "630")
    assert Image.open(site / "look" / "share.jpg").size == (1200, 630)
    assert kit["og:image"] == f"https://cards.example/club/kits/{FIRST}/share.png" and kit["og:image:alt"]
    with Image.open(site / f"kits/{FIRST}/share.png") as cards:
        assert (kit["og:image:width"], kit["og:image:height"]) == tuple(map(str, cards.size)) == ("1280", "670")
    # Whoever shows a link loads its picture on a phone: some 100 kB at most, common practice, no source.
    assert (site / f"kits/{FIRST}/share.png").stat().st_size < 100_000
    assert old["og:image"].startswith(f"https://cards.example/club/kits/{OLD}/")
    assert shared(page(site, "words.html"))["og:image"] == home["og:image"], "a page of no kit"
    for text in (home, kit, old):
        assert {"og:title", "og:type", "og:image", "og:url", "og:image:alt", "og:site_name", "og:description"} <= set(text)


def test_a_site_that_has_no_address_says_nothing_of_links(small_site: Path):
    assert "og:" not in page(small_site, "index.html") and not (small_site / "look" / "share.jpg").exists()
    assert "kw-links" not in page(small_site, "index.html")


def test_a_club_without_a_logo_has_its_initials_and_nobody_elses_mark(small_site: Path):
    assert '<img src="look/mark.svg" alt="" width="24" height="24">' in page(small_site, "index.html")
    assert page(small_site, "look/mark.svg") == initials_svg("The <Test> & Bench", HOUSE)
    assert not (small_site / "look" / "club-logo.svg").exists()


def test_a_theme_of_her_own_may_name_another_mark(small_site: Path, drawn: dict[str, Made], tmp_path: Path):
    (tmp_path / "theme").mkdir()
    settings = (PROGRAM / "mkdocs.yml").read_text(encoding="utf-8").replace("look/mark.svg", "look/hers.svg")
    (tmp_path / "theme" / "mkdocs.yml").write_text(settings, encoding="utf-8")
    (tmp_path / "theme" / "assets").mkdir()
    (tmp_path / "theme" / "assets" / "hers.svg").write_text(MARK, encoding="utf-8")
    own = read_theme(tmp_path)
    made = [drawn[name] for name in (OLD, FIRST, SECOND)]
    club = dressed(tmp_path / "kits")
    whole = Archive(club, tuple(one.entry for one in made), tuple(one.kit for one in made), tmp_path / "kits")
    tree = write_tree(tmp_path / "tree", own, whole, made, None)
    said = yaml.safe_load(tree.settings.read_text(encoding="utf-8"))
    assert said["theme"]["logo"] == said["theme"]["favicon"] == "look/hers.svg" and said["extra"]["logo"]["kind"] == ""


def test_an_old_printable_brings_its_first_page_or_its_own_picture_at_its_own_size(drawn: dict[str, Made], small_site: Path):
    pictures = {
        name: Shown(*[f"{name}.jpg"] * 3, "An old card", wide, 200, wide, 200) for name, wide in (("thumbnail", 100), ("page", 300))
    }
    old = replace(drawn[OLD], images=pictures, files={f"{name}.jpg": b"\xff\xd8" for name in pictures})
    found = card_of(old)
    assert found is not None and (found.path, found.width, found.height) == (f"kits/{OLD}/page.jpg", 300, 200)
    assert card_of(replace(old, images={})) is None


# --- initials ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name, letters",
    [
        ("The Wednesday Bench", "WB"),
        ("Plum and Fern Card Club", "PF"),
        ("élan", "É"),
        ("The", "T"),
        ("<Test> & Bench", "TB"),
        ("3 Coves", "3C"),
        ("ßen Öl", "SÖ"),
        ("水曜日 工房", ""),
        ("🌷", ""),
    ],
)
def test_initials_are_those_of_the_words_that_weigh_as_far_as_our_type_has_them(name, letters):
    assert initials(name) == letters
    drawn = initials_svg(name, HOUSE)
    assert drawn.count("<path") == 1 and "<text" not in drawn and "NaN" not in drawn


def test_a_mark_that_is_not_seen_at_night_gets_a_ground_there(tmp_path):
    plain = dress_of(dressed(tmp_path))
    assert plain.ground == ""
    for fill, ground in (("#0A1020", "light"), ("#FFFFFF", "dark")):
        (tmp_path / "our mark.svg").write_text(MARK.replace("M0 0h60v20", "M9 9h20v9").replace("#6A1B9A", fill), encoding="utf-8")
        assert dress_of(read_club(tmp_path)).ground == ground


# --- refused ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "lines, said",
    [
        ("links:\n  - {name: Shop, address: shop.example}\n", "“shop.example” is not an address"),
        ("links:\n  - {name: Shop, address: 'javascript:alert(1)'}\n", "is not an address"),
        ("links:\n  - {name: Shop, address: 'mailto:a@b.example?cc=c@d.example'}\n", "is not an address"),
        ("links:\n  - {name: Shop, address: 'https://a b.example'}\n", "is not an address"),
        ("links:\n  - {address: 'https://shop.example/'}\n", "name"),
        ("links:\n" + "  - {name: Shop, address: 'https://shop.example/'}\n" * 9, "8"),
        ("share picture: bench.jpg\n", "share picture"),
        ("share picture: {file: bench.jpg}\n", "alt"),
        ("share picture: {file: gone.jpg, alt: A bench}\n", "gone.jpg"),
        ("share picture: {file: ../bench.jpg, alt: A bench}\n", "../bench.jpg"),
        ("share picture: {file: our mark.svg, alt: A bench}\n", "our mark.svg is not named as a picture"),
        ("share picture: {file: small.png, alt: A bench}\n", "1200 × 630 is best"),
        ("share picture: {file: words.png, alt: A bench}\n", "words.png can't be read as a picture"),
        ("logo: gone.svg\n", "gone.svg"),
    ],
)
def test_what_will_not_do_is_one_error_at_its_line(tmp_path, lines, said):
    Image.new("RGB", (200, 100)).save(tmp_path / "small.png")
    (tmp_path / "words.png").write_text("words", encoding="utf-8")
    with pytest.raises(UserError) as caught:
        dressed(tmp_path, lines)
    assert len(caught.value.each) == 1 and said in str(caught.value)
    assert caught.value.place.line in (10, 11), "below the nine lines of the club"


# --- released -----------------------------------------------------------------------------------------------


def test_a_released_kit_keeps_files_and_code_and_its_pages_wear_what_the_club_wears_now(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    release(kit, {}, at("2030-01-08 12:00"))
    (file,) = [kits / "club.yaml"]
    before = {path: path.read_bytes() for path in sorted((kits / ID / "published").rglob("*")) if path.is_file()}
    (kits / "our mark.svg").write_text(MARK, encoding="utf-8")
    file.write_text(file.read_text(encoding="utf-8") + 'logo: our mark.svg\ncolours: {accent: "#6A1B9A"}\n', encoding="utf-8")
    kit = kit_in(kits)
    from kitwright.release.record import released

    (revision,) = released(kit)
    worked = as_published(kit, revision)
    assert release_code(worked, 1) == revision.code
    assert worked.kit.club.palette is kit.club.palette is not HOUSE and worked.kit.club.mark is not None
    assert "#6A1B9A" in palette_css(frozen(kit, revision).club.palette)
    assert before == {path: path.read_bytes() for path in sorted((kits / ID / "published").rglob("*")) if path.is_file()}
    assert set(offered.kept_or_drawn(worked, revision.stamp("Etc/UTC"), revision)) == set(files_of(revision))
    carried = read_to_carry(kits, kits / ID)
    assert carried.club.palette is HOUSE and carried.club.mark is None, "what was published before is drawn as it was"
    old = replace(revision, record=revision.record.model_copy(update={"format": 1}))
    seen: list = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(offered, "printed", lambda worked, stamp: seen.append(worked) or {})
        offered.kept_or_drawn(worked, revision.stamp("Etc/UTC"), old)
    assert seen[0].kit.club.palette is HOUSE and seen[0].kit.club.mark is None
