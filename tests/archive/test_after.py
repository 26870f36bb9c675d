"""What a kit's page tells besides the kit: samples, questions, the video, people; due, agreed to, and no more."""

from __future__ import annotations

import datetime as dt
import io
import re
from pathlib import Path

import pytest
from kitwright.archive.after import after_of
from kitwright.archive.asked import asked_of, written
from kitwright.archive.gallery import gallery_of
from kitwright.archive.makers import people_view
from kitwright.archive.photos import LARGEST, photo
from kitwright.archive.samples import samples_view
from kitwright.archive.theme import environment, palette_css, theme_folder
from kitwright.archive.watch import at as video_at
from kitwright.archive.watch import video_view
from kitwright.errors import Place, UserError
from kitwright.kit.model import Video
from kitwright.release.forget import forget
from kitwright.release.publish import release
from kitwright.release.stamp import Preview
from kitwright.work.worked import work
from making import BATCH, CLUB, changed
from PIL import Image
from release.bench import LIVING, archive, at, edit, kit_in, people_in, quick  # noqa: F401

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


def told(kits, as_of, audience="public"):
    worked = work(kit_in(kits))
    return after_of(worked, Preview("2222-2222"), gallery_of(worked)[0], people_in(kits), as_of, audience)


# --- samples -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("as_of, shown", [(REVEAL, 0), (SAMPLES - SECOND, 0), (SAMPLES, 1), (LATE, 1), (None, 1)])
def test_samples_show_from_their_moment_on_and_only_with_consent(kits, as_of, shown):
    after, files = told(kits, as_of)
    assert len(after.samples) == shown and len([f for f in files if f.startswith("samples/")]) == shown
    if shown:
        assert (after.samples[0].name, after.samples[0].link, after.samples[0].changed) == (
            "Ada Bellwether",
            "https://bellwether.example/",
            "Another ink.",
        )
        assert after.samples[0].photo.src == "samples/1.jpg" and "ada" not in after.samples[0].photo.src


def test_the_team_sees_every_sample_at_once(kits):
    assert len(told(kits, REVEAL, "team")[0].samples) == 1


def test_without_consent_to_the_link_there_is_none(kits):
    file = kits / "people" / "ada-bellwether" / "person.yaml"
    file.write_text(changed(file.read_text(encoding="utf-8"), ("[name, link, photo,", "[photo,")), encoding="utf-8")
    after, _ = told(kits, LATE)
    assert (after.samples[0].name, after.samples[0].link, after.samples[0].key) == ("a maker", "", "")
    assert after.credits == ()


def test_a_forgotten_maker_leaves_a_card_without_name_link_and_picture(kits):
    forget(kits, "Ada Bellwether")
    after, files = told(kits, LATE)
    assert [(s.name, s.link, s.photo) for s in after.samples] == [("a maker", "", None)]
    assert after.credits == () and after.parts == () or {p.key for p in after.parts} <= {"quill-nobody"}
    assert "bellwether" not in repr(after).casefold() and files == {}


def test_a_sample_is_tied_to_the_arrangement_it_used(kits):
    kit = edit(kits, ("    changed: Another ink.", "    changed: Another ink.\n    arrangement: as sketched"))
    worked = work(kit)
    gallery = gallery_of(worked)[0]
    (one,), _ = samples_view(kit, gallery, people_in(kits), LATE)
    assert one.tile == (gallery.tile("as sketched") if gallery.has_page else None)


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
    asked = asked_of(work(kit))
    assert [(a.place, a.computed) for a in asked] == [
        ("the-pieces", False),
        ("guide-1", False),
        ("step-stamp", False),
        ("asked", True),
        ("asked", False),
    ]
    assert [a.about for a in asked] == ["piece B", "River", "the step “Stamp the sentiments in one go”", "", ""]
    assert "3¾ × ⅞ in" in asked[0].answer and "<strong>enough</strong>" in asked[0].answer and "1 &lt; 2" in asked[0].answer
    assert "sheet" in asked[3].answer
    after, _ = told(kits, LATE)
    assert sum(len(after.asked_at(place)) for place in ("the-pieces", "guide-1", "step-stamp", "asked")) == len(asked)


def test_an_answer_is_text_and_markdown_but_no_markup():
    assert "<script>" not in written("Fine. <script>alert(1)</script>")
    assert "&lt;script&gt;" in written("Fine. <script>alert(1)</script>")
    assert "15⁄16" in written("15⁄16 in") and 'class="kw-frac"' in written("15⁄16 in")


# --- the video -------------------------------------------------------------------------------------------


