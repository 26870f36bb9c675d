"""The canonical state: how a kit is written never counts, what it says always does."""

import random
import re
import tempfile
from pathlib import Path

import pytest
import yaml
from examples import tried
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.kit.model import LIVING, KitSpec
from kitwright.release.state import digest, is_tested, preview_code, release_code, state_of, words_of
from making import BATCH, CLUB, TWO_PAPERS, changed, make_worked
from release.bench import LIVING as LIVING_TEXT

NOTES = """\
Nine cards of [[size of A]],
and a line that runs on.

## Heading

- one thing
- another
  that runs on

    code  stays

| a | b |
|---|---|
"""


def worked(text: str, notes: str = NOTES, club: str = CLUB):
    return make_worked(Path(tempfile.mkdtemp()), text, notes, club=club)


PLAIN = digest(worked(BATCH))


# --- how it is written does not count --------------------------------------------------------------

LENGTHS = {
    "1/8": ["0.125", " 1/8 in", "⅛", "3.175 mm"],
    "3-3/4 x 1-1/4": ["3.75 x 1.25", "3¾ × 1¼", "95.25 x 31.75 mm", "3 3/4 x 1 1/4"],
    "3-3/4 x 7/8": ["3.75 × 0.875"],
    "12 x 12": ["12.0 x 12", "304.8 mm x 304.8 mm"],
    "8-1/2 x 5-1/2": ["8.5 by 5.5"],
}


def rewritten(data, rnd: random.Random, path=()):
    """The same spec, told otherwise: keys in another order (but for papers and pieces, whose order shows), lengths in another way."""
    if isinstance(data, dict):
        pairs = [(k, rewritten(v, rnd, (*path, k))) for k, v in data.items()]
        if path not in (("papers",), ("pieces",)):
            rnd.shuffle(pairs)
        return dict(pairs)
    if isinstance(data, list):
        return [rewritten(v, rnd, (*path, i)) for i, v in enumerate(data)]
    if isinstance(data, str):
        if data in LENGTHS and rnd.random() < 0.7:
            return rnd.choice(LENGTHS[data])
        if rnd.random() < 0.3:
            return re.sub(" ", lambda _: rnd.choice([" ", "  "]), data) if "off the" not in data else data
    return data


def commented(text: str, rnd: random.Random) -> str:
    """Comments, empty lines and other line ends sprinkled in; not where a long text goes on, for there they would be part of it (YAML 1.2.2, 6.6)."""
    going_on = {
        i
        for token in yaml.scan(text)
        if isinstance(token, yaml.ScalarToken)
        for i in range(token.start_mark.line + 1, token.end_mark.line + 1)
    }
    lines = []
    for i, line in enumerate(text.split("\n")):
        if rnd.random() < 0.3 and i not in going_on:
            lines.append(rnd.choice(["", "# a remark", "   # another, indented"]))
        lines.append(line + rnd.choice(["", "", "   "]))
    return rnd.choice(["\n", "\r\n"]).join(lines)


@given(st.randoms(use_true_random=False), st.integers(20, 200), st.booleans())
@example(random.Random(0), 20, False)
@tried(25)
def test_other_ways_to_write_a_kit_have_one_state(rnd, width, flow):
    data = yaml.load(BATCH, Loader=yaml.BaseLoader)
    text = yaml.safe_dump(rewritten(data, rnd), sort_keys=False, width=width, default_flow_style=flow, allow_unicode=True)
    assert digest(worked(commented(text, rnd))) == PLAIN


@pytest.mark.parametrize(
    "said, same",
    [
        ("          - 3 strips of 1-1/4 off the top: A\n", "          - 3 rows of 1.25: A\n"),
        ("      - 3 columns of 3-3/4 off the left:", "      - 3 columns of 3.75:"),
        ("    per card: 1\n", ""),
        ("unit: in\n", ""),
        ("  fold: side\n", "  fold: 'side'   # opens to the left\n"),
        ("      front: {look: plain}\n", ""),
    ],
)
def test_other_words_for_the_same(said, same):
    text = (
        BATCH
        if said in BATCH
        else BATCH + said
        if said.startswith("unit")
        else changed(BATCH, ("    name: Cream cardstock\n", f"    name: Cream cardstock\n{said[2:]}"))
    )
    assert digest(worked(text)) == digest(worked(changed(text, (said if said in text else said[2:], same))))


@pytest.mark.parametrize(
    "notes",
    [
        NOTES.replace("\n", "\r\n"),
        NOTES.replace(",\nand", ", and"),
        "<!-- a remark\nover two lines -->\n" + NOTES,
        NOTES.replace("\n\n", "\n\n\n"),
        NOTES.replace("Nine cards", "Nine   cards"),
        NOTES.replace("another\n  that", "another that"),
        NOTES.rstrip("\n"),
        NOTES.replace("one thing", "one thing   "),
    ],
)
def test_other_ways_to_write_the_notes(notes):
    assert digest(worked(BATCH, notes)) == PLAIN


# --- what it says counts -----------------------------------------------------------------------------

CHANGES = [
    [("title: Nine strips", "title: Nine stripes")],
    [("summary: Nine", "summary: 9")],
    [("cards: 9", "cards: 8")],
    [("name: River", "name: Rivers")],
    [("look: stripes", "look: dots")],
    [("[sky, white]", "[white, sky]")],
    [("size: 3-3/4 x 1-1/4", "size: 3-3/4 x 1-3/16")],
    [("for: tall strip", "for: strip")],
    [("    per card: 2", "    per card: 1")],
    [("size: 4 x 5-1/4", "size: 5-1/4 x 4")],
    [("  fold: side", "  fold: side\n  score: 4-1/8")],
    [("US A2 envelope", "US A6 envelope")],
    [("  border: 1/8", "  border: 3/16")],
    [("  gap: 1/8", "  gap: 3/16")],
    [("    - A\n    - B\n    - band", "    - B\n    - A\n    - band")],
    [("text: thank you", "text: Thank you")],
    [("  size: 2-1/2 x 3/4", "  size: 2-1/2 x 5/8")],
    [("size: Letter\n  white", "size: A4\n  white")],
    [("3 strips of 1-1/4 off the top: A", "3 strips of 1-1/4 off the bottom: A")],
    [("          - 6 strips of 7/8 off the top: B", "          - 5 strips of 7/8 off the top: B")],
]


