"""The preview: serves this machine, follows what is saved, shows what is wrong at its place, survives mistakes."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from archive.small import FIRST, OLD, SECOND
from kitwright import cache
from kitwright.archive import later
from kitwright.archive.build import BuildReport
from kitwright.archive.built import RECORD
from kitwright.archive.gather import gather, kit_of
from kitwright.archive.preview import Preview, follow, preview
from kitwright.archive.preview.good import LastGood
from kitwright.archive.preview.ready import make_ready
from kitwright.archive.preview.serve import NEWS, SCRIPT, STYLE
from kitwright.archive.preview.spots import SECTIONS, path_of
from kitwright.archive.preview.told import shown_by
from kitwright.archive.preview.watch import Changes
from kitwright.archive.units import made_units
from kitwright.errors import Place, UserError
from kitwright.files import OURS
from kitwright.kit.model import KitSpec
from kitwright.kit.yamltext import look_at
from watchdog.events import FileClosedEvent, FileModifiedEvent, FileOpenedEvent

LONG = 120
"""Seconds after which a test gives up; never waited for when all is well."""


@pytest.fixture
def said() -> list[str]:
    return []


@pytest.fixture
def shown(small: Path, said: list[str]) -> Iterator[Preview]:
    preview = Preview(small, port=0, say=said.append)
    try:
        yield preview
    finally:
        preview.stop()


@pytest.fixture
def quick(small: Path, monkeypatch) -> Path:
    """The small archive, of which everything is read and checked, and a page a kit is written in the place of all that is drawn."""
    shutil.rmtree(small / "kits" / OLD)
    monkeypatch.setattr(follow, "build_archive", stand_in)
    return small


def stand_in(root: Path, out: Path, progress=None, **more) -> BuildReport:
    """Builds a site of bare pages, with the errors of a real one."""
    archive = gather(root)
    pages = {f"kits/{kit_of(one).id}/index.html": f"<h1>{kit_of(one).spec.title}</h1>" for one in archive.entries}
    pages |= {"index.html": f"<h1>{archive.club.name}</h1>", "404.html": "<h1>trimmed away</h1>"}
    pages = {name: f"<html><head></head><body><main>{text}</main></body></html>" for name, text in pages.items()}
    shutil.rmtree(out, ignore_errors=True)
    for name, text in pages.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_text(text, encoding="utf-8")
    files = {name: [len(text), hashlib.sha256(text.encode()).hexdigest()] for name, text in pages.items()}
    (out / RECORD).write_text(json.dumps({"format": 1, "everything": True, "kits": {}, "files": files}), encoding="utf-8")
    (out / ".kitwright").touch()
    return BuildReport(len(archive.entries), 1, 1, 1, Fraction(1), out / "index.html", archive.left, archive.found)


def read(preview: Preview, path: str = "") -> tuple[int, str]:
    try:
        with urllib.request.urlopen(preview.address + path.lstrip("/"), timeout=LONG) as answer:
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as error:
        return error.code, error.read().decode()


def told(preview: Preview, path: str) -> dict[str, Any]:
    """What a page says beside what its author wrote."""
    found = re.search(r'<script type="application/json" id="kw-told">(.*?)</script>', read(preview, path)[1])
    assert found
    return json.loads(found[1])


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def kit_page(kit: str) -> str:
    return f"kits/{kit}/index.html"


# --- serving --------------------------------------------------------------------------------------


def test_a_saved_change_is_built_and_told_to_the_open_page(shown: Preview, small: Path):
    """The one that builds a whole site: the others look at bare pages."""
    shown.start()
    status, page = read(shown)
    assert status == 200 and f'<link rel="stylesheet" href="{STYLE}"></head>' in page and f'<script src="{SCRIPT}"></script></body>' in page
    assert "kw-told" not in (shown.site / "index.html").read_text(encoding="utf-8"), "nothing of the preview is in the site itself"
    assert read(shown, SCRIPT)[0] == read(shown, STYLE)[0] == 200
    status, page = read(shown, "no/such/page.html")
    assert status == 404 and "trimmed away" in page and SCRIPT in page
    assert shown.address.startswith("http://127.0.0.1:")
    pages = (kit_page(FIRST), kit_page(SECOND))
    before = {path: told(shown, path) for path in pages}
    threading.Thread(target=shown.follow, daemon=True).start()
    (small / "kits" / FIRST / "notes.md").write_text("Newly written words.\n", encoding="utf-8")
    assert shown.wait_for_try(2, LONG)
    assert "Newly written words." in read(shown, kit_page(FIRST))[1]
    after = {path: told(shown, path) for path in pages}
    assert [after[path]["token"] == before[path]["token"] for path in pages] == [False, True], "only the page that changed is loaded again"


def test_news_waits_until_there_is_some(quick: Path, shown: Preview):
    shown.start()
    known = told(shown, "")["version"]
    before = told(shown, "")["token"]
    news: list[dict[str, Any]] = []

    def ask() -> None:
        version = known
        # How far a long build is would be news too.
        while not news or news[-1]["token"] == before:
            news.append(json.loads(read(shown, f"{NEWS}?page=index.html&known={version}")[1]))
            version = news[-1]["version"]

    asking = threading.Thread(target=ask)
    asking.start()
    asking.join(0.2)
    assert asking.is_alive() and not news
    change(quick / "kits" / "club.yaml", "Bench", "Table")
    assert shown.rebuild()
    asking.join(LONG)
    assert news[0]["version"] != known and news[-1]["token"] == told(shown, "")["token"]


def test_what_did_not_change_is_not_sent_again(quick: Path, shown: Preview):
    shown.start()
    (shown.site / "a.svg").write_text("<svg/>", encoding="utf-8")
    shown.state.digests["a.svg"] = "abc"  # type: ignore[index]  # a dictionary
    asked = urllib.request.Request(f"{shown.address}a.svg", headers={"If-None-Match": '"abc"'})
    with pytest.raises(urllib.error.HTTPError, match="304"):
        urllib.request.urlopen(asked, timeout=LONG)
    with urllib.request.urlopen(f"{shown.address}a.svg", timeout=LONG) as answer:
        assert answer.headers["ETag"] == '"abc"' and answer.read() == b"<svg/>"


def test_a_page_is_another_when_a_picture_that_it_shows_is():
    page = '<img src="sketch.svg" alt=""><img srcset="a.png 1x, ../b.png 2x"><a href="x.pdf"><img src="data:,x"><img src="https://c.example/d.png">'
    assert shown_by(page, "kits/one/index.html") == {"kits/one/sketch.svg", "kits/one/a.png", "kits/b.png"}


# --- what is wrong --------------------------------------------------------------------------------


def test_a_bad_kit_stands_as_it_was_and_holds_up_no_other(quick: Path, shown: Preview, said: list[str]):
    shown.start()
    one, other = (quick / "kits" / kit / "kit.yaml" for kit in (FIRST, SECOND))
    good = one.read_text(encoding="utf-8")
    before = read(shown, kit_page(FIRST))[1].partition("<script")[0]
    one.write_text(good.replace("cards: 3", "cards: none"), encoding="utf-8")
    change(other, "title: ", 'title: "New Aster"  # ')
    assert shown.rebuild() is False
    assert "kit.yaml:3" in said[-1] and f"Still shown as last built: kits/{FIRST}." in said[-1] and "Built 2 kits" in said[-1]
    assert read(shown, kit_page(FIRST))[1].partition("<script")[0] == before
    assert "New Aster" in read(shown, kit_page(SECOND))[1]
    page = told(shown, kit_page(FIRST))
    (note,), bar = page["notes"], page["bar"]
    assert note["level"] == "error" and note["where"].endswith("kit.yaml:3") and note["problem"] in said[-1] and note["remedy"] in said[-1]
    assert bar["alert"] and re.search(r"is shown as saved at [\d:]{8}\. Saved since at [\d:]{8} and not shown\.", bar["states"][0])
    assert told(shown, kit_page(SECOND))["notes"] == [] and told(shown, kit_page(SECOND))["bar"]["links"][0]["way"] == kit_page(FIRST)
    (link,) = told(shown, "")["bar"]["links"]
    assert link == {"words": FIRST, "count": "1 error", "way": kit_page(FIRST)}
    # Worked out, it can't be cut: that is told alike, with what else was found.
    one.write_text(good.replace("3 strips of 1-1/2", "3 strips of 2-1/2"), encoding="utf-8")
    assert shown.rebuild() is False
    notes = told(shown, kit_page(FIRST))["notes"]
    assert notes and {"heading", "id", "row"} & {key for note in notes for spot in note["at"] for key in spot}
    one.write_text(good, encoding="utf-8")
    token = told(shown, kit_page(FIRST))["token"]
    assert shown.rebuild() is True and "Mended" in said[-1]
    page = told(shown, kit_page(FIRST))
    assert (page["notes"], page["bar"], page["token"]) == ([], None, token), "mended, the page itself is the same"


def test_warnings_stand_on_the_page_that_is_shown(quick: Path, shown: Preview, said: list[str]):
    change(quick / "kits" / FIRST / "kit.yaml", ', alt: "One of [[cards]] on a table"', "")
    shown.start()
    (note,) = told(shown, kit_page(FIRST))["notes"]
    assert note["level"] == "warning" and note["at"] == [{"id": "finished-cards"}]
    bar = told(shown, kit_page(FIRST))["bar"]
    assert not bar["alert"] and bar["states"] == [] and bar["level"] == "warning"
    assert str(note["problem"]) in said[-1]
    change(quick / "kits" / SECOND / "notes.md", "A list", "Another list")
    assert shown.rebuild() and note["problem"] not in said[-1], "in the terminal it is told once"


@pytest.mark.parametrize("what", ["club", "people", "theme"])
def test_what_concerns_all_stands_on_every_page(what: str, quick: Path, shown: Preview, monkeypatch):
    shown.start()
    if what == "club":
        file, text = quick / "kits" / "club.yaml", "name: [\n"
    elif what == "people":
        file, text = quick / "kits" / "people" / "ada-bell" / "person.yaml", "name: Ada Bell\nconsent: often\n"
    else:
        file, text = quick / "theme" / "templates" / "home.md", "\n"
    good = file.read_bytes() if file.exists() else None
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")
    if what == "theme":
        # A fault of a theme shows when pages are filled in.
        def faulty(root: Path, out: Path, progress=None, **more) -> BuildReport:
            if (root / "theme").exists():
                raise UserError("theme.head-none", place=Place(root / "theme" / "templates" / "home.md", 2))
            return stand_in(root, out)

        monkeypatch.setattr(follow, "build_archive", faulty)
    assert shown.rebuild() is False
    for path in ("", kit_page(FIRST), "404.html"):
        notes = told(shown, path)["notes"]
        assert notes and all(file.name in note["where"] and note["at"] == [] for note in notes), path
        assert told(shown, path)["bar"]["alert"] and told(shown, path)["bar"]["states"]
    # The kits go on.
    change(quick / "kits" / FIRST / "kit.yaml", "title: ", 'title: "New"  # ')
    assert shown.rebuild() is False and "<h1>New</h1>" in read(shown, kit_page(FIRST))[1]
    if good is None:
        shutil.rmtree(quick / file.relative_to(quick).parts[0] if what == "theme" else file.parent.parent)
    else:
        file.write_bytes(good)
    assert shown.rebuild() is True and told(shown, "")["bar"] is None


def test_a_change_of_the_club_that_breaks_a_kit_is_told_at_the_kit_and_waits(quick: Path, shown: Preview):
    """The kit did not change, so there is no good state of it with that club."""
    club, kit = quick / "kits" / "club.yaml", quick / "kits" / FIRST / "kit.yaml"
    change(club, "terms:", "papers: {usual: {kind: cardstock, name: Usual, size: Letter, weight: 80 lb cover}}\nterms:")
    change(kit, "base: {size: 8-1/2 x 5-1/2, paper: white}", "base: {size: 8-1/2 x 5-1/2, paper: usual}")
    change(kit, "  white:\n    kind: cardstock\n    name: White cardstock\n    size: Letter\n    weight: 80 lb cover\n", "")
    shown.start()
    assert told(shown, "")["bar"] is None
    change(club, "papers: {usual:", "papers: {other:")
    assert shown.rebuild() is False
    notes = told(shown, kit_page(FIRST))["notes"]
    assert notes and all("kit.yaml:" in note["where"] for note in notes)
    assert "club.yaml" in told(shown, kit_page(SECOND))["bar"]["states"][0]


def test_kits_that_are_broken_from_the_start_are_told_and_the_others_shown(quick: Path, shown: Preview):
    (quick / "kits" / FIRST / "kit.yaml").write_text("title: [", encoding="utf-8")
    shown.start()
    status, page = read(shown, kit_page(FIRST))
    assert status == 503 and "can’t be shown yet" in page and told(shown, kit_page(FIRST))["notes"]
    assert "can’t be shown yet" in told(shown, kit_page(FIRST))["bar"]["states"][0]
    assert read(shown)[0] == 200 and told(shown, "")["bar"]["links"][0]["words"] == FIRST


def test_before_the_first_good_build_the_page_tells_all_that_is_wrong(quick: Path, shown: Preview):
    (quick / "kits" / "club.yaml").write_text("name: [", encoding="utf-8")
    change(quick / "kits" / FIRST / "kit.yaml", "cards: 3", "cards: none")
    shown.start()
    status, page = read(shown)
    assert status == 503 and SCRIPT in page and "Nothing can be shown yet" in page
    assert any("club.yaml" in note["where"] for note in told(shown, "")["notes"])
    assert told(shown, "")["bar"]["links"][0]["words"] == FIRST
    assert told(shown, kit_page(FIRST))["notes"], "the kit's too"


def test_a_link_to_nowhere_is_put_down_to_its_kit(quick: Path, shown: Preview, monkeypatch):
    """What only shows once pages are made: the build is tried again without that kit's change, and the next change of another tries it again."""
    shown.start()
    tried: list[bool] = []

    def picky(root: Path, out: Path, progress=None, **more) -> BuildReport:
        bad = "nowhere" in (root / "kits" / FIRST / "notes.md").read_text(encoding="utf-8")
        tried.append(bad)
        if bad:
            raise UserError("site.link-to-nowhere", place=Place(root / "kits" / FIRST / "notes.md", 1), link="nowhere.md")
        return stand_in(root, out)

    monkeypatch.setattr(follow, "build_archive", picky)
    (quick / "kits" / FIRST / "notes.md").write_text("[x](nowhere.md)\n", encoding="utf-8")
    change(quick / "kits" / SECOND / "kit.yaml", "title: ", 'title: "New"  # ')
    assert shown.rebuild() is False and tried == [True, False] and "<h1>New</h1>" in read(shown, kit_page(SECOND))[1]
    (note,) = told(shown, kit_page(FIRST))["notes"]
    assert note["where"].endswith("notes.md:1") and note["at"] == [{"id": "notes"}]


