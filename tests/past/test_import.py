"""`kitwright import`: many old printables at once, each a whole kit or none; what is there stays."""

from __future__ import annotations

import datetime as dt
import os
import re
import sys
from pathlib import Path

import pytest
from archive.finding import Index
from archive.small import tree_of
from kitwright.archive import build
from kitwright.archive.gather import gather
from kitwright.errors import UserError
from kitwright.kit.kit import PastKit
from kitwright.kit.read import read_club, read_kit
from kitwright.past import write
from kitwright.past.kept import FOLDER, checksum, kept
from kitwright.past.looking import look
from kitwright.past.plan import plan
from kitwright.past.reading import Unreadable
from kitwright.telling.past import sizes_as_written
from pdfs import A4, noted, pdf

BOATS = pdf("Paper boats\nfold the hull twice", "and the sail", title="Paper Boats")
STARS = noted(pdf("Stars of straw", size=A4), "D:20181201")
GRUSS = pdf("Grüße")
FOUR = {
    "July 2019 - paper boats v2 FINAL.pdf": BOATS,
    "2018/stars (1).PDF": STARS,
    "2017/März 2017 Frühlingsgrüße.pdf": GRUSS,
    "03-04-2019 Kites.pdf": pdf("Kites"),
}
IDS = ["2017-03-fruehlingsgruesse", "2018-12-stars", "2019-04-kites", "2019-07-paper-boats"]


def test_old_printables_become_past_kits(desk):
    desk.put(FOUR)
    said = desk.run("import", str(desk.old), "--yes").output
    assert desk.ids == IDS and "Wrote 4 past kits" in said and "2 pages, Letter" in said and "1 page, A4" in said
    club = read_club(desk.kits)
    kits = {id: read_kit(desk.kits / id, club) for id in IDS}
    assert all(isinstance(kit, PastKit) for kit in kits.values())
    assert kits["2019-07-paper-boats"].spec.title == "Paper Boats" and kits[IDS[0]].spec.title == "Frühlingsgrüße"
    assert (desk.kits / "2019-07-paper-boats" / "paper-boats.pdf").read_bytes() == BOATS
    assert desk.run("check").output == "4 old printables: nothing to mend\n"
    # What was guessed from what, and how sure, is said where it is corrected; the printables themselves stay.
    text = {id: (desk.kits / id / "kit.yaml").read_text(encoding="utf-8") for id in IDS}
    assert (
        'without "v2" and "FINAL"' in text["2019-07-paper-boats"]
        and "Month: July 2019, from the file’s name." in text["2019-07-paper-boats"]
    )
    assert "the year from the folder’s name, the month from the day on which the PDF was made; unsure" in text["2018-12-stars"]
    assert "unsure: it may be March as well" in text["2019-04-kites"] and "reveal: 2019-04-03" in text["2019-04-kites"]
    assert tree_of(desk.old).keys() == FOUR.keys()


def test_again_with_more_only_what_is_new_comes_in_and_corrections_stay(desk):
    desk.put(FOUR)
    desk.run("import", str(desk.old), "--yes")
    # Corrected: another title, another month by another name of the folder, a word that was read wrongly, a kit taken out.
    mended = desk.kits / "2019-03-kites"
    (desk.kits / "2019-04-kites").rename(mended)
    for file in (mended / "kit.yaml", mended / FOLDER / "words.txt"):
        file.write_text(file.read_text(encoding="utf-8").replace("Kites", "Dragons"), encoding="utf-8")
    # Half a correction is told: the day that was guessed still says April.
    told = desk.run("check", "2019-03-kites", status=1).output
    assert "3 April 2019 is in another month than its folder, March 2019" in told and "kit.yaml:10" in told
    (mended / "kit.yaml").write_text(
        (mended / "kit.yaml").read_text(encoding="utf-8").replace("2019-04-03", "2019-03-04"), encoding="utf-8"
    )
    desk.run("check", "2019-03-kites")
    before = tree_of(desk.kits)
    assert "4 PDFs are in 4 kits already" in desk.run("import", str(desk.old)).output
    desk.put({"2016-01 a.pdf": pdf("a"), "b/2016-01 b.pdf": pdf("b"), "2016-01 A!.pdf": pdf("another a")})
    said = desk.run("import", str(desk.old), "--yes").output
    assert "Wrote 3 past kits" in said and {"2016-01-a", "2016-01-a-2"} <= set(desk.ids)
    assert before.items() <= tree_of(desk.kits).items()


