"""What followers ask: batches, other sheets, one-way, shortfall, leftovers, comparisons."""

import json
import re
from fractions import Fraction

import demo as demo_kits
import pytest
from cutting_trees import trees
from examples import tried
from hypothesis import Phase, example, given
from hypothesis import strategies as st
from kitwright.check import errors
from kitwright.cutting import tree
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import HALF, Demand, made_by, sheets_for
from kitwright.cutting.tree import Split
from kitwright.labels import BASE
from kitwright.otherwise.checked import check
from kitwright.otherwise.planned import one_way, other_stock, planned
from kitwright.telling.compared import compared_text, measured_text
from kitwright.telling.questions import as_json, change_text, other_text
from kitwright.telling.slack import short_text
from kitwright.units import SIXTEENTH, ZERO, Length, Size, parse_length, parse_size, size_text
from kitwright.work.batches import MOST, alike, batches, guided_sheets, is_half, own_guide
from kitwright.work.compared import Comparison, Measured, comparisons, measured
from kitwright.work.leftovers import Inside, More, uses
from making import BATCH, TWO_PAPERS, changed, make_worked
from making import CLUB as CLUB_TEXT

HAIR = Length(Fraction(1, 1000))


@pytest.fixture(scope="module", params=demo_kits.BY_ID)
def demo(request):
    return demo_kits.worked(request.param)


