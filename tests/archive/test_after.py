"""What a kit's page tells besides the kit: samples, questions, the video, people; due, agreed to, and no more."""

from __future__ import annotations

import datetime as dt
import html
import io
import re
from dataclasses import replace

import pytest
from archive.rendered import made_of, page, part, rows, section, site_of, words
from kitwright.archive.asked import questions_of, written
from kitwright.archive.gallery import gallery_of
from kitwright.archive.helpers import moment
from kitwright.archive.kinds import people as people_page
from kitwright.archive.page import Site
from kitwright.archive.photos import LARGEST, photo
from kitwright.archive.samples import samples_shown
from kitwright.archive.standing import State
from kitwright.archive.theme import environment, palette_css
from kitwright.errors import Place, UserError
from kitwright.kit.theme import PROGRAM, Theme
from kitwright.schemes import HOUSE
from kitwright.work.working import work
from making import BATCH, CLUB, changed
from PIL import Image
from release.bench import LIVING, archive, at, edit, forget, kit_in, people_in, release

RELEASED, REVEAL, SAMPLES, LATE = at("2030-01-04 12:00"), at("2030-01-05 18:00"), at("2030-01-10 18:00"), at("2030-01-20 18:00")
SECOND = dt.timedelta(seconds=1)
GUEST = "guests:\n  - quill-nobody\n"
TEXT = BATCH + "reveal: 2030-01-05 18:00\n" + LIVING
TEAM = CLUB + "team:\n  - {who: ada-bellwether, role: leads}\n  - {who: quill-nobody, role: hides}\n"


def jpeg(**more) -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (1600, 1200), (200, 120, 60)).save(made, "JPEG", **more)
    return made.getvalue()


@pytest.fixture
def kits(tmp_path, quick):
    """A released kit with samples and people, whose pictures are pictures."""
    found = archive(tmp_path, TEXT, club=TEAM)
    for picture in found.rglob("*.jpg"):
        picture.write_bytes(jpeg())
    release(kit_in(found), people_in(found), RELEASED)
    return found


def told(kits, as_of, audience="public", **more) -> tuple[Site, dict[str, bytes]]:
    """The site of that kit, its gallery and samples as they are at an instant, and the files of its samples."""
    worked, people = work(kit_in(kits)), people_in(kits)
    samples, files = samples_shown(worked.kit, people, None if audience == "team" else as_of)
    made = made_of(worked, galleries=(gallery_of(worked, {})[0],), samples=samples, **more)
    return site_of(made, people=people, as_of=as_of, audience=audience), files


def samples_on(site: Site) -> list[str]:
    """What a kit's page says of each sample."""
    return re.findall(r'<li class="kw-sample">(.*?)</li>', page("kit.md", site), re.DOTALL)


def credits_on(site: Site) -> str:
    return words(page("kit.md", site).partition('<p class="kw-credits">')[2].partition("</p>")[0])


# --- samples -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("as_of, shown", [(REVEAL, 0), (SAMPLES - SECOND, 0), (SAMPLES, 1), (LATE, 1), (None, 1)])
def test_samples_show_from_their_moment_on_and_only_with_consent(kits, as_of, shown):
    site, files = told(kits, as_of)
    found = samples_on(site)
    assert len(found) == shown and len([f for f in files if f.startswith("samples/")]) == shown
    if shown:
        assert "<h3>Ada Bellwether</h3>" in found[0] and 'href="https://bellwether.example/"' in found[0]
        assert "Changed Another ink." in words(found[0])
        assert 'src="samples/1.jpg"' in found[0] and list(files) == ["samples/1.jpg", "large/samples/1.jpg"]


def test_the_team_sees_every_sample_at_once(kits):
    assert len(samples_on(told(kits, REVEAL, "team")[0])) == 1


def test_without_consent_to_the_link_there_is_none(kits):
    file = kits / "people" / "ada-bellwether" / "person.yaml"
    file.write_text(changed(file.read_text(encoding="utf-8"), ("[name, link, photo,", "[photo,")), encoding="utf-8")
    site, _ = told(kits, LATE)
    (sample,) = samples_on(site)
    assert "<h3>A maker</h3>" in sample and "bellwether.example" not in sample
    assert credits_on(site) == "" and site.named == frozenset()


def test_a_forgotten_maker_leaves_a_card_without_name_link_and_picture(kits):
    forget(kits, "Ada Bellwether")
    site, files = told(kits, LATE)
    (sample,) = samples_on(site)
    assert "<h3>A maker</h3>" in sample and "href=" not in sample.partition("kw-sample__tile")[0] and 'kw-photo"' not in sample
    assert credits_on(site) == "" and set(site.parts) <= {"quill-nobody"}
    every = "".join(page(template, site) for template in ("kit.md", "people.md", "errata.md", "asked.md"))
    assert "bellwether" not in every.casefold() and files == {}


