"""The preview: serves this machine, follows what is saved, survives mistakes."""

from __future__ import annotations

import datetime as dt
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from archive.small import FIRST
from kitwright.archive import make as module_make
from kitwright.archive import preview as module
from kitwright.archive.audience import Audience
from kitwright.archive.build import BuildReport
from kitwright.archive.gather import gather
from kitwright.archive.make import Kept
from kitwright.archive.preview import NEWS, SCRIPT, Preview
from kitwright.errors import UserError
from kitwright.files import OURS

LONG = 120
"""Seconds after which a test gives up; never waited for when all is well."""


@pytest.fixture
def said() -> list[str]:
    return []


@pytest.fixture
def shown(small: Path, kept: Kept, said: list[str]) -> Iterator[Preview]:
    preview = Preview(small, port=0, say=said.append)
    preview._kept = kept
    try:
        yield preview
    finally:
        preview.stop()


def read(preview: Preview, path: str = "") -> tuple[int, str]:
    try:
        with urllib.request.urlopen(preview.address + path.lstrip("/"), timeout=LONG) as answer:
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as error:
        return error.code, error.read().decode()


def test_it_serves_pages_with_a_script_that_asks_for_news(shown: Preview):
    shown.start()
    status, page = read(shown)
    assert status == 200 and f'<script src="{SCRIPT}"></script></body>' in page
    assert read(shown, SCRIPT)[0] == 200 and read(shown, NEWS + "?") == (200, "1")
    status, page = read(shown, "no/such/page.html")
    assert status == 404 and "trimmed away" in page
    assert shown.address.startswith("http://127.0.0.1:")


def test_it_follows_a_save_and_tells_the_open_page(shown: Preview, small: Path):
    shown.start()
    threading.Thread(target=shown.follow, daemon=True).start()
    news: list[tuple[int, str]] = []
    asking = threading.Thread(target=lambda: news.append(read(shown, NEWS + "?1")))
    asking.start()
    notes = small / "kits" / FIRST / "notes.md"
    notes.write_text("Newly written words.\n", encoding="utf-8")
    assert shown.wait_for_try(2, LONG)
    asking.join(LONG)
    assert news == [(200, "2")]
    assert "Newly written words." in read(shown, f"kits/{FIRST}/index.html")[1]


def test_a_change_of_people_or_of_the_moment_makes_a_kit_anew(small: Path, tmp_path: Path):
    """Whatever a kit is made from is in the digest that says whether it is to be made again."""
    person = small / "kits" / "people" / "ada-bell" / "person.yaml"
    person.parent.mkdir(parents=True)
    person.write_text("name: Ada Bell\nconsent: {on: 2030-01-01, to: [name]}\n", encoding="utf-8")
    moment = dt.datetime(2031, 4, 10, tzinfo=dt.UTC)
    seen: list[str] = []
    made = module_make._at_once

    def counted(archive, wanted, *more):
        for kit, entry in wanted:
            seen.append(kit.id)
            yield module_make.Made(entry, {}, {}, {})

    module_make._at_once = counted
    try:
        kept: Kept = {}

        def anew(as_of: dt.datetime | None = None, audience: Audience = "public") -> list[str]:
            seen.clear()
            module_make.make_all(gather(small, as_of, audience), lambda *a: None, kept)
            return list(seen)

        assert len(anew()) == 3 and anew() == []
        person.write_text("name: Ada Bell\nconsent: {on: 2030-01-01, to: []}\n", encoding="utf-8")
        assert len(anew()) == 3
        (small / "kits" / FIRST / "notes.md").write_text("Other words.\n", encoding="utf-8")
        assert anew() == [FIRST]
        assert len(anew(moment)) == 2 and len(anew(moment + dt.timedelta(seconds=1))) == 2 and len(anew(moment, "team")) == 3
    finally:
        module_make._at_once = made


def test_a_broken_kit_leaves_the_last_good_site_standing(shown: Preview, small: Path, said: list[str]):
    shown.start()
    file = small / "kits" / FIRST / "kit.yaml"
    good = file.read_text(encoding="utf-8")
    before = read(shown)
    file.write_text(good.replace("cards: 3", "cards: none"), encoding="utf-8")
    assert shown.rebuild() is False
    assert "kit.yaml:3" in said[-1] and "The last good site is still shown." in said[-1]
    assert read(shown) == before
    file.write_text(good.replace("3 strips of 1-1/2", "3 strips of 2-1/2"), encoding="utf-8")
    assert shown.rebuild() is False
    assert "error" in said[-1] and read(shown) == before
    file.write_text(good, encoding="utf-8")
    assert shown.rebuild() is True


def test_kits_that_are_broken_from_the_start_give_a_page_that_says_so(shown: Preview, small: Path):
    (small / "kits" / FIRST / "kit.yaml").write_text("title: [", encoding="utf-8")
    shown.start()
    status, page = read(shown)
    assert status == 503 and "see the terminal" in page and SCRIPT in page


def test_a_port_in_use_is_one_clear_error(shown: Preview, small: Path):
    port, temporary = int(shown.address.rstrip("/").rsplit(":", 1)[1]), shown.site.parent.parent
    before = sorted(temporary.glob(f"{OURS}*"))
    with pytest.raises(UserError, match=f"port {port}"):
        Preview(small, port=port)
    assert sorted(temporary.glob(f"{OURS}*")) == before


def test_sites_of_before_do_not_gather(shown: Preview, monkeypatch):
    def build(root: Path, new: Path, **more) -> BuildReport:
        new.mkdir()
        return BuildReport(1, 1, 1, 1, Fraction(1), new / "index.html")

    monkeypatch.setattr(module, "build_archive", build)
    for _ in range(3):
        assert shown.rebuild()
    assert sorted(f.name for f in shown.site.parent.iterdir()) == [".gitignore", "3"]


def test_no_place_for_temporary_files_is_one_clear_error(small: Path, monkeypatch):
    monkeypatch.setattr(module.tempfile, "tempdir", str(small / "nowhere"))
    with pytest.raises(UserError, match="no place for its site") as caught:
        Preview(small, port=0)
    assert "TMPDIR" in caught.value.remedy


def test_an_interrupt_during_the_first_build_ends_it(small: Path, monkeypatch, tmp_path: Path):
    """It hangs neither on a server that never served nor on a folder in use."""

    def interrupted(*args, **more):
        raise KeyboardInterrupt

    monkeypatch.setattr(module, "build_archive", interrupted)
    monkeypatch.setattr(module.tempfile, "tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()
    module.preview(small, port=0)
    assert list((tmp_path / "temporary").iterdir()) == []


def test_stopping_clears_up(shown: Preview):
    shown.start()
    folder = shown.site.parent
    shown.stop()
    assert not folder.exists()
