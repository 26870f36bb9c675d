"""Corrections, samples, questions and people in a real browser, on the demo's site: found, readable everywhere, usable by keyboard."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from archive.everybody import faults
from archive.finding import Index
from archive.pagecheck import Page, faults_of
from archive.reading import DESKTOP, PHONE, TABLET
from kitwright.archive.build import build_archive
from kitwright.archive.gather import Archive, kit_of
from kitwright.kit.kit import PastKit
from kitwright.release.record import released
from kitwright.release.revisions import sha256
from kitwright.telling.changes import GRADE_WORDS
from making import BATCH, CLUB
from PIL import Image
from playwright.sync_api import expect
from release.bench import LIVING, at, quickly
from release.bench import archive as people_archive
from sharing import once

LABELS, SIZES = "kits/2026-09-harbour-lights/", "kits/2025-09-bud-vases/"
"""The kit with a wrong label, and the one with a wrong size."""
WATCHED = "kits/2026-03-window-boxes/"
"""The kit with a video, and with links that earn money."""
PAGES = ["errata.html", "asked.html", "people.html", f"{LABELS}errata.html", f"{SIZES}index.html", f"{WATCHED}index.html"]


def text_of(page: str) -> str:
    """What a reader reads; spans stand inside words and sizes, other tags between them."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", re.sub(r"</?span[^>]*>", "", page))).split())


# --- what the pages say --------------------------------------------------------------------------------


def test_every_published_correction_is_on_both_pages_and_announced_by_its_kit(site: Path, archive: Archive):
    whole = (site / "errata.html").read_text(encoding="utf-8")
    found = []
    for entry in archive.entries:
        kit = kit_of(entry)
        mended = [r for r in released(kit) if r.record.erratum] if not isinstance(kit, PastKit) else []
        folder = site / "kits" / kit.id
        assert (folder / "errata.html").exists() == bool(mended)
        own = (folder / "errata.html").read_text(encoding="utf-8") if mended else ""
        page = (folder / "index.html").read_text(encoding="utf-8")
        assert ('class="kw-notice"' in page) == bool(mended)
        for revision in mended:
            anchor = f"{kit.id}-r{revision.number}"
            assert f'id="{anchor}"' in whole and f'id="{anchor}"' in own and f'href="errata.html#{anchor}"' in page
            for change in revision.record.erratum.changes:
                words = change.words.split(";")[0][:40].split("⁄")[0]
                assert words[1:] in text_of(whole) and words[1:] in text_of(own)
            found.append((revision.at, anchor))
    assert len(found) >= 2, "the demo has two kits with errata"
    assert re.findall(r'<h2 id="([^"]+-r\d+)"', whole) == [anchor for _, anchor in sorted(found, reverse=True)], "newest first"


def test_every_printable_of_every_revision_has_the_very_bytes_that_were_published(site: Path, archive: Archive):
    """In every edition and ink, and with it contact sheets and cut files: copied from what each revision kept."""
    seen = 0
    for kit in archive.kits:
        revisions = released(kit)
        for revision in revisions:
            folder = site / "kits" / kit.id / ("" if revision is revisions[-1] else f"r{revision.number}")
            assert revision.keeps and len(revision.files) >= 7
            there = {name: checksum for name, checksum in revision.files.items() if (folder / name).is_file()}
            # Of a replaced one the printables; what members alone may have is with them.
            assert len(there) >= (len(revision.files) - 1 if revision is revisions[-1] else 6)
            assert {name: sha256((folder / name).read_bytes()) for name in there} == there
            seen += 1
    assert seen >= 12


def test_the_demo_has_a_label_to_write_in_and_a_size_to_cut_again(site: Path):
    assert set(GRADE_WORDS) == {"cosmetic", "write in", "recut"}
    label, size = (text_of((site / folder / "errata.html").read_text(encoding="utf-8")) for folder in (LABELS, SIZES))
    assert "Write it in by hand" in label and "Cut again" not in label and "spotted it. Thank you." in label
    assert "Cut again" in size and "Pieces already cut" in size
    drawn = re.findall(r'<picture data-kw="in">.*?</picture>', (site / LABELS / "errata.html").read_text(encoding="utf-8"), re.S)
    alts = [alt for picture in drawn for alt in re.findall(r'alt="([^"]*Circled[^"]*)"', picture)]
    assert "Circled: 2 × C" in alts[0] and "and 2 × B" in alts[0] and "Circled: 2 × B" in alts[1], "the labels have changed places"


