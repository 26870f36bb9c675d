"""What a kit's page says besides its drawings, held against the worked kit, and the files it leads to."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import pytest
from kitwright.archive import making
from kitwright.archive.cutters import cut_files_of, public_cut_files
from kitwright.archive.making import making_of
from kitwright.archive.theme import environment
from kitwright.archive.views import _pieces, _sundries
from kitwright.card.notches import ways
from kitwright.cutfiles import contents, cut_files
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.printable import EDITIONS
from kitwright.printable.job import Job
from kitwright.printable.sketch_page import use_of
from kitwright.release.stamp import Preview
from kitwright.telling.facts import tables
from kitwright.telling.post import post_lines
from kitwright.telling.supplies import supply_lines
from kitwright.units import parse_size, size_text
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies
from making import BATCH, changed, make_worked

ROOT = Path(__file__).resolve().parents[2]
SHAPED = changed(
    BATCH,
    ("    for: tall strip\n", "    for: tall strip\n    shape: {tag: {end: left, snip: 1/4, hole: 1/4}}\n"),
    ("    for: low strip\n", "    for: low strip\n    notch: {square punch: 1/2, shaped punch: {width: 1-1/2, depth: 1/2, trim: 1/8}}\n"),
)


@pytest.fixture(scope="module")
def quick():
    """Printables stand for themselves here; the tests of `printable` draw them."""
    patch = pytest.MonkeyPatch()
    patch.setattr(making, "printables", lambda worked, edition, stamp: {ink: f"{edition} {ink}".encode() for ink in making.INKS})
    yield
    patch.undo()


@pytest.fixture(scope="module")
def made(tmp_path_factory, quick):
    worked = make_worked(tmp_path_factory.mktemp("making"), SHAPED)
    return worked, *making_of(worked, Preview())


def test_six_printables_the_clubs_own_first(made):
    worked, view, files = made
    assert [name for name, _ in view.printables] == ["Full ink", "Light ink", "Outline"] and len(view.ink_words) == 3
    for ink, (_, row) in zip(making.INKS, view.printables):
        assert [d.name for d in row] == ["Letter", "A4"]
        for edition, d in zip(("letter", "a4"), row):
            assert files[d.file] == f"{edition} {ink}".encode()
    assert view.printables[0][1][0].file == f"{worked.kit.id}-letter.pdf"


def test_a_tag_asks_for_a_punch_of_its_hole(made):
    assert [line for line in _sundries(made[0]) if "punch" in line] == ["Small sharp scissors and a hole punch, ¼ in across, for A"]


def test_supplies_and_the_post_are_the_kits_own(made):
    worked, view, _ = made
    told = {fact.name: fact.value for fact in view.supplies}
    for line in supply_lines(worked, supplies(worked)):
        if line.about in ("adhesive", "foam"):
            assert told[line.title].first == line.text and told[line.title].second
    assert not {"River", "Envelopes"} & told.keys(), "said in the table above"
    post = {line.title: line.text for line in post_lines(worked, mailing(worked))}
    assert view.post_source == post.pop("Source")
    assert {fact.name: fact.value.first for fact in view.post} == post
    assert "Your post office decides." in post["Letter"]


def test_every_way_to_notch_has_its_own_lengths(made):
    worked, view, files = made
    tag, strip = view.shapes
    assert (tag.label, tag.ways) == ("A", ()) and "hole" in tag.words
    found = ways(worked.kit.spec.pieces["B"])
    assert len(strip.ways) == len(found) == 3
    for row, way in zip(strip.ways, found):
        assert row.cut.first == size_text(way.cut, "in") and row.own == way.own
    # Geometry: a square of ½ in takes a strip up to ½ × √2 = 0.707 in; ⅞ in needs ⅝ in.
    assert strip.ways[0].own and strip.ways[1].tool == "a square of ⅝ in or larger; the one named in this kit is too small"
    for shape in view.shapes:
        assert files[shape.picture.src].startswith(b"<?xml") and b"<svg" in files[shape.picture.src]


PUNCH = "1½ in wide, ½ in deep, ⅛ in trim"
PUNCHED = changed(
    BATCH,
    (
        "card:\n",
        "  S:\n    size: 2-1/4 x 3/4\n    for: sentiment strip\n    paper: white\n    notch:\n      made with: shaped punch\n"
        "      shaped punch: {width: 1-1/2, depth: 1/2, trim: 1/8}\ncard:\n",
    ),
    ("sentiment:\n", "  over:\n    - {piece: S, on: band}\nsentiment:\n"),
    ("size: 2-1/2 x 3/4\n  on: band", "size: 1 x 3/8\n  on: S"),
)
"""A strip made with the author's punch: at half its width the V is ¼ in deep, and ⅜ in is lost at each end, so 3 in are cut."""