def test_first_it_says_what_it_would_do(desk):
    desk.put(FOUR)
    before = tree_of(desk.kits)
    said = desk.run("import", str(desk.old), typed="n\n", status=1).output
    assert (
        all(id in said for id in IDS)
        and "April 2019 from the file’s name; unsure: it may be March as well" in said
        and "Nothing was changed." in said
    )
    assert tree_of(desk.kits) == before


def test_two_imports_at_once_write_each_once(desk):
    desk.put({"2016-01 a.pdf": BOATS})
    club = read_club(desk.kits)
    first, second = (plan([desk.old], desk.kits, club, dt.date(2026, 11, 26)) for _ in range(2))
    assert [
        write.write(found, desk.kits, lambda kit: f"past: yes\ntitle: A\nprintable: {write.printable_name(kit)}\n").kits
        for found in (first, second)
    ] == [["2016-01-a"], []]
    assert desk.ids == ["2016-01-a"]


def test_two_in_a_month_and_the_same_twice(desk):
    desk.put({"2019-07 boats.pdf": BOATS, "2019-07 boats v2.pdf": GRUSS, "x/boats july 2019 copy.pdf": BOATS})
    said = desk.run("import", str(desk.old), "--yes").output
    assert desk.ids == ["2019-07-boats", "2019-07-boats-2"]
    assert "x/boats july 2019 copy.pdf is the same PDF as 2019-07 boats.pdf: left out" in said
    assert "perhaps another version of 2019-07-boats" in said


def test_what_is_no_printable_is_named_and_left_out(desk, monkeypatch):
    monkeypatch.setattr("kitwright.past.plan.LARGEST_PDF", 200_000)
    desk.put(
        {
            "2019-01 locked.pdf": pdf("secret", password="river"),
            "2019-02 broken.pdf": BOATS[:300],
            "2019-03 words.pdf": b"just words",
            "2019-04 nothing.pdf": b"",
            "2019-05 huge.pdf": b"%PDF-1.4" + bytes(200_000),
            "boats.pdf": BOATS,
            "2019-06 fine.pdf": STARS,
            "readme.txt": b"no PDF",
            "._2019-07 ghost.pdf": b"what a system leaves beside a file",
        }
    )
    said = desk.run("import", str(desk.old), "--yes", status=1).output
    assert desk.ids == ["2019-06-fine"]
    for words in (
        "locked.pdf asks for a password",
        "broken.pdf can't be opened",
        "words.pdf is no PDF",
        "nothing.pdf is no PDF",
        "huge.pdf is far too large",
    ):
        assert words in said
    assert "nothing tells when boats.pdf is from" in said and "--month 2019-07" in said and "ghost" not in said and "readme" not in said
    desk.run("import", str(desk.old / "boats.pdf"), "--month", "2019-07", "--yes")
    assert desk.ids == ["2019-06-fine", "2019-07-boats"]


def test_months_that_nothing_tells_are_asked_for_at_a_terminal(desk, monkeypatch):
    """A line each, not a command each; what isn't known stays out."""
    monkeypatch.setattr("kitwright.cli.import_.at_a_terminal", lambda: True)
    desk.put({"2018/stars.pdf": pdf("s"), "swan.pdf": BOATS, "tulips.pdf": GRUSS, "vase.pdf": pdf("v")})
    said = desk.run("import", str(desk.old), typed="3\n2019-13\n2019-5\n\n.\ny\n", status=1).output
    assert desk.ids == ["2018-03-stars", "2019-05-swan"]
    assert "2018/stars.pdf (2018)" in said and "no month that is over" in said and "2 PDFs of no month left out, such as tulips.pdf" in said
    assert "what you typed" in (desk.kits / "2019-05-swan" / "kit.yaml").read_text(encoding="utf-8")
    # What was settled is not asked again.
    assert "stars.pdf" not in desk.run("import", str(desk.old), typed=".\n", status=1).output
    assert "(2018)" not in desk.run("import", str(desk.old), "--yes", status=1).output


def test_what_may_be_wrong_stands_last_and_the_plainer_of_two_names_stays(desk):
    desk.put({"03-04-2019 a.pdf": BOATS, "2017/May/b.pdf": GRUSS, "2019-09 boats.pdf": STARS, "2019-09 boats (1).pdf": STARS})
    said = desk.run("import", str(desk.old), "--yes").output
    order = ["2019-09-boats: ", "put together", "2017-05-b: ", "unsure; look", "2019-04-a: ", "2019-09 boats (1).pdf is the same PDF as"]
    assert [said.index(each) for each in order] == sorted(said.index(each) for each in order)
    assert all(len(line) <= 80 for line in said.splitlines() if "same PDF" not in line and "Correct in" not in line)


