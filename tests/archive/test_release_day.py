"""Publishing day: nothing a second early, nothing changed silently, nobody who was forgotten.

Every byte of what is built is looked at: names of files, pages, search, feed, map of the
site, pictures' own notes, and all that a PDF holds.
"""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree as ET

import feedparser
import pytest
from archive import town
from archive.pagecheck import faults_of
from archive.scanning import found_in, nowhere, pdf_pages
from archive.small import tree_of
from archive.town import (
    GUEST,
    KIT,
    LATER,
    MENDED,
    OF_CORRECTION,
    OF_GUEST,
    OF_KIT,
    OF_LATER,
    OF_MEMBERS,
    OF_SAMPLES,
    OF_SLIP,
    REVEAL,
    SAMPLES,
    SECOND,
    kit_of,
)
from kitwright.archive.build import MARKER, BuildRefused, build_archive
from kitwright.archive.gather import gather
from kitwright.archive.standing import standing
from kitwright.errors import UserError
from kitwright.release.ledger import read_ledger
from kitwright.release.lookup import table
from kitwright.release.record import released
from kitwright.release.revisions import sha256
from kitwright.release.state import preview_code
from kitwright.work.worked import Worked
from kitwright.work.working import work
from sharing import once

PUBLIC = ["before", "at", "samples-before", "samples", "guest-before", "guest", "mended-before", "mended", "forgotten-public"]
TEAM, MEMBERS = ["team", "team-mended", "forgotten-team"], ["members-before", "members", "forgotten-members"]


@pytest.fixture(scope="session")
def sites(tmp_path_factory, worker_id: str) -> Path:
    """The town, with its site of every moment below it; not to be changed."""
    return once(tmp_path_factory, worker_id, "town", town.build_all)


def pages(site: Path) -> Iterator[tuple[str, str]]:
    for file in sorted(site.rglob("*.html")):
        yield file.relative_to(site).as_posix(), file.read_text(encoding="utf-8")


# --- nothing early -----------------------------------------------------------------------------


def test_a_kit_leaves_no_byte_until_its_reveal_and_all_is_there_at_it(sites: Path):
    assert nowhere(sites / "before", OF_KIT) == []
    found = found_in(sites / "at", OF_KIT)
    assert [word for word, files in found.items() if not files] == []
    # The scan sees into everything that the kit comes in.
    assert {name.rsplit(".", 1)[-1] for name in found["Quartz lantern"]} >= {"html", "pdf", "json", "js", "xml", "svg"}
    assert any(f.endswith(".gz") for f in found[KIT]) and "kits.json" in found[KIT] and "feed.xml" in found[KIT]
    assert any(f.endswith(".png") for f in found["wickerwork"]) and any(f.endswith(".pdf") for f in found["97.5 × 41.5"])


def test_samples_and_the_guests_turn_come_to_the_second(sites: Path):
    for early in ("before", "at", "samples-before"):
        assert nowhere(sites / early, [*OF_SAMPLES, *OF_GUEST]) == [], early
    assert nowhere(sites / "samples", OF_GUEST) == nowhere(sites / "guest-before", OF_GUEST) == []
    assert all(found_in(sites / "samples", OF_SAMPLES).values()) and all(found_in(sites / "guest", OF_GUEST[:2]).values())


def test_an_earlier_second_changes_nothing_else(sites: Path):
    """Between two moments the site is the same to the byte: nothing carries the time at which it was built."""
    for one, other in (("at", "samples-before"), ("samples", "guest-before"), ("guest", "mended-before")):
        a, b = tree_of(sites / one), tree_of(sites / other)
        assert sorted(a) == sorted(b) and [name for name in a if a[name] != b[name]] == [], (one, other)


def test_a_correction_is_not_there_before_its_release(sites: Path):
    two = released(kit_of(sites / "kits"))[1]
    for early in ("at", "guest", "mended-before"):
        assert nowhere(sites / early, [*OF_CORRECTION, two.code]) == [], early
    assert all(found_in(sites / "mended", [*OF_CORRECTION, two.code]).values())


@pytest.mark.parametrize("name", [*PUBLIC, *TEAM, *MEMBERS])
def test_of_what_was_taken_back_the_code_alone_is_known_and_only_when_the_kit_is_public(sites: Path, name: str):
    """On the page of codes, and nowhere else: as that of a test copy."""
    ((gone,), (now, *_)) = read_ledger(sites / "kits").taken_back(KIT), released(kit_of(sites / "kits"))
    assert nowhere(sites / name, OF_SLIP) == []
    for code in (gone.code, gone.code.replace("-", "")):
        found = found_in(sites / name, [code])[code]
        assert found == (set() if name == "before" or name in MEMBERS else {"mycopy.html"}), (name, code)
    if name in PUBLIC[1:]:
        text = (sites / name / "mycopy.html").read_text(encoding="utf-8")
        assert "a test copy of revision 1, which was replaced before it was public. Print the newest one." in text
        assert gone.code != now.code and now.number == 1