def test_what_is_known_to_be_bad_is_not_tried_again_until_it_or_the_club_changes(quick: Path, shown: Preview, monkeypatch):
    shown.start()
    change(quick / "kits" / FIRST / "kit.yaml", "cards: 3", "cards: none")
    shown.rebuild()
    tried: list[str] = []
    monkeypatch.setattr(follow, "build_archive", lambda *given, **more: tried.append("") or stand_in(*given, **more))
    for _ in range(2):
        assert shown.rebuild() is False and told(shown, kit_page(FIRST))["notes"]
    assert tried == []
    change(quick / "kits" / SECOND / "notes.md", "A list", "Another list")
    assert shown.rebuild() is False and len(tried) == 1
    change(quick / "kits" / "club.yaml", "Bench", "Table")
    assert shown.rebuild() is False and len(tried) == 3


def test_folders_come_go_and_are_renamed(quick: Path, shown: Preview):
    shown.start()
    kits, renamed = quick / "kits", SECOND.replace("aster", "daisy")
    (kits / SECOND).rename(kits / renamed)
    assert shown.rebuild() and read(shown, kit_page(SECOND))[0] == 404 and read(shown, kit_page(renamed))[0] == 200
    shutil.copytree(kits / renamed, kits / SECOND)
    assert shown.rebuild() and read(shown, kit_page(SECOND))[0] == 200
    shutil.rmtree(kits / renamed)
    assert shown.rebuild() and read(shown, kit_page(renamed))[0] == 404
    (kits / SECOND).rename(kits / "Asters")
    assert shown.rebuild() is False
    assert told(shown, kit_page("Asters"))["notes"] and "Asters" in str(told(shown, "")["bar"]["links"])
    (kits / "Asters").rename(kits / SECOND)
    assert shown.rebuild() and told(shown, "")["bar"] is None


