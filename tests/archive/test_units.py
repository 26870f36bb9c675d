"""A kit is made again exactly when something that it is made from is another; what else there is of it is read when it is asked."""

from __future__ import annotations

import datetime as dt
import gc
import os
import shutil
import weakref
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Executor, Future
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pytest
from archive.small import FIRST, OLD, SECOND, write_small
from kitwright import cache
from kitwright.archive import unit as module
from kitwright.archive import workers
from kitwright.archive.audience import Audience
from kitwright.archive.content import Lying, data_of, lying, put
from kitwright.archive.downloads import Download
from kitwright.archive.drawn_from import drawn_from
from kitwright.archive.gather import BuildRefused
from kitwright.archive.listing import Light, Listed, Shelf
from kitwright.archive.make import Made
from kitwright.archive.portable import packed, unpacked
from kitwright.archive.units import Units, made_units
from kitwright.archive.watched import Span, Watched
from kitwright.archive.workers import done
from kitwright.errors import Place, SeveralErrors, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.model import LIVING
from kitwright.kit.read import read_club, read_kit
from kitwright.release.people import Consulted, answered, read_people
from kitwright.work.working import work
from lost import lose_it_once
from making import BATCH
from release.bench import archive, at, kit_in

BEFORE, BETWEEN, AFTER = at("2031-04-01 12:00"), at("2031-04-10 12:00"), at("2031-05-01 12:00")
"""The first kit is due on 2 April, the second on the 20th."""
ALL = sorted([FIRST, SECOND, OLD])
ADA = "name: Ada Bell\nconsent: {on: 2030-01-01, to: [name, thanks]}\n"
IDA = "name: Ida Idle\nconsent: {on: 2030-01-01, to: [name]}\n"


@dataclass
class Bench:
    """A small archive whose kits are made of a few bytes."""

    root: Path
    seen: list[str] = field(default_factory=list)
    """Kits that were made, in order of their ids."""

    def units(self, as_of: dt.datetime | None = None, audience: Audience = "public", keep: Path | None = None) -> Units:
        self.seen.clear()
        with cache.using(keep or self.root / cache.FOLDER):
            return made_units(self.root, as_of, audience, lambda *said: None)

    def anew(self, *given: Any) -> list[str]:
        """What is made again now."""
        self.units(*given)
        return sorted(self.seen)

    def file(self, name: str) -> Path:
        return self.root / "kits" / name

    def write(self, name: str, text: str) -> None:
        self.file(name).parent.mkdir(parents=True, exist_ok=True)
        self.file(name).write_text(text, encoding="utf-8")

    def change(self, name: str, old: str, new: str) -> None:
        text = self.file(name).read_text(encoding="utf-8")
        assert old in text
        self.write(name, text.replace(old, new))


@pytest.fixture(scope="module")
def begun(tmp_path_factory) -> Path:
    """The archive, with what was made of it."""
    one = Bench(write_small(tmp_path_factory.mktemp("begun")))
    one.write("people/ada-bell/person.yaml", ADA)
    one.write("people/ida-idle/person.yaml", IDA)
    one.change(f"{FIRST}/kit.yaml", "cards: 3", "cards: 3\nby: ada-bell")
    one.change("club.yaml", "trimmer:", "team: [{who: ida-idle, role: design team}]\ntrimmer:")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "make", light(one.seen))
        patch.setattr(workers, "cpu_count", lambda: 1)
        assert one.anew() == ALL
    return one.root


def light(seen: list[str]) -> Callable[..., Made]:
    """Makes a kit of a few bytes, and notes that it did."""

    def make(kit, entry, people, as_of, audience, old=None) -> Made:
        seen.append(kit.id)
        name = f"{kit.id}.pdf"
        return Made(entry, {name: b"%PDF " + kit.id.encode()}, {}, {"full": (Download("A4", name, 9),)}, old=old)

    return make


@pytest.fixture
def bench(begun: Path, tmp_path: Path, monkeypatch) -> Bench:
    one = Bench(Path(shutil.copytree(begun, tmp_path / "archive")))
    monkeypatch.setattr(module, "make", light(one.seen))
    monkeypatch.setattr(workers, "cpu_count", lambda: 1)
    return one


# --- what is made again -----------------------------------------------------------------------------


def touched(bench: Bench) -> None:
    for file in bench.file(FIRST).rglob("*"):
        os.utime(file, ns=(1, 1))


