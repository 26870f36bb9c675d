"""Several designs in one kit: seen one by one, counted on the fronts, planned together."""

import json
from fractions import Fraction

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.errors import Slips, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.read import look_at_club, look_at_kit
from kitwright.release import kept
from kitwright.release.state import digest, state_of
from kitwright.release.values import values_of
from kitwright.work.cite import value
from kitwright.work.counted import counted
from kitwright.work.worked import needs_of, on_card
from kitwright.work.working import work
from making import BATCH, changed, make_archive, make_kit, make_worked
from several import BY_AUTO, GUIDE, LYING, SEVERAL, SHEETS, STANDING, alone


@pytest.fixture(scope="module")
def several(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("several"), SEVERAL)


@pytest.fixture(scope="module")
def by_auto(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("auto"), BY_AUTO)


# --- a view for each ------------------------------------------------------------------------------


def test_each_design_is_seen_as_a_kit_of_its_own(several):
    standing, lying = several.designs
    assert [design.kit.design for design in several.designs] == ["Standing", "Lying"] and several.kit.spec.cards == 16
    assert (str(standing.base.finished), str(lying.base.finished)) == ("4¼ × 5½ in", "5½ × 4¼ in")
    assert (list(standing.kit.spec.pieces), list(lying.kit.spec.pieces)) == (["A", "B"], ["B", "C"])
    assert (standing.kit.base, lying.kit.base) == ("Standing base", "Lying base") and list(several.sizes)[:2] == [
        "Standing base",
        "Lying base",
    ]
    assert standing.kit.spec.sentiment and not lying.kit.spec.sentiment and lying.face.layers[0].label == "Lying base"
    assert (standing.enclosed.room, lying.enclosed.room) != (None, None) and standing.enclosed.size == lying.enclosed.size.turned
    # What leads stands for the whole where nobody asks for more.
    assert (several.base, several.faces, several.enclosed) == (standing.base, standing.faces, standing.enclosed)
    assert standing.whole is lying.whole is several and standing.plans is several.plans and standing.planner is several.planner
    assert work(standing.kit) is standing and work(several.kit) is several