@pytest.mark.parametrize("name", [*PUBLIC, *MEMBERS])
def test_what_is_still_to_come_is_in_no_site_but_the_teams(sites: Path, name: str):
    kit = kit_of(sites / "kits", LATER)
    assert nowhere(sites / name, [*OF_LATER, preview_code(work(kit))]) == []


@pytest.mark.parametrize("name", [*PUBLIC, *TEAM, "members-before"])
def test_no_byte_of_what_is_for_members_is_anywhere_else(sites: Path, name: str):
    assert nowhere(sites / name, OF_MEMBERS) == []
    packed = sorted((sites / name).rglob("*.zip"))
    # The team's one download of each kit, and nothing in it that is for members.
    assert [f.parent.name for f in packed if f.name == f"{f.parent.name}-everything.zip"] == ([KIT, LATER] if name in TEAM else [])
    assert len(packed) == (2 if name in TEAM else 0) and not list((sites / name).rglob("*.dxf"))
    for file in packed:
        with zipfile.ZipFile(file) as inside:
            assert {Path(each).suffix for each in inside.namelist()} == {".pdf", ".png", ".txt"}, file


def test_the_public_page_says_that_members_have_more(sites: Path):
    text = (sites / "guest" / "kits" / KIT / "index.html").read_text(encoding="utf-8")
    # Words of the trade in it lead to what they mean.
    assert "For members there is also: a bonus greeting; cut files" in re.sub(r"</?a\b[^>]*>", "", text)


# --- the team's and the members' ---------------------------------------------------------------


@pytest.mark.parametrize("name", [*TEAM, *MEMBERS])
def test_what_is_not_public_says_so_on_every_page_and_asks_search_engines_away(sites: Path, name: str):
    for page, text in pages(sites / name):
        assert "<title>Not public · " in text and "<strong>Not public.</strong>" in text, page
        assert '<meta name="robots" content="noindex, nofollow, noarchive">' in text and 'rel="canonical"' not in text, page
    assert (sites / name / "robots.txt").read_text().splitlines() == ["User-agent: *", "Disallow: /"]
    assert not [f for f in ("feed.xml", "kits.json", "sitemap.xml", "sitemap.xml.gz") if (sites / name / f).exists()]
    assert "Not public" in (sites / name / MARKER).read_text()


@pytest.mark.parametrize("name", [*PUBLIC, *MEMBERS])
def test_nothing_of_the_teams_own_pages_is_anywhere_else(sites: Path, name: str):
    assert nowhere(sites / name, ["BEGIN:VCALENDAR", "What may be shown when", "everything.zip"]) == []
    assert not [f for f in (sites / name).rglob("*") if f.name.startswith("for-") or f.suffix == ".ics"]


def test_whoever_was_forgotten_has_no_page_of_her_own_any_more(sites: Path):
    marks = [{f.name for f in (sites / name).glob(f"kits/{KIT}/for-*")} for name in ("team-mended", "forgotten-team")]
    assert len(marks[0]) == 4 and len(marks[1]) == 2 and marks[1] < marks[0], "a page and a calendar each"
    assert not [f for f in marks[0] if "oldacre" in f or "fairweather" in f], "an address tells no name"


@pytest.mark.parametrize("name", PUBLIC)
def test_what_is_public_says_nothing_of_the_kind(sites: Path, name: str):
    assert nowhere(sites / name, ["noindex", "not public"]) == [] and not (sites / name / "robots.txt").exists()


@pytest.mark.parametrize("name", [*PUBLIC, *TEAM, *MEMBERS])
def test_every_page_is_sound_and_every_link_leads_somewhere(sites: Path, name: str):
    # The page for addresses that don't exist, and each page's own address, tell where the public site stands.
    told = [f for f in faults_of(sites / name) if not (name in PUBLIC and f.startswith("404.html: ") or "https://bench.example/kits/" in f)]
    assert told == []


