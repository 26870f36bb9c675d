"""Scans of papers: read as any picture is, upright, cut to what is paper, and told well when they can't be shown."""

from fractions import Fraction

import pytest
from kitwright.colours import contrast, luminance, parts
from kitwright.errors import UserError
from kitwright.kit.kit import Kit
from kitwright.kit.read import read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.work.working import work
from making import BATCH, CLUB, changed, make_archive, make_kit
from odd import papers
from PIL import Image
from scanned import RIVER, SECRET, kit_with, place, saved, sheet


def scan_of(kit: Kit):
    found = kit.papers["river"].front.picture
    assert found is not None
    return found


@pytest.mark.parametrize(
    "front, problem",
    [
        ("{scan: nowhere.png}", "nowhere.png"),
        ("{scan: ../river.png}", "outside"),
        ("{scan: '..\\river.png'}", "backslash"),
        ("{scan: 'papers\\river.png'}", "papers\\river.png"),
        ("{scan: 'C:\\papers\\river.png'}", "outside"),
        ("{scan: /etc/river.png}", "outside"),
        ("{scan: .}", "folder"),
        ("{scan: river.txt}", "not named as a picture"),
        ("{scan: words.png}", "can't be read as a picture"),
        ("{scan: empty.jpg}", "can't be read as a picture"),
        ("{scan: }", "names no picture"),
        ("{scan: river.png, shows: }", "blank"),
        ("{scan: river.png, shows: nothing}", "nothing"),
        ("{scan: river.png, shows: 0 x 12}", "zero"),
        ("{scan: river.png, shows: 305 x 305}", "far more than the sheet"),
        ("{scan: river.png, shows: 1/8 x 1/8}", "less than"),
        ("{scan: river.png, crop: {left: 6, right: 6}, shows: 12 x 12}", "nothing remains"),
        ("{scan: river.png, crop: {left: 13}, shows: 12 x 12}", "nothing remains"),
        ("{scan: river.png, crop: {middle: 1}}", "middle"),
        ("{scan: river.png, turned: sideways}", "sideways"),
        ("{scan: river.png, public: perhaps}", "perhaps"),
        ("{scan: river.png, size: 12 x 12}", "size"),
        ("{shows: 12 x 12}", "there is none"),
        ("{look: dots, public: no}", "there is none"),
    ],
)
def test_every_slip_is_one_error_at_its_line(tmp_path, front, problem):
    folder = make_archive(tmp_path, changed(BATCH, (RIVER, f"front: {front}")))
    for name, data in {"river.png": saved(sheet()), "river.txt": b"x", "words.png": b"no picture", "empty.jpg": b""}.items():
        (folder / name).write_bytes(data)
    with pytest.raises(UserError) as told:
        read_kit(folder, read_club(tmp_path / "kits"))
    (one,) = told.value.each
    line = 1 + BATCH.split("\n").index(f"    {RIVER}")
    assert problem in str(one) and one.place.file.name == "kit.yaml" and one.place.line == line, str(one)


def test_a_slip_elsewhere_hides_none_of_a_scan(tmp_path):
    with pytest.raises(UserError) as told:
        make_kit(tmp_path, changed(BATCH, (RIVER, "front: {scan: nowhere.png}"), ("cards: 9", "cards: none")))
    assert len(told.value.each) == 2


def test_a_link_out_of_the_folder_is_refused(tmp_path):
    (tmp_path / "mine.png").write_bytes(saved(sheet()))
    folder = make_archive(tmp_path, changed(BATCH, (RIVER, "front: {scan: river.png}")))
    (folder / "river.png").symlink_to(tmp_path / "mine.png")
    with pytest.raises(UserError, match="river.png"):
        read_kit(folder, read_club(tmp_path / "kits"))


@pytest.mark.parametrize("form, name", [("JPEG", "river.jpg"), ("PNG", "Fluß/river.PNG"), ("WEBP", "river.webp")])
@pytest.mark.parametrize("orientation, turned, back", [(1, "", 0), (6, "", 90), (1, "right", 90), (8, "left", 180), (3, "upside down", 0)])
def test_a_scan_comes_upright_and_without_notes(tmp_path, form, name, orientation, turned, back):
    """Orientation 6 is shown turned to the right by a quarter, 8 to the left, 3 by half (Exif 2.32, section 4.6.4)."""
    said = f", turned: {turned}" if turned else ""
    kit = kit_with(tmp_path, f"front: {{scan: {name}{said}}}", files={name: saved(sheet(), form, orientation)})
    made = scan_of(kit).picture()
    assert not made.getexif() and SECRET.encode() not in made.tobytes()
    expected = sheet().rotate(-back)
    for at in ((0.1, 0.1), (0.9, 0.2), (0.3, 0.8)):
        where = tuple(int(share * edge) for share, edge in zip(at, made.size))
        there = tuple(int(share * 240) for share in at)
        assert place(made.getpixel(where)) == pytest.approx(place(expected.getpixel(there)), abs=0.3)