def new_kit(bench: Bench) -> None:
    shutil.copytree(bench.file(SECOND), bench.file("2031-06-yarrow"))
    bench.change("2031-06-yarrow/kit.yaml", "2031-04-20", "2031-06-20")


def damaged(bench: Bench) -> None:
    for file in (bench.root / cache.FOLDER / module.REMEMBERED).rglob("*"):
        if file.is_file():
            file.write_bytes(file.read_bytes()[:-1] + b"x")


CHANGES: dict[str, tuple[Callable[[Bench], object], list[str]]] = {
    "nothing": (lambda bench: None, []),
    "times alone": (touched, []),
    "a spec": (lambda bench: bench.change(f"{FIRST}/kit.yaml", "for: panel", "for: front panel"), [FIRST]),
    "notes": (lambda bench: bench.write(f"{SECOND}/notes.md", "Other words.\n"), [SECOND]),
    "a photo": (lambda bench: shutil.copyfile(bench.file(f"{FIRST}/photos/one card.png"), bench.file(f"{FIRST}/photos/b.png")), [FIRST]),
    "an old printable's words": (lambda bench: bench.change(f"{OLD}/kit.yaml", "From the drawer", "From a drawer"), [OLD]),
    "another kit": (new_kit, ["2031-06-yarrow"]),
    "a kit less": (lambda bench: shutil.rmtree(bench.file(SECOND)), []),
    "the club": (lambda bench: bench.change("club.yaml", "Keep fingers", "Keep your fingers"), ALL),
    "what she agreed to": (lambda bench: bench.change("people/ada-bell/person.yaml", "[name, thanks]", "[]"), [FIRST]),
    "one of the team, of whom every kit only asks whether she is there": (
        lambda bench: bench.change("people/ida-idle/person.yaml", "[name]", "[name, link]"),
        [],
    ),
    "somebody whom no kit names": (lambda bench: bench.change("people/ida-idle/person.yaml", "[name]", "[]"), []),
    "somebody new": (lambda bench: bench.write("people/eve-new/person.yaml", IDA), []),
    "the list of members": (lambda bench: bench.write("people/private.yaml", "members: []\n"), []),
    "a schema": (lambda bench: bench.write("kit.schema.json", "{}"), []),
    "her theme": (lambda bench: (bench.root / "theme").mkdir(), []),
    "a cache that vanished": (lambda bench: shutil.rmtree(bench.root / cache.FOLDER), ALL),
    "damaged entries": (damaged, ALL),
}


@pytest.mark.parametrize(("change", "wanted"), CHANGES.values(), ids=CHANGES)
def test_a_change_makes_again_what_depends_on_it_and_nothing_else(bench: Bench, change, wanted: list[str]):
    change(bench)
    assert bench.anew() == sorted(wanted) and bench.anew() == []


def test_kitwrights_own_code_and_another_audience_make_everything_again(bench: Bench, monkeypatch):
    assert bench.anew() == [] and bench.anew(None, "team") == ALL and bench.anew(None, "team") == []
    with monkeypatch.context() as patch:
        patch.setattr("kitwright.cache.digests.code", lambda: "another")
        assert bench.anew() == ALL
    assert bench.anew() == []


def test_a_moment_makes_again_only_what_fell_due(bench: Bench):
    assert bench.anew(BEFORE) == [OLD] and bench.anew(BEFORE + dt.timedelta(minutes=1)) == []
    assert bench.anew(BETWEEN) == [FIRST] and bench.anew(BETWEEN + dt.timedelta(days=3)) == []
    assert bench.anew(AFTER) == [SECOND] and bench.anew(AFTER + dt.timedelta(seconds=1)) == []
    assert bench.anew(BETWEEN) == bench.anew(BEFORE) == [], "what was made for an earlier moment is still known"
    reveal = at("2031-04-20 09:00")  # 10:00 in Lisbon
    held = bench.units(BETWEEN).span
    assert not held.holds(reveal) and held.holds(reveal - dt.timedelta(seconds=1)) and held.holds(BETWEEN)


def test_who_is_thanked_makes_that_kit_again(bench: Bench):
    bench.write("people/ida-idle/person.yaml", IDA + f"thanks: [{{kit: {SECOND}, revision: 2}}]\n")
    assert bench.anew() == [SECOND]