def test_each_step_links_to_its_moment_and_what_earns_says_so_beside_it(site: Path, archive: Archive):
    kit = next(kit_of(e) for e in archive.entries if kit_of(e).id in WATCHED)
    page = unescape((site / WATCHED / "index.html").read_text(encoding="utf-8"))
    for stage, seconds in kit.spec.video.steps.items():
        step = re.search(rf'<li class="kw-step" id="step-{stage}".*?(?=<li class="kw-step"|</section>)', page, re.S)
        assert step and f'href="{kit.spec.video.address}#t={seconds}"' in step[0], stage
    for file in site.rglob("*.html"):
        for found in re.findall(r'<a [^>]*rel="sponsored[^>]*>.*?</a>(.{0,90})', file.read_text(encoding="utf-8"), re.S):
            assert "this link earns the club money" in found, file
    earning = [u for s in kit.spec.samples for u in s.used if u.earns] + [link for link in kit.spec.links if link.earns]
    assert earning and page.count("this link earns the club money") == len(earning)
    assert len(re.findall(r'rel="sponsored', page)) == len(earning)


def test_a_sample_leads_to_the_arrangement_it_used(site: Path):
    page = unescape((site / WATCHED / "index.html").read_text(encoding="utf-8"))
    samples = page[page.index('id="samples"') : page.index('id="asked"')]
    tiles = re.findall(r'href="arrangements\.html#([^"]+)"', samples)
    assert len(tiles) == 2 and samples.count('class="kw-sample"') == 3
    gallery = Page(site / WATCHED / "arrangements.html")
    assert all(tile in gallery.ids for tile in tiles)
    assert samples.count("<img") == 3 + len(tiles)


def test_questions_stand_where_they_belong_and_on_one_page(site: Path, archive: Archive):
    whole = text_of((site / "asked.html").read_text(encoding="utf-8"))
    for entry in archive.entries:
        kit = kit_of(entry)
        for n, question in enumerate(getattr(kit.spec, "questions", []), 1):
            page = (site / "kits" / kit.id / "index.html").read_text(encoding="utf-8")
            assert question.ask in whole and page.count(f'id="asked-{n}"') == 1
            before = page[: page.index(f'id="asked-{n}"')]
            last = re.findall(r'<(?:section|li)\b[^>]* id="(need|pieces|cut|build|more|guide-\d+|step-[^"]+)"', before)[-1]
            assert last == (f"step-{question.step}" if question.step else last)
            assert not question.sheet or last.startswith("guide-")
            assert not question.piece or last == "pieces"


def test_people_are_named_once_and_linked_from_what_they_did(site: Path, archive: Archive):
    people = Page(site / "people.html")
    for entry in archive.entries:
        key = getattr(kit_of(entry).spec, "by", None)
        if key:
            assert (
                f"people.html#{key}" in (site / "kits" / kit_of(entry).id / "index.html").read_text(encoding="utf-8")
                and people.ids[key] == 1
            )
    said = text_of((site / "people.html").read_text(encoding="utf-8"))
    for person in archive.people.values():
        assert (person.spec.name in said) == person.agreed("name")
        assert not person.spec.link or (person.spec.link in (site / "people.html").read_text(encoding="utf-8")) == person.agreed("link")


def test_questions_and_corrections_are_in_the_index_once(site: Path):
    index = Index(site)
    places = index.where("inside panel catches")
    assert len(places) == 1 and all(p.startswith("asked.html#") for p in places)
    assert index.where("ten left panes") == {"errata.html#2026-09-harbour-lights-r2"}


# --- in the browser ---------------------------------------------------------------------------------------

browser = pytest.mark.browser