def test_a_saved_byte_in_the_midst_of_a_build_begins_it_anew_but_not_for_ever(quick: Path, shown: Preview, monkeypatch):
    shown.start()
    begun: list[int] = []

    def slow(root: Path, out: Path, progress, **more) -> BuildReport:
        begun.append(len(begun))
        shown._changes.wake()
        progress("Drawing the kits", 0, 2)
        if len(begun) > follow.IN_A_ROW:
            shown._stopped = True
        return stand_in(root, out)

    monkeypatch.setattr(follow, "build_archive", slow)
    change(quick / "kits" / FIRST / "kit.yaml", "title: ", 'title: "New"  # ')
    shown.follow()
    assert len(begun) == follow.IN_A_ROW + 1 and shown.tries == 2 and "<h1>New</h1>" in read(shown, kit_page(FIRST))[1]


def test_what_takes_long_is_told(quick: Path, shown: Preview, monkeypatch):
    told_: list[tuple[str, int, int]] = []
    pages: list[Any] = []
    shown._progress = lambda *far: told_.append(far)

    def slow(root: Path, out: Path, progress, **more) -> BuildReport:
        progress("Drawing the kits", 1, 2)
        time.sleep(0.05)
        progress("Drawing the kits", 2, 2)
        pages.append(shown.news("index.html")["building"])
        return stand_in(root, out)

    monkeypatch.setattr(follow, "build_archive", slow)
    shown.rebuild()
    assert told_ == [] and pages == [None], "nothing is said of what is done within a second"
    change(quick / "kits" / "club.yaml", "Bench", "Table")
    monkeypatch.setattr(follow, "LONG", 0.01)
    monkeypatch.setattr(follow, "OFTEN", 0.0)
    shown.rebuild()
    assert ("Drawing the kits", 2, 2) in told_ and told_[-1] == ("", 0, 0)
    assert pages[-1] == {"words": "Drawing the kits: 2 of 2", "done": 2, "total": 2} and shown.news("index.html")["building"] is None


