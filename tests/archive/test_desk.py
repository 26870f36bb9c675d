"""The desk beside each guide: the whole instruction, the sheet in hand, another order, and why no fewer sheets."""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import pytest
from archive.rendered import in_own_unit, kit_page, made_of, part, site_of, words
from archive.rendered import page as filled_page
from archive.small import FIRST
from kitwright.archive.gallery import gallery_of
from kitwright.archive.offered import sheet_name
from kitwright.archive.pictures import pictures_of
from kitwright.archive.your_paper import your_paper
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, Split
from kitwright.geometry import Rect
from kitwright.kit.read import read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.otherwise.planned import planned
from kitwright.printable.edition import EDITIONS
from kitwright.schemes import HOUSE
from kitwright.telling.answers import computed
from kitwright.telling.cutplan import as_text, verdict, verdicts
from kitwright.telling.instructions import stroke_text
from kitwright.telling.words import sheets_text
from kitwright.units import ZERO, Length, length_text
from kitwright.work.desk import layout_steps
from kitwright.work.worked import Worked
from kitwright.work.working import work
from making import BATCH, TWO_PAPERS, make_worked


@pytest.fixture(scope="module")
def batch(tmp_path_factory) -> Worked:
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


def desks_on(worked: Worked) -> list[str]:
    """What a kit's page says of each guide at the desk."""
    text = kit_page(worked)
    return [part(text, f"guide-{n}") for n in range(1, len(worked.layouts) + 1)]


def told_in(text: str, mark: str) -> list[str]:
    """What is said under a mark, in the kit's own unit."""
    found = re.findall(rf'<(p|b|span) class="{mark}">(.*?)</\1>\s*(?:</li>|</div>|<span class="kw-edge">|<b)', text)
    return [words(re.sub(r"<span[^>]*data-search-exclude>.*?</span>", "", said)) for _, said in found]


def test_every_step_is_told_whole_and_drawn(batch):
    desks, pictures = desks_on(batch), pictures_of(batch)
    assert len(desks) == len(batch.layouts)
    drawn = []
    for i, (desk, layout) in enumerate(zip(desks, batch.layouts), 1):
        steps = layout_steps(batch, layout)
        assert told_in(desk, "kw-words") == [stroke_text(batch, layout, step) for step in steps]
        assert told_in(desk, "kw-edge") == [f"{step.side.capitalize()} edge at" for step in steps]
        assert told_in(desk, "kw-measure") == [length_text(step.measure, "in") for step in steps]
        assert re.findall(r'class="kw-stroke" id="(.*?)"', desk) == [f"cut-{i}-{k}" for k in range(1, len(steps) + 1)]
        cuts = [said.removeprefix("cut ") for said in told_in(desk, "kw-cuts")]
        numbers = [n for said in cuts for first, _, last in [said.partition("–")] for n in range(int(first), int(last or first) + 1)]
        assert numbers == [cut.number for cut in layout.cuts]
        drawn += (names := re.findall(r'<img class="kw-hand" src="(.*?)\.svg"', desk))
        assert names == [f"hand-{i}-{step.number}" for step in steps]
        for name in names:
            (data,) = pictures[name].files(HOUSE).values()
            assert ElementTree.fromstring(data).find("{http://www.w3.org/2000/svg}desc").text == pictures[name].alt
            assert len(data) < 12_000, "small enough to stand beside every step"
    assert set(drawn) == {name for name in pictures if name.startswith("hand-")}


def test_the_page_shows_them_in_order(small_site: Path):
    folder = small_site.parent / "kits"
    worked = work(read_kit(folder / FIRST, read_club(folder)))
    page = in_own_unit((small_site / f"kits/{FIRST}/index.html").read_text(encoding="utf-8"))
    shown = [html.unescape(re.sub(r"<[^>]+>", "", words)) for words in re.findall(r'<p class="kw-words">(.*?)</p>', page)]
    steps = [stroke_text(worked, layout, step) for layout in worked.layouts for step in layout_steps(worked, layout)]
    assert shown == [" ".join(text.split()) for text in steps]
    pictures = re.findall(r'<img class="kw-hand" src="([^"]+)"', page)
    places = [html.unescape(name).partition("#") for name in pictures]
    boards = {file: (small_site / f"kits/{FIRST}" / file).read_text(encoding="utf-8") for file, _, _ in places}
    assert len(pictures) == len(shown) and all(f'<view id="{name}" ' in boards[file] for file, _, name in places)


# --- another order ----------------------------------------------------------------------------------------------


def two_columns() -> Layout:
    """One column of strips that are cut again, one of a single piece: finishing the first before the second costs nothing."""
    first = Rect(ZERO, ZERO, Length(4), Length(12))
    strips = tuple(
        Split(
            Rect(ZERO, Length(3 * i), Length(4), Length(3)),
            "x",
            (Leaf(Rect(ZERO, Length(3 * i), Length(2), Length(3)), "A"), Leaf(Rect(Length(2), Length(3 * i), Length(2), Length(3)), "A")),
            "left",
        )
        for i in range(4)
    )
    second = Rect(Length(4), ZERO, Length(8), Length(12))
    parts = (Leaf(Rect(Length(4), ZERO, Length(8), Length(7)), "B"), Leaf(Rect(Length(4), Length(7), Length(8), Length(5))))
    return Layout(
        "Two",
        ("river",),
        Split(Rect(ZERO, ZERO, Length(12), Length(12)), "x", (Split(first, "y", strips, "top"), Split(second, "y", parts, "top")), "left"),
        "author",
        0,
    )


