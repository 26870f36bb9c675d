"""What a kit's page says besides its drawings, held against the worked kit, and the files it leads to."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace

import pytest
from archive.rendered import kit_page, lines, made_of, page, part, phrases, rows, site_of, words
from kitwright.archive import offered
from kitwright.archive.cutters import cut_files_of, public_cut_files
from kitwright.archive.downloads import cut_files_shown, printables_of, workbooks_of
from kitwright.archive.pictures import pictures_of
from kitwright.card.notches import readers, ways
from kitwright.cutfiles import cut_files
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.printable.pages import INKS
from kitwright.release.stamp import PreviewStamp
from kitwright.schemes import HOUSE
from kitwright.telling import contents
from kitwright.telling.facts import tables
from kitwright.telling.kitpage import folded
from kitwright.telling.notches import punch_rule
from kitwright.telling.post import post_lines
from kitwright.telling.printed import piece_text
from kitwright.telling.supplies import supply_lines
from kitwright.telling.words import led
from kitwright.units import parse_size, size_text
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies
from making import BATCH, changed, make_worked

SHAPED = changed(
    BATCH,
    ("    for: tall strip\n", "    for: tall strip\n    shape: {tag: {end: left, snip: 1/4, hole: 1/4}}\n"),
    ("    for: low strip\n", "    for: low strip\n    notch: {square punch: 1/2, shaped punch: {width: 1-1/2, depth: 1/2, trim: 1/8}}\n"),
)


@pytest.fixture
def quick(monkeypatch):
    """Printables stand for themselves here; the tests of `printable` draw them."""
    monkeypatch.setattr(offered, "printables", lambda worked, edition, stamp: {ink: f"{edition} {ink}".encode() for ink in INKS})
    monkeypatch.setattr(offered, "workbook_pdf", lambda worked, edition, stamp: f"{edition} workbook".encode())


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("making"), SHAPED)


@pytest.fixture(scope="module")
def shown(worked):
    return kit_page(worked)


def shape(text: str, label: str) -> str:
    """What a page says of a shaped piece."""
    return text.partition(f'<h4 id="shape-{label.lower()}">')[2].partition('<div class="kw-shape">')[0].partition("\n## ")[0]


def ways_of(text: str) -> list[list[str]]:
    """The ways to notch a strip: name, strip, depth, what stays clear."""
    return rows(text.partition("</table>")[0])[1:]


def test_printables_and_workbooks_the_kits_own_unit_first(worked, quick):
    files = offered.offered(worked, PreviewStamp())
    found = printables_of(worked.kit, files)
    assert list(found) == list(INKS) and set(files) == set(offered.for_everybody(worked, files))
    for ink, row in found.items():
        assert [d.name for d in row] == ["Letter", "A4"]
        for edition, d in zip(("letter", "a4"), row):
            assert files[d.file] == f"{edition} {ink}".encode() and d.size == len(files[d.file])
    assert found["full"][0].file == f"{worked.kit.id}-letter.pdf"
    workbooks = workbooks_of(worked.kit, files)
    assert [files[d.file] for d in workbooks] == [b"letter workbook", b"a4 workbook"]
    text = page("kit.md", site_of(replace(made_of(worked), printables=found, workbooks=workbooks)))
    fold = part(text, "other-printables").partition('class="kw-list kw-drawings"')[0]
    assert re.findall("<b>(.*?)</b>", fold) == ["Light ink", "Outline", "Workbook"] and fold.count("href=") == 6
    assert fold.index(workbooks[0].file) < fold.index(workbooks[1].file)
    # Both editions are equals, one tap each; the kit's own is filled until the reader takes another.
    assert re.findall(r'class="kw-button kw-edition( kw-edition--own|)" href="(.*?)"', text) == [
        (" kw-edition--own", found["full"][0].file),
        ("", found["full"][1].file),
    ]
    # A revision that was published without a workbook offers what it kept, and says nothing of one.
    old = page("kit.md", site_of(replace(made_of(worked), printables=found)))
    assert "orkbook" not in old and old.count("kw-button") == 2
    metric = worked.kit.spec.model_copy(update={"unit": "mm"})
    assert [d.name for d in workbooks_of(replace(worked.kit, spec=metric), files)] == ["A4", "Letter"]


def test_a_tag_asks_for_a_punch_of_its_hole(shown):
    needed = phrases(part(shown, "need"))
    assert [line for line in needed if "punch, " in line] == ["Small sharp scissors and a hole punch, ¼ in across, for A"]


def test_supplies_and_the_post_are_the_kits_own(worked, shown):
    told = lines(part(shown, "need"))
    for line in supply_lines(worked, supplies(worked)):
        if line.about in ("adhesive", "foam"):
            assert told[line.title].startswith(line.text) and led(line.rule) in told[line.title]
    assert not {"River", "Envelopes"} & told.keys(), "said in the table above"
    post = {line.title: line.text for line in post_lines(worked, mailing(worked))}
    section_ = part(shown, "by-post")
    assert f"Limits: {post.pop('Source')} Where our numbers come from" in words(section_)
    assert lines(section_) == post
    assert "Your post office decides." in post["Letter"]


def test_every_way_to_notch_has_its_own_lengths(worked, shown):
    tag, strip = shape(shown, "A"), shape(shown, "B")
    assert not ways_of(tag) and "hole" in words(tag)
    found = ways(worked.kit.spec.pieces["B"])
    assert len(ways_of(strip)) == len(found) == 3
    for (name, cut, _, _), way in zip(ways_of(strip), found):
        assert cut.startswith(size_text(way.cut, "in")) and ("as this kit does" in name) == way.own
    # Geometry: a square of ½ in takes a strip up to ½ × √2 = 0.707 in; ⅞ in needs ⅝ in.
    assert found[0].own and ways_of(strip)[1][0].endswith("a square of ⅝ in or larger; the one named in this kit is too small")
    pictures = pictures_of(worked)
    for label in "ab":
        assert f'src="shape-{label}.svg"' in shape(shown, label) and pictures[f"shape-{label}"].files(HOUSE)[
            f"shape-{label}.svg"
        ].startswith(b"<?xml")


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
    text = kit_page(worked)
    assert [row[2] for row in rows(part(text, "pieces")) if row[0] == "S"] == [f"sentiment strip, {said} White cardstock"]
    assert said in piece_text(worked, "S", folded(worked, "S"))
    assert f"{said}; 9 from White cardstock" in contents.piece_title(worked, "S") + "; " + contents.piece_counts(worked, "S")
    changes = [c.words for v in arrangements_of(worked).variations for c in v.changes if " S of " in c.words]
    assert changes and all(f"3 × ¾ in (shaped punch {PUNCH})" in c for c in changes)
    strip = shape(text, "S")
    how = re.findall(r'<details class="kw-how"><summary>(.*?)</summary>\n<p>(.*?)</p>', strip)
    assert len(how) == len(ways_of(strip)) == 3
    for (name, *_), (title, steps) in zip(ways_of(strip), how):
        # Scissors and a square's corner make what they make with any that takes the strip; that is told with its least size.
        told = {"With a shaped punch": PUNCH, "With the corner of a square punch": "9⁄16 in or larger"}.get(title, "")
        assert name.startswith(title) and told in name and told in words(steps)
    differences = re.search("<p>If you make it another way: (.*?)</p>", strip)
    assert differences and PUNCH not in words(differences[1]), "the others need none"
    punches = rows(strip.partition("With a shaped punch of your own")[2])[1:]
    assert punches[0][0] == f"{PUNCH} as this kit’s is" and all("wide" in name and "trim" in name for name, _ in punches)
    assert [cut.split(" in")[0] for _, cut in punches][:3] == ["3 × ¾", "2½ × ¾", "2¾ × ¾"]


def test_the_readers_rule_stands_on_the_page_without_script(tmp_path, shown):
    """In a fold of plain HTML, with its table; other shapes have none."""
    worked = make_worked(tmp_path, PUNCHED)
    fold = shape(kit_page(worked), "S").partition("<summary>With a shaped punch of your own</summary>")[2].partition("</details>")[0]
    assert punch_rule(worked.kit.spec.pieces["S"]) in words(fold) and fold.count("<tr>") == 1 + len(readers(worked.kit.spec.pieces["S"]))
    assert "punch of your own" not in shape(shown, "A").partition('<h4 id="shape-b">')[0]


def test_the_zip_holds_every_cut_file_and_layouts_are_shown(worked):
    files = cut_files_of(worked)
    cut, pictures = cut_files_shown(worked, files)
    assert cut is not None
    inside = zipfile.ZipFile(io.BytesIO(files[cut.download.file]))
    name = f"{worked.kit.id}-cut-files"
    assert {n: inside.read(n) for n in inside.namelist()} == {f"{name}/{path}": data for path, data in cut_files(worked).items()}
    shown = part(page("kit.md", site_of(replace(made_of(worked), cut_files=cut))), "cut-files")
    assert all(worked.kit.papers[plan.paper].name in words(shown) for plan in worked.plans)
    assert len(cut.layouts) == len(pictures) == shown.count("<img ")
    for picture in pictures:
        text = picture.files(HOUSE)[f"{picture.name}.svg"].decode()
        assert (
            f'src="{picture.name}.svg"' in shown and "12 × 12 in" in text and any(f">{label}<" in text for label in ("A", "B", "M", "base"))
        )


@pytest.mark.parametrize("who", ["members", "none"])
def test_what_is_not_for_everybody_is_not_there(tmp_path, who):
    worked = make_worked(tmp_path, f"cut files: {who}\n{BATCH}")
    assert (
        cut_files_shown(worked, cut_files_of(worked)) == (None, [])
        and not offered.for_everybody(worked, cut_files_of(worked))
        and not public_cut_files(worked)
    )
    assert "## Cut files" not in kit_page(worked)
    assert bool(cut_files_of(worked)) == (who == "members")