def test_what_is_put_off_is_not_offered_until_it_is_drawn(quick: Path, shown: Preview, monkeypatch):
    """A page comes first and its printables after: until then nothing leads to them, and nothing old is handed out."""
    drawn: list[Path] = []
    monkeypatch.setattr(Preview, "_draw_off", lambda self, at_once=False: drawn.append(self._good.copy) if self._off else None)
    shown.start()

    def puts_off(root: Path, out: Path, progress=None, **more) -> BuildReport:
        for kits in later._off:
            kits.add(FIRST)
        return stand_in(root, out)

    monkeypatch.setattr(follow, "build_archive", puts_off)
    shown._puts_off = True
    change(quick / "kits" / FIRST / "kit.yaml", "title: ", 'title: "New"  # ')
    assert shown.rebuild() and told(shown, kit_page(FIRST))["later"] == [FIRST] and "<h1>New</h1>" in read(shown, kit_page(FIRST))[1]
    status, page = read(shown, f"kits/{FIRST}/{FIRST}-a4.pdf")
    assert status == 503 and "still being drawn" in page
    shown._draw_off()
    assert drawn == [shown._good.copy]
    shown._ready = True
    assert shown.rebuild() and told(shown, kit_page(FIRST))["later"] == [] and not shown._ready


def test_a_kit_whose_printables_are_put_off_is_remembered_only_once_they_are_drawn(small: Path, tmp_path: Path):
    shutil.rmtree(small / "kits" / OLD)
    shutil.rmtree(small / "kits" / SECOND)
    keep, notes = tmp_path / "kept", small / "kits" / FIRST / "notes.md"
    name = f"{FIRST}-a4.pdf"

    def made() -> tuple[object, tuple[str, ...]]:
        units = made_units(small, None, "public", lambda *far: None)
        return units.again.files(FIRST)[name], units.fresh

    with cache.using(keep):
        before, _ = made()
        notes.write_text("Other words.\n", encoding="utf-8")
        with later.putting_off() as kits:
            assert made() == (before, (FIRST,)) and kits == {FIRST}
    make_ready(small, keep)
    with cache.using(keep):
        after, fresh = made()
        assert after != before and fresh == ()
        with later.putting_off() as kits:
            assert made()[0] == after and not kits


