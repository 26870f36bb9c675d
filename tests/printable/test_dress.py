"""A printable in its club's colours, with its logo before its name."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from kitwright.errors import Place
from kitwright.kit.logo import read_logo
from kitwright.kit.model.club import Colours
from kitwright.printable import EDITIONS
from kitwright.printable.document import INKS, printables
from kitwright.printable.mark import HIGH
from kitwright.work.worked import Worked
from making import BATCH, make_worked
from PIL import Image

MARK = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40"><path d="M0 0h40v40H0z" fill="#00aa55"/></svg>'
ACCENT = (0x6A, 0x1B, 0x9A)


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


def test_logo_and_colours_stand_in_every_ink_and_take_no_page(plain: Worked, tmp_path: Path):
    ours, theirs = printables(plain, "letter", inks=("full",))["full"], printables(dressed(plain, tmp_path, MARK), "letter")
    edition = EDITIONS["letter"]
    at = round(edition.left + HIGH / 2), round(edition.top + 5)
    for ink in INKS:
        assert len(pypdfium2.PdfDocument(theirs[ink])) == len(pypdfium2.PdfDocument(ours)), ink
        red, green, blue = first_page(theirs[ink]).getpixel(at)
        assert (red == green == blue < 200) if ink == "outline" else (red, green, blue) == (0, 0xAA, 0x55), ink
        colours = {colour for _, colour in first_page(theirs[ink]).getcolors(1 << 20)}
        assert ACCENT in colours and (0xB7, 0x3C, 0x1C) not in colours, ink
    assert (0xB7, 0x3C, 0x1C) in {colour for _, colour in first_page(ours).getcolors(1 << 20)}, "the other club, in the same run"


def test_a_pale_logo_gets_a_ground_on_white_paper(plain: Worked, tmp_path: Path):
    white = Image.new("RGBA", (200, 200), (0, 0, 0, 0))
    white.paste((255, 255, 255, 255), (60, 60, 140, 140))
    white.save(tmp_path / "white.png")
    worked = dressed(plain, tmp_path, (tmp_path / "white.png").read_bytes(), "white.png")
    page = first_page(printables(worked, "letter", inks=("full",))["full"])
    edition = EDITIONS["letter"]
    corner = page.getpixel((round(edition.left + 2), round(edition.top + 1)))
    assert sum(corner) < 300 and page.getpixel((round(edition.left + HIGH / 2), round(edition.top + 5))) == (255, 255, 255)
