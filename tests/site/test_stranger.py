"""A folder from a stranger: whatever it holds, its pages run nothing, fetch nothing from elsewhere, and show no element of its own making."""

from __future__ import annotations

import http.server
import io
import json
import re
import shutil
import threading
from functools import partial
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from archive.reading import DESKTOP, Reader
from archive.small import FIRST, OLD, SECOND, write_small
from kitwright.archive.build import build_archive
from kitwright.archive.policy import fault_of
from kitwright.kit.markup import parts_of
from odd import pictures, prose
from PIL import Image

ODD, HOST = "odd(1)", prose.ODD_HOST
TITLE = f'Zinnia <img src=x onerror={ODD}> \\"><script>{ODD}</script> {{{{ 7*7 }}}} & [x](javascript:{ODD})'
SHORT = f"<img src=//{HOST}/x onerror={ODD}>"


@pytest.fixture(scope="module")
def hostile(tmp_path_factory) -> Path:
    """A small archive whose every word means harm, with its site; the pictures carry notes, and a good deal else lies beside them."""
    root = write_small(tmp_path_factory.mktemp("hostile"))
    kits = root / "kits"
    shutil.rmtree(kits / SECOND)
    for kit_id in (FIRST,):
        spec = kits / kit_id / "kit.yaml"
        text = spec.read_text(encoding="utf-8")
        text = re.sub(r"^title: .*$", lambda m: f'title: "{TITLE}"', text, flags=re.M)
        text = (
            text.replace("summary: Three", f'summary: "{SHORT} </title><svg/onload={ODD}> Three')
            .replace("a <strip>.", 'a <strip>."')
            .replace("name: Clover _field_", f'name: "{SHORT} field"')
        )
        text = (
            text.replace("tags: [quick", f'tags: ["{SHORT}", quick')
            .replace("caption: Made on a Tuesday", f'caption: "{SHORT} Tuesday"')
            .replace("alt: A card on a table", f'alt: "\\" onerror={ODD} x=\\""')
        )
        text += f'questions:\n  - {{ask: "{SHORT}?", answer: "{SHORT} [x](javascript:{ODD}) ![y](https://{HOST}/y.png) <https://{HOST}/>"}}\nsteps:\n  cut: "{SHORT} [x](javascript:{ODD})"\n'
        spec.write_text(text, encoding="utf-8")
        notes = f"## A heading <svg onload={ODD}> of mine\n\nmarigold words\n\n"
        for _, text in prose.odd_prose(5, 90):
            more = notes + "".join(c for c in text if c >= " " and c not in "\u202e" or c in "\t\n") + "\n\n"
            # Links and pictures that lead nowhere stop a build, as they should; here they would hide the rest.
            if (
                len(more) < 15_000
                and more.count("[") < 300
                and more.count("<!") < 50
                and all(re.match("https?:|mailto:", link) for link in parts_of(more)[1])
            ):
                notes = more
        assert len(notes) > 4_000
        (kits / kit_id / "notes.md").write_text(notes, encoding="utf-8")
        (kits / kit_id / "photos" / "one card.png").write_bytes(pictures.saved(Image.new("RGB", (40, 30), "red"), "PNG"))
    for name, data in (
        ("a.svg", f"<svg onload={ODD}/>"),
        ("b.html", f"<script>{ODD}</script>"),
        ("c.js", ODD),
        ("d.jpg", f"<script>{ODD}</script>"),
        ("e.zip", "PK"),
        (".DS_Store", "x"),
        ("f.php", "<?php"),
    ):
        (kits / FIRST / "photos" / name).write_text(data)
    (kits / FIRST / "photos" / "g.jpg").write_bytes(pictures.saved(Image.new("RGB", (3000, 20), "red"), "JPEG", orientation=6))
    club = (
        (kits / "club.yaml")
        .read_text(encoding="utf-8")
        .replace("tagline: Cards", f'tagline: "{SHORT} Cards')
        .replace("on paper only", 'on paper only"')
        .replace("about: An archive that exists for the tests alone.", f'about: "{SHORT} about"')
    )
    (kits / "club.yaml").write_text(
        club.replace("terms: For", f'terms: "{SHORT} For').replace("the tests alone.\ncautions", 'the tests alone."\ncautions'),
        encoding="utf-8",
    )
    old = kits / OLD
    Image.new("RGB", (50, 40), "blue").save(old / "t.png")
    (old / "t.png").write_bytes(pictures.saved(Image.new("RGB", (50, 40), "blue"), "PNG"))
    (old / "kit.yaml").write_text((old / "kit.yaml").read_text() + f'thumbnail: t.png\nthumbnail alt: "{SHORT}"\n', encoding="utf-8")
    build_archive(root, root / "site", address="https://cards.example/")
    return root / "site"