def test_what_can_not_be_meant(desk):
    assert "no such file or folder" in desk.run("import", str(desk.home / "gone"), status=2).output
    (desk.home / "a.txt").write_text("")
    assert "neither a folder nor a PDF" in desk.run("import", str(desk.home / "a.txt"), status=2).output
    for month in ("2019", "July", "2999-01", "2019-13", ""):
        assert "is no month" in desk.run("import", str(desk.old), "--month", month, status=2).output
    assert "There are no PDFs here" in desk.run("import", str(desk.old)).output


def test_names_that_would_mislead_a_terminal_or_a_kit_file(desk):
    odd = {
        "2019-07 a: #b 'c' \"d\" {e} [f].pdf": b"1",
        "2019-07 -.pdf": b"2",
        "2019-07 \x1b[2J\nx: y.pdf": b"3",
        "2019-07 null.pdf": b"4",
        "2019-07 ../x.pdf".replace("/", "∕"): b"5",
    }
    desk.put({name: pdf(mark.decode()) for name, mark in odd.items()})
    if sys.platform == "linux":
        # A name in another system's letters.
        odd[os.fsdecode(b"2019-07 s\xe4cke.pdf")] = b"6"
        desk.put({os.fsdecode(b"2019-07 s\xe4cke.pdf"): pdf("6")})
    assert "\x1b" not in desk.run("import", str(desk.old), "--yes").output
    club = read_club(desk.kits)
    assert len(desk.ids) == len(odd) and all(isinstance(read_kit(desk.kits / id, club), PastKit) for id in desk.ids)


def test_stopped_on_the_way_leaves_whole_kits_and_goes_on_from_there(desk, monkeypatch):
    desk.put(FOUR)
    real, renamed = os.rename, []

    def stop(old, new):
        if len(renamed) == 2 and Path(new).parent == desk.kits:
            raise KeyboardInterrupt
        renamed.extend([new] if Path(new).parent == desk.kits else [])
        real(old, new)

    with monkeypatch.context() as patch:
        patch.setattr(write.os, "rename", stop)
        desk.run("import", str(desk.old), "--yes", status=130)
    assert desk.ids == IDS[:2]
    assert desk.run("check").output == "2 old printables: nothing to mend\n"
    desk.run("import", str(desk.old), "--yes")
    assert desk.ids == IDS