def test_a_sample_is_tied_to_the_arrangement_it_used(kits):
    edit(kits, ("    changed: Another ink.", "    changed: Another ink.\n    arrangement: as sketched"))
    site, _ = told(kits, LATE)
    gallery = site.made[0].gallery
    tile = gallery.tile("as sketched")
    assert (tile is not None) == gallery.has_page
    assert (f'href="arrangements.html#{tile.slug}"' if tile else "Another ink.") in samples_on(site)[0]


def test_a_photo_is_upright_small_and_tells_nothing_of_the_camera(tmp_path):
    exif = Image.Exif()
    exif[0x0112] = 6  # lies on its side: turn it a quarter to the right (Exif 2.32, tag Orientation)
    exif[0x010F] = "A camera"
    exif.get_ifd(0x8825)[1] = "N"
    file = tmp_path / "card.jpg"
    file.write_bytes(jpeg(exif=exif, comment=b"at home"))
    found, data = photo(file, "samples/1.jpg", Place(file))
    with Image.open(io.BytesIO(data)) as made:
        assert made.size == (found.width, found.height) == (LARGEST * 3 // 4, LARGEST)
        assert not made.getexif() and "comment" not in made.info
    assert b"camera" not in data.lower() and b"home" not in data
    assert photo(file, "samples/1.jpg", Place(file))[1] == data
    (tmp_path / "not.jpg").write_bytes(b"\xff\xd8picture")
    with pytest.raises(UserError, match="can't be read as a picture"):
        photo(tmp_path / "not.jpg", "x", Place(file, 3))


def test_a_picture_that_is_none_is_an_error_at_its_line(kits):
    (kits / "people" / "ada-bellwether" / "card.jpg").write_bytes(b"no picture")
    with pytest.raises(UserError, match="card.jpg can't be read") as caught:
        told(kits, LATE)
    line = (kit_in(kits).folder / "kit.yaml").read_text(encoding="utf-8").splitlines()[caught.value.place.line - 1]
    assert "card.jpg" in line


# --- questions -------------------------------------------------------------------------------------------

ASKED = """\
questions:
  - {ask: "Why so low?", answer: "[[size of B]] is **enough**, if 1 < 2.", piece: B}
  - {ask: "Which way up?", answer: Either., sheet: river}
  - {ask: "When does it dry?", answer: Soon., step: stamp}
  - {ask: "From A4?", computed: A4}
  - {ask: "About a step that this kit has not?", answer: It has none., step: finish}
"""


def test_questions_stand_beside_what_they_are_about(kits):
    kit = edit(kits, ("summary:", ASKED + "summary:"))
    asked = questions_of(work(kit))
    assert [(a.place, a.told.computed) for a in asked] == [
        ("the-pieces", False),
        ("guide-1", False),
        ("step-stamp", False),
        ("asked", True),
        ("asked", False),
    ]
    assert [a.about for a in asked] == ["piece B", "River", "the step “Stamp the sentiments in one go”", "", ""]
    assert "3¾ × ⅞ in" in asked[0].answer and "<strong>enough</strong>" in asked[0].answer and "1 &lt; 2" in asked[0].answer
    assert "sheet" in asked[3].answer
    text = page("kit.md", told(kits, LATE)[0])
    assert text.count('class="kw-asked"') == len(asked)
    assert "Why so low?" in part(text, "pieces") and "Which way up?" in part(text, "guide-1") and "From A4?" in part(text, "asked")
    assert "Three of the five stand above, each at its step, piece or sheet." in words(text)


def test_an_answer_is_text_and_markdown_but_no_markup():
    assert "<script>" not in written("Fine. <script>alert(1)</script>")
    assert "&lt;script&gt;" in written("Fine. <script>alert(1)</script>")
    assert "15⁄16" in written("15⁄16 in") and 'class="kw-frac"' in written("15⁄16 in")


# --- the video -------------------------------------------------------------------------------------------


VIDEO = """\
video:
  address: https://video.example/x?y=1
  steps: {cut: "1:10", build: "1:02:03"}
  chapters: {Post: "20:00", Hello: "0:05"}
"""


def test_steps_link_to_their_moment_as_the_media_fragments_standard_has_it(kits):
    """W3C, Media Fragments URI 1.0 (basic), section 4.2.1: `#t=` with seconds, joined to others by `&`."""
    assert "In the video" not in (plain := page("kit.md", told(kits, LATE)[0])) and "kw-watch" not in plain
    edit(kits, ("summary:", VIDEO + "summary:"))
    text = page("kit.md", told(kits, LATE)[0])
    links = re.findall(r'<p class="kw-watch"[^>]*><a href="(.*?)" [^>]*>Watch this step at (\S+?)<', text)
    assert [(html.unescape(address), time) for address, time in links] == [
        ("https://video.example/x?y=1#t=70", "1:10"),
        ("https://video.example/x?y=1#t=3723", "1:02:03"),
    ]
    assert re.findall(r">(\w+), at ", part(text, "more-in-the-video")) == ["Hello", "Post"]
    assert moment("https://video.example/x#xywh=0,0,9,9", 5) == "https://video.example/x#xywh=0,0,9,9&t=5"


# --- people ------------------------------------------------------------------------------------------------


def test_credits_name_who_agreed_and_guests_only_from_their_moment(kits):
    file = kits / "people" / "quill-nobody" / "person.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("to: []", "to: [name]"), encoding="utf-8")
    edit(kits, (GUEST, "guests:\n  - {who: quill-nobody, by: late turn}\n"))
    for as_of, guest in ((SAMPLES, ""), (LATE - SECOND, ""), (LATE, " · Guest Quill Nobody")):
        assert credits_on(told(kits, as_of)[0]) == f"Drawn up by Ada Bellwether{guest}"
    assert credits_on(told(kits, SAMPLES, "team")[0]).endswith("Guest Quill Nobody")


def test_the_page_of_people_holds_each_once_and_nobody_who_did_not_agree(kits):
    site, _ = told(kits, LATE)
    (people,) = people_page.KIND.pages(site)
    text = page("people.md", site)
    assert re.findall(r'<section aria-labelledby="(\w+)">', text) == ["team"] and re.findall(r"<h3 .*?>(.*?)</h3>", text) == [
        "Ada Bellwether"
    ]
    assert '<p class="kw-person__role">Leads</p>' in text and 'href="https://bellwether.example/"' in text
    assert 'src="people/ada-bellwether.jpg"' in text and set(people.files) == {"people/ada-bellwether.jpg"}
    assert re.findall(r'<span class="kw-name">(.*?)</span>', text) == ["Drew up", "Cards for"]
    assert site.named == {"ada-bellwether"} and "quill" not in text.casefold()


def test_links_that_earn_money_are_known(kits):
    kit = edit(
        kits,
        (
            "summary:",
            "links:\n  - {for: river, address: 'https://papers.example/river', earns: yes}\n  - {for: a ruler, address: 'https://tools.example/'}\nsummary:",
        ),
    )
    assert kit.spec.links
    where = page("kit.md", told(kits, LATE)[0]).partition("kw-where")[2].partition("</ul>")[0]
    assert words(where.partition(">")[2]) == "Where to find River (this link earns the club money) Where to find a ruler"
    assert re.findall('rel="(.*?)"', where) == ["sponsored noopener external", "noopener external"]


# --- the team's page -----------------------------------------------------------------------------------------


def test_the_team_reads_its_own_clocks(kits):
    """18:00, Lisbon time in January, which keeps UTC then, is 23:30, Kolkata time (UTC+5:30 all year)."""
    site, _ = told(kits, REVEAL, "team", state=State("Preview, not released", "2222-2222", True))
    text = page("team.md", site)
    assert [row[2] for row in rows(section(text, "## What to make, and by when"))][1:] == [
        "Wednesday 9 January 2030, 23:30, Kolkata time (a day before samples)",
        "Saturday 5 January 2030, 18:00, Lisbon time (reveal)",
    ]
    assert rows(section(text, "## What may be shown when"))[2][1] == "Thursday 10 January 2030, 18:00, Lisbon time"
    assert re.findall("### On the clock of (.*?) {", text) == ["Ada Bellwether"], "whoever lives where the club does reads its clock"
    assert "with the code 2222-2222" in words(text)
    assert "has not said where its site stands" in section(text, "## The shared instructions"), "no link is made up"
    addressed = site.archive.club.model_copy(update={"address": "https://bench.example/cards"})
    text = page("team.md", Site(replace(site.archive, club=addressed), site.made))
    shared = re.findall(r"<li>(.*?) <div [^>]*><pre><code>(.*?)</code>", section(text, "## The shared instructions"))
    links = {name: html.unescape(address) for name, address in shared}
    kit_page = "https://bench.example/cards/kits/2030-01-test-kit/index.html"
    assert next(iter(links.items())) == ("The whole kit", kit_page)
    assert links["Build all the fronts"] == f"{kit_page}#step-build" and links["The guide for River"] == f"{kit_page}#guide-1"
    assert page("team.md", told(kits, REVEAL)[0]) == ""
    out = [page("teamhome.md", told(kits, moment, "team")[0]).count("## Kits that are out") for moment in (LATE - SECOND, LATE)]
    assert out == [0, 1], "until its last moment"


# --- the style sheet -----------------------------------------------------------------------------------------


def test_the_style_names_no_colour_and_no_unknown_variable():
    theme = PROGRAM / "assets"
    css = (theme / "release.css").read_text(encoding="utf-8")
    defined = set(re.findall(r"(--kw-[\w-]+)\s*:", palette_css(HOUSE) + (theme / "site.css").read_text(encoding="utf-8")))
    assert set(re.findall(r"var\((--kw-[\w-]+)", css)) <= defined
    assert not re.search(r":\s*[^;{]*#[0-9a-fA-F]{3,8}\b", css)


def test_a_line_is_led_by_a_capital_and_keeps_its_spaces():
    env = environment(Theme())
    assert env.from_string("{{ words|led }}").render(words="a card of your own") == "A card of your own"