def test_a_kit_of_one_is_its_only_design(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    assert worked.designs == (worked,) and worked.kit.designs == (worked.kit,) and worked.whole is worked
    assert (worked.kit.design, worked.kit.base) == ("", "base") and worked.kit.typed is None


def test_an_entry_of_a_design_stands_under_it(several):
    text = SEVERAL.split("\n")
    for design, says in zip(several.kit.designs, ("fold: side", "fold: top")):
        assert text[design.place("card", "fold").line - 1].strip() == says
        assert "size: 4 x 3" in text[design.place("pieces", "A", "size").line - 1]
    assert "moss outside" in text[several.kit.designs[1].place("front", "looks", 0, "cards").line - 1]
    assert several.kit.place("front") == several.kit.designs[0].place("front")


def test_one_design_alone_may_stand_under_designs(tmp_path):
    one = make_worked(tmp_path / "one", f"{SHEETS}designs:\n{STANDING}".replace("  C: {size: 4 x 2, papers: [moss, shore]}\n", ""))
    plain = make_worked(tmp_path / "plain", alone(STANDING).replace("  C: {size: 4 x 2, papers: [moss, shore]}\n", ""))
    assert [d.kit.design for d in one.designs] == ["Standing"] and one.sizes["Standing base"] == plain.sizes["base"]
    assert [p.sheets for p in one.plans] == [p.sheets for p in plain.plans] and plain.kit.spec.pieces["A"].share == {
        "moss": Fraction(1, 2),
        "shore": Fraction(1, 2),
    }


# --- counts and plans -----------------------------------------------------------------------------


@pytest.mark.parametrize("which", ["several", "by_auto"])
def test_both_designs_come_from_one_pair_of_sheets_with_nothing_over(which, request):
    worked = request.getfixturevalue(which)
    assert worked.troubles == ()
    # 12 × 12 = 144 sq in: 4 × (4 × 3) + 8 × (4 × 1) + 8 × (4 × 2).
    for paper in ("moss", "shore"):
        plan = worked.cut(paper)
        assert (plan.demand.needs, plan.sheets, plan.spare) == ({"A": 4, "B": 8, "C": 8}, 1, {})
        assert not any(run.layout.leftovers for run in plan.runs)
    assert worked.cut("white").demand.needs == {"Standing base": 8, "Lying base": 8} and worked.cut("white").sheets == 8
    if which == "by_auto":
        assert all(next(p for p in plan.proof if p.level == "sheets").proved for plan in worked.plans)
        assert [run.layout.papers for run in worked.cut("moss").runs] == [("moss", "shore")], "papers cut alike share a guide"


def test_what_is_counted_adds_up(several):
    asked = {(label, paper): n for paper, labels in needs_of(several.kit).items() for label, n in labels.items() if " base" not in label}
    assert asked == on_card(several)
    for design in several.designs:
        assert {label: sum(design.counts(label).values()) for label in design.kit.spec.pieces} in ({"A": 8, "B": 8}, {"B": 8, "C": 16})
    assert several.kit.spec.pieces["B"].share == {"moss": Fraction(1, 2), "shore": Fraction(1, 2)}
    assert several.designs[1].kit.spec.pieces["C"].share == {"moss": 1, "shore": 1} and several.kit.spec.pieces["C"].share[
        "moss"
    ] == Fraction(1, 2)


def test_what_was_counted_once_is_counted_alike_again(several):
    again = counted(several.kit, tuple(design.faces for design in several.designs))
    assert again.spec == several.kit.spec and [d.spec for d in again.designs] == [d.spec for d in several.kit.designs]


def test_a_piece_on_no_card_is_told(tmp_path):
    text = SEVERAL.replace("pieces:\n", "pieces:\n  X: {size: 1 x 1, paper: white}\n")
    worked = make_worked(tmp_path, text)
    (found,) = worked.troubles
    assert (found.level, found.code, found.values["label"]) == ("error", "pieces.lies-nowhere", "X") and found.place.line == 8


SIDES = st.tuples(st.integers(2, 8), st.integers(2, 10))


@st.composite
def two_designs(draw):
    """Two fronts of a few oblongs of one paper, half of them shared."""
    sizes = {label: draw(SIDES) for label in draw(st.sampled_from(["AB", "ABC"]))}
    pieces = "".join(f"  {label}: {{size: {w}/2 x {h}/2, paper: leaf}}\n" for label, (w, h) in sizes.items())
    rows = [draw(st.lists(st.sampled_from(sorted(sizes)), min_size=1, max_size=3)) for _ in range(2)]
    rows[0] += [label for label in sizes if label not in rows[0] + rows[1]]
    papers = "papers:\n  leaf: {kind: patterned, name: Leaf, size: 8 x 8}\n  white: {kind: cardstock, name: White, size: Letter}\n"
    text = f"title: T\nsummary: S.\n{papers}pieces:\n{pieces}designs:\n"
    for name, labels, cards in zip(("One", "Two"), rows, (draw(st.integers(1, 4)), draw(st.integers(1, 4)))):
        text += f"  {name}:\n    cards: {cards}\n    card: {{base: {{size: 8-1/2 x 5-1/2, paper: white}}, fold: side}}\n"
        text += f"    front: {{rows: [{', '.join(labels)}]}}\n"
    return text


@given(text=two_designs())
@tried(12)
def test_planned_together_two_designs_never_take_more_sheets_than_apart(tmp_path_factory, text):
    kit = make_kit(tmp_path_factory.mktemp("two"), text)
    together, apart = work(kit), [work(design) for design in kit.designs]
    assert together.troubles == ()
    for plan in together.plans:
        assert plan.sheets <= sum(each.sheets for one in apart if (each := one.plan(plan.paper)))


# --- what is said, and kept -----------------------------------------------------------------------


def test_a_state_tells_of_designs_and_not_of_what_is_copied_from_them(several):
    kit = state_of(several)["kit"]
    assert [name for name, _ in kit["designs"]] == ["Standing", "Lying"] and not {"cards", "card", "front", "sentiment"} & set(kit)
    assert dict(kit["pieces"])["A"] == {"size": ["size", "4", "3"], "papers": ["moss", "shore"]}
    paths = values_of(several)
    assert str(paths["designs.Lying.card.base.size"]) == "5½ × 8½ in" and not any(p.split(".")[0] in ("card", "front") for p in paths)


@pytest.mark.parametrize(
    "pair",
    [
        ("cards: 8\n    card:\n      base: {size: 5-1/2", "cards: 9\n    card:\n      base: {size: 5-1/2"),
        ("fold: top", "fold: top\n      foam: 1 mm"),
        ("Lying:", "Low:"),
    ],
)
def test_a_change_in_any_design_is_another_state(tmp_path, several, pair):
    assert digest(make_worked(tmp_path, changed(SEVERAL, pair))) != digest(several)


def test_what_was_worked_out_is_read_again_whole(several, tmp_path):
    text = kept.results_text(several)
    again = kept.worked_again(make_kit(tmp_path, SEVERAL), kept.read_results(text))
    assert kept.results_text(again) == text and len(json.loads(text)["designs"]) == 2
    assert [(d.base, d.faces, d.enclosed, d.kit.spec) for d in again.designs] == [
        (d.base, d.faces, d.enclosed, d.kit.spec) for d in several.designs
    ]
    with pytest.raises(kept.Unread):
        kept.worked_again(
            make_kit(tmp_path / "other", f"{SHEETS}designs:\n{STANDING}{LYING.replace('Lying', 'Low')}"), kept.read_results(text)
        )
    with pytest.raises(kept.Unread):
        kept.worked_again(make_kit(tmp_path / "one", alone(STANDING)), kept.read_results(text))


def test_prose_of_a_design_cites_that_design(tmp_path):
    spot = "    decorations: [{name: 'on [[size of card]]', size: 1 x 1, on: front}]\n"
    worked = make_worked(tmp_path, SHEETS + "designs:\n" + STANDING + spot + LYING + spot + GUIDE)
    assert [design.face.spots[0].name for design in worked.designs] == ["on 4¼ × 5½ in", "on 5½ × 4¼ in"]
    assert [list(design.kit.spec.pieces) for design in worked.designs] == [["A", "B"], ["B", "C"]] and worked.troubles == ()


@pytest.mark.parametrize(
    ("phrase", "says"),
    [
        ("size of card of Lying", "5½ × 4¼ in"),
        ("size of base of Standing", "8½ × 5½ in"),
        ("cards of Lying", "8 cards"),
        ("count of B of Lying", "8"),
        ("count of B", "16"),
        ("envelope", "US A2 envelope"),
        ("cards", "16 cards"),
        ("border", "⅛ in"),
    ],
)
def test_a_citation_says_of_which_design(several, phrase, says):
    assert value(several, phrase) == says


@pytest.mark.parametrize("phrase", ["size of card", "size of base", "score of Laying"])
def test_what_differs_by_design_is_not_cited_of_all(several, phrase):
    with pytest.raises(UserError) as error:
        value(several, phrase)
    assert error.value.code == ("cite.names-nothing" if "Laying" in phrase else "cite.which-design") and str(error.value)


# --- what can't be meant ----------------------------------------------------------------------------


def told(root, text: str) -> list[tuple[str, int]]:
    """Codes and lines of all that a reading tells."""
    slips, folder = Slips(), make_archive(root, text)
    kit = look_at_kit(folder, look_at_club(folder.parent, slips), slips)
    assert slips.errors or isinstance(kit, Kit)
    for error in slips.errors:
        assert str(error)
    return [(error.code, error.place.line) for error in slips.errors]


def line(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


@pytest.mark.parametrize(
    ("pairs", "code", "at"),
    [
        ((("designs:\n", "card: {base: {size: 1 x 1, paper: white}, fold: side}\ndesigns:\n"),), "designs.beside", "card: {base: {size: 1"),
        ((("designs:\n", "decorations: []\ndesigns:\n"),), "designs.beside", "decorations"),
        ((("papers:\n", "cards: 15\npapers:\n"),), "designs.another-sum", "cards: 15"),
        ((("papers:\n", "cards: 16\npapers:\n"),), None, ""),
        ((("4 x 3, papers: [moss, shore]", "4 x 3, per card: {moss: 1, shore: 1}"),), "designs.per-card", "  A:"),
        ((("  Lying:", "  standing:"),), "designs.alike", "  standing:"),
        ((("  Standing:", "  On edge:"), ("  Lying:", "  On-edge:")), "designs.alike", "  On-edge:"),
        ((("  Lying:", "  a/b:"),), "designs.no-name", "  a/b:"),
        ((("  Lying:", "  'a.b':"),), "designs.no-name", "  'a.b':"),
        ((("  Lying:", "  Grüße 2:"),), None, ""),
        ((("  Lying:\n    cards: 8\n", "  Lying:\n"),), "spec.missing", "  Lying:"),
        ((("A moss, B shore", "Z moss, B shore"),), "names.unknown", "rows:"),
        ((("{size: 5-1/2 x 8-1/2, paper: white}", "{size: 5-1/2 x 8-1/2, paper: whit}"),), "names.unknown", "{size: 5-1/2"),
        ((("papers: [moss, shore]}\n  B", "papers: [moss, sure]}\n  B"),), "names.unknown", "papers: [moss, sure]"),
        ((("papers: [moss, shore]}\n  B", "papers: [moss, shore], paper: moss}\n  B"),), "spec.papers-are-counted", "  A:"),
        ((("papers: [moss, shore]}\n  B", "papers: [moss, shore], per card: 1}\n  B"),), "spec.papers-are-counted", "  A:"),
        ((("A moss, B shore", "A, B shore"),), "names.which-paper", "rows:"),
        ((("guides:", "samples: [{by: ada-bell, design: Laying}]\nguides:"),), "designs.unknown", "samples:"),
        ((("designs:\n", "desings:\n"),), "spec.misspelt", "desings:"),
        ((("    cards: 8\n    card:\n      base: {size: 5", "    cards: 499\n    card:\n      base: {size: 5"),), "designs.too-many-cards", "designs:"),
    ],
)  # fmt: skip
def test_each_slip_is_one_error_at_its_line(tmp_path, pairs, code, at):
    text = changed(SEVERAL, *pairs)
    assert told(tmp_path, text) == ([(code, line(text, at))] if code else [])


@pytest.mark.parametrize("said", ["designs: {}\n", "designs:\n", "designs: []\n"])
def test_no_designs_at_all_is_one_error(tmp_path, said):
    text = SHEETS + said
    ((code, at),) = told(tmp_path, text)
    assert at == line(text, "designs") and code in ("spec.empty", "spec.blank", "spec.no-lines")


def test_a_design_without_cards_is_told_the_line_to_add(tmp_path):
    with pytest.raises(UserError) as error:
        make_kit(tmp_path, SEVERAL.replace("  Lying:\n    cards: 8\n", "  Lying:\n"))
    assert "    cards: 8" in str(error.value)


def test_names_are_looked_up_in_designs_that_can_t_be_read_as_a_whole(tmp_path):
    text = changed(SEVERAL, ("title: Moss and shore\n", ""), ("columns: [C moss turned", "columns: [Q moss turned"))
    assert {code for code, _ in told(tmp_path, text)} == {"spec.missing", "names.unknown"}


def test_a_kit_of_one_is_told_as_ever_what_is_missing(tmp_path):
    with pytest.raises(UserError) as error:
        make_kit(tmp_path, SHEETS)
    assert error.value.code == "spec.missing" and error.value.values["keys"] == ("cards", "card", "front")