def test_steps_link_to_their_moment_as_the_media_fragments_standard_has_it():
    """W3C, Media Fragments URI 1.0 (basic), section 4.2.1: `#t=` with seconds, joined to others by `&`."""
    video = Video(
        address="https://video.example/x?y=1", steps={"cut": "1:10", "build": "1:02:03"}, chapters={"Post": "20:00", "Hello": "0:05"}
    )
    view = video_view(video)
    assert view.steps["cut"].href == "https://video.example/x?y=1#t=70" and view.steps["cut"].time == "1:10"
    assert view.steps["build"].href.endswith("#t=3723") and view.steps["build"].time == "1:02:03"
    assert [name for name, _ in view.chapters] == ["Hello", "Post"]
    assert video_at("https://video.example/x#xywh=0,0,9,9", 5) == "https://video.example/x#xywh=0,0,9,9&t=5"
    assert video_view(None) is None


# --- people ------------------------------------------------------------------------------------------------


def test_credits_name_who_agreed_and_guests_only_from_their_moment(kits):
    file = kits / "people" / "quill-nobody" / "person.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("to: []", "to: [name]"), encoding="utf-8")
    edit(kits, (GUEST, "guests:\n  - {who: quill-nobody, by: late turn}\n"))
    for as_of, guests in ((SAMPLES, []), (LATE - SECOND, []), (LATE, ["Quill Nobody"])):
        credits_ = told(kits, as_of)[0].credits
        assert [n for c in credits_ if c.words == "Drawn up by" for _, n in c.names] == ["Ada Bellwether"]
        assert [n for c in credits_ if c.words == "Guest" for _, n in c.names] == guests
    assert ["Quill Nobody"] == [n for c in told(kits, SAMPLES, "team")[0].credits if c.words == "Guest" for _, n in c.names]


def test_the_page_of_people_holds_each_once_and_nobody_who_did_not_agree(kits):
    kit, people = kit_in(kits), people_in(kits)
    after, _ = told(kits, LATE)
    view, files = people_view(kit.club, people, after.parts)
    assert [(slug, [p.name for p in group]) for slug, _, group in view.groups] == [("team", ["Ada Bellwether"])]
    ada = view.groups[0][2][0]
    assert (ada.role, ada.link, ada.photo.src) == ("leads", "https://bellwether.example/", "people/ada-bellwether.jpg") and set(files) == {
        "people/ada-bellwether.jpg"
    }
    assert [words for words, _ in ada.parts] == ["Drew up", "Cards for"]
    assert view.keys == {"ada-bellwether"} and "quill" not in repr(view).casefold()


def test_links_that_earn_money_are_known(kits):
    kit = edit(
        kits,
        (
            "summary:",
            "links:\n  - {for: river, address: 'https://papers.example/river', earns: yes}\n  - {for: a ruler, address: 'https://tools.example/'}\nsummary:",
        ),
    )
    assert kit.spec.links
    assert [(name, link.earns) for name, link in told(kits, LATE)[0].where] == [("River", True), ("a ruler", False)]


# --- the team's page -----------------------------------------------------------------------------------------


def test_the_team_reads_its_own_clocks(kits):
    """18:00 in Lisbon in January, which keeps UTC then, is 23:30 in Kolkata (UTC+5:30 all year)."""
    team = told(kits, REVEAL, "team")[0].team
    assert [a.due for a in team.team] == ["Thursday 10 January 2030, 23:30 (Asia/Kolkata) (samples)"]
    assert [t.when for t in team.times][1] == "Thursday 10 January 2030, 18:00 (Europe/Lisbon)"
    assert [names for names, _ in team.clocks] == ["Ada Bellwether"], "whoever lives where the club does reads its clock"
    assert team.code == "2222-2222" and team.sections[0] == ("the-sketch", "The sketch")
    assert ("step-build", "Build all the fronts") in team.sections and ("guide-1", "River") in team.sections
    assert told(kits, REVEAL)[0].team is None
    assert [told(kits, moment, "team")[0].team.over for moment in (LATE - SECOND, LATE)] == [False, True], "until its last moment"


# --- the style sheet -----------------------------------------------------------------------------------------


def test_the_style_names_no_colour_and_no_unknown_variable():
    theme = theme_folder(Path(__file__).resolve().parents[2]) / "assets"
    css = (theme / "release.css").read_text(encoding="utf-8")
    defined = set(re.findall(r"(--kw-[\w-]+)\s*:", palette_css() + (theme / "site.css").read_text(encoding="utf-8")))
    assert set(re.findall(r"var\((--kw-[\w-]+)", css)) <= defined
    assert not re.search(r":\s*[^;{]*#[0-9a-fA-F]{3,8}\b", css)


def test_a_line_is_led_by_a_capital_and_keeps_its_spaces():
    env = environment(theme_folder(Path(__file__).resolve().parents[2]))
    assert env.from_string("{{ words|led }}").render(words="a card of your own") == "A card of your own"