def test_what_is_saved_in_the_middle_is_not_remembered_as_what_it_was(bench: Bench, monkeypatch):
    make = module.make

    def saving(kit, *more):
        made = make(kit, *more)
        bench.write(f"{FIRST}/notes.md", "Saved meanwhile.\n")
        return made

    notes = bench.file(f"{FIRST}/notes.md").read_text(encoding="utf-8")
    shutil.rmtree(bench.root / cache.FOLDER)
    with monkeypatch.context() as patch:
        patch.setattr(module, "make", saving)
        bench.units()
    bench.write(f"{FIRST}/notes.md", notes)
    assert FIRST in bench.anew() and bench.anew() == []


def test_an_archive_that_was_moved_or_copied_makes_nothing_again(bench: Bench, tmp_path: Path, monkeypatch):
    elsewhere = Path(shutil.copytree(bench.root, tmp_path / "elsewhere"))
    monkeypatch.chdir(elsewhere / "kits")
    moved = Bench(elsewhere, bench.seen)
    units = moved.units()
    with cache.using(elsewhere / cache.FOLDER):
        for one in units.kits:
            assert one.whole.kit.folder == elsewhere / "kits" / one.id and moved.seen == []
            assert one.whole.kit.document.file == Path(one.id) / "kit.yaml", "as she would type it where she stands"


def test_a_build_that_was_killed_goes_on_where_it_was(bench: Bench):
    shutil.rmtree(bench.root / cache.FOLDER)
    pid = os.fork()
    if pid == 0:
        make, count = module.make, []

        def dying(*given):
            count.append(1)
            if len(count) == 3:
                os._exit(9)
            return make(*given)

        module.make = dying
        bench.units()
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) == 9
    assert len(bench.anew()) == 1


def test_two_builds_at_once_come_to_the_same(bench: Bench):
    shutil.rmtree(bench.root / cache.FOLDER)
    pids = []
    for _ in range(2):
        if (pid := os.fork()) == 0:
            os._exit(0 if [one.id for one in bench.units().kits] == [OLD, FIRST, SECOND] else 1)
        pids.append(pid)
    assert [os.waitpid(pid, 0)[1] for pid in pids] == [0, 0] and bench.anew() == []


def test_all_that_is_wrong_is_told_and_what_is_sound_stays_made(bench: Bench):
    bench.change(f"{FIRST}/kit.yaml", "3 strips of 1-1/2", "3 strips of 2-1/2")
    bench.change(f"{SECOND}/kit.yaml", "cards: 3", "cards: none")
    with pytest.raises(UserError) as caught:
        bench.units()
    assert not isinstance(caught.value, BuildRefused) and caught.value.place and caught.value.place.file.parent.name == SECOND
    bench.change(f"{SECOND}/kit.yaml", "cards: none", "cards: 3")
    with pytest.raises(BuildRefused) as refused:
        bench.units()
    assert {finding.place.file.parent.name for finding in refused.value.findings} == {FIRST}
    bench.change(f"{FIRST}/kit.yaml", "3 strips of 2-1/2", "3 strips of 1-1/2")
    bench.units()
    assert bench.anew() == []


def test_what_was_lost_is_made_again_where_it_is_needed(bench: Bench, tmp_path: Path):
    units = bench.units()
    one = units.kits[-1]
    with cache.using(bench.root / cache.FOLDER):
        files, name = one.files, f"{one.id}.pdf"
        shutil.rmtree(bench.root / cache.FOLDER / "bytes")
        with pytest.raises(cache.Lost):
            data_of(files[name])
        one.again()
        put(files[name], tmp_path / name)
        assert (tmp_path / name).read_bytes() == b"%PDF " + one.id.encode() and bench.seen[-1] == one.id
        shutil.rmtree(bench.root / cache.FOLDER)
        other = units.kits[0]
        assert other.whole.kit.id == other.id and list(other.files) == [f"{other.id}.pdf"]


def test_what_is_made_of_what_was_kept_has_the_very_bytes_of_what_is_made_from_nothing(tmp_path: Path, quick, monkeypatch):
    monkeypatch.setattr(workers, "cpu_count", lambda: 1)
    one = Bench(write_small(tmp_path / "archive"))
    shutil.rmtree(one.file(SECOND)), shutil.rmtree(one.file(OLD))

    def bytes_of(keep: Path) -> tuple[dict[str, bytes], str]:
        with cache.using(keep):
            (kit,) = made_units(one.root, None, "public", lambda *said: None).kits
            made = kit.whole
            said = repr((made.images, made.cut_files, made.yours, made.gallery.tiles, made.gallery.sheets, made.photos, made.state))
            return {name: data_of(data) for name, data in kit.files.items()}, said

    before = bytes_of(tmp_path / "kept")
    one.write(f"{FIRST}/notes.md", "Other words.\n")
    after = bytes_of(tmp_path / "kept")
    assert after == bytes_of(tmp_path / "nothing kept") and after[1] != before[1] and after[0].keys() == before[0].keys()