def test_a_full_disk_is_told_with_what_is_whole(desk, monkeypatch):
    desk.put(FOUR)
    monkeypatch.setattr(write, "sync_tree", lambda folder: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    assert "the disk is full: make room; nothing was changed" in desk.run("import", str(desk.old), "--yes", status=2).output
    assert desk.ids == []


def test_changed_between_the_question_and_the_answer(desk, monkeypatch):
    desk.put(FOUR)

    def meanwhile(*args, **kwargs):
        (desk.old / "03-04-2019 Kites.pdf").write_bytes(BOATS)
        return True

    monkeypatch.setattr("click.confirm", meanwhile)
    assert "was changed while it was looked at" in desk.run("import", str(desk.old), status=1).output
    assert "2019-04-kites" not in desk.ids and len(desk.ids) == 3


# --- what lies loose in the folder of kits --------------------------------------------------------------------


def test_pages_that_lie_loose_are_noticed_and_get_their_folders(desk):
    (desk.kits / "old pages" / "2018").mkdir(parents=True)
    (desk.kits / "2016-05-swans").mkdir()
    loose = {"boats 2019-07.pdf": BOATS, "old pages/2018/stars.pdf": STARS, "2016-05-swans/Swans.pdf": GRUSS}
    for name, data in loose.items():
        (desk.kits / name).write_bytes(data)
    told = desk.run("check", status=2).output
    assert "there are PDFs here, and no kits yet" in told and "kitwright import kits" in told
    desk.put({"2015-01 a.pdf": pdf("alone")})
    desk.run("import", str(desk.old), "--yes")
    told = desk.run("check", status=1).output
    for name in ("kits/boats 2019-07.pdf", "kits/old pages", "kits/2016-05-swans"):
        assert f'kitwright import "{name}"' in told
    assert len(gather(desk.root).left) == 3
    desk.run("import", str(desk.kits), "--yes")
    assert desk.ids == ["2015-01-a", "2016-05-swans", "2018-12-stars", "2019-07-boats"]
    # Each lies in its kit's folder now, and nowhere else; what was named as a kit is one.
    assert [f.name for f in desk.kits.glob("*.pdf")] == [] and (desk.kits / "2016-05-swans" / "Swans.pdf").read_bytes() == GRUSS
    assert (desk.kits / "2019-07-boats" / "boats.pdf").read_bytes() == BOATS
    desk.run("check")


def test_a_loose_page_that_a_kit_has_already_is_told_as_spare(desk):
    desk.put({"2019-07 boats.pdf": BOATS})
    desk.run("import", str(desk.old), "--yes")
    (desk.kits / "again.pdf").write_bytes(BOATS)
    said = desk.run("import", str(desk.kits)).output
    assert "again.pdf lies in 2019-07-boats already" in said and "you can delete it" in said and (desk.kits / "again.pdf").exists()


def test_a_kit_that_lost_its_kit_file_is_still_told_as_that(desk):
    desk.put({"2019-07 boats.pdf": BOATS})
    desk.run("import", str(desk.old), "--yes")
    (desk.kits / "2019-07-boats" / "kit.yaml").unlink()
    # More than a page lies there, so it was a kit.
    assert "kit.yaml: there is no such file" in desk.run("check", status=2).output


# --- what the site says -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """A site of an imported kit, one written by hand, one with a picture of its own, and one that nobody can open."""
    from past.conftest import Desk
    from PIL import Image

    desk = Desk(tmp_path_factory.mktemp("past"))
    desk.put({"July 2019 - boats.pdf": pdf("Zeppelin & <b>hull</b>\n*not* a list", "page two", title="Boats")})
    desk.run("import", str(desk.old), "--yes")
    for name, data, more in (
        ("2018-05-hand", pdf("quasar", size=(576, 576)), ""),
        ("2017-05-own", pdf("pulsar"), "thumbnail: t.png\nthumbnail alt: Mine\n"),
        ("2016-05-lost", b"%PDF-1.4\nbroken", ""),
    ):
        (desk.kits / name).mkdir()
        (desk.kits / name / "old.pdf").write_bytes(data)
        (desk.kits / name / "kit.yaml").write_text(f"past: yes\ntitle: {name[8:]}\nprintable: old.pdf\n{more}", encoding="utf-8")
    Image.new("RGB", (40, 30), "white").save(desk.kits / "2017-05-own" / "t.png")
    desk.report = build.build_archive(desk.root, desk.root / "site")
    return desk


def page(site, kit: str) -> str:
    return (site.root / "site" / "kits" / kit / "index.html").read_text(encoding="utf-8")


def test_its_page_says_what_is_known_and_nothing_else(site):
    text = page(site, "2019-07-boats")
    assert "2 pages, Letter" in text and 'src="page-1.' in text and "An old printable" in text and "computed" not in text
    assert "Zeppelin &amp; &lt;b&gt;hull" in text and "<em>not" not in text
    assert "1 page, 8 × 8 in" in re.sub("<[^>]+>", "", page(site, "2018-05-hand")) and 'src="page-1.' in page(site, "2018-05-hand")
    own = page(site, "2017-05-own")
    assert 'src="thumbnail.png" alt="Mine"' in own and "page-1" not in own and "1 page, Letter" in own
    lost = page(site, "2016-05-lost")
    assert "Printable</span>" not in lost and "kw-words" not in lost and "Download the old printable" in lost
    assert [f.code for f in site.report.warnings] == ["past.broken"]
    archive = (site.root / "site" / "archive.html").read_text(encoding="utf-8")
    _, archive = archive.split('class="kw-all__years"')
    assert archive.count("old printable") == 4 and "2 pages" in archive and "page-1-small" in archive


def test_a_word_that_stands_only_in_the_pdf_is_found(site):
    index = Index(site.root / "site")
    assert all(index.where(word) for word in ("Zeppelin", "quasar", "pulsar"))


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("Cut 3-1/2 x 1-1/4, 5 1/2x4 1/4 and 12x12", "Cut 3½ × 1¼, 5½ × 4¼ and 12 × 12"),
        ("3-15/16 by 1/4, 3½x2", "3 15⁄16 by ¼, 3½ × 2"),
        ("on 7/4/2019, 12/2018, kit 3/2, 24/7, 1/10", "on 7/4/2019, 12/2018, kit 3/2, 24/7, 1/10"),
        ("Box 0x0 of x 3, 2 cards", "Box 0 × 0 of x 3, 2 cards"),
    ],
)
def test_sizes_in_old_words_are_written_as_search_asks_for_them(said, written):
    """So that readers see one way to write a size; search takes any."""
    assert sizes_as_written(said) == written == sizes_as_written(written)


