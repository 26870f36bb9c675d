"""A site made ahead says so until its moment, and fills no folder that is uploaded as what is due by now."""

from __future__ import annotations

import datetime as dt
import json
import re
import shutil
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND, tree_of, write_small
from kitwright.archive import built
from kitwright.archive.build import MARKER, MARKS, build_archive
from kitwright.errors import UserError
from playwright.sync_api import expect

AT = dt.datetime(2031, 4, 20, 9, tzinfo=dt.UTC)
"""Lisbon is an hour ahead of UTC in summer."""
NOW = AT - dt.timedelta(minutes=1)


@pytest.fixture(scope="module")
def ahead(tmp_path_factory) -> Path:
    """A site made a minute ahead, of one past kit; beside it the one that is made when the moment has come."""
    root = write_small(tmp_path_factory.mktemp("moments"))
    for kit in (FIRST, SECOND):
        shutil.rmtree(root / "kits" / kit)
    for name, now in (("tomorrow", NOW), ("then", AT)):
        build_archive(root, root / name, as_of=AT, now=now)
    return root / "tomorrow"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A small archive of one's own."""
    return write_small(tmp_path)


def test_every_page_says_for_which_moment_it_was_made_and_nothing_else_differs(ahead: Path):
    made, then = tree_of(ahead), tree_of(ahead.parent / "then")
    assert sorted(made) == sorted(then) and "404.html" in made
    for name in sorted(made):
        if name.endswith(".html"):
            text = made[name].decode()
            (line,) = re.findall(r'<p class="kw-secret kw-ahead">(.*?)</p>', text)
            words = " ".join(re.sub(r"<[^>]+>", "", line).split())
            assert words.startswith("Made ahead. This is how the site stands from Sunday 20 April 2031, 10:00, Lisbon time on."), name
            # Without an address the page for what is not found may load nothing: there the line stays, and is true afterwards too.
            takes_it_away = re.search(r'<script src="[^"]*look/first\.js"[^>]* data-moment="2031-04-20T09:00:00Z"></script>', text)
            assert takes_it_away if name != "404.html" else "<script" not in text, name
            assert "kw-ahead" not in then[name].decode() and "data-moment" not in then[name].decode(), name
        elif name != built.RECORD:
            # The search, the feed, the data: as they are when the moment has come.
            assert made[name] == then[name], name


def test_a_folder_says_for_whom_and_for_which_moment_it_was_built(ahead: Path):
    one, then = built.read(ahead), built.read(ahead.parent / "then")
    assert (one.audience, one.moment, one.everything, one.kits) == ("public", AT, False, {OLD: None})
    assert one.ahead(NOW) and not one.ahead(AT)
    assert then.moment is None and not then.ahead(NOW), "what is built for now carries no time"
    assert {name: f.size for name, f in one.files.items()} == {n: len(d) for n, d in tree_of(ahead).items() if n != built.RECORD}


@pytest.mark.parametrize("audience", ["public", "team", "members"])
def test_an_earlier_kitwrights_folder_is_known_by_its_mark_alone(tmp_path: Path, audience: str):
    (tmp_path / MARKER).write_bytes(MARKS[audience].encode())
    for said in (None, b"{}", b"[]", b"\xff", b'{"format": 2}'):
        if said is not None:
            (tmp_path / built.RECORD).write_bytes(said)
        one = built.read(tmp_path)
        assert (one.audience, one.moment, one.kits, one.files) == (audience, None, None, None)


@pytest.mark.parametrize("name", ["/etc/passwd", "../x", "a/../b", "a//b", "./a", "a\n", "a\\b", "", "a/", ".."])
def test_a_record_that_leads_out_of_its_folder_is_none(name: str):
    with pytest.raises(ValueError):
        built.parsed(json.dumps({"format": 1, "kits": {}, "files": {name: [1, "x"]}}).encode())


@pytest.mark.parametrize("folder", ["site", "site-team", "site-members", "to the site"])
@pytest.mark.parametrize("audience", ["public", "team", "members"])
def test_a_time_to_come_never_fills_a_default_folder(small: Path, folder: str, audience: str):
    (small / "to the site").symlink_to(small / "site")
    (small / "site").mkdir()
    before = sorted(small.rglob("*"))
    with pytest.raises(UserError) as caught:
        build_archive(small, small / folder, as_of=AT, now=NOW, audience=audience)
    assert sorted(small.rglob("*")) == before
    if audience == "public" or folder not in ("site", "to the site"):
        assert "2031-04-20 10:00 is still to come" in caught.value.problem and "--out tomorrow" in caught.value.remedy


@pytest.mark.browser
@pytest.mark.parametrize("page", ["index.html", f"kits/{OLD}/index.html"])
def test_the_line_is_gone_once_the_moment_has_come_and_nothing_moves(reader, ahead: Path, page: str):
    """From a folder; before anything is painted, so that nothing shifts."""
    one = reader(alone=True)
    early = one.open((ahead / page).as_uri())
    expect(early.locator(".kw-ahead")).to_be_visible()
    assert early.locator(".md-header").bounding_box()["y"] > 20
    early.clock.set_fixed_time(AT)
    early.add_init_script(TOPS)
    late = one.open((ahead / page).as_uri())
    expect(late.locator(".kw-ahead")).to_have_count(0)
    expect(late.locator(".md-banner")).to_have_count(0)
    assert set(late.evaluate("tops")) == {0} and not [c for c in one.complaints if "ahead" in c]
    assert set(one.open((ahead.parent / "then" / page).as_uri()).evaluate("tops")) == {0}


TOPS = """
window.tops = []
const look = () => {
  const header = document.querySelector(".md-header")
  if (header) tops.push(header.getBoundingClientRect().top)
  requestAnimationFrame(look)
}
requestAnimationFrame(look)
"""
"""Where the head of a page stands each time that it is painted."""