def test_what_is_saved_again_as_it_was_is_not_built_again(quick: Path, shown: Preview, monkeypatch):
    shown.start()
    file = quick / "kits" / FIRST / "kit.yaml"
    file.write_bytes(file.read_bytes())
    monkeypatch.setattr(follow, "build_archive", None)
    assert shown.rebuild() and shown.state.held == {}


# --- the last good state --------------------------------------------------------------------------


def test_the_copy_follows_part_by_part_and_goes_back(tmp_path: Path):
    root, home = tmp_path / "archive", tmp_path / "home"
    for name in (
        "kits/club.yaml",
        "kits/2031-04-a/kit.yaml",
        "kits/2031-04-a/photos/x.png",
        "kits/people/ada/person.yaml",
        "theme/mkdocs.yml",
    ):
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(name, encoding="utf-8")
    (root / "kits/2031-04-a/inside.png").symlink_to(root / "kits/2031-04-a/photos/x.png")
    (root / "kits/2031-04-a/outside.png").symlink_to(tmp_path / "elsewhere.png")
    home.mkdir()
    good = LastGood(root, home)
    looks = good.looks()
    assert sorted(looks) == ["kits", "kits/2031-04-a", "kits/people", "theme"]

    def files() -> dict[str, str]:
        return {f.relative_to(good.copy).as_posix(): f.read_text(encoding="utf-8") for f in good.copy.rglob("*") if f.is_file()}

    for part, look in looks.items():
        good.take(part, look)
    good.settle()
    whole = {f.relative_to(root).as_posix(): f.read_text(encoding="utf-8") for f in root.rglob("*") if f.is_file()}
    assert files() == whole and good.held(good.looks(), 0.0) == {}
    copied = good.copy / "kits/2031-04-a/inside.png"
    assert copied.resolve().is_relative_to(good.copy.resolve()), "a link into the archive leads into the copy"
    assert not (good.copy / "kits/2031-04-a/outside.png").resolve().is_relative_to(good.copy.resolve())
    (root / "kits/2031-04-a/kit.yaml").write_text("other", encoding="utf-8")
    (root / "kits/club.yaml").unlink()
    shutil.rmtree(root / "theme")
    looks = good.looks()
    for part in ("kits", "kits/2031-04-a", "theme"):
        good.take(part, looks.get(part))
    assert sorted(files()) == sorted(f.relative_to(root).as_posix() for f in root.rglob("*") if f.is_file())
    for part in ("kits", "kits/2031-04-a", "theme"):
        good.put_back(part)
    assert files() == whole
    assert sorted(good.held(looks, 0.0)) == ["kits", "kits/2031-04-a", "theme"] and good.held(looks, 5.0)["theme"].saved is None