@pytest.fixture(scope="module")
def batch(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


def guide(text: str, cuts: str, paper: str = "river") -> str:
    """The batch with other cuts on its only guide."""
    return text[: text.index("guides:\n")] + f"guides:\n  - papers: {paper}\n    cuts:\n{cuts}"


# --- any number of cards ----------------------------------------------------------------------------------


def test_the_batches_of_a_kit_worked_by_hand(batch):
    """A sheet of River gives nine cards, half of it what halving spares; Letter gives four mats, two bases."""
    table = dict(batches(batch))
    assert list(table) == list(range(1, 61)) and MOST == 60
    for cards, each in table.items():
        assert each["cream"] == Fraction(-(-cards * 2 // 4), 2), "two mats come from half a sheet"
        assert each["white"] == Fraction(cards, 2)
        whole = -(-cards // 9)
        # Halving down at 6 in spares one column of 3¾: three A and six B, so three cards.
        assert each["river"] == whole - (HALF if (cards - 1) % 9 + 1 <= 3 else 0)
    assert [table[n]["river"] for n in (1, 3, 4, 9, 10, 12, 13, 18)] == [HALF, HALF, 1, 1, Fraction(3, 2), Fraction(3, 2), 2, 2]


def test_a_table_never_falls_and_holds_the_kit_itself(demo):
    table = batches(demo)
    for (_, before), (_, after) in zip(table, table[1:]):
        assert all(before[paper] <= after[paper] for paper in before)
    own = dict(table)[demo.kit.spec.cards]
    for plan in demo.plans:
        if not demo.kit.papers[plan.paper].sheets:
            assert own[plan.paper] == plan.sheets
    assert all(sheets > 0 and (2 * sheets).denominator == 1 for _, each in table for sheets in each.values())


def test_a_guide_of_the_authors_is_counted_on_its_own_sheet(demo):
    """Counted anew: so many whole and half sheets give the pieces, and half a sheet less does not.

    A guide for half a sheet is another matter: see the next test.
    """
    for plan in demo.plans:
        if len(plan.runs) != 1 or plan.runs[0].layout.source != "author" or is_half(plan.runs[0].layout):
            continue
        node = plan.runs[0].layout.tree
        for cards in range(1, 61):
            needs = {label: -(-n * cards // demo.kit.spec.cards) for label, n in plan.demand.needs.items()}
            sheets = guided_sheets(demo, plan, cards)
            assert sheets == sheets_for(node, needs)
            for halves, enough in ((sheets, True), (sheets - HALF, False)):
                made = made_by(node, halves, needs) if halves > 0 else {}
                assert all(made.get(label, 0) >= n for label, n in needs.items()) is enough


def test_a_half_guide_counts_whole_sheets_as_two_halves(demo):
    """A layout of which the kit uses half a sheet gives twice as much on a whole one."""
    for plan in demo.plans:
        if plan.sheets == HALF:
            for times in range(1, 6):
                sheets = guided_sheets(demo, plan, times * demo.kit.spec.cards)
                assert sheets == Fraction(times, 2) or own_guide(plan) is None and sheets < Fraction(times, 2), "two half sheets are one"


def test_a_paper_left_to_auto_is_planned_for_each_batch(batch):
    for plan in (p for p in batch.plans if p.runs[0].layout.source == "auto"):
        for cards in (1, 7, 31, 60):
            assert guided_sheets(batch, plan, cards) == planned(batch, cards)[batch.plans.index(plan)].plan.sheets


# --- other sheets --------------------------------------------------------------------------------------------


def test_every_usual_sheet_but_its_own_is_answered(demo):
    for plan in demo.plans:
        others = other_stock(demo, plan)
        sizes = [o.demand.sheet for o in others]
        assert plan.demand.sheet not in sizes and len(set(sizes)) == len(sizes)
        assert len(others) >= (6 if demo.kit.papers[plan.paper].kind == "patterned" else 1)
        for other in others:
            assert (other.plan is None) == bool(other.misfits)
            if other.plan:
                assert not other.plan.short and other.demand.lies == plan.demand.lies


def test_a_misfit_in_words(tmp_path):
    text = changed(
        BATCH,
        ("size: 4 x 5-1/4", "size: 6-1/4 x 6-1/4"),
        ("    name: Cream cardstock\n    size: Letter\n", "    name: Cream\n    size: 12 x 12\n"),
        ("    kind: cardstock\n    name: Cream\n", "    kind: patterned\n    name: Cream\n    front: {look: plain, colours: [cream]}\n"),
    )
    worked = make_worked(tmp_path, text)
    told = {o.name: other_text(worked, o) for o in other_stock(worked, worked.plan("cream"))}
    assert told["6 × 6 in"] == "does not fit: M is ¼ in too large; at 6 × 6 in it fits"


# --- one-way -------------------------------------------------------------------------------------------------


def test_one_way_is_asked_of_every_patterned_paper_that_is_not_so_already(demo):
    for plan in demo.plans:
        other = one_way(demo, plan)
        already = demo.kit.papers[plan.paper].kind != "patterned" or all(label in plan.demand.lies for label in plan.demand.needs)
        assert (other is None) == already
        if other and other.plan:
            turned = {
                leaf.label
                for run in other.plan.runs
                for leaf in tree.pieces(run.layout.tree)
                if leaf.turned and leaf.rect.width != leaf.rect.height
            }
            assert turned <= {label for label, lies in plan.demand.lies.items() if lies}
            assert other.plan.sheets >= plan_paper(plan.demand, "p").sheets


def test_the_reason_for_one_base_is_the_true_one(demo):
    """“Not two, since half of it is …” is said where the kit's own sheet gives two, and half of the other is too small for a base."""
    for plan in (p for p in demo.plans if BASE in p.demand.needs):
        for other in [*other_stock(demo, plan), one_way(demo, plan)]:
            if other is None or "not two" not in other_text(demo, other):
                continue
            # The exact size; where that is in the other unit than the kit's, about as much in its own beside it.
            said, _, beside = other_text(demo, other).rpartition("half of it is ")[2].rstrip(")").partition(" (")
            base, half = demo.sizes[BASE], parse_size(said)
            unit = demo.kit.spec.unit
            assert beside == ("" if said.endswith(unit) else size_text(half, unit))
            assert half in (
                Size(other.demand.sheet.width, other.demand.sheet.height / 2),
                Size(other.demand.sheet.width / 2, other.demand.sheet.height),
            )
            assert not base.fits(half) and not base.turned.fits(half), f"{other.name}: {other_text(demo, other)}"
            assert plan.made[BASE] > plan.sheets, f"{other.name}: a sheet of the kit's own gives no two bases either"


# --- shortfall --------------------------------------------------------------------------------------------------


def comes_out(node, sheet: Size) -> list:
    """The guide followed at its marks on a sheet of another size: the pieces that come out whole.

    Every stroke is lined up as the guide says, from the edge that it says; only what stays in
    hand at the end differs. Paper that is not there is not cut.
    """
    found = []

    def cut(part, width, height):
        if isinstance(part, tree.Leaf):
            if part.label and (width, height) == (part.rect.width, part.rect.height):
                found.append(part.label)
            return
        left = width if part.axis == "x" else height
        for i, piece in enumerate(tree.taken(part)):
            mark = piece.rect.width if part.axis == "x" else piece.rect.height
            take = left if i == len(part.parts) - 1 else min(mark, left)
            if take <= ZERO:
                return
            left -= take
            cut(piece, *((take, height) if part.axis == "x" else (width, take)))

    cut(node, sheet.width, sheet.height)
    return sorted(found)


def fails_at(node, slack: Size) -> None:
    """All pieces come out of a sheet short by the slack, and not of one a hair shorter."""
    whole = sorted(leaf.label for leaf in tree.pieces(node))
    size = node.rect.size
    assert comes_out(node, size) == whole
    assert comes_out(node, Size(size.width - slack.width, size.height - slack.height)) == whole
    assert comes_out(node, Size(size.width - slack.width - HAIR, size.height)) != whole
    assert comes_out(node, Size(size.width, size.height - slack.height - HAIR)) != whole


def test_a_demo_guide_bears_a_sheet_as_short_as_it_says_and_no_shorter(demo):
    for layout in demo.layouts:
        fails_at(layout.tree, layout.slack)


@given(trees())
def test_a_guide_bears_a_sheet_as_short_as_it_says_and_no_shorter(node):
    """Followed at its marks: a leftover that comes off first takes its width whatever the sheet measures."""
    if isinstance(node, Split) and tree.pieces(node):
        fails_at(node, tree.slack(node))


@tried(20, phases=[Phase.explicit, Phase.generate])
@example(28, 16, 44)
@example(15, 44, 30)
@given(st.integers(1, 30), st.integers(8, 60), st.integers(8, 60))
def test_a_planned_guide_bears_a_sheet_as_short_as_it_says_and_no_shorter(n, w, h):
    """Both examples halve an 8 × 8 sheet that has its leftover in the first half: the second half has less to spare."""
    sizes = {"A": Size(Length(SIXTEENTH) * w, Length(SIXTEENTH) * h), "B": parse_size("2 x 1")}
    plan = plan_paper(Demand("p", parse_size("8 x 8"), {"A": n, "B": 3}, sizes, {}), "Paper")
    for run in plan.runs:
        fails_at(run.layout.tree, run.layout.slack)


def test_shortfall_in_words(batch):
    assert [short_text(each.slack, "in") for each in batch.layouts] == [
        "¾ in across, 3 in along",
        "½ in across, ½ in along",
        "nothing: measure the sheet before you cut",
    ]
    assert [each.tight for each in batch.layouts] == [False, False, True]


def test_the_guide_itself_fails_on_a_sheet_shorter_than_it_says(tmp_path):
    """The author's own words for the cuts, on the short sheet."""
    club = changed(CLUB_TEXT, ("least hold: 1\n", "least hold: 1/2\n"))
    for i, (size, good) in enumerate((("11-1/4 x 9", True), ("11-3/16 x 12", False), ("12 x 8-15/16", False))):
        worked = make_worked(tmp_path / str(i), changed(BATCH, ("size: 12 x 12", f"size: {size}")), club=club)
        assert (not errors(check(worked))) is good


# --- leftovers -----------------------------------------------------------------------------------------------


def holds(size: Size, piece: Size) -> bool:
    return any(p.width <= size.width and p.height <= size.height for p in (piece, piece.turned))


def sound(worked):
    for use in uses(worked):
        assert use.size in [r.size for r in use.layout.leftovers] and use.size.area == max(r.area for r in use.layout.leftovers)
        for label in use.pieces:
            piece = worked.sizes[label]
            lies = [p.demand.lies.get(label) for p in worked.plans if p.paper in use.layout.papers and label in p.demand.needs]
            assert lies, "this paper gives that label"
            for turned in lies:
                assert holds(use.size, piece) if turned is None else (piece.turned if turned else piece).fits(use.size), (
                    f"{label} may not be turned"
                )
        if isinstance(use.good_for, Inside):
            piece, cards = use.good_for.size, use.good_for.cards
            assert piece.fits(worked.base.finished) or piece.turned.fits(worked.base.finished)
            long, wide = (
                (piece.width, piece.height) if piece.width > piece.height or use.good_for.what == "trim" else (piece.height, piece.width)
            )
            assert holds(use.size, Size(piece.width * cards, piece.height)) or holds(use.size, Size(long * cards, wide))
        elif isinstance(use.good_for, More):
            assert use.pieces
            for n, labels in use.good_for.pieces:
                assert all(rows(worked, use, label) == n for label in labels)
        else:
            assert use.good_for in ("tests", "nothing")


def rows(worked, use, label) -> int:
    """Pieces in plain rows, counted here by walking the leftover, for the paper that allows the fewest."""
    found = []
    for plan in worked.plans:
        if plan.paper in use.layout.papers and label in plan.demand.needs:
            piece, lies = worked.sizes[label], plan.demand.lies.get(label)
            ways = [w for w, turned in ((piece, False), (piece.turned, True)) if lies is None or lies == turned]
            best = 0
            for way in ways:
                across = down = 0
                while way.width * (across + 1) <= use.size.width:
                    across += 1
                while way.height * (down + 1) <= use.size.height:
                    down += 1
                best = max(best, across * down)
            # Two triangles come of each rectangle.
            spec = worked.kit.spec.pieces.get(label)
            found.append(best * 2 if spec and spec.diagonal else best)
    return min(found)


def test_what_leftovers_of_demo_kits_are_good_for(demo):
    sound(demo)


def test_a_leftover_of_a_one_way_paper_is_used_upright_alone(tmp_path):
    """A strip of 2 × 12 in holds 5 × 2 only turned, and a one-way paper is never turned."""
    sideways = changed(
        BATCH,
        ("size: 3-3/4 x 1-1/4", "size: 5 x 2"),
        ("  B:\n    size: 3-3/4 x 7/8\n    for: low strip\n    paper: river\n    per card: 2\n", ""),
        ("    - A\n    - B\n    - band\n    - B\n", "    - A\n    - band\n"),
    )
    cuts = "      - 2 columns of 5 off the left:\n          - 6 strips of 2 off the top: A\n"
    plain = make_worked(tmp_path / "plain", guide(sideways, cuts))
    assert {u.layout.name: u.pieces for u in uses(plain)}["River"] == ("A",)
    upright = make_worked(tmp_path / "up", guide(sideways, cuts).replace("colours: [sky, white]}", "colours: [sky, white], up: top}"))
    assert upright.plan("river").demand.lies == {"A": False}
    assert {u.layout.name: u.pieces for u in uses(upright)}["River"] == ()
    sound(upright)


def test_papers_that_share_a_guide_share_its_leftover_only_where_each_may_lie_so(tmp_path):
    """Of two papers cut alike, the one-way one can't give another A from the strip; no word may promise that it does."""
    text = changed(
        TWO_PAPERS,
        ("size: 3-3/4 x 1-1/4", "size: 5 x 2"),
        ("size: 3-3/4 x 7/8", "size: 5 x 1-7/8"),
        ("colours: [sky, white]}", "colours: [sky, white], up: top}"),
    )
    cuts = "      - 2 columns of 5 off the left:\n          - 2 strips of 2 off the top: A\n          - 4 strips of 1-7/8 off the top: B\n"
    worked = make_worked(tmp_path, guide(text, cuts, "[river, meadow]"))
    assert worked.plan("river").demand.lies == {"A": False, "B": False} and worked.plan("meadow").demand.lies == {}
    sound(worked)


# --- yours and the planner's -------------------------------------------------------------------------------------

WASTEFUL = (
    "      - 2 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n"
)


def hints(worked):
    return [f for f in check(worked) if "planned:" in f.problem]


def test_a_guide_that_takes_more_sheets_is_compared_and_hinted_at(tmp_path):
    worked = make_worked(tmp_path, guide(BATCH, WASTEFUL))
    (one,) = comparisons(worked)
    assert one.papers == ("river",) and one.yours.sheets == Fraction(3, 2) and one.planned.sheets == 1 and one.better and one.proved
    (hint,) = hints(worked)
    assert hint.level == "hint" and "yours: 1½ sheets" in hint.problem and "planned: 1 sheet" in hint.problem and "auto" in hint.remedy
    assert hint.place.line and worked.layouts[0].source == "author", "the guide stays hers"


def test_check_is_silent_where_the_planner_is_no_better(demo):
    better = [c for c in comparisons(demo) if c.better]
    assert len(hints(demo)) == len(better)
    for c in comparisons(demo):
        assert c.planned.sheets <= c.yours.sheets, "the planner never takes more"
        said = compared_text(c.yours, c.planned, c.proved, demo.kit.spec.unit)
        assert said.startswith("yours: ") and "planned: " in said


@pytest.mark.parametrize(
    "yours, planned, better",
    [
        ((1, 3, 20), (1, 3, 20), False),
        ((2, 3, 20), (Fraction(3, 2), 9, 90), True),
        ((1, 1, 1), (Fraction(3, 2), 1, 1), False),
        ((1, 3, 20), (1, 2, 90), True),
        ((1, 3, 20), (1, 3, 19), True),
        ((1, 3, 20), (1, 4, 10), False),
    ],
)
def test_sheets_count_before_measures_and_measures_before_cuts(yours, planned, better):
    """Slack and leftovers don't make a plan better here: they come after."""
    one = Comparison(("p",), 0, Measured(*yours, ZERO, parse_size("1 x 1")), Measured(*planned, Length(1), parse_size("6 x 6")), True)
    assert one.better is better


@pytest.mark.parametrize(
    "sheets, slack, held, better",
    [
        ((2, 1), ("1/4", "1/8"), True, True),
        ((2, 1), ("1/4", "0"), True, False),
        ((2, 1), ("0", "0"), True, True),
        ((2, 1), ("1/4", "1/8"), False, True),
        ((3, "5/2"), ("1/4", "1/8"), False, False),
        ((3, "5/2"), ("1/4", "1/8"), True, True),
        ((1, 1), ("1/4", "1/8"), True, False),
        ((1, 1), ("1/8", "1/4"), True, True),
        ((1, 1), ("1-3/4", "1/2"), True, True),
        ((1, 1), ("1/8", "1/4"), False, False),
    ],
)
def test_what_is_saved_for_slack_is_no_advice(sheets, slack, held, better):
    """Fewer sheets without any slack, fewer strokes with less of it, or such as her trimmer can't make; half an inch is enough."""
    sizes = parse_size("1 x 1")
    yours, planned = (
        Measured(Fraction(n), 2, cuts, parse_length(room, allow_zero=True), sizes) for n, cuts, room in zip(sheets, (9, 8), slack)
    )
    assert Comparison(("p",), 0, yours, planned, True, held).better is better


def test_papers_left_to_auto_are_not_compared(batch):
    assert [c.papers for c in comparisons(batch)] == [("river",)]


def test_measured_counts_what_is_there(batch):
    m = measured(batch.plan("river"))
    assert (m.sheets, m.measures, m.cuts, m.slack, m.leftover) == (1, 3, 30, Length(Fraction(3, 4)), parse_size("3-3/4 x 3"))
    assert measured_text(m, "in") == "1 sheet, 3 measures, 30 cuts, least slack ¾ in, largest leftover 3¾ × 3 in"


def test_nothing_is_said_as_such():
    assert (
        measured_text(Measured(Fraction(5), 1, 1, ZERO, Size(ZERO, ZERO)), "in")
        == "5 sheets, 1 measure, 1 cut, no slack, nothing left over"
    )


def test_papers_cut_alike_are_compared_together(tmp_path):
    assert [c.papers for c in comparisons(make_worked(tmp_path, TWO_PAPERS))] == [("river", "meadow")]


def test_a_one_way_paper_is_not_compared_as_if_it_could_be_turned(tmp_path):
    """Both share one guide of six cards a sheet, but only the plain one gives seven, by turning."""
    text = changed(
        TWO_PAPERS,
        ("size: 3-3/4 x 1-1/4", "size: 5 x 2"),
        ("size: 3-3/4 x 7/8", "size: 5 x 1"),
        ("colours: [sky, white]}", "colours: [sky, white], up: top}"),
        ("cards: 18\n", "cards: 14\n"),
        ("{name: river, cards: 9}", "{name: river, cards: 7}"),
        ("{name: meadow, cards: 9,", "{name: meadow, cards: 7,"),
    )
    cuts = "      - 2 columns of 5 off the left:\n          - 3 strips of 2 off the top: A\n          - 6 strips of 1 off the top: B\n"
    worked = make_worked(tmp_path, guide(text, cuts, "[river, meadow]"))
    best = {paper: plan_paper(worked.plan(paper).demand, "p") for paper in ("river", "meadow")}
    assert {paper: plan.sheets for paper, plan in best.items()} == {"river": Fraction(3, 2), "meadow": 1}
    told = {paper: c.planned for c in comparisons(worked) for paper in c.papers}
    assert told == {paper: measured(plan) for paper, plan in best.items()}


# --- as data ---------------------------------------------------------------------------------------------------


def test_answers_are_plain_data(demo):
    told = as_json(demo)
    assert json.loads(json.dumps(told)) == told and told["cards"] == demo.kit.spec.cards and told["unit"] == demo.kit.spec.unit
    assert [row["cards"] for row in told["sheets"]] == list(range(1, 61))
    assert all(Fraction(n) > 0 for row in told["sheets"] for n in row["sheets"].values())
    papers = [p.paper for p in demo.plans]
    assert list(told["other paper"]) == papers and set(told["one-way"]) <= set(papers)
    assert list(told["may fall short"]) == [each.name for each in demo.layouts]
    assert [each["answer"] for each in told["may fall short"].values()] == [
        short_text(layout.slack, demo.kit.spec.unit) for layout in demo.layouts
    ]
    assert list(told["papers"]) == papers and all(Fraction(told["papers"][p.paper]["sheets"]) == p.sheets for p in demo.plans)
    for paper, cards in told["one sheet gives cards"].items():
        counts = [Fraction(row["sheets"][paper]) for row in told["sheets"]]
        assert (cards == 0 or counts[cards - 1] <= 1) and (cards == 60 or counts[cards] > 1)
    for each in told["other paper"].values():
        for row in each:
            assert (row["sheets"] is None) == row["answer"].startswith("does not fit")


def test_layouts_have_names_of_their_own(demo):
    """Answers are told by the guide's name: two guides of one name would lose one."""
    names = [layout.name for layout in demo.layouts]
    assert len(set(names)) == len(names)


def test_papers_cut_alike_are_counted_once_and_told_for_each(demo):
    groups = alike(demo)
    assert sorted(p.paper for plans in groups for p in plans) == sorted(p.paper for p in demo.plans)
    table = dict(batches(demo))
    for plans in groups:
        for plan in plans:
            for cards in (1, 8, 29, 60):
                assert table[cards][plan.paper] == guided_sheets(demo, plan, cards)
            assert {o.name: o.plan and o.plan.sheets for o in other_stock(demo, plan)} == {
                o.name: o.plan and o.plan.sheets for o in other_stock(demo, plans[0])
            }


def test_the_nearest_change_really_gives_two_bases(demo):
    """The base that is named, cut twice from one sheet of that stock."""
    seen = 0
    for plan in (p for p in demo.plans if BASE in p.demand.needs):
        for other in other_stock(demo, plan):
            said = change_text(demo, other)
            if said:
                base = parse_size(re.search(r"base of (.+?) a sheet", said)[1])
                assert base.fits(demo.base.cut) and base != demo.base.cut, "only taken off, never added"
                assert plan_paper(Demand("p", other.demand.sheet, {BASE: 2}, {BASE: base}, {}), "p").sheets == 1
                card = parse_size(re.search(r"the card is (.+? (?:in|mm))", said)[1])
                assert {card.width * 2, card.width} & {base.width} and {card.height * 2, card.height} & {base.height}
                seen += 1
    # The last is no half, but as wide as a Letter sheet: A4 is a quarter of an inch too narrow for it.
    named = [parse_size("8-1/2 x 5-1/2"), parse_size("210 x 148 mm"), parse_size("8-1/2 x 4-1/4")]
    alone = any(BASE in plan.demand.needs for plan in demo.plans)  # bases of several designs have names of their own
    assert seen == (alone and any(demo.base.cut in (size, size.turned) for size in named)), (
        "where the base is half a Letter or half an A4, or as wide as one"
    )


def test_what_falls_short_one_way_only_says_nothing_for_the_other():
    sheet = parse_size("8 x 4")
    plan = plan_paper(Demand("p", sheet, {"A": 2}, {"A": parse_size("4 x 3")}, {"A": False}), "Paper")
    assert short_text(plan.runs[0].layout.slack, "in") == "nothing across, 1 in along"
