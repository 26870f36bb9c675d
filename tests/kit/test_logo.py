"""A club's logo: what is read of a picture from a stranger, and what is refused by its name."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from kitwright.errors import Place, UserError
from kitwright.kit.logo import Logo, read_logo
from kitwright.kit.picture import NoPicture
from kitwright.kit.vector import EDGE, vector, written
from PIL import Image, ImageDraw

DEMO = Path(__file__).parents[2] / "kits" / "logo.svg"
PAGE, NIGHT = (252, 250, 245), (20, 27, 36)


def svg(inside: str, head: str = 'viewBox="0 0 24 24"', before: str = "") -> bytes:
    return f'{before}<svg xmlns="http://www.w3.org/2000/svg" {head}>{inside}</svg>'.encode()


def steps(inside: str, head: str = f'viewBox="0 0 {EDGE} {EDGE}"') -> list[tuple[str, list[tuple[int, ...]]]]:
    (one,) = vector(svg(inside, head)).outlines
    return [(letter, [tuple(round(n) for n in point) for point in points]) for letter, points in one.steps]


# --- drawings -----------------------------------------------------------------------------------------


def test_what_is_written_of_a_drawing_reads_back_the_same():
    drawing = vector(DEMO.read_bytes())
    assert len(drawing.outlines) == 5 and (drawing.width, drawing.height) == (EDGE, EDGE)
    assert written(vector(written(drawing).encode())) == written(drawing)


@pytest.mark.parametrize(
    "shape, wanted",
    [
        ('<path d="M1 2h3v4z"/>', [("M", [(1, 2)]), ("L", [(4, 2)]), ("L", [(4, 6)]), ("L", [(1, 2)]), ("Z", [])]),
        ('<polygon points="1,2 3,4 5-6"/>', [("M", [(1, 2)]), ("L", [(3, 4)]), ("L", [(5, -6)]), ("L", [(1, 2)]), ("Z", [])]),
        ('<line x1="1" x2="9" y1="2" y2="3" stroke="red"/>', [("M", [(1, 2)]), ("L", [(9, 3)])]),
        ('<g transform="translate(10 20)"><path d="M0 0h6"/></g>', [("M", [(10, 20)]), ("L", [(16, 20)])]),
        ('<path transform="rotate(90 10 10)" d="M10 0h6"/>', [("M", [(20, 10)]), ("L", [(20, 16)])]),
        ('<g transform="scale(2)"><path transform="translate(3,4)" d="M0 0h1"/></g>', [("M", [(6, 8)]), ("L", [(8, 8)])]),
        ('<path d="M0 0q3 0 3 3"/>', [("M", [(0, 0)]), ("C", [(2, 0), (3, 1), (3, 3)])]),
    ],
)
def test_outlines_come_to_lie_where_svg_says(shape, wanted):
    # SVG 1.1: 7.6 (transforms, the outer one first), 8.3 (paths), 9 (shapes).
    assert steps(shape) == wanted


def test_round_ones_reach_their_edges_and_a_rectangle_its_corners():
    for shape in ('<circle cx="40" cy="60" r="30"/>', '<ellipse cx="40" cy="60" rx="30" ry="30"/>'):
        points = [points[-1] for _, points in steps(shape) if points]
        assert {(10, 60), (70, 60)} <= set(points)
    assert [points[-1] for letter, points in steps('<rect x="1" y="2" width="30" height="40"/>') if points][:4] == [
        (1, 2),
        (31, 2),
        (31, 42),
        (1, 42),
    ]
    assert any(letter == "C" for letter, _ in steps('<rect width="30" height="40" rx="6"/>'))


def test_looks_are_inherited_typed_either_way_and_none_is_none():
    drawing = vector(
        svg(
            '<g fill="#f00" style="stroke: rgb(0,0,255); stroke-width:2px"><path d="M0 0h9v9z"/><path fill="none" d="M0 0h9v9z"/></g>'
            '<path d="M0 0h9v9z" style="fill:teal;fill-rule:evenodd"/><path display="none" d="M0 0h9"/><path visibility="hidden" d="M0 0h9"/>'
        )
    )
    first, second, third = drawing.outlines
    assert (first.fill, first.stroke, round(first.width)) == ((255, 0, 0), (0, 0, 255), 2 * EDGE // 24)
    assert second.fill is None and third.fill == (0, 128, 128) and third.even_odd and third.stroke is None


def test_what_a_drawing_program_notes_for_itself_is_left_behind():
    noted = svg(
        "<title>Us</title><desc>made at home</desc><metadata><secret xmlns='http://x.example/'/></metadata><defs/>"
        "<x:view xmlns:x='http://x.example/' a='1'><path d='M1 1h1'/></x:view><path onclick='alert(1)' id='a' class='b' d='M0 0h9v9z'/>",
        before='<?xml version="1.0"?><!-- by me --><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">',
    )
    assert written(vector(noted)) == written(vector(svg('<path d="M0 0h9v9z"/>')))


@pytest.mark.parametrize(
    "data, code, what",
    [
        (svg("<script>alert(1)</script>"), "pictures.not-taken-over", "script"),
        (svg("<text>Us</text>"), "pictures.not-taken-over", "text"),
        (svg('<image href="https://elsewhere.example/x.png"/>'), "pictures.not-taken-over", "image"),
        (svg('<use href="#a"/>'), "pictures.not-taken-over", "use"),
        (svg("<foreignObject/>"), "pictures.not-taken-over", "foreignObject"),
        (svg("<defs><style>.a{fill:red}</style></defs><path class='a' d='M0 0h9v9z'/>"), "pictures.not-taken-over", "style"),
        (svg('<path d="M0 0h9v9z" fill="url(#g)"/>'), "pictures.not-taken-over", "gradient"),
        (svg('<path d="M0 0h9v9z" mask="url(#m)"/>'), "pictures.not-taken-over", "mask"),
        (svg('<path d="M0 0h9v9z" fill="currentColor"/>'), "pictures.not-taken-over", "currentColor"),
        (svg('<g opacity=".5"><path d="M0 0h9v9z"/></g>'), "pictures.see-through", None),
        (svg('<path d="M0 0h9v9z" fill="#ff000080"/>'), "pictures.see-through", None),
        (svg("<path d='M0 0h9'/>", before='<!DOCTYPE svg [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>'), "pictures.not-taken-over", "DOCTYPE"),
        ("<!DOCTYPE svg [<!ENTITY a 'aa'>]><svg/>".encode("utf-16"), "pictures.not-taken-over", "DOCTYPE"),
        (svg("<g>" * 100 + "</g>" * 100), "pictures.too-intricate", None),
        (svg("<path d='M0 0h1'/>" * 3000), "pictures.too-intricate", None),
        (svg("<path d='M0 0" + "h1" * 30_000 + "'/>"), "pictures.too-intricate", None),
        (svg("") + b" " * 400_000, "pictures.too-large", None),
        (svg(""), "pictures.empty", None),
        (svg("<path d='M0 0h9v9z' fill='none'/>"), "pictures.empty", None),
        (svg("<path d='M0 0h9v9z'/>", 'viewBox="0 0 900 24"'), "pictures.too-long", None),
        (svg("<path d='M0 0h9v9z'/>", ""), "pictures.unreadable", None),
        (svg("<path d='M0 0h9v9z'/>", 'viewBox="0 0 0 24"'), "pictures.unreadable", None),
        (svg("<path d='M0 0 L1e300 1e300'/>"), "pictures.unreadable", None),
        (svg("<path d='M0 0 Lx y'/>"), "pictures.unreadable", None),
        (svg("<path transform='matrix(1 2)' d='M0 0h9'/>"), "pictures.unreadable", None),
        (svg("<path d='M0 0h9v9z'"), "pictures.unreadable", None),
        (b"<html><body>no</body></html>", "pictures.unreadable", None),
        (b"\x89PNG\r\n\x1a\n", "pictures.unreadable", None),
        (b"", "pictures.unreadable", None),
    ],
)
def test_what_outlines_can_not_say_is_refused_by_its_name(data, code, what):
    with pytest.raises(NoPicture) as caught:
        vector(data)
    assert (caught.value.code, caught.value.values.get("what")) == (code, what)
    assert caught.value.problem and caught.value.remedy


# --- pictures -----------------------------------------------------------------------------------------


def save(folder: Path, name: str, image: Image.Image, **how) -> Path:
    image.save(folder / name, **how)
    return folder / name


def ring(colour: tuple[int, int, int]) -> Image.Image:
    """A ring on nothing."""
    image = Image.new("RGBA", (800, 600), (255, 0, 0, 0))
    ImageDraw.Draw(image).ellipse((100, 20, 660, 580), outline=(*colour, 255), width=80)
    return image


def read(folder: Path, name: str) -> Logo:
    return read_logo(folder, name, Place(Path("kits/club.yaml"), 7))


def test_a_picture_is_made_anew_small_and_stays_see_through(tmp_path):
    save(tmp_path, "ring.png", ring((30, 20, 60)), pnginfo=None)
    logo = read(tmp_path, "ring.png")
    made = Image.open(io.BytesIO(logo.data))
    assert (logo.name, made.size, made.mode) == ("club-logo.png", (320, 240), "RGBA") and not logo.square
    assert made.getpixel((0, 0)) == (255, 255, 255, 0), "nothing of what lay hidden under it"
    for name, image, how in (
        ("a.webp", ring((30, 20, 60)), {"lossless": True}),
        ("a.JPG", Image.new("RGB", (300, 300), "navy"), {"format": "JPEG"}),
    ):
        save(tmp_path, name, image, **how)
        assert read(tmp_path, name).name == "club-logo.png"


def test_a_mark_that_can_not_be_seen_on_a_page_is_known(tmp_path):
    for colour, on_page, at_night in (((30, 20, 60), False, True), ((255, 255, 255), True, False), ((200, 80, 40), False, False)):
        save(tmp_path, "ring.png", ring(colour))
        logo = read(tmp_path, "ring.png")
        assert (logo.vanishes_on(PAGE), logo.vanishes_on(NIGHT)) == (on_page, at_night), colour
    save(tmp_path, "whole.png", Image.new("RGB", (300, 300), "white"))
    assert not read(tmp_path, "whole.png").vanishes_on(PAGE), "it brings its own ground"
    (tmp_path / "demo.svg").write_bytes(DEMO.read_bytes())
    demo = read(tmp_path, "demo.svg")
    assert demo.square and not demo.vanishes_on(PAGE) and not demo.vanishes_on(NIGHT)


def test_a_logo_that_will_not_do_is_one_error_where_it_is_named(tmp_path):
    home = tmp_path / "kits"
    home.mkdir()
    (tmp_path / "secret.png").write_bytes(save(tmp_path, "x.png", ring((0, 0, 0))).read_bytes())
    (home / "words.png").write_text("no picture", encoding="utf-8")
    (home / "mark.pdf").write_bytes(b"%PDF-1.4")
    (home / "folder.png").mkdir()
    (home / "out.png").symlink_to(tmp_path / "secret.png")
    (home / "huge.svg").write_bytes(b" " * 400_000)
    (home / "huge.png").write_bytes(b"\x89PNG\r\n\x1a\n" + b" " * 6_000_000)
    save(home, "tiny.png", Image.new("RGB", (40, 12)))
    save(home, "long.png", Image.new("RGB", (2000, 100)))
    for name, code in (
        ("missing.png", "files.not-there"),
        ("../secret.png", "files.outside"),
        ("C:\\logo.png", "files.outside"),
        ("out.png", "files.linked-outside"),
        ("folder.png", "files.named-a-folder"),
        ("words.png", "pictures.unreadable"),
        ("mark.pdf", "pictures.odd-ending"),
        ("huge.svg", "files.too-large"),
        ("huge.png", "files.too-large"),
        ("tiny.png", "pictures.too-small"),
        ("long.png", "pictures.too-long"),
    ):
        with pytest.raises(UserError) as caught:
            read(home, name)
        assert caught.value.code == code and caught.value.place == Place(Path("kits/club.yaml"), 7), name
        assert name in caught.value.problem