def test_what_is_no_paper_is_left_off(tmp_path):
    """A sheet of 12 with a strip of 2 at its right, and a table of 1 around the top."""
    table = Image.new("RGB", (280, 260), "black")
    table.paste(sheet(), (0, 20))
    data = {"river.png": saved(table)}
    kit = kit_with(tmp_path / "a", "front: {scan: river.png, crop: {right: 2, top: 1}}", files=data)
    scan = scan_of(kit)
    assert (scan.size.width.inches, scan.size.height.inches) == (12, 12) and scan.stretched == 1 and scan.density == 20
    made = scan.picture()
    assert place(made.getpixel((1, 1))) == pytest.approx((0, 0), abs=0.3)
    assert place(made.getpixel((made.width - 2, made.height - 2))) == pytest.approx((12, 12), abs=0.3)
    # In the other unit, and with what it shows said: the same.
    other = kit_with(tmp_path / "b", "front: {scan: river.png, shows: 14 x 13, crop: {right: 50.8 mm, top: 25.4 mm}}", files=data)
    assert scan_of(other) == scan


def test_soft_and_stretched_scans_are_told(tmp_path):
    codes = {f.code: f for f in check(work(kit_with(tmp_path / "soft"))) if f.code.startswith("scans")}
    assert set(codes) == {"scans.soft"} and codes["scans.soft"].values["density"] == 20
    fine = kit_with(tmp_path / "fine", files={"river.png": saved(sheet(1200))})
    assert not [f for f in check(work(fine)) if f.code.startswith("scans")]
    wide = kit_with(tmp_path / "wide", files={"river.png": saved(sheet(1200, 1300))})
    assert [f.code for f in check(work(wide)) if f.code.startswith("scans")] == ["scans.stretched"]


def test_a_stand_in_is_drawn_in_its_main_colours(tmp_path):
    stripes = Image.new("RGB", (240, 240), (240, 240, 230))
    for x in range(0, 240, 60):
        stripes.paste((30, 60, 120), (x, 0, x + 25, 240))
    kit = kit_with(tmp_path / "a", files={"river.png": saved(stripes)})
    face = kit.papers["river"].front
    assert (face.drawn_look, face.drawn_colours) == ("stripes", ("#f0f0e6", "#1e3c78"))
    plain = kit_with(tmp_path / "b", files={"river.png": saved(Image.new("RGB", (99, 99), (200, 150, 90)))}).papers["river"].front
    assert (plain.drawn_look, plain.drawn_colours) == ("plain", ("#c8965b",))
    hers = kit_with(tmp_path / "c", "front: {scan: river.png, look: dots, colours: [sky, white]}").papers["river"].front
    assert (hers.drawn_look, hers.drawn_colours) == ("dots", ("sky", "white"))
    half = kit_with(tmp_path / "d", "front: {scan: river.png, look: waves}", files={"river.png": saved(stripes)}).papers["river"].front
    assert (half.drawn_look, half.drawn_colours[0]) == ("waves", "#f0f0e6")


def test_a_paper_of_the_club_has_its_scan_beside_the_club_file(tmp_path):
    club = CLUB + "papers:\n  shelf: {kind: patterned, name: Shelf, size: 12 x 12, front: {scan: shelf.png, shows: 6 x 6}}\n"
    folder = make_archive(tmp_path, BATCH, club=club)
    (folder.parent / "shelf.png").write_bytes(saved(sheet()))
    found = read_club(folder.parent).papers["shelf"].front.picture
    assert found is not None and found.density == 40 and found.size.width.inches == Fraction(6)
    (folder.parent / "shelf.png").unlink()
    with pytest.raises(UserError, match="shelf.png") as told:
        read_club(folder.parent)
    assert told.value.place.file.name == "club.yaml"


def test_a_scan_that_is_saved_meanwhile_is_not_shown_as_what_it_was(tmp_path):
    kit = kit_with(tmp_path)
    (kit.folder / "river.png").write_bytes(saved(sheet(250)))
    with pytest.raises(UserError, match="saved again"):
        scan_of(kit).picture()


def test_a_scan_that_is_broken_off_is_told_at_its_line(tmp_path):
    """Its blocks are sound, so that it can be read; what is wrong is seen once its pixels are asked for."""
    whole = saved(sheet(), "JPEG")
    worked = work(
        kit_with(tmp_path, "front: {scan: river.jpg, look: dots, colours: [sky, white]}", files={"river.jpg": whole[: len(whole) // 2]})
    )
    with pytest.raises(UserError, match="can't be read as a picture") as told:
        check(worked)
    assert told.value.place.file.name == "kit.yaml" and told.value.place.line == 1 + BATCH.split("\n").index(f"    {RIVER}")


@pytest.mark.parametrize(("kind", "look", "dark"), [("meadow", "sprigs", False), ("stripes", "stripes", False), ("blooms", "sprigs", True)])
def test_invented_papers_have_stand_ins_like_them(tmp_path, kind, look, dark):
    papers.saved(papers.paper(kind, 12, 40, 1), tmp_path / "paper.jpg")
    face = kit_with(tmp_path, "front: {scan: river.jpg}", files={"river.jpg": (tmp_path / "paper.jpg").read_bytes()}).papers["river"].front
    ground, *marks = map(parts, face.drawn_colours)
    assert face.drawn_look == look and len(marks) == 2
    assert (luminance(ground) < Fraction(1, 10)) == dark and all(contrast(ground, mark) >= Fraction(3, 2) for mark in marks)