# --- what is at hand --------------------------------------------------------------------------------


def test_other_pages_read_no_kit_and_her_templates_may_ask_for_all(bench: Bench):
    units = bench.units()
    with cache.using(bench.root / cache.FOLDER):
        whole, read = units.again.shelf.read, []
        units.again.shelf.read = lambda kit: [read.append(kit), whole(kit)][1]
        for one in units.kits:
            assert one.kit.id == one.id and one.kit.spec.title and one.kit.month and one.kit.reveal and one.downloads[0].name == "A4"
            assert (one.past, one.kit.spec.reveal is None) == (one.id == OLD, one.id == OLD)
            assert one.line and one.errata == () and one.images.get("thumbnail") is None and one.listing.data is None or one.past
        assert read == []
        first = next(one for one in units.kits if one.id == FIRST)
        assert list(first.kit.spec.pieces) == ["A"] and first.entry.sizes and first.kit.folder.name == FIRST and read == [FIRST]
        with pytest.raises(AttributeError):
            _ = first.nothing_of_the_kind


def test_only_the_last_few_kits_stay_in_memory():
    class One:
        pass

    alive: list[weakref.ref] = []

    def read(kit: str) -> Any:
        one = One()
        alive.append(weakref.ref(one))
        return one

    shelf = Shelf(read, 3)
    for n in range(10):
        assert shelf.take(str(n)) is shelf.take(str(n))
    gc.collect()
    assert sum(one() is not None for one in alive) == 3 and len(alive) == 10


def test_a_light_record_knows_what_it_knows():
    light = Light({"title": "Zinnia"}, lambda: Place(Path("kit.yaml"), 3))
    assert light.title == "Zinnia" and light.line == 3
    assert isinstance(light, Light) and not hasattr(light, "_secret") and not issubclass(Light, Listed)


# --- many at once -----------------------------------------------------------------------------------


class Several(Executor):
    """An executor that does nothing before it is asked, loses some, and counts."""

    def __init__(self, lost: int = 0) -> None:
        self.there, self.most, self.lost = 0, 0, lost

    def submit(self, function, /, *args, **more) -> Future:
        future: Future = Future()
        self.there += 1
        self.most = max(self.most, self.there)
        if self.lost:
            self.lost -= 1
            future.set_exception(BrokenExecutor())
        else:
            future.set_result(function(*args, **more))
        return future


def twice(n: int) -> int:
    return 2 * n


def test_requests_are_taken_as_there_is_room():
    executor = Several()
    found = []
    for n in done(twice, iter(range(1000)), 1000, executor):
        executor.there -= 1
        found.append(n)
    assert sorted(found) == [2 * n for n in range(1000)] and executor.most <= workers.processes() * 8


def test_what_a_lost_process_did_is_done_again_and_told_after_that():
    assert sorted(done(twice, iter(range(5)), 5, Several(lost=2))) == [0, 2, 4, 6, 8]
    with pytest.raises(UserError, match="ended from outside"):
        list(done(twice, iter(range(5)), 5, Several(lost=1000)))


def test_a_process_that_was_killed_is_replaced(tmp_path: Path, monkeypatch):
    monkeypatch.setattr(workers, "cpu_count", lambda: 2)
    asked = [(str(tmp_path / "lost"), n) for n in range(4)]
    assert sorted(done(lose_it_once, iter(asked), 4)) == [0, 1, 2, 3]


def test_one_request_starts_no_process(monkeypatch):
    monkeypatch.setattr(workers, "ProcessPoolExecutor", None)
    assert list(done(twice, iter([4]), 1)) == [8]


def test_errors_go_from_process_to_process(tmp_path: Path):
    errors = [UserError("kits.no-id", place=Place(tmp_path / "kits" / "a", 3), name="b"), UserError("kits.none")]
    several = SeveralErrors(errors)
    again = unpacked(packed((errors[0], several), tmp_path / "kits"), tmp_path / "other")
    assert again[0].code == "kits.no-id" and again[0].values == {"name": "b"} and again[0].place == Place(tmp_path / "other" / "a", 3)
    assert [one.code for one in again[1].each] == ["kits.no-id", "kits.none"]


# --- moments, people, files ---------------------------------------------------------------------------

