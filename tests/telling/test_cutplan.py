"""A plan as it is told: text and plain data, asked as it is or differently; and what `kitwright plan` answers."""

import json
from fractions import Fraction
from pathlib import Path

import demo as demo_kits
import pytest
from click.testing import CliRunner
from kitwright.cli import cli
from kitwright.otherwise.planned import planned
from kitwright.telling.cutplan import as_json, as_text
from kitwright.units import Length, Size, parse_size
from making import BATCH, CLUB, ID, changed, make_archive, make_worked
from shapely import box
from shapely.ops import unary_union

KITS = Path(__file__).parents[2] / "kits"


def run(root: Path, *words: str):
    result = CliRunner().invoke(cli, ["--root", str(root), "plan", *words])
    assert result.exception is None or isinstance(result.exception, SystemExit), repr(result.exception)
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def root(tmp_path):
    make_archive(tmp_path, BATCH)
    return tmp_path


@pytest.fixture(scope="module", params=demo_kits.BY_ID)
def demo(request):
    return demo_kits.worked(request.param)


def size(told: dict) -> Size:
    return Size(Length(Fraction(told["width"])), Length(Fraction(told["height"])))


def sound(told: dict, sizes: dict[str, Size]) -> None:
    """A paper's plain data, checked with nothing but itself and the sizes of the pieces."""
    sheet = size(told["sheet"])
    made: dict[str, Fraction] = {}
    for layout in told["layouts"]:
        parts = layout["parts"]
        rects = [(Fraction(p["x"]), Fraction(p["y"]), Fraction(p["width"]), Fraction(p["height"])) for p in parts]
        shapes = [box(float(x), float(y), float(x + w), float(y + h)) for x, y, w, h in rects]
        # Exact areas that add up and a union as large as the sheet: the parts tile it.
        assert sum(w * h for _, _, w, h in rects) == sheet.area
        assert unary_union(shapes).symmetric_difference(box(0, 0, float(sheet.width.inches), float(sheet.height.inches))).area < 1e-9
        counts: dict[str, int] = {}
        for p in parts:
            if p["label"]:
                counts[p["label"]] = counts.get(p["label"], 0) + (2 if "corner to corner" in p else 1)
                own = sizes[p["label"]]
                assert size(p) == (own.turned if p["turned"] else own)
        assert counts == layout["yields"]
        assert Fraction(layout["used"]) == sum(w * h for p, (_, _, w, h) in zip(parts, rects) if p["label"]) / sheet.area
        slack = size(layout["slack"])
        assert Length(0) <= slack.width <= sheet.width and Length(0) <= slack.height <= sheet.height
        assert len(set(layout["measures"])) == len(layout["measures"])
        assert all(0 < Fraction(m) < max(sheet.width.inches, sheet.height.inches) for m in layout["measures"])
        assert all((step["mark"] or "corners") in step["text"] for step in layout["steps"])
        # A piece that is the whole sheet takes no cut.
        assert layout["steps"] or [size(p) for p in parts] == [sheet]
        for label, n in counts.items():
            made[label] = made.get(label, 0) + n * (Fraction(layout["sheets"]).__ceil__())
    assert sum(Fraction(layout["sheets"]) for layout in told["layouts"]) == Fraction(told["sheets"])
    for label, n in told["needs"].items():
        assert n <= told["made"][label] <= made[label]
        assert told["spare"].get(label, 0) == told["made"][label] - n


# --- a kit's own plan -----------------------------------------------------------------------------------


def test_the_plan_in_words(root):
    said = run(root, ID)
    assert said.exit_code == 0
    lines = said.output.splitlines()
    assert lines[0] == "River, 12 × 12 in" and "Cream cardstock, 8½ × 11 in" in lines and "White cardstock, 8½ × 11 in" in lines
    for words in (
        "1 sheet for 9 A, 18 B",
        "River: 1 sheet, a sheet gives 9 A and 18 B; may fall short by ¾ in across, 3 in along",
        "2½ sheets for 9 M",
        "Nobody could cut the batch from fewer than 1 sheet. The pieces cover 101¼ sq in, and half a sheet has 72 sq in.",
        "fewest sheets, proved:",
        "1. Line the left edge up at 3¾ in",
        "may fall short by nothing: measure the sheet before you cut",
    ):
        assert words in said.output, words
    river = said.output.split("\n\n")[0]
    assert "fewest sheets, proved:" not in river and "yours: 1 sheet" in river and "proved the fewest sheets" in river, (
        "her own guide is compared, not proved"
    )


