"""What cut files are called, and how they draw score lines."""

from fractions import Fraction as F
from io import BytesIO
from zipfile import ZipFile

import pytest
from cutfiles.readers import read_svg
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive import cutters
from kitwright.cutfiles import cut_files
from kitwright.cutfiles.mats import mat_named
from kitwright.cutfiles.names import names_of
from kitwright.cutfiles.parts import DASH, dashes
from kitwright.units import ZERO, Length
from making import BATCH, CLUB, changed, make_worked


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("named"), BATCH)


@pytest.mark.parametrize(
    "typed, name",
    [
        ("4 x 5-1/4", "cream-4-x-5-1-4"),
        ("4 × 5¼", "cream-4-x-5-1-4"),
        ("4.0 x 5.25 in", "cream-4.0-x-5.25-in"),
        ("100 x 133 mm", "cream-100-x-133-mm"),
    ],
)
def test_a_mat_is_called_by_its_paper_and_its_size_as_typed(tmp_path, typed, name):
    """A mat is a plain layer behind the pieces; everything else goes by its label, as the printable has it."""
    found = names_of(make_worked(tmp_path, changed(BATCH, ("size: 4 x 5-1/4", f"size: {typed}"))))
    assert found == {"A": "pieces/A", "B": "pieces/B", "M": f"pieces/{name}", "base": "pieces/base"}


def test_two_mats_alike_have_two_files(tmp_path):
    text = changed(
        BATCH,
        (
            "  M:\n    size: 4 x 5-1/4\n    for: mat\n    paper: cream\n",
            "  M: {size: 4 x 5-1/4, paper: cream}\n  N: {size: 4 x 5-1/4, paper: cream}\n",
        ),
        ("    - M\n", "    - M\n    - N\n"),
    )
    names = names_of(make_worked(tmp_path, text))
    assert (names["M"], names["N"]) == ("pieces/cream-4-x-5-1-4", "pieces/cream-4-x-5-1-4-N")


def test_a_mat_inside_is_one_and_a_panel_inside_is_none(tmp_path):
    piece = ("  M:\n", "  N: {size: 3 x 2, paper: cream}\n  M:\n")
    faced = changed(BATCH, piece, ("sentiment:\n", "faces:\n  inside:\n    layers: [N]\nsentiment:\n"))
    assert names_of(make_worked(tmp_path / "faced", faced))["N"] == "pieces/cream-3-x-2"
    panel = changed(BATCH, piece, ("    - M\n", "    - M\n  inside: N\n"))
    assert names_of(make_worked(tmp_path / "panel", panel))["N"] == "pieces/N"


def test_a_name_that_readers_may_have_stays(worked):
    assert names_of(worked, {"pieces/M", "pieces/A"})["M"] == "pieces/M"
    assert names_of(worked, {"pieces/cream-4-x-5-1-4"})["M"] == "pieces/cream-4-x-5-1-4"


def test_what_the_site_hands_out_is_called_as_before_where_it_was_released_so(worked, monkeypatch):
    monkeypatch.setattr(cutters, "cut_files", lambda one, released: {f"{path}.svg": b"" for path in names_of(one, released).values()})

    def paths() -> set[str]:
        [data] = cutters.cut_files_of(worked).values()
        return {path.partition("/")[2] for path in ZipFile(BytesIO(data)).namelist()}

    assert "pieces/cream-4-x-5-1-4.svg" in paths() and "pieces/M.svg" not in paths()
    monkeypatch.setattr(cutters, "names_released", lambda kit: cutters.labelled(kit))
    assert "pieces/M.svg" in paths() and "pieces/cream-4-x-5-1-4.svg" not in paths()


@pytest.mark.parametrize(
    "typed, unit, key",
    [
        ("300x300 mm", "in", "300x300mm"),
        ("12 x 12 in", "mm", "12x12in"),
        ("30x30cm", "in", "30x30cm"),
        ("12x24", "in", "12x24in"),
        ("8-1/2x11", "in", "8-1-2x11in"),
        ("8-1/2 x 11 in", "mm", "8-1-2x11in"),
        ("A4", "in", "a4"),
    ],
)
def test_layouts_lie_under_the_cutting_mat_as_she_typed_it(typed, unit, key):
    assert mat_named(typed, unit).key == key


# --- score lines ------------------------------------------------------------------------------------

LINES = st.integers(1, 400).map(lambda n: Length(F(n, 16)))


@given(LINES, LINES)
def test_dashes_are_even_and_keep_off_the_edges(at, long):
    found = dashes(((at, ZERO), (at, long)))
    steps = [ZERO, *(y for dash in found for _, y in dash), long]
    each = {b - a for a, b in zip(steps, steps[1:])}
    assert len(each) == 1 and all(x == at for dash in found for x, _ in dash), "dash and gap alike, exactly"
    assert long < DASH * 3 or abs(each.pop() - DASH) <= DASH / 2


def test_score_lines_are_solid_unless_she_asks(tmp_path, worked):
    def folds(files: dict[str, bytes]) -> list:
        return [one for one in read_svg(files["pieces/base.svg"]) if one.layer == "folds"]

    plain = cut_files(worked, [])
    dashed = cut_files(worked, [], folds="dashed")
    by_club = cut_files(make_worked(tmp_path, BATCH, club=f"{CLUB}fold lines: dashed\n"), [])
    assert dashed == by_club and dashed != plain
    assert {path for path in plain if plain[path] != dashed[path]} == {"pieces/base.svg", "pieces/base.dxf", "contents.txt"}
    assert plain == cut_files(worked, [], folds="solid")
    [line] = folds(plain)
    assert line.shape.length == pytest.approx(139.7)
    assert "whose dashes make the paper fold there" in dashed["contents.txt"].decode()
    data = dashed["pieces/base.svg"].decode()
    assert data.count("M 107.95,") == 22, "5½ in: 22 dashes and 23 gaps of about an eighth"