def test_a_file_that_is_larger_than_any_may_be_takes_no_room(tmp_path: Path):
    (tmp_path / "archive/kits/2031-04-a").mkdir(parents=True)
    with open(tmp_path / "archive/kits/2031-04-a/film.mp4", "wb") as stream:
        stream.truncate(300_000_000)
    (tmp_path / "home").mkdir()
    good = LastGood(tmp_path / "archive", tmp_path / "home")
    good.take("kits/2031-04-a", good.looks()["kits/2031-04-a"])
    copied = (good.copy / "kits/2031-04-a/film.mp4").stat()
    assert copied.st_size == 300_000_000 and copied.st_blocks * 512 < 1_000_000


def test_an_editor_that_has_not_closed_its_file_is_waited_for():
    changes, quiet = Changes(), []
    changes._changed.wait_for = lambda what, seconds=None: quiet.append(seconds) or what()  # type: ignore[method-assign]  # asked how long
    changes.on_any_event(FileOpenedEvent("a"))
    assert not changes.more, "reading is no change"
    changes.on_any_event(FileModifiedEvent("a"))
    changes.wait()
    changes.on_any_event(FileModifiedEvent("a"))
    changes.on_any_event(FileClosedEvent("a"))
    changes.wait()
    assert [each for each in quiet if each] == [0.3, 0.04]