def test_pages_are_sound_and_what_surrounds_the_notes_is_untouched(hostile):
    for page in hostile.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert fault_of(text) is None, page
        assert f'src="https://{HOST}' not in text and f"<img src=x onerror={ODD}" not in text and 'href="javascript:' not in text.lower()
    text = (hostile / "kits" / FIRST / "index.html").read_text(encoding="utf-8")
    assert (
        "How the front adds up" in text
        and "marigold words" in text
        and 'id="a-heading"' in text
        and "{{ 7*7 }}" in text.replace("&#123;", "{").replace("&#125;", "}")
    )


def test_only_pictures_are_published_and_without_notes(hostile):
    found = sorted(f.name for f in (hostile / "kits" / FIRST / "photos").iterdir())
    assert found == ["g.jpg", "one card.png"]
    for file in [*hostile.rglob("*.jpg"), *hostile.rglob("*.png")]:
        data = file.read_bytes()
        assert pictures.SECRET not in data and b"Exif" not in data and b"iCCP" not in data, file
        with Image.open(io.BytesIO(data)) as read:
            assert read.format == {".jpg": "JPEG", ".png": "PNG"}[file.suffix]
    assert Image.open(hostile / "kits" / FIRST / "photos" / "g.jpg").size == (7, 1100)
    assert Image.open(hostile / "kits" / OLD / "thumbnail.png").size == (50, 40)


def test_pictures_feed_and_data_hold_words_alone(hostile):
    for file in hostile.rglob("*.svg"):
        root = ET.fromstring(file.read_bytes())
        for one in root.iter():
            name = one.tag.split("}")[-1] if isinstance(one.tag, str) else ""
            assert (
                name not in ("script", "foreignObject", "iframe", "image", "a", "use")
                or name == "use"
                and all(v.startswith("#") for k, v in one.items() if k.endswith("href"))
            ), (file, name)
            assert not any(k.startswith("on") or HOST in v and k not in ("aria-label",) for k, v in one.items()), file
    # Nothing here is released, so there is no feed of kits but the old one's; what it says is text.
    if (hostile / "feed.xml").exists():
        feed = ET.fromstring((hostile / "feed.xml").read_bytes())
        assert {e.get("type", "text") for e in feed.iter("{http://www.w3.org/2005/Atom}summary")} == {"text"}
    assert json.loads((hostile / "kits.json").read_text(encoding="utf-8"))["club"]["name"]


@pytest.fixture(scope="module")
def served(hostile):
    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *args):
            pass

    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(hostile))) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_address[1]}/"
        server.shutdown()


HARMFUL = """home => {
    // What the program's own pages have: each of their forms once, scripts from their own folder, data that no browser runs, and once the style of her numbers.
    const forms = ['kw-numbers', 'kw-facets', 'kw-copy', 'kw-stock']
    const ours = e => e.localName === 'form' ? forms.includes(e.className) && document.querySelectorAll('.' + e.className).length === 1
        : e.localName === 'link' ? e.rel === 'stylesheet' && e.href === home + 'look/numbers.css' && document.querySelectorAll('article link').length === 1
        : e.localName === 'script' && (e.src ? e.src.startsWith(home + 'look/') : ['application/json', 'application/ld+json'].includes(e.type))
    return [...document.querySelectorAll('.kw-prose *, article *')]
        .filter(e => [...e.attributes].some(a => a.name.startsWith('on'))
            || (['SCRIPT', 'IFRAME', 'STYLE', 'BASE', 'META', 'LINK', 'FORM'].includes(e.tagName) && !ours(e)))
        .map(e => e.outerHTML.slice(0, 120))
}"""
"""Elements of a page that a stranger's archive has no business with."""


@pytest.mark.browser
def test_a_browser_runs_and_fetches_nothing_of_it(hostile, served, browser):
    context = browser.new_context(viewport=DESKTOP)
    ran = []
    context.expose_function("odd", lambda *a: ran.append(a))
    reader = Reader(context)
    for name in [f"kits/{FIRST}/index.html", f"kits/{OLD}/index.html", "index.html", "archive.html", "tags.html", "asked.html"]:
        page = reader.open(served + name)
        assert page.evaluate(HARMFUL, served) == []
        assert (
            page.evaluate("document.title.length > 0 && document.body.attributes.length > 0 && document.querySelectorAll('main').length")
            == 1
        )
    for asked in ("marigold", "zinnia", "field", "heading", "onerror", "odd", "script"):
        assert reader.search(asked) is not None
        found = reader.page.locator("dialog.kw-search")
        assert (
            found.evaluate(
                "e => e.querySelectorAll('img:not(.kw-hit__kit > img), script, iframe, style, object, embed, a[href^=javascript], .kw-hits form').length"
            )
            == 0
        ), asked
        assert (
            found.evaluate("e => [...e.querySelectorAll('*')].filter(x => [...x.attributes].some(a => a.name.startsWith('on'))).length")
            == 0
        )
    context.close()
    assert ran == []
    assert all(url.startswith((served, "blob:", "data:")) for url in reader.fetched)
    assert not [c for c in reader.complaints if "not loaded" not in c and "404" not in c], reader.complaints
