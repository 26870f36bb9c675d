"""One scene, three pens: what one shows, all show; the same input gives the same bytes."""

import io
import os
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from fractions import Fraction as F
from pathlib import Path

import pdfplumber
import pypdf
import pytest
from drawing.pictures import BASES, FACES, LOOKS, SHEETS
from kitwright.drawing.base import base_flat
from kitwright.drawing.fonts import Font
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.layers import layer_steps
from kitwright.drawing.palette import Ink, rgb
from kitwright.drawing.pdf import draw_text, pdf, register
from kitwright.drawing.png import SCREEN, image, png
from kitwright.drawing.scene import Draft, Scene, circle
from kitwright.drawing.sketch import card_sketch
from kitwright.drawing.svg import _path, svg
from PIL import Image, ImageChops, ImageStat
from reportlab.pdfgen.canvas import Canvas

SVG = "{http://www.w3.org/2000/svg}"


def scenes() -> dict[str, Scene]:
    node, unit, look = SHEETS["one way"]
    face, face_unit = FACES["top fold"]
    return {
        "guide": cutting_guide(node, unit=unit, look=look, width=300, name="Village"),
        "sketch": card_sketch(face, LOOKS, unit=face_unit, width=300),
        "picture": card_sketch(face, LOOKS, unit=face_unit, width=240, plain=True),
        "layers": layer_steps(face, LOOKS, width=320),
        "base": base_flat(BASES["top fold"][0], width=240, grain="across"),
    }


def pdf_picture(scene: Scene, folder: Path, level="full") -> Image.Image:
    (folder / "a.pdf").write_bytes(pdf(scene, level))
    subprocess.run(["pdftoppm", "-r", "96", "-png", "-singlefile", folder / "a.pdf", folder / "a"], check=True)
    return Image.open(folder / "a.png").convert("RGB")


def apart(a: Image.Image, b: Image.Image) -> float:
    """How far two pictures differ once both are seen from a distance: the worst of small tiles, 0 to 255."""
    size = (max(1, a.width // 8), max(1, a.height // 8))
    tiles = [p.resize((size[0] * 8, size[1] * 8)).resize(size, Image.Resampling.BOX) for p in (a, b)]
    return max(high for _, high in ImageChops.difference(*tiles).getextrema())


@pytest.mark.parametrize("level", ["full", "light", "outline"])
@pytest.mark.parametrize("name", ["guide", "sketch", "picture", "layers", "base"])
def test_png_and_pdf_show_the_same(name, level, tmp_path):
    scene = scenes()[name]
    assert apart(image(scene, SCREEN, level), pdf_picture(scene, tmp_path, level)) < 60


def test_the_comparison_sees_a_missing_label():
    scene = scenes()["guide"]
    fewer = Scene(scene.width, scene.height, scene.shapes, tuple(t for t in scene.texts if t.text != "E"), "", "")
    assert apart(image(scene, SCREEN), image(fewer, SCREEN)) > 60


@pytest.mark.browser
@pytest.mark.parametrize("name", ["guide", "sketch", "picture", "layers", "base"])
def test_png_and_svg_in_a_browser_show_the_same(name, tmp_path):
    """Through `<img>`, where no outside font is loaded."""
    import chromium
    from playwright.sync_api import sync_playwright

    scene = scenes()[name]
    (tmp_path / "a.svg").write_text(svg(scene), encoding="utf-8")
    (tmp_path / "a.html").write_text('<body style="margin:0"><img src="a.svg" style="display:block">', encoding="utf-8")
    ours = image(scene, SCREEN)
    with sync_playwright() as play:
        # Letters where they are, not on the nearest pixel: ours are so too.
        browser = play.chromium.launch(executable_path=chromium.found(), args=[*chromium.ARGUMENTS, "--font-render-hinting=none"])
        page = browser.new_page(viewport={"width": ours.width, "height": ours.height})
        page.goto((tmp_path / "a.html").as_uri())
        shown = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
        browser.close()
    assert apart(ours, shown) < 60


@pytest.mark.parametrize("name", ["guide", "sketch", "layers"])
def test_svg_is_plain_and_stands_alone(name):
    scene = scenes()[name]
    root = ElementTree.fromstring(svg(scene))
    assert root.tag == f"{SVG}svg" and root.attrib["version"] == "1.1"
    assert float(root.attrib["width"].removesuffix("pt")) == pytest.approx(float(scene.width), abs=0.005)
    assert root.find(f"{SVG}title").text == scene.title and root.find(f"{SVG}desc").text == scene.alt
    ids = {e.attrib["id"] for e in root.iter() if "id" in e.attrib}
    for element in root.iter():
        assert "style" not in element.attrib
        for key, value in element.attrib.items():
            if key.endswith("href"):
                assert value.removeprefix("#") in ids
    style = root.find(f"{SVG}style").text
    assert style.count("url(") == style.count('url("data:font/woff2;base64,')
    words = ["".join(t.itertext()) for t in root.iter(f"{SVG}text")]
    assert words == [t.text for t in scene.texts]
    assert all(float(t.attrib["font-size"]) >= 8 for t in root.iter(f"{SVG}text"))


def test_a_round_shape_reads_alike_wherever_it_lies():
    """SVG 1.1, 8.3.4: `l` steps from where the pen stands. Steps add up to where each corner is, to the hundredth."""
    round_ = [(F(n % 4, 3) + n, F(n * n, 7)) for n in range(12)]
    moved = [(x + 5, y + F(1, 4)) for x, y in round_]
    paths = [_path([points], closed=True) for points in (round_, moved)]
    heads, steps = zip(*(path.removesuffix("Z").split("l") for path in paths))
    far = [sum(F(step) for step in steps[0].split(" ")[axis::2]) for axis in (0, 1)]
    assert all(abs(told - (last - first)) <= F(1, 100) for told, first, last in zip(far, round_[0], round_[-1]))
    assert heads == ("M0 0", "M5 0.25") and steps[0] == steps[1] and len(steps[0].split(" ")) == 22


def test_pdf_text_is_text_in_reading_order_with_plain_fractions():
    scene = scenes()["guide"]
    found = pypdf.PdfReader(io.BytesIO(pdf(scene))).pages[0].extract_text().split("\n")
    assert found[0].startswith("Village · 6 × 6 in")
    shown = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf(scene), capture_output=True, check=True).stdout.decode()
    assert "15/16" in shown and "4⅛ × 2½ in" in shown


def test_pdf_fonts_are_embedded_subsets_only():
    for resource in pypdf.PdfReader(io.BytesIO(pdf(scenes()["sketch"]))).pages[0]["/Resources"]["/Font"].values():
        font = resource.get_object()
        assert "+Source" in font["/BaseFont"]
        assert "/FontFile2" in font["/FontDescriptor"]


def test_pdf_draws_the_sheet_at_its_stated_scale():
    scene = scenes()["guide"]
    with pdfplumber.open(io.BytesIO(pdf(scene))) as document:
        wanted = float(6 * 72 * scene.scale)
        squares = [r for r in document.pages[0].rects if abs(r["width"] - wanted) < 0.01 and abs(r["height"] - wanted) < 0.01]
    assert squares and scene.scale < 1


def test_draw_text_is_as_wide_as_measured_and_anchors():
    from kitwright.drawing import fonts

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(400, 100), invariant=1, initialFontName=register(Font()))
    for y, anchor in ((80, "start"), (50, "middle"), (20, "end")):
        draw_text(canvas, 200, y, "3 15⁄16 × 5⅛ in", Font("sans", "semibold"), 12, anchor)
    canvas.save()
    width = float(fonts.width("3 15⁄16 × 5⅛ in", 12, Font("sans", "semibold")))
    with pdfplumber.open(io.BytesIO(out.getvalue())) as document:
        rows = {}
        for char in document.pages[0].chars:
            rows.setdefault(round(char["bottom"]), []).append(char)
    lefts = [min(c["x0"] for c in rows[y]) for y in sorted(rows)]
    rights = [max(c["x1"] for c in rows[y]) for y in sorted(rows)]
    assert lefts == pytest.approx([200, 200 - width / 2, 200 - width], abs=0.05)
    assert [b - a for a, b in zip(lefts, rights)] == pytest.approx([width] * 3, abs=0.05)


