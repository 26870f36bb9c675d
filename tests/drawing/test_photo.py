"""Scans on pictures: at true scale, each piece the very place that its guide cuts, the same by all three pens."""

import base64
import io
import re
from fractions import Fraction as F

import pypdfium2
import pytest
from kitwright.archive.pictures import pictures_of
from kitwright.cutting.tree import pieces
from kitwright.drawing.beside import moved
from kitwright.drawing.front import look_of as piece_look
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.pdf import pdf
from kitwright.drawing.png import image, png
from kitwright.drawing.scene import Box, Draft, Scene
from kitwright.drawing.shown import looks_of, looks_on
from kitwright.drawing.svg import svg
from kitwright.geometry import Rect
from kitwright.printable.edition import EDITIONS
from kitwright.printable.job import Job
from kitwright.release.stamp import PreviewStamp
from kitwright.units import Length
from kitwright.work.taken import Taken
from PIL import Image
from scanned import SECRET, place, saved, sheet, worked_with

INCH = 20
"""Points to an inch of the patches that are drawn here."""


@pytest.fixture(scope="module")
def batch(tmp_path_factory):
    return worked_with(tmp_path_factory.mktemp("batch"))


def drawn(look: DrawnLook, wide: int, high: int, up: object = None) -> Scene:
    draft, box = Draft(), Box(F(5), F(7), F(5 + wide * INCH), F(7 + high * INCH))
    draft.shapes.append(lay(look, box.corners, (F(0), F(0)), F(INCH, 72), up))
    return draft.scene(box.right + 5, box.bottom + 5, "a piece", "a piece")


def by_svg(text: str, per_point: int) -> Image.Image:
    """What an SVG shows of its pictures, laid where it says."""
    wide, high = (float(v) for v in re.search(r'viewBox="0 0 (\S+) (\S+)"', text).groups())
    canvas = Image.new("RGB", (round(wide * per_point), round(high * per_point)))
    images = {
        name: (float(w), float(h), base64.b64decode(data))
        for name, w, h, data in re.findall(r'<image id="(\w+)" width="(\S+)" height="(\S+)" [^>]*base64,([^"]+)"', text)
    }
    for name, x, y in re.findall(r'<use xlink:href="#(\w+)" x="(\S+)" y="(\S+?)"', text):
        if name in images:
            w, h, data = images[name]
            part = Image.open(io.BytesIO(data)).resize((round(w * per_point), round(h * per_point)))
            canvas.paste(part, (round(float(x) * per_point), round(float(y) * per_point)))
    return canvas


def by_pdf(data: bytes, per_point: int) -> Image.Image:
    return pypdfium2.PdfDocument(data)[0].render(scale=per_point).to_pil().convert("RGB")


def pictures(scene: Scene) -> list[Image.Image]:
    """A scene by all three pens, two pixels to the point."""
    return [image(scene, F(2)), by_svg(svg(scene), 2), by_pdf(pdf(scene), 2)]


def at(picture: Image.Image, x: float, y: float) -> tuple[float, float]:
    """Which place of the sheet is shown at a place of the patch, inches from its corner."""
    return place(picture.getpixel((round((5 + x * INCH) * 2), round((7 + y * INCH) * 2))))


LEFT, TOP = 4, 3
CUT = Taken(Rect(Length(F(LEFT)), Length(F(TOP)), Length(F(3)), Length(F(2))), False)
LYING = Taken(Rect(Length(F(LEFT)), Length(F(TOP)), Length(F(2)), Length(F(3))), True)


@pytest.mark.parametrize(
    "cut, sheet_up, up, size, shows",
    [
        # As it is cut; with the piece's top at another edge of the picture.
        (CUT, None, "top", (3, 2), lambda x, y: (LEFT + x, TOP + y)),
        (CUT, None, "bottom", (3, 2), lambda x, y: (LEFT + 3 - x, TOP + 2 - y)),
        (CUT, None, "right", (2, 3), lambda x, y: (LEFT + y, TOP + 2 - x)),
        (CUT, None, "left", (2, 3), lambda x, y: (LEFT + 3 - y, TOP + x)),
        # It lies turned on the sheet: turned back to the left.
        (LYING, None, "top", (3, 2), lambda x, y: (LEFT + 2 - y, TOP + x)),
        # The sheet's right or left edge is the paper's up: that comes to the top.
        (LYING, "right", "top", (3, 2), lambda x, y: (LEFT + 2 - y, TOP + x)),
        (LYING, "left", "top", (3, 2), lambda x, y: (LEFT + y, TOP + 3 - x)),
        (CUT, "bottom", "top", (3, 2), lambda x, y: (LEFT + 3 - x, TOP + 2 - y)),
        # Nothing says from where: from the corner on, and the sheet as it lies where nothing is said of its up either.
        (None, None, "top", (3, 2), lambda x, y: (x, y)),
        (None, "right", None, (3, 2), lambda x, y: (x, y)),
        (None, None, "right", (2, 3), lambda x, y: (y, 2 - x)),
        # A triangle on its point: a rotation of 3-4-5 about the middle.
        (
            CUT,
            None,
            (F(3, 5), F(4, 5)),
            (3, 3),
            lambda x, y: (5.5 + 0.6 * (x - 1.5) + 0.8 * (y - 1.5), 4 + 0.6 * (y - 1.5) - 0.8 * (x - 1.5)),
        ),
    ],
)
def test_a_piece_shows_its_place_by_every_pen(batch, cut, sheet_up, up, size, shows):
    scan = batch.kit.papers["river"].front.picture
    scene = drawn(DrawnLook(up=sheet_up, scan=scan, cut=cut), *size, up)
    for picture in pictures(scene):
        for x in (0.2, size[0] / 2, size[0] - 0.2):
            for y in (0.2, size[1] - 0.2):
                assert at(picture, x, y) == pytest.approx(shows(x, y), abs=0.2)


