"""What was worked out, kept as plain exact data: read back it is the same, and nothing else is taken for it."""

import json
import subprocess
import sys
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

import oddkits
import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.your_paper import your_paper
from kitwright.cutting import auto
from kitwright.kit.kit import Kit
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.otherwise.arrangements.variations import variations_of
from kitwright.otherwise.asked import answers_of
from kitwright.otherwise.planned import other_stock
from kitwright.release import kept
from kitwright.release.kept import Unread, plain, read_results, restored, results_text, worked_again
from kitwright.release.packed import Unpackable, packed, unpacked
from kitwright.units import Length, Size
from kitwright.work import batches
from kitwright.work.batches import MOST, counts_of, tables_of
from kitwright.work.compared import comparisons
from kitwright.work.worked import Worked
from kitwright.work.working import work
from making import BATCH, make_worked

ROOT = Path(__file__).resolve().parents[2]
SAID = ("mat", "exact", "greeting", "envelope", "spot", "raised", "notch", "back", "one_way", "square")
KITS = st.builds(
    oddkits.kit,
    st.sampled_from(["in", "mm"]),
    st.integers(1, 7),
    fold=st.sampled_from(["side", "top"]),
    pieces=st.integers(1, 3),
    **{name: st.booleans() for name in SAID},
)


def again(worked: Worked) -> Worked:
    """A kit from what was kept of it."""
    kit = worked.kit if worked.kit.typed is None else replace(worked.kit, spec=worked.kit.typed, typed=None)
    return worked_again(kit, read_results(results_text(worked)))


def is_the_same(worked: Worked) -> None:
    """Whether a kit from what was kept is the one that was worked out, one and the same layouts included."""
    found = again(worked)
    assert found == replace(worked, troubles=()) and found.enclosed == worked.enclosed
    assert all(any(run.layout is layout for layout in found.layouts) for plan in found.plans for run in plan.runs)
    assert results_text(found) == results_text(worked) and "." not in "".join(_numbers(json.loads(results_text(worked))))


def _numbers(data):
    if isinstance(data, dict):
        for value in data.values():
            yield from _numbers(value)
    elif isinstance(data, list):
        for value in data:
            yield from _numbers(value)
    elif not isinstance(data, str):
        yield str(data)


@given(text=KITS)
@tried(20)
def test_what_is_kept_is_what_was_worked_out(tmp_path_factory, text):
    is_the_same(make_worked(tmp_path_factory.mktemp("kept"), text))


def test_every_demo_kit_comes_back():
    club = read_club(ROOT / "kits")
    seen = 0
    for folder in kit_folders(ROOT / "kits"):
        kit = read_kit(folder, club)
        if isinstance(kit, Kit):
            is_the_same(work(kit))
            seen += 1
    assert seen >= 9


# --- what is not taken for it ----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def worked(tmp_path_factory) -> Worked:
    return make_worked(tmp_path_factory.mktemp("kept"), BATCH)


def changed(worked: Worked, *path: object, to: object) -> str:
    data = json.loads(results_text(worked))
    here = data
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = to
    return json.dumps(data)


@pytest.mark.parametrize(
    "path, to",
    [
        (("base", "score"), 4.25),
        (("base", "score"), "4.25"),
        (("base", "score"), "1e999999999"),
        (("base", "score"), "1/0"),
        (("base", "fold"), "askew"),
        (("base", "more"), "1"),
        (("fronts",), {}),
        (("fronts",), []),
        (("fronts", 0, "pieces", 0, "paper"), "../../elsewhere"),
        (("fronts", 0, "pieces", 0, "label"), "<b>"),
        (("plans", 0, "runs", 0, "layout"), 99),
        (("plans", 0, "demand", "paper"), "nothing"),
        (("layouts", 0, "tree", "rect"), ["0", "0", "12"]),
        (("layouts", 0, "tree", "rect"), ["0", "0", "12", "13"]),
        (("layouts", 0, "tree", "parts", 0), {"rect": ["0", "0", "1", "1"], "label": "A"}),
        (("layouts",), None),
    ],
)
def test_nothing_else_is_read(worked, path, to):
    with pytest.raises(Unread):
        worked_again(worked.kit, read_results(changed(worked, *path, to=to)))