def test_png_is_twice_screen_size_and_small():
    scene = scenes()["sketch"]
    data = png(scene)
    picture = Image.open(io.BytesIO(data))
    assert picture.size == (-int(-scene.width * 2 * SCREEN // 1), -int(-scene.height * 2 * SCREEN // 1))
    assert len(data) < 120_000
    assert ImageStat.Stat(ImageChops.difference(picture.convert("RGB"), image(scene))).mean[0] < 2


def test_even_areas_keep_their_colours_and_the_paper_its_very_own():
    draft = Draft()
    inks = [Ink(name, F(n, 4)) for name in ("linen", "sky", "clay", "plum") for n in (1, 2, 3, 4)]
    for n, ink in enumerate(inks):
        draft.polygon(circle(9, 12 + 22 * (n % 4), 12 + 22 * (n // 4)), None, ink)
    picture = Image.open(io.BytesIO(png(draft.scene(90, 90, "", ""), F(2), colours=48))).convert("RGB")
    for n, ink in enumerate(inks):
        shown = picture.getpixel((2 * (12 + 22 * (n % 4)), 2 * (12 + 22 * (n // 4))))
        assert max(abs(a - b) for a, b in zip(shown, rgb(ink))) <= 1, ink
    assert picture.getpixel((1, 1)) == rgb("paper")


def test_outline_pictures_use_little_ink():
    scene = scenes()["picture"]
    ink = {level: 255 - ImageStat.Stat(image(scene, F(1), level).convert("L")).mean[0] for level in ("full", "light", "outline")}
    assert ink["outline"] < ink["light"] < ink["full"]
    assert image(scene, F(1), "outline").getpixel((1, 1)) == (255, 255, 255)


PRINT = """
import hashlib, io
from drawing.test_pens import scenes, pdf
from kitwright.drawing.png import png
from kitwright.drawing.svg import svg
from kitwright.printable.tags import TaggedCanvas
for name, scene in scenes().items():
    for data in (png(scene), svg(scene).encode(), pdf(scene)):
        print(name, hashlib.sha256(data).hexdigest())
page = TaggedCanvas(file := io.BytesIO(), invariant=1)
page.save()
print("printable", hashlib.sha256(file.getvalue()).hexdigest())
"""


def test_same_input_same_bytes_in_another_process_with_another_hash_seed_and_moment():
    def run(seed: str, **more: str) -> str:
        path = os.pathsep.join([p for p in sys.path if p])
        return subprocess.run(
            [sys.executable, "-c", PRINT],
            env={**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": seed, **more},
            capture_output=True,
            check=True,
            text=True,
        ).stdout

    first = run("1")
    # reportlab takes days and identifiers from this moment: a worker of a cluster has none.
    assert first == run("2", SOURCE_DATE_EPOCH="1764158400") and len(first.splitlines()) == 16