def test_the_team_sees_what_is_to_come_marked_as_a_preview(sites: Path):
    assert [w for w, files in found_in(sites / "team", [*OF_KIT, *OF_LATER[:6]]).items() if not files] == []
    code = preview_code(work(kit_of(sites / "kits", LATER)))
    folder = sites / "team" / "kits" / LATER
    pdfs = sorted(folder.glob("*.pdf"))
    assert len(pdfs) >= 2
    for pdf in pdfs:
        for page in pdf_pages(pdf.read_bytes()):
            assert page.count(f"PREVIEW {code}") >= 2, pdf
    text = (folder / "index.html").read_text(encoding="utf-8")
    assert "PREVIEW" in text and code in text and "Upcoming." in text and "Saturday 2 November 2030, 10:00, Lisbon time" in text
    assert code in (sites / "team" / "mycopy.html").read_text(encoding="utf-8")
    # A kit that is released but not revealed is what it will be.
    assert "Revision 1, released" in (sites / "team" / "kits" / KIT / "index.html").read_text(encoding="utf-8")


def test_members_get_their_files_as_they_are(sites: Path):
    folder = sites / "members" / "kits" / KIT
    assert (folder / "files" / "extras" / "kelpwort.txt").read_bytes() == (sites / "kits" / KIT / "extras" / "kelpwort.txt").read_bytes()
    assert (folder / "files" / f"{KIT}-cut-files.zip").is_file()
    assert not list((sites / "members-before").glob("kits/*"))


@pytest.mark.parametrize("name", [*TEAM, *MEMBERS])
def test_what_is_not_public_works_wherever_its_host_puts_it(sites: Path, name: str):
    """At any address below any folder, and from a folder: no link starts at the top of a host, nor in any style or script."""
    site = sites / name
    for page, text in pages(site):
        links = re.findall(r"""\s(?:href|src|srcset|data-[a-z]+|action)=["']([^"']*)""", text)
        assert not [link for link in links if link.startswith("/")], page
        assert page == "404.html" or any(link.startswith(("look/", "../")) for link in links)
        assert [f for f in re.findall(r'"base": ?"([^"]*)"', text) if f.startswith("/")] == [], page
    for style in site.rglob("*.css"):
        assert not re.search(r"url\(['\"]?/", style.read_text(encoding="utf-8")), style
    # Served for any address, however deep: nothing in it can lead into the site.
    lost = (site / "404.html").read_text(encoding="utf-8")
    led = re.findall(r"""\s(?:href|src)=["']([^"']*)""", lost)
    assert led == ["https://bench.example/kits/archive.html"] and "trimmed away" in lost and "<link" not in lost and "<script" not in lost


def test_members_pages_lead_to_the_kits_own_pages(sites: Path):
    home, page = ((sites / "members" / at / "index.html").read_text(encoding="utf-8") for at in (".", f"kits/{KIT}"))
    assert 'href="https://bench.example/kits/archive.html"' in home
    assert f'href="https://bench.example/kits/kits/{KIT}/index.html"' in page


@pytest.mark.parametrize("audience", ["team", "members"])
@pytest.mark.parametrize("out", ["site", "site/team", "site/deep/in", "at", "at/team"])
def test_what_is_not_public_never_goes_into_a_site(tmp_path: Path, audience: str, out: str):
    town.write(tmp_path)
    (tmp_path / "at").mkdir()
    (tmp_path / "at" / MARKER).write_text("Made by kitwright build. The next build replaces this whole folder.\n")
    before = tree_of(tmp_path)
    with pytest.raises(UserError):
        build_archive(tmp_path, tmp_path / out, as_of=REVEAL - SECOND, audience=audience, now=REVEAL)
    assert tree_of(tmp_path) == before


def test_nor_does_the_site_go_where_the_teams_is(tmp_path: Path):
    town.write(tmp_path)
    build_archive(tmp_path, tmp_path / "x", as_of=REVEAL - SECOND, audience="members")
    for audience in ("public", "team"):
        with pytest.raises(UserError, match="built for members"):
            build_archive(tmp_path, tmp_path / "x", as_of=REVEAL - SECOND, audience=audience)


# --- nothing silently --------------------------------------------------------------------------


@pytest.mark.parametrize("audience", ["public", "team", "members"])
def test_a_spec_edited_after_its_release_reaches_no_site(sites: Path, tmp_path: Path, audience: str):
    shutil.copytree(sites / "kits", tmp_path / "kits")
    file = tmp_path / "kits" / KIT / "kit.yaml"
    good = file.read_text(encoding="utf-8")
    for old, new in (("title: Quartz lantern", "title: Quartz lamp"), ("97.5 x 40.5", "97.5 x 40"), ("cards: 3", "cards: 2")):
        file.write_text(good.replace(old, new), encoding="utf-8")
        with pytest.raises(BuildRefused) as caught:
            build_archive(tmp_path, tmp_path / "out", as_of=MENDED + SECOND, audience=audience)
        assert any("differs from revision 2" in f.problem or f.level == "error" for f in caught.value.findings)
        assert not (tmp_path / "out").exists()