@pytest.mark.parametrize("text", ["", "[]", "{", "{}", "null", '{"base": NaN}', "[" * 9000])
def test_no_text_but_its_own(text):
    with pytest.raises(Unread):
        read_results(text)


def test_a_part_that_comes_later_with_a_usual_value_changes_no_old_record():
    @dataclass(frozen=True)
    class Once:
        size: Size

    @dataclass(frozen=True)
    class Now:
        size: Size
        more: Length = Length(0)
        names: tuple[str, ...] = field(default=())

    size = Size(Length(3), Length(4))
    assert plain(Now(size)) == plain(Once(size)) == {"size": ["3", "4"]}
    kept._parts.cache_clear()
    assert Now(size) == Now(**{k: restored(v, Size) for k, v in plain(Once(size)).items()})


# --- files -------------------------------------------------------------------------------------------------


@given(st.dictionaries(st.from_regex(r"[a-z0-9-]{1,30}\.(pdf|zip)", fullmatch=True), st.binary(max_size=200), max_size=5))
def test_files_come_back_and_are_packed_alike_in_any_order(files):
    assert unpacked(packed(files)) == files and packed(dict(reversed(files.items()))) == packed(files)


@pytest.mark.parametrize("name", ["../up.pdf", "a/b.pdf", "/root.pdf"])
def test_files_lie_side_by_side(name):
    with pytest.raises(Unpackable):
        unpacked(packed({name: b"x"}))


# --- rooms -------------------------------------------------------------------------------------------------


def test_no_release_needs_what_draws():
    """What publishes, reads back and guards loads neither what makes pages nor what makes pictures."""
    code = (
        "import sys, pkgutil, importlib, kitwright.release as room\n"
        "for one in pkgutil.iter_modules(room.__path__): importlib.import_module(f'kitwright.release.{one.name}')\n"
        "drawing = ('reportlab', 'PIL', 'ezdxf', 'kitwright.drawing', 'kitwright.printable', 'kitwright.cutfiles', 'kitwright.archive')\n"
        "print(sorted(m for m in sys.modules if any(m == d or m.startswith(d + '.') for d in drawing)))"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT / "buildtools", timeout=60)
    assert said.stdout.strip() == "[]"


# --- sheets for every batch --------------------------------------------------------------------------------


def with_tables(worked: Worked) -> Worked:
    return worked_again(worked.kit, read_results(results_text(worked, tables_of(worked))))


def test_a_revision_keeps_the_sheets_for_every_batch_and_nothing_is_planned_for_them_again(worked, monkeypatch):
    plain_counts = [counts_of(worked, plan) for plan in worked.plans]
    found = with_tables(worked)
    monkeypatch.setattr(batches, "_planned", lambda *asked: pytest.fail("planned again"))
    assert [counts_of(found, plan) for plan in found.plans] == plain_counts and any(found.tables.counts)
    assert results_text(found, tables_of(found)) == results_text(worked, found.tables)


def test_what_was_kept_for_another_batch_is_not_taken(worked):
    kept = replace(tables_of(worked), cards=worked.kit.spec.cards + 1)
    found = worked_again(worked.kit, read_results(results_text(worked, kept)))
    wrong = replace(kept, cards=worked.kit.spec.cards, counts=tuple(c and replace(c, sheets=(Fraction(7),) * MOST) for c in kept.counts))
    taken = worked_again(worked.kit, read_results(results_text(worked, wrong)))
    plan = next(plan for plan, table in zip(found.plans, kept.counts) if table)
    assert counts_of(found, plan) == counts_of(worked, plan) != counts_of(taken, plan), "and what is kept for this batch is"


