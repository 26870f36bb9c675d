"""Addresses that readers were led to: kept beside the kits, and never left leading nowhere."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path

import pytest
from kitwright.archive.addresses import FILE, MOVED, STYLE, Address, keep, leading_on, lost, read
from kitwright.archive.policy import fault_of, policy_of
from kitwright.errors import UserError
from kitwright.kit.theme import ASSETS, Theme

OLD, NEW = "kits/2031-04-aster/index.html", "kits/2031-04-stars/index.html"


def a_site(folder: Path, **pages: str) -> list[str]:
    """A site of pages with these places."""
    names = []
    for name, places in pages.items():
        file = folder / {"old": OLD, "new": NEW}.get(name, f"{name}.html")
        file.parent.mkdir(parents=True, exist_ok=True)
        ids = "".join(f'<h2 id="{one}">x</h2>' for one in places.split())
        file.write_text(f'<body id="frame"><article>{ids}</article></body>', encoding="utf-8")
        names.append(file.relative_to(folder).as_posix())
    return names


def kept(tmp_path: Path, text: str) -> Path:
    kits = tmp_path / "kits"
    kits.mkdir(exist_ok=True)
    (kits / FILE).write_text(text, encoding="utf-8")
    return kits


def test_what_went_to_the_host_is_kept_and_what_she_typed_stays(tmp_path: Path):
    site, kits = tmp_path / "site", tmp_path / "kits"
    kits.mkdir()
    names = a_site(site, index="about", old="need cut cut-1-2 guide-3 2031 step-fold", people="ilse", **{"404": "x"})
    keep(kits, site, [*names, "look/site.css"])
    # Numbered places move with a correction; a person's name is nobody's to keep here.
    assert read(kits) == {
        "index.html": Address(4, frozenset({"about"})),
        OLD: Address(5, frozenset({"need", "cut", "step-fold"})),
        "people.html": Address(6),
    }
    text = (kits / FILE).read_text(encoding="utf-8")
    (kits / FILE).write_text("# Moved in May.\n" + text.replace(OLD, f"{OLD} -> {NEW}"), encoding="utf-8")
    keep(kits, tmp_path / "other", a_site(tmp_path / "other", index="about news", new="need"))
    found = read(kits)
    assert (
        "# Moved in May." in (kits / FILE).read_text(encoding="utf-8")
        and found[OLD].now == NEW
        and found["index.html"].places == {"about", "news"}
        and found[NEW].places == {"need"}
    )
    written = (kits / FILE).stat().st_mtime_ns
    keep(kits, tmp_path / "other", ["index.html"])
    assert (kits / FILE).stat().st_mtime_ns == written, "nothing new, nothing written"


def test_a_page_that_moved_leads_on_from_any_depth_however_often(tmp_path: Path):
    site = tmp_path / "site"
    names = a_site(site, index="", new="")
    kits = kept(tmp_path, f"old.html -> {OLD}\n{OLD} -> {NEW}\nindex.html\n{NEW}\n")
    found = read(kits)
    assert lost(found, names, site, kits) == []
    made = leading_on(found, names, Theme())
    assert {name: re.findall(r'url=([^"]+)"', data.decode()) for name, data in made.items()} == {
        "old.html": [NEW],
        OLD: ["../2031-04-stars/index.html"],
    }
    for name, data in made.items():
        text = data.decode()
        assert fault_of(text) is None and policy_of(Theme()) in text and MOVED in text
        (style,) = re.findall(r'<link rel="stylesheet" href="([^"]+)">', text)
        assert posixpath.normpath(posixpath.join(posixpath.dirname(name), style)) == STYLE and text.count(" href=") == 3
    assert Theme().program_file(f"{ASSETS}/{posixpath.basename(STYLE)}"), "there to be worn"
    # What leads on is no page of its own, and is not kept as one.
    for name, data in made.items():
        (site / name).parent.mkdir(parents=True, exist_ok=True)
        (site / name).write_bytes(data)
    before = read(kits)
    keep(kits, site, [*names, *made])
    assert {page: address.now for page, address in read(kits).items()} == {page: address.now for page, address in before.items()}
    assert lost(read(kits), [*names, *made], site, kits, "error") == []


def test_what_leads_nowhere_is_told_with_what_would_be_right(tmp_path: Path):
    site = tmp_path / "site"
    names = a_site(site, index="about", new="need")
    kits = kept(tmp_path, f"# mine\n\n{OLD} need\nindex.html about gone-for-now\nold.html -> gone\nolder.html -> nowhere.html\n")
    told = lost(read(kits), names, site, kits, "error")
    assert [(f.level, f.code, f.place.line) for f in told] == [
        ("error", "lasting.gone", 3),
        ("hint", "lasting.places-gone", 4),
        ("error", "lasting.nowhere", 6),
    ]
    assert f"{OLD} -> {NEW}" in told[0].remedy and "#gone-for-now" in told[1].problem


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("index.html\n../up.html\n", "lasting.page", 2),
        ("/index.html\n", "lasting.page", 1),
        ("index\n", "lasting.page", 1),
        ("kits\\old\\index.html\n", "lasting.page", 1),
        ("index.html ->\n", "lasting.now", 1),
        ("index.html -> https://elsewhere.example/x.html\n", "lasting.now", 1),
        ("index.html\nindex.html about\n", "lasting.twice", 2),
        ("\udcff", "files.no-utf-8", None),
    ],
)
def test_a_line_that_says_nothing_is_told(tmp_path: Path, text: str, code: str, line: int | None):
    kits = kept(tmp_path, "")
    (kits / FILE).write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(UserError) as caught:
        read(kits)
    assert (caught.value.code, caught.value.place.line) == (code, line) and caught.value.problem


def test_ends_of_lines_and_a_circle_do_no_harm(tmp_path: Path):
    kits = kept(tmp_path, "\ufeffa.html -> b.html\r\nb.html -> a.html\r\n")
    found = read(kits)
    assert found["a.html"].now == "b.html" and leading_on(found, [], Theme()) == {}
    assert {f.code for f in lost(found, [], tmp_path, kits)} == {"lasting.nowhere"}
