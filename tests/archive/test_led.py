"""Whatever a finished site leads to within itself is there."""

from __future__ import annotations

from pathlib import Path

from kitwright.archive import led
from kitwright.archive.finished import Finished, finished, nowhere
from kitwright.archive.placing import Placing
from kitwright.cache import Blob

HOME = "https://cards.example/of-mine/"


def a_page(text: str, name: str, names: set[str]) -> Finished:
    return finished("", Blob("", 0), text, name, names, HOME)


def test_every_way_of_leading_somewhere_is_followed():
    """HTML Living Standard: href, src, srcset, poster, data; what goes with a link and structured data name whole addresses."""
    text = f"""<article id="top"><a href="#top">here</a><a href="#lost">here</a><a href="#bench-cut-1-2">bench</a><a href="#tag=sea">facts</a><a href="../../a.html#x">a</a>
        <img src="p%C3%A4.png" srcset="one.png 1x, two.png 2x"><source srcset="three.svg"><video poster="four.jpg"></video>
        <a href="https://elsewhere.example/x">out</a><a href="mailto:a@cards.example">mail</a><a href="/top.html">404s alone</a>
        <meta content="{HOME}kits/k/share.jpg"><script type="application/ld+json">{{"url": "{HOME}kits/k/#top", "image": "{HOME}five.jpg"}}</script></article>"""
    there = {"kits/k/index.html", "a.html"}
    pages = {"kits/k/index.html": a_page(text, "kits/k/index.html", there), "a.html": a_page('<article id="x">', "a.html", there)}
    everything = {
        "kits/k/pä.png",
        "kits/k/one.png",
        "kits/k/two.png",
        "kits/k/three.svg",
        "kits/k/four.jpg",
        "kits/k/share.jpg",
        "five.jpg",
    }
    assert [to for _, to in nowhere(pages, there | everything)] == ["kits/k/index.html#lost"]
    assert {to for _, to in nowhere(pages, there)} == {*everything, "kits/k/index.html#lost"}


def test_styles_feeds_and_maps_are_followed_too(tmp_path: Path):
    site = Placing(tmp_path / "site")
    for name, text in {
        "look/styles.css": """@font-face{src:url("f.woff2")} a{background:url( ../gone.png?x ) url(data:image/png;base64,x) url('#in')}""",
        "look/f.woff2": "",
        "feed.xml": f"<id>{HOME}</id><link href='{HOME}a.html#b'/><link href='{HOME}gone.html'/>",
        "sitemap.xml": f"<loc>{HOME}index.html</loc>",
        "kits.json": f'{{"at": "{HOME}kits/gone/", "other": "https://cards.example/else"}}',
        "index.html": "",
        "a.html": "",
    }.items():
        site.put(name, text.encode())
    site.pages = {"a.html": a_page('<article id="c">', "a.html", set(site.files))}
    assert [(f.values["page"], f.values["to"]) for f in led.findings(site, HOME)] == [
        ("look/styles.css", "../gone.png?x"),
        ("feed.xml", "a.html#b"),
        ("feed.xml", "gone.html"),
        ("kits.json", "kits/gone/index.html"),
    ]
    assert led.findings(site, "") == led.findings(site, "")[:1] and "gone.png" in led.findings(site, "")[0].problem
