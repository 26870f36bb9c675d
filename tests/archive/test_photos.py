"""Photos on pages keep their shape, stand as the camera was held, and open larger without a script."""

import io
import re
from urllib.parse import unquote

import pytest
from kitwright.archive.photos import LARGE, LARGEST, photo_to_open
from kitwright.errors import Place
from kitwright.kit.theme import PROGRAM
from PIL import Image

FORMS = {".jpg": "JPEG", ".png": "PNG", ".webp": "WEBP"}


def held(file, size, orientation):
    notes = Image.Exif()
    notes[0x0112] = orientation
    Image.new("RGB", size, "teal").save(file, FORMS[file.suffix], exif=notes)
    return file


@pytest.mark.parametrize(("ending", "orientation"), [*((".jpg", held) for held in range(1, 9)), (".png", 6), (".webp", 6)])
def test_it_opens_larger_and_upright(tmp_path, ending, orientation):
    """From 5 on a camera was held on its side (Exif, tag 0x0112)."""
    file = held(tmp_path / f"card{ending}", (1700, 850), orientation)
    found, files = photo_to_open(file, f"samples/1{ending}", Place(file))
    sizes = {name: Image.open(io.BytesIO(data)).size for name, data in files.items()}
    turned = (lambda w, h: (h, w)) if orientation >= 5 else (lambda w, h: (w, h))
    assert sizes == {found.src: turned(LARGEST, LARGEST // 2), found.large: turned(LARGE, LARGE // 2)}
    assert (found.width, found.height) == sizes[found.src] and not any(Image.open(io.BytesIO(data)).getexif() for data in files.values())


def test_a_small_one_opens_itself(tmp_path):
    file = held(tmp_path / "card.jpg", (LARGEST, 700), 1)
    found, files = photo_to_open(file, "photos/card.jpg", Place(file))
    assert found.large == found.src == "photos/card.jpg" and set(files) == {found.src}


def test_pages_link_to_the_photo(small_site):
    page = next(p for p in small_site.glob("kits/*/index.html") if "kw-photos" in p.read_text("utf-8"))
    link, picture = re.search(r'<a class="kw-photo" href="([^"]+)"><img src="([^"]+)"', page.read_text("utf-8")).groups()
    assert picture == "photos/one%20card.png" and link in (picture, f"large/{picture}")
    assert all((page.parent / unquote(name)).is_file() for name in (link, picture))


def test_the_style_crops_no_photo():
    style = (PROGRAM / "assets" / "site.css").read_text("utf-8") + (PROGRAM / "assets" / "release.css").read_text("utf-8")
    of_photos = re.findall(r"([^{}]*\.kw-photos?\b[^{}]*)\{([^}]*)\}", style)
    assert len(of_photos) > 3 and not [names for names, said in of_photos if "aspect-ratio" in said or "cover" in said]