def test_a_part_of_a_sheet_repeats_and_more_than_it_is_laid_from_its_middle(tmp_path):
    part = worked_with(tmp_path / "part", "front: {scan: river.png, shows: 6 x 3}").kit.papers["river"].front.picture
    for picture in pictures(drawn(DrawnLook(scan=part), 12, 12)):
        for x, y in ((1, 1), (7, 1), (11.5, 5), (2, 10), (8, 11)):
            across, along = at(picture, x, y)
            assert (across / 2, along / 4) == pytest.approx((x % 6, y % 3), abs=0.2)
    more = worked_with(tmp_path / "more", "front: {scan: river.png, shows: 16 x 14}").kit.papers["river"].front.picture
    for picture in pictures(drawn(DrawnLook(scan=more), 12, 12)):
        for x, y in ((0.3, 0.3), (6, 6), (11, 11.5)):
            across, along = at(picture, x, y)
            assert (across * 16 / 12, along * 14 / 12) == pytest.approx((x + 2, y + 1), abs=0.25)


def test_every_piece_of_the_card_is_cut_where_the_guide_says(batch):
    looks = looks_on(batch, batch.face)
    layout = next(each for each in batch.layouts if "river" in each.papers)
    for label in ("A", "B"):
        places = [leaf.rect for leaf in pieces(layout.tree) if leaf.label == label]
        shown = [piece_look(placed, looks).cut.rect for placed in batch.face.pieces if placed.label == label]
        assert shown == places[: len(shown)] and len(shown) == {"A": 1, "B": 2}[label]
        third = [piece_look(placed, looks_on(batch, batch.face, 2)).cut.rect for placed in batch.face.pieces if placed.label == label]
        assert third == places[2 * len(shown) : 3 * len(shown)]


def test_seen_from_its_back_the_sheet_is_turned_over(tmp_path):
    both = "front: {look: dots}\n    back: {scan: river.png}"
    worked = worked_with(tmp_path, both, ("    - A\n    - B\n", "    - A back\n    - B\n"))
    placed = next(p for p in worked.face.pieces if p.label == "A")
    layout = next(each for each in worked.layouts if "river" in each.papers)
    leaf = next(leaf for leaf in pieces(layout.tree) if leaf.label == "A")
    cut = piece_look(placed, looks_on(worked, worked.face)).cut
    assert cut.rect.x == Length(12) - leaf.rect.right and cut.rect.y == leaf.rect.y


def test_pictures_show_scans_and_whatever_counts_ink_never_does(batch):
    found = pictures_of(batch)
    with_photos = {name for name, picture in found.items() if "data:image/jpeg" in svg(picture.wide)}
    assert with_photos == {"card", "thumbnail", "papers", "paper-river"}
    assert all(look.scan is None for look in looks_of(batch).values())
    job = Job(batch, EDITIONS["letter"], "full", PreviewStamp("AAAA-AAAA"))
    assert job.look("river") == looks_of(batch)["river", "front"] and job.look("river").scan is None
    scene = found["card"].wide
    for level in ("light", "outline"):
        assert "data:image" not in svg(scene, level) and b"DCTDecode" not in pdf(scene, level)
        assert image(scene, F(1), level).size == image(scene, F(1)).size


def test_the_same_scan_gives_the_same_bytes(batch, tmp_path):
    again = worked_with(tmp_path)
    one, other = (pictures_of(each)["card"].wide for each in (batch, again))
    assert svg(one) == svg(other) and png(one) == png(other) and pdf(one) == pdf(other)
    shifted = moved(next(s for s in one.shapes if getattr(s, "made_from", None) and s.made_from[0].scan), F(3), F(4))
    assert (
        shifted.items[0].box.left
        == next(s for s in one.shapes if getattr(s, "made_from", None) and s.made_from[0].scan).items[0].box.left + 3
    )


def test_a_tint_is_mixed_with_the_paper_and_vellum_is_seen_through(batch):
    scan = batch.kit.papers["river"].front.picture
    box = Box(F(0), F(0), F(60), F(60))
    draft = Draft()
    draft.shapes.append(lay(DrawnLook(scan=scan), box.corners, (F(0), F(0)), F(INCH, 72), strength=F(1, 4)))
    scene = draft.scene(60, 60, "tint", "tint")
    for picture in pictures(scene):
        assert min(picture.getpixel((60, 60))) > 180
    cloudy = Draft()
    cloudy.shapes.append(lay(DrawnLook(scan=scan, shows="dimly"), box.corners, (F(0), F(0)), F(INCH, 72)))
    assert 'opacity="0.65"' in svg(cloudy.scene(60, 60, "vellum", "vellum"))


def test_a_picture_of_a_large_scan_has_no_more_pixels_than_it_needs(tmp_path):
    worked = worked_with(tmp_path, files={"river.png": saved(sheet(2500))})
    assert max(worked.kit.papers["river"].front.picture.picture().size) == 2400
    text = svg(pictures_of(worked)["card"].wide)
    for _, width, height, data in re.findall(r'<image id="(\w+)" width="(\S+)" height="(\S+)" [^>]*base64,([^"]+)"', text):
        bare = base64.b64decode(data)
        assert Image.open(io.BytesIO(bare)).size == (round(float(width) * 2), round(float(height) * 2))
        assert b"Exif" not in bare and SECRET.encode() not in bare