def test_no_figure_of_a_punch_without_its_measures(tmp_path, quick):
    """Wherever the length to cut, or what the punch makes of it, is said, the punch that it holds for stands beside it."""
    worked = make_worked(tmp_path, PUNCHED + "arrangements: {vary: stamped}\n")
    said = f"V notch in both ends (shaped punch {PUNCH})"
    assert worked.sizes["S"] == parse_size("3 x 3/4")
    pieces = next(table for table in tables(worked) if table.title == "Pieces")
    assert [row[-1] for row in pieces.rows if row[0] == "S"] == [f"sentiment strip, {said}"]
    assert [row.use for row in _pieces(worked) if row.label == "S"] == [f"sentiment strip, {said}"]
    assert said in use_of(Job(worked, EDITIONS["letter"], "full", Preview()), "S")
    assert f"{said}; 9 from White cardstock" in contents.piece_title(worked, "S") + "; " + contents.piece_counts(worked, "S")
    changes = [c.words for v in arrangements_of(worked).variations for c in v.changes if " S of " in c.words]
    assert changes and all(f"3 × ¾ in (shaped punch {PUNCH})" in c for c in changes)
    (strip,) = making_of(worked, Preview())[0].shapes
    for row in strip.ways:
        # Scissors and a square's corner make what they make with any that takes the strip; that is told with its least size.
        told = {"With a shaped punch": PUNCH, "With the corner of a square punch": "9⁄16 in or larger"}.get(row.name, "")
        assert told in row.tool and told in " ".join(row.how)
    assert PUNCH not in strip.differences, "the others need none"
    assert (
        strip.punches[0].name == PUNCH and strip.punches[0].own and all("wide" in row.name and "trim" in row.name for row in strip.punches)
    )
    assert [row.cut.first for row in strip.punches][:3] == ["3 × ¾ in", "2½ × ¾ in", "2¾ × ¾ in"]


def test_the_readers_rule_stands_on_the_page_without_script(tmp_path, quick):
    """In a fold of plain HTML, with its table; other shapes have none."""
    strip = making_of(make_worked(tmp_path, PUNCHED), Preview())[0]
    html = str(environment(ROOT / "theme").get_template("making.html").module.shapes(strip))
    fold = html.partition("<summary>With a shaped punch of your own</summary>")[2].partition("</details>")[0]
    assert strip.shapes[0].rule in re.sub("<[^>]+>", "", fold) and fold.count("<tr>") == 1 + len(strip.shapes[0].punches)
    tag = making_of(make_worked(tmp_path / "tag", SHAPED), Preview())[0].shapes[0]
    assert tag.rule == "" and tag.punches == ()


def test_the_zip_holds_every_cut_file_and_layouts_are_shown(made):
    worked, view, files = made
    inside = zipfile.ZipFile(io.BytesIO(files[view.cut_files.download.file]))
    name = f"{worked.kit.id}-cut-files"
    assert {n: inside.read(n) for n in inside.namelist()} == {f"{name}/{path}": data for path, data in cut_files(worked).items()}
    papers = " ".join(layout.papers for layout in view.cut_files.layouts)
    assert all(worked.kit.papers[plan.paper].name in papers for plan in worked.plans)
    for layout in view.cut_files.layouts:
        text = files[layout.picture.src].decode()
        assert "12 × 12 in" in text and any(f">{label}<" in text for label in ("A", "B", "M", "base"))


@pytest.mark.parametrize("who", ["members", "none"])
def test_what_is_not_for_everybody_is_not_there(tmp_path, quick, who):
    worked = make_worked(tmp_path, f"cut files: {who}\n{BATCH}")
    view, files = making_of(worked, Preview())
    assert view.cut_files is None and not public_cut_files(worked)
    assert not any(name.endswith((".zip", ".dxf")) or name.startswith("mat-") for name in files)
    assert bool(cut_files_of(worked)) == (who == "members")