NOON = at("2030-05-01 12:00")
HOUR = dt.timedelta(hours=1)


def test_a_moment_notes_what_it_was_compared_with():
    watched = Watched.of(NOON)
    assert NOON - HOUR <= watched < NOON + HOUR and watched.astimezone(dt.UTC) is watched and watched.span.holds(NOON + HOUR / 2)
    assert not watched.span.holds(NOON + HOUR) and not watched.span.holds(NOON - HOUR - dt.timedelta(microseconds=1))
    assert (NOON > Watched.of(NOON), max(NOON - HOUR, watched), watched in (NOON + HOUR,)) == (False, watched, False)


@pytest.mark.parametrize(
    "use",
    [str, hash, lambda at: at.year, lambda at: at - NOON, lambda at: NOON - at, lambda at: f"{at:%Y}", lambda at: at == NOON]
    + [lambda at: at.date(), lambda at: at.astimezone(dt.timezone(HOUR)), lambda at: at + HOUR, lambda at: at.timestamp()]
    + [lambda at: at.isoformat(), lambda at: packed(at, Path("kits")), lambda at: cache.digest(at)],
)
def test_whatever_else_is_asked_of_it_holds_for_that_very_moment(use):
    watched = Watched.of(NOON)
    assert watched.span == Span()
    use(watched)
    assert watched.span.holds(NOON)
    assert not any(watched.span.holds(NOON + each) for each in (HOUR, -HOUR, dt.timedelta(microseconds=1)))


def test_people_are_known_by_what_was_asked_of_them(bench: Bench):
    everybody = Consulted(read_people(bench.root / "kits"))
    assert "nobody" not in everybody and everybody["ada-bell"].name == "Ada Bell"
    assert everybody.asked == {("there", "nobody"), ("person", "ada-bell")}
    digests = {"ada-bell": "1", "ida-idle": "2"}
    assert answered(("person", "nobody"), everybody.people, digests) is None and not answered(
        ("there", "nobody"), everybody.people, digests
    )
    assert answered(("person", "ada-bell"), everybody.people, digests) == "1"
    list(everybody)
    assert ("everybody", "") in everybody.asked


def test_a_file_that_changed_since_it_was_read_is_not_taken_for_what_it_was(tmp_path: Path):
    file = tmp_path / "a.pdf"
    file.write_bytes(b"%PDF one")
    there = lying(file)
    put(there, tmp_path / "copy.pdf")
    assert (tmp_path / "copy.pdf").read_bytes() == data_of(there) == b"%PDF one" and isinstance(there, Lying)
    file.write_bytes(b"%PDF two")
    for use in (data_of, lambda content: put(content, tmp_path / "other.pdf")):
        with pytest.raises(cache.Lost):
            use(there)


# --- what is drawn from what --------------------------------------------------------------------------


def _kit(root: Path, text: str) -> Kit:
    return kit_in(archive(root, text))


def test_every_field_of_a_spec_counts_for_what_is_drawn(tmp_path: Path):
    """Whatever readers may print; what may change after a release stands on no printable, but for what names files or arrangements."""
    worked = work(_kit(tmp_path, BATCH))
    before, public = drawn_from(worked), drawn_from(worked, living=False)
    for name, value in worked.kit.spec:
        if name == "samples":
            continue  # what it names is looked at below
        spec = worked.kit.spec.model_copy(update={name: (value, "another")})
        changed = _with(worked, spec=spec)
        assert drawn_from(changed) != before, name
        assert (drawn_from(changed, living=False) != public) == (name not in LIVING or name in ("cut_files",)), name


def _with(worked, **more):
    return replace(worked, kit=replace(worked.kit, **more))


def test_of_the_club_only_what_a_drawing_shows_counts(tmp_path: Path):
    kits = archive(tmp_path, BATCH)
    worked = work(kit_in(kits))
    before = drawn_from(worked)
    for old, new, same in (("name: Test bench", "name: Other bench", False), ("region: us", "region: metric", False)):
        file = kits / "club.yaml"
        text = file.read_text(encoding="utf-8")
        if old not in text:
            continue
        file.write_text(text.replace(old, new), encoding="utf-8")
        assert (drawn_from(work(read_kit(kits / worked.kit.id, read_club(kits)))) == before) == same, new
        file.write_text(text, encoding="utf-8")
    links = worked.kit.club.model_copy(update={"links": ["another"], "about": "Other words."})
    assert drawn_from(_with(worked, club=links)) == before
    assert drawn_from(_with(worked, notes="Other words.")) == before