def test_an_order_that_costs_nothing_is_offered_with_its_own_steps(batch):
    (desk,) = desks_on(replace(batch, layouts=(two_columns(),)))
    (other,) = re.findall(r"<h5>.*?</ol>", desk, re.DOTALL)
    steps = [words(step) for step in re.findall("<li>(.*?)</li>", other)]
    natural = told_in(desk, "kw-words")
    assert re.search(r"<h5>(.*?)</h5>", other)[1].endswith("?") and len(steps) == len(natural) and steps != natural
    assert [re.search(r" at (\S+ in)", text)[1] for text in steps] == ["4 in", "3 in", "2 in", "7 in"]
    assert told_in(desk, "kw-measure") == ["4 in", "3 in", "7 in", "2 in"]


def test_none_is_offered_where_the_strokes_come_in_the_same_order(batch):
    assert not any("You set the ruler just as often." in desk for desk in desks_on(batch))


# --- why no fewer sheets --------------------------------------------------------------------------------------------


def test_the_batch_by_hand(batch):
    """Nine A of 3¾ × 1¼ and eighteen B of 3¾ × ⅞ cover 101¼ sq in; half of 12 × 12 has 72."""
    told = verdict(batch, batch.layouts[0])
    assert told.lead == "Nobody could cut the batch from fewer than 1 sheet."
    assert told.why == "The pieces cover 101¼ sq in, and half a sheet has 72 sq in."


def test_what_is_certain_is_told_and_nothing_else(batch):
    for layout in batch.layouts[1:]:
        plan, told = batch.plan(layout.papers[0]), verdict(batch, layout)
        fewest = next(p for p in plan.proof if p.level == "sheets")
        assert (told is not None) == (fewest.proved and plan.sheets > Fraction(1, 2))
        assert told is None or told.lead.startswith("Nobody could") and (told.why != "") == fewest.plain
    unsure = replace(batch, plans=tuple(replace(p, proof=tuple(replace(q, proved=False) for q in p.proof)) for p in batch.plans))
    assert all(verdict(unsure, layout) is None for layout in unsure.layouts if layout.source == "auto")


MORE_THAN_NEEDED = BATCH[: BATCH.index("guides:\n")] + (
    "guides:\n  - papers: river\n    cuts:\n      - 2 columns of 3-3/4 off the left:\n"
    "          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n"
)
"""Her guide takes a sheet and a half, and one would do."""
TWO_GUIDES = BATCH[: BATCH.index("guides:\n")] + (
    "guides:\n  - papers: river\n    sheets: 1\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n"
    "  - papers: river\n    sheets: 1\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n          - 6 strips of 7/8 off the top: B\n"
)
"""Two guides of hers where one sheet would do."""


@pytest.mark.parametrize("text", [MORE_THAN_NEEDED, TWO_GUIDES], ids=["one guide", "two guides"])
def test_a_plan_that_beats_her_guide_is_told_to_her_alone(tmp_path, text):
    worked = make_worked(tmp_path, text)
    own = worked.plan("river").sheets
    assert own > 1 and any("1 sheet" in f.problem and f.level == "hint" for f in check(worked))
    assert any("1 sheet would do, cut another way, and no fewer." in line for line in as_text(worked, planned(worked)))
    assert all(verdict(worked, layout) is None for layout in worked.layouts if layout.papers == ("river",))
    page, files = your_paper(worked)
    data = json.loads(files["questions.json"])
    assert all(Fraction(row["sheets"]["river"]) >= own for row in data["sheets"] if row["cards"] >= 9)
    assert Fraction(data["one-way"]["river"]["sheets"]) == own and page.one_way == (f"River: {sheets_text(own)}, as before.",)
    assert "1 sheet of River" not in computed(worked, "more cards", 9) and data["papers"]["river"]["fewest possible"] is None


SOLVERS_WORDS = re.compile(
    r"proved|proof|\bbounds?\b|dual|solver|lemma|planner|computer|chosen together|best found|was found|were found|natural order|ruled out|Every set",
    re.I,
)


@pytest.mark.parametrize("text", [MORE_THAN_NEEDED, TWO_PAPERS])
def test_no_word_of_a_solver_reaches_a_reader(tmp_path, text):
    worked = make_worked(tmp_path, text)
    page, files = your_paper(worked)
    sheets = dict.fromkeys((sheet_name(worked.kit, edition) for edition in EDITIONS), b"%PDF")
    site = site_of(made_of(worked, galleries=(gallery_of(worked, sheets)[0],), yours=page))
    told = [words(filled_page(template, site)) for template in ("kit.md", "gallery.md", "your-paper.md")]
    assert told[0] and told[2]
    told += [repr(page), files["questions.json"].decode()]
    told += [computed(worked, what) for what in ("A4", "Letter", "other sheets", "one sheet", "other fold", "more cards")]
    assert [SOLVERS_WORDS.search(words)[0] for words in told if SOLVERS_WORDS.search(words)] == []


def test_nor_does_one_stand_in_the_templates():
    theme = Path(__file__).parents[2] / "theme"
    found = [
        (file.name, SOLVERS_WORDS.search(text)[0])
        for file in [*theme.glob("templates/*"), *theme.glob("briefs/*")]
        for text in [re.sub(r"\{[#%{].*?[#%}]\}", "", file.read_text(encoding="utf-8"))]
        if SOLVERS_WORDS.search(text)
    ]
    assert found == []


def test_two_guides_of_one_paper_say_it_once(batch):
    first, second = verdicts(replace(batch, layouts=(batch.layouts[0], batch.layouts[0])))
    assert first is not None and second is None


def test_papers_cut_alike_are_counted_each(tmp_path):
    worked = make_worked(tmp_path, TWO_PAPERS)
    assert verdict(worked, worked.layouts[0]).lead == "Nobody could cut the batch from fewer than 1 sheet of each."
