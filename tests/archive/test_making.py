"""What a kit's page says besides its drawings, held against the worked kit, and the files it leads to."""

from __future__ import annotations

import io
import zipfile

import pytest

from kitwright.archive import making
from kitwright.archive.cutters import cut_files_of, public_cut_files
from kitwright.archive.making import making_of
from kitwright.archive.views import _sundries
from kitwright.card.notches import ways
from kitwright.cutfiles import cut_files
from kitwright.mailing import mailing
from kitwright.printable.job import Preview
from kitwright.supplies import supplies
from kitwright.units import size_text
from making import BATCH, changed, make_worked

SHAPED = changed(
    BATCH, ("    for: tall strip\n", "    for: tall strip\n    shape: {tag: {end: left, snip: 1/4, hole: 1/4}}\n"),
    ("    for: low strip\n", "    for: low strip\n    notch: {square punch: 1/2, "
                             "shaped punch: {width: 1-1/2, depth: 1/2, trim: 1/8}}\n"))


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
    for what, text in supplies(worked).lines:
        if what in ("Adhesive", "Foam"):
            assert text.startswith(told[what].first) and told[what].second
    assert not {"River", "Envelopes"} & told.keys(), "said in the table above"
    post = dict(mailing(worked).lines)
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