def test_bases_take_their_plural(root):
    """Letters stay, a word takes its plural: 9 A, but 9 bases."""
    said = run(root, ID).output
    assert "for 9 bases" in said and "a sheet gives 2 bases" in said


def test_every_demo_plan_is_told(demo):
    unit = demo.kit.spec.unit
    lines = as_text(demo, planned(demo))
    other = "in" if unit == "mm" else "mm"
    assert not [line for line in lines if "None" in line or "  and" in line or "Fraction" in line]
    assert not [
        line
        for line in lines
        if f" {other} " in line.replace(" in hand", "").replace(" in the", "").replace(" in one piece", "")
        or "sq in" in line
        and unit == "mm"
        or "of an inch" in line
        and unit == "mm"
    ], f"a kit in {unit} is told in {unit}"
    assert sum(line.startswith(tuple(p.name for p in demo.kit.papers.values())) for line in lines) == len(demo.plans)


def test_every_demo_plan_as_data_is_sound(demo):
    told = json.loads(json.dumps(as_json(demo, planned(demo))))
    assert told["kit"] == demo.kit.id and [p["paper"] for p in told["papers"]] == [p.paper for p in demo.plans]
    for paper, plan in zip(told["papers"], demo.plans):
        assert Fraction(paper["sheets"]) == plan.sheets and size(paper["sheet"]) == plan.demand.sheet
        sound(paper, demo.sizes)
        assert all({"level", "proved", "why"} <= set(p) for p in paper["proof"])


def test_a_club_with_its_ruler_on_the_right_reads_so(tmp_path):
    make_archive(tmp_path, BATCH, club=changed(CLUB, ("  least hold: 1\n", "  least hold: 1\n  ruler side: right\n")))
    assert "1. Turn the sheet so that the left edge lies at the ruler" in run(tmp_path, ID).output


# --- asked differently -----------------------------------------------------------------------------------------


def told(root, *words):
    result = run(root, ID, *words, "--json")
    return result.exit_code, {p["paper"]: p for p in json.loads(result.stdout)["papers"]}


SIZES = {
    "A": parse_size("3-3/4 x 1-1/4"),
    "B": parse_size("3-3/4 x 7/8"),
    "M": parse_size("4 x 5-1/4"),
    "base": parse_size("8-1/2 x 5-1/2"),
}