@browser
@pytest.mark.parametrize("name", PAGES)
def test_both_pictures_of_a_correction_are_at_one_size_beside_or_below_one_another(reader, address: str, name: str):
    """Opened once and given each width in turn."""
    one = reader(PHONE)
    page = one.open(address + name)
    for viewport in (PHONE, TABLET, DESKTOP):
        one.resize(viewport)
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"], f"{name} is wider than the screen"
        assert page.evaluate("[...document.images].filter(i => !(i.complete && i.naturalWidth)).map(i => i.src)") == []
        pairs = page.locator(".kw-compare").all()
        assert pairs or not name.endswith("errata.html")
        for pair in pairs:
            was, now = (image.bounding_box() for image in pair.locator("img:visible").all())
            scale = [image["width"] for image in (was, now)]
            assert abs(scale[0] - scale[1]) < 1
            if viewport == PHONE:
                assert now["y"] >= was["y"] + was["height"] and now["x"] == was["x"]
            else:
                assert now["x"] >= was["x"] + was["width"] and abs(now["y"] - was["y"]) < 1
            narrow = pair.locator("img:visible").first.evaluate("i => i.currentSrc")
            # Beside one another on a tablet, each is as narrow as on a phone.
            assert narrow.endswith("-narrow.svg") == (viewport != DESKTOP)
    assert one.complaints == []


@browser
def test_from_notice_to_drawing_by_keyboard(reader, address: str):
    page = reader(DESKTOP).open(f"{address}{LABELS}index.html", whole=False)
    link = page.get_by_role("link", name=re.compile("What was wrong, and what to do"))
    for _ in range(40):
        page.keyboard.press("Tab")
        if link.evaluate("l => l === document.activeElement"):
            break
    expect(link).to_be_focused()
    expect(link).to_be_in_viewport()
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"errata\.html#2026-09-harbour-lights-r2$"))
    expect(page.locator("h2#\\32 026-09-harbour-lights-r2")).to_be_in_viewport()


@browser
def test_a_question_is_found_by_its_words(reader, address: str):
    one = reader()
    one.open(address + "index.html", whole=False)
    assert "Questions" in one.search("inside panel catches fold")
    assert "Questions" in one.search("class of twenty-four")


# --- the team's own site --------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def team_site(tmp_path_factory, worker_id: str) -> Path:
    """The team's site of one kit that is still to come, with stand-ins for what can be downloaded."""

    def made(root: Path) -> None:
        club = CLUB + "address: https://bench.example/cards\nteam:\n  - {who: ada-bellwether, role: leads}\n"
        kits = people_archive(root, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING, club=club)
        for file in kits.rglob("*.jpg"):
            Image.new("RGB", (400, 300), (109, 173, 210)).save(file, "JPEG")
        then = at("2029-12-01 12:00")
        with quickly():
            build_archive(root, root / "site-team", as_of=then, audience="team", now=then)

    return once(tmp_path_factory, worker_id, "team", made) / "site-team"


def test_the_teams_page_leads_to_every_section_and_is_not_found_by_search(team_site: Path):
    assert faults_of(team_site) == []
    page = next(team_site.glob("kits/*/team.html"))
    # What is shared leads to the public page, whose places are those of the page in the team's own copy.
    kit, there = Page(page.parent / "index.html"), "https://bench.example/cards/kits/2030-01-test-kit/index.html"
    links = re.findall(rf"<code>{re.escape(there)}#([^<]+)</code>", unescape(page.read_text(encoding="utf-8")))
    assert {"the-sketch", "guide-1", "step-build", "step-by-step"} <= set(links) and all(kit.ids[link] == 1 for link in links)
    assert 'href="team.html"' in (page.parent / "index.html").read_text(encoding="utf-8") and (team_site / "team.html").is_file()
    said = text_of(page.read_text(encoding="utf-8"))
    assert "23:30, Kolkata time" in said and "18:00, Lisbon time" in said and "PREVIEW" in said
    index = Index(team_site)
    assert index.documents and not any("team.html" in address for address in index.addresses)


@browser
@pytest.mark.parametrize("viewport, scheme", [(PHONE, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"])
def test_the_teams_pages_are_for_everybody(reader, team_site: Path, viewport: dict[str, int], scheme: str):
    one = reader(viewport, scheme)
    names = ["team.html", *(page.relative_to(team_site).as_posix() for page in sorted(team_site.glob("kits/*/team.html")))]
    for name in (*names, next(team_site.glob("kits/*/for-*.html")).relative_to(team_site).as_posix()):
        page = one.open((team_site / name).as_uri())
        assert one.complaints == []
        assert faults(page, name) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
        # axe itself reads the style sheets, which a browser forbids it from a folder.
        one.complaints.clear()