@pytest.mark.parametrize(
    ("line", "path"),
    [
        (1, ("title",)),
        (13, ("papers", "white")),
        (15, ("papers", "white", "size")),
        (18, ("pieces", "A")),
        (26, ("guides",)),
        (27, ("guides", 0)),
        (29, ("guides", 0)),
    ],
)
def test_a_line_tells_its_entry(small: Path, line: int, path: tuple[str | int, ...]):
    found = path_of(look_at(small / "kits" / FIRST / "kit.yaml"), line)
    assert found[: len(path)] == path


def test_every_key_of_a_kit_that_has_drawings_or_words_of_its_own_has_itsPlace():
    keys = {field.alias or name for name, field in KitSpec.model_fields.items()}
    at_the_top = {"title", "summary", "cards", "unit", "tags", "reveal", "meant", "by", "moments", "team", "guests", "tested"}
    assert set(SECTIONS) | at_the_top >= keys and not set(SECTIONS) - keys


# --- what may go wrong with the preview itself ----------------------------------------------------


def test_a_port_in_use_is_one_clear_error(shown: Preview, small: Path):
    port, temporary = int(shown.address.rstrip("/").rsplit(":", 1)[1]), shown.site.parent.parent
    before = sorted(temporary.glob(f"{OURS}*"))
    with pytest.raises(UserError, match=f"port {port}"):
        Preview(small, port=port)
    assert sorted(temporary.glob(f"{OURS}*")) == before


def test_no_place_for_temporary_files_is_one_clear_error(small: Path, monkeypatch):
    monkeypatch.setattr(follow.tempfile, "tempdir", str(small / "nowhere"))
    with pytest.raises(UserError, match="no place for its site") as caught:
        Preview(small, port=0)
    assert "TMPDIR" in caught.value.remedy


def test_an_interrupt_during_the_first_build_ends_it(small: Path, monkeypatch, tmp_path: Path):
    """It hangs neither on a server that never served nor on a folder in use."""

    def interrupted(*args, **more):
        raise KeyboardInterrupt

    monkeypatch.setattr(follow, "build_archive", interrupted)
    monkeypatch.setattr(follow.tempfile, "tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()
    preview(small, port=0)
    assert list((tmp_path / "temporary").iterdir()) == []


def test_sites_of_before_do_not_gather(quick: Path, shown: Preview):
    for n in range(3):
        change(quick / "kits" / "club.yaml", "tagline: ", f"tagline: {n} ")
        assert shown.rebuild()
    assert sorted(f.name for f in shown.site.parent.iterdir()) == [".gitignore", "good", "site"]


def test_stopping_clears_up(quick: Path, shown: Preview):
    shown.start()
    folder = shown.site.parent
    shown.stop()
    assert not folder.exists()