@pytest.mark.parametrize("cards", [1, 4, 20, 61])
def test_another_number_of_cards(root, cards):
    status, papers = told(root, "--cards", str(cards))
    assert status == 0 and papers["river"]["needs"] == {"A": cards, "B": 2 * cards} and papers["white"]["needs"] == {"base": cards}
    assert Fraction(papers["white"]["sheets"]) == Fraction(cards, 2) and Fraction(papers["cream"]["sheets"]) == Fraction(-(-cards // 2), 2)
    for paper in papers.values():
        sound(paper, SIZES)
        assert [p for p in paper["proof"] if p["level"] == "sheets"][0]["proved"]


def test_another_sheet(root):
    """Common practice, no source: A4 gives one 8½ × 5½ base, not two."""
    status, papers = told(root, "--paper", "white=A4", "--paper", "river=30 x 30 cm")
    assert status == 0 and papers["white"]["sheets"] == "9" and size(papers["white"]["sheet"]) == parse_size("210 x 297 mm")
    assert size(papers["river"]["sheet"]) == parse_size("300 x 300 mm") and "2" > papers["river"]["sheets"] >= "1"
    assert papers["cream"]["sheets"] == "5/2", "what was not asked about stays"
    for paper in papers.values():
        sound(paper, SIZES)


def test_a_sheet_as_measured(root):
    """Common practice, no source: sheets are not always true."""
    _, papers = told(root, "--paper", "river=11-15/16 x 11-15/16")
    assert size(papers["river"]["sheet"]) == parse_size("11-15/16 x 11-15/16")
    sound(papers["river"], SIZES)


def test_one_way(root):
    status, papers = told(root, "--one-way", "river")
    assert status == 0 and not any(part["turned"] for layout in papers["river"]["layouts"] for part in layout["parts"] if part["label"])
    said = run(root, ID, "--one-way", "river").output
    river, rest = said.split("\n\n")[0], said.split("\n\n")[1:]
    assert river.count("Lay the sheet with its pattern the right way up.") == sum(
        " sheet" in line and "gives" in line for line in river.splitlines()
    )
    assert not any("right way up" in part for part in rest)


def test_what_does_not_fit_is_said_and_found(root):
    said = run(root, ID, "--paper", "white=8 x 8")
    assert said.exit_code == 1
    assert "base, 8½ × 5½ in, is ½ in larger than the sheet, 8 × 8 in" in said.output and "at 8 × 5½ in it fits" in said.output
    assert "not be turned" not in said.output
    status, papers = told(root, "--paper", "white=8 x 8")
    assert status == 1 and papers["white"]["sheets"] is None
    (wrong,) = papers["white"]["does not fit"]
    assert wrong == {"label": "base", "over": "1/2", "fits at": {"width": "8", "height": "11/2"}}
    assert papers["river"]["sheets"] == "1", "the other papers are still told"


def test_what_does_not_fit_upright(root):
    said = run(root, ID, "--paper", "white=5-1/2 x 11", "--one-way", "white")
    assert said.exit_code == 1 and "it may not be turned" in said.output and "a paper that is not one-way" in said.output
    assert run(root, ID, "--paper", "white=5-1/2 x 11").exit_code == 0


# --- what can't be asked ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words, says",
    [
        (["--paper", "white"], "does not say which sheet"),
        (["--paper", "white="], "not the name of a sheet"),
        (["--paper", "=A4"], "does not use a paper"),
        (["--paper", "nope=A4"], "its papers: river, cream, white"),
        (["--paper", "white=A2"], "does not say which sheet is meant"),
        (["--paper", "white=0 x 8"], "zero"),
        (["--paper", "white=-8 x 8"], "below zero"),
        (["--paper", "white=500 x 8"], "longer than any sheet"),
        (["--paper", "white=eight"], "not the name of a sheet"),
        (["--one-way", "nope"], "its papers: river, cream, white"),
        (["--cards", "0"], "range"),
        (["--cards", "-3"], "range"),
        (["--cards", "many"], "many"),
        (["--cards", "1000000"], "range"),
    ],
)
def test_a_question_that_makes_no_sense(root, words, says):
    said = run(root, ID, *words)
    assert said.exit_code == 2 and says in said.output and "1." not in said.stdout


def test_a_kit_that_is_not_there(root):
    assert run(root, "2031-01-nowhere").exit_code == 2


def test_a_kit_that_can_not_be_worked_out(tmp_path):
    make_archive(tmp_path, changed(BATCH, ("3 columns of 3-3/4 off the left", "4 columns of 3-3/4 off the left")))
    said = run(tmp_path, ID)
    assert said.exit_code == 1 and "error" in said.output and "kit.yaml" in said.output


# --- impossible and huge ----------------------------------------------------------------------------------------


def test_ten_thousand_cards(root):
    """The answer is proved: 4 mats and 2 bases a sheet by area and hand, and no fewer sheets by area of the rest."""
    status, papers = told(root, "--cards", "10000")
    assert status == 0 and papers["cream"]["sheets"] == "2500" and papers["white"]["sheets"] == "5000"
    area = 10000 * SIZES["A"].area + 20000 * SIZES["B"].area
    assert area / 144 <= Fraction(papers["river"]["sheets"]) <= Fraction(10000, 9) + 1
    for paper in papers.values():
        sound(paper, SIZES)


def test_a_piece_larger_than_every_sheet(root):
    said = run(root, ID, "--cards", "10000", "--paper", "white=1 x 1", "--paper", "river=1 x 1", "--paper", "cream=1 x 1")
    assert said.exit_code == 1 and said.output.count("larger than the sheet, 1 × 1 in") == 4


def test_a_sheet_as_large_as_any(root):
    """60 in a side is the most that is planned from; beyond, millimetres were surely meant."""
    status, papers = told(root, "--paper", "white=60 x 60")
    assert status == 0 and papers["white"]["sheets"] == "1/2"
    sound(papers["white"], SIZES)
    for size in ("60-1/16 x 8", "8 x 61", "300x300", "400 x 400"):
        said = run(root, ID, "--paper", f"white={size}", "--cards", "10000")
        assert said.exit_code == 2 and "larger than any sheet" in said.output and "mm" in said.output
    assert run(root, ID, "--paper", "white=300x300mm").exit_code == 0


def test_what_is_asked_is_asked_of_the_named_papers_alone(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    found = planned(worked, papers={"white": parse_size("210 x 297 mm")})
    assert [r.plan is p for r, p in zip(found, worked.plans)] == [True, True, False]
    assert [r.plan is p for r, p in zip(planned(worked), worked.plans)] == [True] * 3
