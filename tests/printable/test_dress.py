"""A printable in its club's colours, with its logo before its name."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from kitwright.colours import hex_text
from kitwright.drawing.pdf import pdf
from kitwright.drawing.png import image
from kitwright.drawing.scene import Draft
from kitwright.drawing.svg import svg
from kitwright.errors import Place
from kitwright.kit.logo import read_logo
from kitwright.kit.model.club import Colours
from kitwright.printable import EDITIONS
from kitwright.printable.blocks import Prose
from kitwright.printable.document import printables
from kitwright.printable.job import Job
from kitwright.printable.mark import BESIDE, HIGH, Named, draw_logo
from kitwright.printable.pages import INKS
from kitwright.printable.tags import TaggedCanvas
from kitwright.printable.typeset import KICKER
from kitwright.release.stamp import PreviewStamp
from kitwright.schemes import HOUSE, palette_of
from kitwright.work.worked import Worked
from making import BATCH, make_worked
from PIL import Image

MARK = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40"><path d="M0 0h40v40H0z" fill="#00aa55"/></svg>'
ACCENT, OURS = (0x6A, 0x1B, 0x9A), (0xB7, 0x3C, 0x1C)


@pytest.fixture(scope="module")
def plain(tmp_path_factory) -> Worked:
    return make_worked(tmp_path_factory.mktemp("plain"), BATCH)


def dressed(worked: Worked, folder: Path, data: str | bytes, name: str = "mark.svg") -> Worked:
    """The kit of a club with this logo and an accent of its own."""
    (folder / name).write_bytes(data.encode() if isinstance(data, str) else data)
    club = worked.kit.club.dressed(Colours(accent=ACCENT), read_logo(folder, name, Place()))
    return replace(worked, kit=replace(worked.kit, club=club))


def first_page(data: bytes) -> Image.Image:
    """At a pixel a point."""
    return pypdfium2.PdfDocument(data)[0].render(scale=1).to_pil().convert("RGB")


def test_logo_and_colours_stand_in_every_ink(plain: Worked, tmp_path: Path):
    theirs = printables(dressed(plain, tmp_path, MARK), "letter")  # laid out once for all three
    edition = EDITIONS["letter"]
    at = round(edition.left + HIGH / 2), round(edition.top + 5)
    for ink in INKS:
        page = first_page(theirs[ink])
        red, green, blue = page.getpixel(at)
        assert (red == green == blue < 200) if ink == "outline" else (red, green, blue) == (0, 0xAA, 0x55), ink
        colours = {colour for _, colour in page.getcolors(1 << 20)}
        assert ACCENT in colours and OURS not in colours, ink


def test_a_logo_takes_no_height(plain: Worked, tmp_path: Path):
    job, other = (Job(worked, EDITIONS["letter"], "full", PreviewStamp()) for worked in (plain, dressed(plain, tmp_path, MARK)))
    bare, marked = Named(job, "The Bench"), Named(other, "The Bench")
    assert marked.wrap(400, 1000) == bare.wrap(400, 1000) == Prose("The Bench", KICKER).wrap(400, 1000)
    assert (bare.indent, marked.indent) == (0, HIGH + BESIDE)


def test_a_pale_logo_gets_a_ground_on_white_paper(plain: Worked, tmp_path: Path):
    white = Image.new("RGBA", (200, 200), (0, 0, 0, 0))
    white.paste((255, 255, 255, 255), (60, 60, 140, 140))
    white.save(tmp_path / "white.png")
    job = Job(dressed(plain, tmp_path, (tmp_path / "white.png").read_bytes(), "white.png"), EDITIONS["letter"], "full", PreviewStamp())
    out = io.BytesIO()
    canvas = TaggedCanvas(out, pagesize=(100, 100))
    draw_logo(canvas, job.worked.kit.club.mark, 20, 20, 60 / 200, job)
    canvas.showPage()
    canvas.save()
    page = first_page(out.getvalue())
    assert page.getpixel((5, 5)) == page.getpixel((50, 50)) == (255, 255, 255) and sum(page.getpixel((25, 25))) < 300


def test_two_clubs_in_one_run_each_have_their_own_colours():
    draft = Draft()
    draft.polygon(((5, 5), (45, 5), (45, 45), (5, 45)), None, "tag")
    scene = draft.scene(50, 50, "", "")
    other = palette_of((("accent", ACCENT),))
    for _ in range(2):
        for palette, colour in ((HOUSE, OURS), (other, ACCENT)):
            assert hex_text(colour) in svg(scene, palette=palette)
            assert colour in {each for _, each in image(scene, palette=palette).getcolors(1 << 20)}
            assert colour in {each for _, each in first_page(pdf(scene, palette=palette)).getcolors(1 << 20)}