def test_the_authors_own_preview_marks_what_is_not_published(sites: Path):
    """It shows the files that are being worked on, on this machine only, and never as a revision."""
    kit = kit_of(sites / "kits")
    state, files = standing(kit, work(kit), None)
    assert state.preview and state.code == preview_code(work(kit)) and files == {}
    (shown,) = [one for one in gather(sites).entries if isinstance(one, Worked) and one.kit.id == KIT]
    assert preview_code(shown) == state.code


def test_a_replaced_printable_keeps_its_bytes_at_its_own_address(sites: Path):
    one, two = released(kit_of(sites / "kits"))
    plain, old = sites / "mended" / "kits" / KIT, sites / "mended" / "kits" / KIT / "r1"
    printables = [name for name in one.files if (old / name).is_file()]
    assert len(printables) == 8, "in each edition and ink, and the workbooks"
    for name in printables:
        assert sha256((old / name).read_bytes()) == one.files[name] == sha256((sites / "guest" / "kits" / KIT / name).read_bytes())
        assert sha256((plain / name).read_bytes()) == two.files[name] != one.files[name]
    text = (old / "index.html").read_text(encoding="utf-8")
    assert "This revision was replaced" in text and "revision 2, released 20 July 2030" in text and f"../../../errata.html#{KIT}-r2" in text
    assert 'href="r1/index.html"' in (plain / "index.html").read_text(encoding="utf-8") or f"kits/{KIT}/r1/index.html" in (
        plain / "index.html"
    ).read_text(encoding="utf-8")
    assert not (sites / "guest" / "kits" / KIT / "r1").exists() and not (plain / "r2").exists()


def test_revision_date_and_code_stand_on_the_page_and_on_every_page_of_the_printable(sites: Path):
    one = released(kit_of(sites / "kits"))[0]
    folder = sites / "guest" / "kits" / KIT
    text = " ".join(re.sub(r"<[^>]+>", "", (folder / "index.html").read_text(encoding="utf-8")).split())
    assert f"Revision 1, released 3 July 2030, code {one.code}" in text
    others = [text for name, text in pages(folder) if name != "index.html"]
    assert others and all(f"Revision 1, released 3 July 2030, code {one.code}" in text for text in others)
    for pdf in sorted(folder.glob("*.pdf")):
        for page in pdf_pages(pdf.read_bytes()):
            assert f"Revision 1, released 3 July 2030, code {one.code}" in page and "PREVIEW" not in page


# --- people ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["forgotten-public", "forgotten-team", "forgotten-members"])
def test_who_was_forgotten_is_in_no_byte(sites: Path, name: str):
    words = ["Crispin", "Oldacre", "crispin-oldacre", "oldacre.example", "pomegranate"]
    assert nowhere(sites / name, words) == []
    assert all(found_in(sites / "mended", words[:3]).values()), "she was there before"


# --- what other programs read --------------------------------------------------------------------


def feed_of(site: Path):
    return feedparser.parse((site / "feed.xml").read_bytes())


def test_the_feed_parses_and_tells_what_is_new_with_its_own_time(sites: Path):
    feed = feed_of(sites / "mended")
    assert not feed.bozo and feed.version == "atom10"
    assert [e.published for e in feed.entries][:4] == [f"{t:%Y-%m-%dT%H:%M:%SZ}" for t in (MENDED, GUEST, SAMPLES, REVEAL)]
    assert [e.tags[0].term for e in feed.entries] == ["erratum", "samples", "samples", "reveal", "reveal"]
    assert feed.feed.updated == feed.entries[0].updated and feed.feed.title == "Harrow Lane Bench"
    assert feed.feed.links[0].rel == "self" and feed.feed.links[0].href == "https://bench.example/kits/feed.xml"


def test_ids_of_the_feed_never_change(sites: Path):
    early, late = ({e.id: (e.published, e.link.split("#")[0]) for e in feed_of(sites / n).entries} for n in ("at", "mended"))
    assert early.items() <= late.items() and len(late) == 5
    assert feed_of(sites / "at").feed.id == feed_of(sites / "mended").feed.id


