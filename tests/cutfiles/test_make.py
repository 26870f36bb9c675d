"""A kit's whole set: complete, counted right, the same everywhere, and refused where it should be."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import zipfile
from collections import Counter
from math import ceil

import pytest
from click.testing import CliRunner
from cutfiles.readers import read_dxf, read_svg
from kitwright.cli.cutfiles import command
from kitwright.cutfiles import MATS, cut_files, mat_named, zipped
from kitwright.cutfiles.folder import write
from kitwright.errors import UserError
from kitwright.units import Length, parse_size
from making import BATCH, TWO_PAPERS, changed, make_archive, make_worked
from shapely import unary_union

SHAPED = changed(
    BATCH,
    ("    for: tall strip\n", "    for: tall strip\n    shape: {rounded: 1/4}\n"),
    ("    for: low strip\n", "    for: low strip\n    notch: {made with: square punch}\n"),
    ("    for: mat\n", "    for: mat\n    shape: {window: {border: 3/4}}\n"),
)


@pytest.fixture(scope="module")
def shaped(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("shaped"), SHAPED)


@pytest.fixture(scope="module")
def files(shaped):
    return cut_files(shaped)


def test_a_file_for_each_piece_and_layouts_for_each_mat(files):
    assert {p for p in files if p.startswith("pieces/")} == {
        f"pieces/{name}.{end}" for name in ("A", "B", "cream-4-x-5-1-4", "base") for end in ("svg", "dxf")
    }
    folders = {p.split("/")[1] for p in files if p.startswith("layouts/")}
    assert folders == {"12x12in", "12x24in", "a4", "a3"} == {mat.key for mat in MATS}
    assert all(p.replace(".svg", ".dxf") in files for p in files if p.endswith(".svg"))


def test_every_layout_holds_what_the_contents_say_and_the_batch_comes_out(shaped, files):
    text = files["contents.txt"].decode()
    for mat in MATS:
        made = Counter()
        for path in (p for p in files if p.startswith(f"layouts/{mat.key}/") and p.endswith(".svg")):
            stem = path.removesuffix(".svg")
            told = text[text.index(f"  {stem}  ") :]
            sheets = int(re.search(r"cut (\d+) sheet", told)[1])
            read = read_svg(files[path])
            pieces = Counter(r.name.rpartition("-")[0] for r in read if r.layer == "edges")
            for label, n in pieces.items():
                assert re.search(rf"\b{n} {label}s?\b", told.splitlines()[0])
                made[label] += n * sheets
            # Both files show the same: every contour, y turned round.
            height = float(mat.size.height.millimetres)
            dxf = read_dxf(files[f"{stem}.dxf"], height)
            assert len([1 for layer, _ in dxf if layer == "folds"]) == len([r for r in read if r.layer == "folds"])
            outer = unary_union(
                [r.shape.exterior.buffer(0.01) for r in read if r.layer == "edges"]
                + [hole.buffer(0.01) for r in read if r.layer == "edges" for hole in r.shape.interiors]
            )
            assert all(shape.exterior.within(outer) for layer, shape in dxf if layer == "edges")
        assert made == {label: n for plan in shaped.plans for label, n in plan.demand.needs.items()}


def test_a_mat_that_takes_more_sheets_says_so(shaped, files):
    """A4 is narrower than Letter: where two bases no longer lie on a sheet, the batch takes more of them, and who buys paper must know."""
    mats = dict(re.findall(r"On a cutting mat of ([^\n]*?), nothing within(.*?)(?=\nOn a|\Z)", files["contents.txt"].decode(), re.DOTALL))
    told = {name: re.findall(r"^  ([^\n:]+): (\d+) sheets? on this mat, where (\d+)", text, re.MULTILINE) for name, text in mats.items()}
    for text, found in zip(mats.values(), told.values()):
        for plan in shaped.plans:
            name = shaped.kit.papers[plan.paper].name
            taken = sum(int(n) for n in re.findall(rf"{name}: \d.*\n.*cut (\d+) sheet", text))
            assert any(one[:2] == (name, str(taken)) for one in found) == (taken > ceil(plan.sheets)), (name, taken, plan.sheets)
    assert any(told.values()) and not all(told.values())


def test_pieces_have_the_area_of_the_spec_to_a_hundredth(files):
    """By hand: rounded corners take (4 − π) r²; two right-angled notches take half a square of the strip's height; the window is its border in."""
    inch = 25.4**2
    wanted = {
        "A": (3.75 * 1.25 - (4 - 3.141592653589793) / 16) * inch,
        "B": (3.75 * 0.875 - 0.875**2 / 2) * inch,
        "M": (4 * 5.25 - 2.5 * 3.75) * inch,
        "base": 8.5 * 5.5 * inch,
    }
    for label, area in wanted.items():
        [edge, *folds] = read_svg(files[f"pieces/{'cream-4-x-5-1-4' if label == 'M' else label}.svg"])
        assert edge.name == label and edge.shape.area == pytest.approx(area, abs=0.01)
        assert [list(f.shape.coords) for f in folds] == ([[(107.95, 0), (107.95, 139.7)]] if label == "base" else [])