@pytest.mark.parametrize("pairs", CHANGES, ids=lambda p: p[0][1].strip()[:40])
def test_any_change_of_content_counts(pairs):
    assert digest(worked(changed(BATCH, *pairs))) != PLAIN


@given(st.integers(0, 30))
def test_any_word_of_the_notes_counts(i):
    words = NOTES.split(" ")
    notes = " ".join([*words[: i % len(words)], "new", *words[i % len(words) :]])
    assert digest(worked(BATCH, notes)) != PLAIN


def test_every_key_of_a_kit_is_known_to_count_or_not():
    """A key added to the model is either part of the state or named as one that may change later."""
    full = {name for name in KitSpec.model_fields if name not in LIVING}
    assert full == {
        "title",
        "summary",
        "cards",
        "unit",
        "tags",
        "papers",
        "pieces",
        "card",
        "front",
        "faces",
        "sentiment",
        "sentiments",
        "decorations",
        "arrangements",
        "designs",
        "guides",
        "also_from",
        "steps",
    }


def test_the_order_of_papers_and_pieces_shows_and_counts():
    data = yaml.load(BATCH, Loader=yaml.BaseLoader)
    for key in ("papers", "pieces"):
        turned = dict(data, **{key: dict(reversed(data[key].items()))})
        assert digest(worked(yaml.safe_dump(turned, sort_keys=False))) != PLAIN


def test_what_the_kit_takes_from_the_club_counts():
    assert digest(worked(BATCH, club=CLUB.replace("For the tests", "For these tests"))) != PLAIN
    assert digest(worked(BATCH, club=CLUB.replace("Keep fingers", "Keep both hands"))) != PLAIN
    assert digest(worked(BATCH, club=CLUB.replace("least hold: 1\n", "least hold: 3/4\n"))) != PLAIN
    paper = "papers:\n  {}: {{kind: cardstock, name: Spare, size: Letter{}}}\n"
    assert digest(worked(BATCH, club=CLUB + paper.format("unused", ""))) == PLAIN
    uses = changed(BATCH, ("    paper: white\n", "    paper: shelf\n"))
    assert digest(worked(uses, club=CLUB + paper.format("shelf", ""))) != digest(
        worked(uses, club=CLUB + paper.format("shelf", ", weight: 80 lb cover"))
    )


def test_people_and_what_comes_later_do_not_count():
    assert digest(worked(BATCH + "reveal: 2031-01-01\n" + LIVING_TEXT)) == PLAIN
    assert "ada" not in str(state_of(worked(BATCH + LIVING_TEXT)))


def test_club_names_do_not_count():
    assert digest(worked(BATCH, club=CLUB.replace("name: Test bench", "name: Another bench"))) == PLAIN


def test_states_have_codes_of_their_own():
    one, other = worked(BATCH), worked(changed(BATCH, ("cards: 9", "cards: 8")))
    codes = {preview_code(one), release_code(one, 1), release_code(one, 2), preview_code(other), release_code(other, 1)}
    assert len(codes) == 5 and preview_code(one) == preview_code(worked(BATCH))


def test_a_test_cut_holds_for_the_very_state():
    code = preview_code(worked(BATCH))
    for typed in (code, code.lower().replace("-", " "), code.replace("-", "")):
        said = f"tested:\n  - {{by: ada-bellwether, on: 2029-12-20, code: {typed}}}\n"
        assert is_tested(worked(BATCH + said))
        assert not is_tested(worked(changed(BATCH, ("cards: 9", "cards: 8")) + said))
    assert not is_tested(worked(BATCH))


def test_two_papers_too():
    assert digest(worked(TWO_PAPERS)) != PLAIN


def test_code_in_the_notes_keeps_its_lines():
    assert words_of("```\na  b\n\nc\n```\n") == ["```", "a  b", "", "c", "```"]
    assert words_of("a\n- b\n- c\n") == ["a", "- b", "- c"] and words_of("a\n> b\n1. c\n# d\n") == ["a", "> b", "1. c", "# d"]
    assert words_of("a\nb\n\nc") == ["a b", "c"] and words_of("# a\nb") == ["# a", "b"]


def test_the_order_of_a_mix_counts(tmp_path):
    """It is the order on the page."""
    one, other = (f"{BATCH}arrangements:\n  mix: {mix}\n" for mix in ("{first: 5, second: 4}", "{second: 4, first: 5}"))
    assert digest(make_worked(tmp_path / "a", one)) != digest(make_worked(tmp_path / "b", other))


OWN_FOLD = changed(BATCH, ("  fold: side\n", "  fold: {scores: [4-1/4 back], panels: [back, front]}\n"))


def test_a_fold_of_ones_own_counts_line_by_line():
    one = digest(worked(OWN_FOLD))
    assert one == digest(worked(changed(OWN_FOLD, ("4-1/4 back", "4.25 in back")))) != PLAIN
    assert len({one, *(digest(worked(changed(OWN_FOLD, ("4-1/4 back", said)))) for said in ("4-1/4 forward", "4-3/8 back"))}) == 3