def test_the_feed_has_what_rfc_4287_asks_for(sites: Path):
    """RFC 4287, 4.1.1 and 4.1.2: one id, title and updated each, an author, links with one alternate; 3.3: dates of RFC 3339."""
    atom = "{http://www.w3.org/2005/Atom}"
    root = ET.parse(sites / "mended" / "feed.xml").getroot()
    assert root.tag == f"{atom}feed"
    for part in (root, *root.findall(f"{atom}entry")):
        for tag in ("id", "title", "updated"):
            (only,) = part.findall(f"{atom}{tag}")
            assert only.text and only.text.strip()
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", part.find(f"{atom}updated").text)
        assert len([link for link in part.findall(f"{atom}link") if link.get("rel") == "alternate"]) == 1
    assert root.find(f"{atom}author/{atom}name").text
    assert all(entry.find(f"{atom}summary").text for entry in root.findall(f"{atom}entry"))


class _Ids(HTMLParser):
    def __init__(self, text: str) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.ids |= {value for name, value in attrs if name == "id"}


@pytest.mark.parametrize("name", ["at", "mended"])
def test_every_address_in_feed_and_map_leads_to_a_page_and_a_place_on_it(sites: Path, name: str):
    site, top = sites / name, "https://bench.example/kits/"
    listed = [loc.text for loc in ET.parse(site / "sitemap.xml").getroot().iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")]
    for address in [e.link for e in feed_of(site).entries] + listed:
        assert address.startswith(top)
        parts = urlsplit(address[len(top) :])
        file = site / unquote(parts.path)
        assert file.is_file(), address
        assert not parts.fragment or parts.fragment in _Ids(file.read_text(encoding="utf-8")).ids, address
    assert set(listed) == {top + page for page, _ in pages(site) if page != "404.html"}


def test_the_map_tells_when_pages_really_changed(sites: Path):
    def changed(name: str) -> dict[str, str]:
        space = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
        urls = ET.parse(sites / name / "sitemap.xml").getroot()
        return {u.find(f"{space}loc").text: u.findtext(f"{space}lastmod", "") for u in urls}

    page = f"https://bench.example/kits/kits/{KIT}/index.html"
    assert [changed(n)[page] for n in ("at", "samples", "guest", "mended")] == [
        f"{t:%Y-%m-%dT%H:%M:%SZ}" for t in (REVEAL, SAMPLES, GUEST, MENDED)
    ]
    old = f"https://bench.example/kits/kits/{town.OLD}/index.html"
    assert changed("before")[old] == changed("mended")[old] == "2029-05-01T23:00:00Z"


def test_kits_json_describes_what_is_there(sites: Path):
    data = json.loads((sites / "mended" / "kits.json").read_text(encoding="utf-8"))
    assert [k["id"] for k in data["kits"]] == [town.OLD, KIT]
    kit = data["kits"][1]
    assert (kit["title"], kit["revision"], kit["cards"], kit["published"]) == ("Quartz lantern", 2, 3, "2030-07-06T09:00:00Z")
    for printable in kit["printables"]:
        assert sha256((sites / "mended" / printable["file"]).read_bytes()) == printable["sha256"]
    assert (sites / "mended" / kit["page"]).is_file() and kit["errata"][0]["grade"] == "recut"


def test_feed_and_data_are_linked_from_every_page_and_only_with_an_address(sites: Path, small_site: Path):
    for page, text in pages(sites / "mended"):
        assert (
            len(
                re.findall(
                    r'<link rel="alternate feed" type="application/atom\+xml" title="[^"]+" href="(?:\.\./)*(?:/kits/)?feed\.xml">', text
                )
            )
            == 1
        ), page
        assert 'type="application/json" title="The archive as data"' in text, page
    assert not (small_site / "feed.xml").exists() and "atom+xml" not in (small_site / "index.html").read_text(encoding="utf-8")


# --- is my copy current --------------------------------------------------------------------------


def test_the_page_lists_every_code_that_is_public_and_no_other(sites: Path):
    kit = kit_of(sites / "kits")
    for name, when in (("at", REVEAL), ("mended", MENDED)):
        text = (sites / name / "mycopy.html").read_text(encoding="utf-8")
        known = table([kit], kit.club, when)
        assert set(re.findall(r"<code>([2-9A-Z]{4}-[2-9A-Z]{4})</code>", text)) == {f"{c[:4]}-{c[4:]}" for c in known}
        data = json.loads(text.split('<script type="application/json" id="kw-codes">')[1].split("</script>")[0])
        assert set(data["codes"]) == set(known)
    assert not (sites / "before" / "mycopy.html").exists()