@pytest.mark.parametrize(
    "path, to",
    [
        (("batches", "counts"), []),
        (("batches", "counts"), [None]),
        (("batches", "cards"), "9"),
        (("batches", "counts", -1, "sheets", 0), "99"),
        (("batches", "counts", -1, "sheets", 0), 0.5),
        (("batches", "counts", -1, "sheets", 0), "-1"),
    ],
)
def test_no_other_sheets_are_read(worked, path, to):
    data = json.loads(results_text(worked, tables_of(worked)))
    here = data
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = to
    with pytest.raises(Unread):
        worked_again(worked.kit, read_results(json.dumps(data)))


# --- answers about other sheets ----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def varied(tmp_path_factory) -> Worked:
    """The same kit with the other fold, which takes another base."""
    return make_worked(tmp_path_factory.mktemp("varied"), BATCH + "arrangements: {vary: [fold, mat]}\n")


@pytest.fixture(scope="module")
def answered(varied) -> str:
    """What a revision keeps of it, with the planner's answers."""
    return results_text(varied, tables_of(varied), answers_of(varied))


def test_a_revision_keeps_what_the_planner_was_asked_besides_and_nothing_is_planned_again(varied, answered, monkeypatch):
    page, beside, there = your_paper(varied), comparisons(varied), variations_of(varied, True)
    found = worked_again(varied.kit, read_results(answered))
    for asked in ("_planned", "_counted"):
        monkeypatch.setattr(auto, asked, lambda *question, asked=asked: pytest.fail(f"{asked}: {question}"))
    assert your_paper(found) == page and comparisons(found) == beside and beside
    here = variations_of(found, True)
    assert [(v.slug, v.changes, v.worked.layouts) for v in here[0]] == [(v.slug, v.changes, v.worked.layouts) for v in there[0]]
    assert [(r.name, r.why) for r in here[1]] == [(r.name, r.why) for r in there[1]] and here[0] and here[1]
    assert results_text(found, tables_of(found), answers_of(found)) == answered, "and kept again they are the same"


def test_answers_are_of_the_very_question(varied, answered):
    """Another size of a piece, another sheet, another batch: planned now, whatever was kept."""
    data = json.loads(answered)
    for one in data["answers"]["sheets"]:
        one["sheets"] = "77"
    found = worked_again(varied.kit, read_results(json.dumps(data)))
    plan = found.plans[0]
    (told, *_), (planned, *_) = other_stock(found, plan), other_stock(varied, plan)
    assert told.sheets == 77 != planned.sheets, "what is kept is told"
    asked = replace(plan.demand, sheet=Size(plan.demand.sheet.width, Length(11)))
    assert found.planner.sheets(asked, "") == varied.planner.sheets(asked, "") != 77
    more = replace(told.demand, needs={label: n + 1 for label, n in told.demand.needs.items()})
    assert found.planner.sheets(more, "") != 77
    one_of = next(iter(told.demand.sizes))
    larger = replace(told.demand, sizes={**told.demand.sizes, one_of: Size(Length(1), Length(1))})
    assert found.planner.sheets(larger, "") != 77


def test_answers_are_small(varied, answered):
    assert len(answered) - len(results_text(varied, tables_of(varied))) < 9_000


@pytest.mark.parametrize(
    "path, to",
    [
        (("sheets", 0, "sheets"), "-1"),
        (("sheets", 0, "sheets"), 0.5),
        (("sheets", 0, "paper"), "nothing"),
        (("sheets", 0, "sheet"), ["0"]),
        (("plans", 0, "demand", "paper"), "nothing"),
        (("plans", 0, "demand", "sheet"), ["1", "1"]),
        (("plans", 0, "runs"), []),
        (("plans", 0, "runs", 0, "layout", "tree", "rect"), ["0", "0", "1", "1"]),
        (("plans", 0, "runs", 0, "made"), {}),
        (("more",), []),
    ],
)
def test_no_other_answers_are_read(varied, answered, path, to):
    data = json.loads(answered)
    here = data["answers"]
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = to
    with pytest.raises(Unread):
        worked_again(varied.kit, read_results(json.dumps(data)))