def test_a_piece_from_two_papers_is_one_file_that_names_both(tmp_path):
    found = cut_files(make_worked(tmp_path, TWO_PAPERS), [MATS[0]])
    assert read_svg(found["pieces/A.svg"])[0].paper == "river_meadow"
    assert "pieces/A  A, tall strip, 3¾ × 1¼ in; 9 from River and 9 from Meadow" in found["contents.txt"].decode()
    assert {read_svg(found[f"layouts/12x12in/{paper}-1.svg"])[0].paper for paper in ("river", "meadow")} == {"river", "meadow"}


def test_a_trimmed_strip_is_cut_longer_by_hand_but_not_by_the_cutter(tmp_path):
    text = changed(
        BATCH,
        (
            "    for: low strip\n",
            "    for: low strip\n    notch: {ends: left, made with: shaped punch, shaped punch: {width: 7/8, depth: 1/2, trim: 1/8}}\n",
        ),
        (
            "guides:\n  - papers: river\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
            "",
        ),
    )
    worked = make_worked(tmp_path, text)
    assert worked.sizes["B"] == parse_size("3-7/8 x 7/8") and worked.troubles == ()
    assert read_svg(cut_files(worked, [])["pieces/B.svg"])[0].shape.bounds == (0, 0, 95.25, 22.225)


@pytest.mark.parametrize("who, some", [("public", True), ("members", True), ("none", False)])
def test_who_gets_them(tmp_path, who, some):
    assert bool(cut_files(make_worked(tmp_path, f"cut files: {who}\n{BATCH}"), [MATS[0]])) == some


def test_bad_shapes_and_rims_are_refused(tmp_path, shaped):
    worked = make_worked(tmp_path, changed(SHAPED, ("rounded: 1/4", "rounded: 3/4")))
    with pytest.raises(UserError, match="too little for corners rounded") as caught:
        cut_files(worked)
    assert caught.value.place.line and caught.value.remedy == "⅝ in is the most"
    with pytest.raises(UserError, match="leaves nothing of a mat"):
        cut_files(shaped, [mat_named("4x4")], Length(2))


MAKE = """
import hashlib, sys
from pathlib import Path
from kitwright.cutfiles import cut_files, zipped
from kitwright.kit.read import read_club, read_kit
from kitwright.work.working import work
folder = Path(sys.argv[1])
print(hashlib.sha256(zipped(cut_files(work(read_kit(folder, read_club(folder.parent)))), "kit")).hexdigest())
"""


def test_same_bytes_in_another_process_and_time_zone(tmp_path):
    folder = make_archive(tmp_path, SHAPED)
    seen = {
        subprocess.run(
            [sys.executable, "-c", MAKE, str(folder)],
            capture_output=True,
            text=True,
            check=True,
            env=dict(os.environ, PYTHONHASHSEED=seed, TZ=zone),
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    }
    assert len(seen) == 1


def test_the_zip_holds_the_same_files(files):
    with zipfile.ZipFile(io.BytesIO(zipped(files, "nine-strips"))) as archive:
        assert archive.testzip() is None
        assert {name: archive.read(name) for name in archive.namelist()} == {f"nine-strips/{p}": data for p, data in files.items()}


# --- the command ---------------------------------------------------------------------------------


def run(root, *words):
    return CliRunner().invoke(command, [*words], obj=root)


def test_the_command_writes_a_folder_and_writes_it_anew(tmp_path):
    folder, out = make_archive(tmp_path, SHAPED), tmp_path / "cut"
    first = run(tmp_path, folder.name, "--out", str(out))
    assert first.exit_code == 0 and (out / "layouts/a3/river-1.dxf").is_file()
    again = run(tmp_path, folder.name, "--out", str(out), "--mat", "12x12", "--gap", "1/8", "--margin", "0")
    assert again.exit_code == 0 and {p.name for p in (out / "layouts").iterdir()} == {"12x12in"}
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


def test_the_command_leaves_other_folders_alone(tmp_path):
    folder, out = make_archive(tmp_path, SHAPED), tmp_path / "letters"
    out.mkdir()
    (out / "dear.txt").write_text("you")
    refused = run(tmp_path, folder.name, "--out", str(out))
    assert isinstance(refused.exception, UserError) and "something other" in refused.exception.problem
    assert [p.name for p in out.iterdir()] == ["dear.txt"]


@pytest.mark.parametrize(
    "words, problem",
    [
        (["--mat", "huge"], "huge"),
        (["--margin", "wide"], "not a length"),
        (["--gap", "-1"], "below zero"),
        (["--mat", "A2"], "A2"),
        (["--mat", "1x1"], "no piece of"),
    ],
)
def test_the_command_refuses_what_it_can_t_read(tmp_path, words, problem):
    folder, out = make_archive(tmp_path, SHAPED), tmp_path / "cut"
    refused = run(tmp_path, folder.name, "--out", str(out), *words)
    assert isinstance(refused.exception, UserError) and problem in refused.exception.problem and not out.exists()


def test_the_command_refuses_a_kit_without(tmp_path):
    folder = make_archive(tmp_path, f"cut files: none\n{SHAPED}")
    refused = run(tmp_path, folder.name, "--out", str(tmp_path / "cut"))
    assert isinstance(refused.exception, UserError) and refused.exception.place.line == 1


def test_a_folder_that_can_t_be_written(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(UserError, match="can't be written"):
        write(tmp_path / "file" / "cut", {"contents.txt": b""})