def test_what_was_kept_is_enough_to_build_from(site, monkeypatch):
    """Of those written by hand, import keeps it too; then no PDF is read, and nothing comes out otherwise."""
    (before, _), club = look(read_kit(site.kits / id, read_club(site.kits)) for id in site.ids), read_club(site.kits)
    said = site.run("import", str(site.kits), "--yes", status=1).output
    assert "Kept pictures and words beside 2 past kits" in said and "old.pdf can't be opened" in said
    monkeypatch.setattr("kitwright.past.looking._known", {})
    monkeypatch.setattr("kitwright.past.looking.read_all", lambda files: [Unreadable("past.broken") for _ in files])
    after, told = look(read_kit(site.kits / id, club) for id in site.ids)
    assert after == before and len(after) == 3 and len(told) == 1


def test_who_is_forgotten_is_found_by_no_search(desk):
    """The words that were taken from a PDF are text of the archive; the PDF itself is told as what could not be changed."""
    desk.put({"2019-07 boats.pdf": pdf("Boats by Ada Bell")})
    desk.run("import", str(desk.old), "--yes")
    (desk.kits / "people" / "ada-bell").mkdir(parents=True)
    (desk.kits / "people" / "ada-bell" / "person.yaml").write_text(
        "name: Ada Bell\nconsent: {on: 2027-01-01, to: [name]}\n", encoding="utf-8"
    )
    said = desk.run("forget", "Ada Bell", "--yes").output
    words = desk.kits / "2019-07-boats" / FOLDER / "words.txt"
    assert words.read_text(encoding="utf-8") == "Boats by a maker\n" and "boats.pdf" in said
    kit = read_kit(words.parents[1], read_club(desk.kits))
    assert isinstance(kit, PastKit) and look([kit])[0][kit.id].words == "Boats by a maker"


def test_a_kit_that_came_from_a_stranger(desk):
    """What lies in `from-pdf` is believed as far as it is what import writes, and no further."""
    desk.put({"2019-07 boats.pdf": BOATS})
    desk.run("import", str(desk.old), "--yes")
    folder, club = desk.kits / "2019-07-boats" / FOLDER, read_club(desk.kits)
    kit = read_kit(folder.parent, club)
    assert isinstance(kit, PastKit)
    whole = {f.name: f.read_bytes() for f in folder.iterdir()}
    assert kept(kit, checksum(BOATS)) and kept(kit, checksum(STARS)) is None
    large = next(name for name in whole if name.startswith("page-1."))
    for name, data in (
        ("facts.json", b"[]"),
        ("facts.json", whole["facts.json"].replace(b'"pages": 2', b'"pages": 1e9')),
        ("facts.json", whole["facts.json"].replace(b'"612"', b'"1/0"')),
        ("facts.json", whole["facts.json"].replace(b'"612"', b'"-612"')),
        ("facts.json", b"{" * 100_000),
        (large, b"<svg onload=x>"),
    ):
        (folder / name).write_bytes(data)
        assert kept(kit, checksum(BOATS)) is None, data[:40]
        (folder / name).write_bytes(whole[name])
    (folder / "words.txt").write_bytes("a\x00\x1b[2J\u202eb\ufb01n\n\n\nc".encode() + b"\xff" + b"x" * 100_000)
    old = kept(kit, checksum(BOATS))
    assert old and old.words.startswith("a[2Jbfin\nc") and len(old.words) == 8_000
    (folder / "words.txt").unlink()
    assert kept(kit, checksum(BOATS)).words == ""


def test_a_printable_that_is_gone_is_told_as_before(desk):
    desk.put({"2019-07 boats.pdf": BOATS})
    desk.run("import", str(desk.old), "--yes")
    (desk.kits / "2019-07-boats" / "boats.pdf").unlink()
    with pytest.raises(UserError, match="boats.pdf"):
        read_kit(desk.kits / "2019-07-boats", read_club(desk.kits))
