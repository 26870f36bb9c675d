"""All that can't be read is told in one run, each slip at its own line; a known word in the wrong place is told so."""

import re

import pytest
from click.testing import CliRunner
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.check import errors
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit.model import Anniversaries, Club, KitSpec, PastSpec, PersonSpec
from kitwright.kit.read import read_club
from kitwright.kit.valid import _choices, _deep, _homes
from kitwright.otherwise.checked import check
from kitwright.release.lookover import look_over
from kitwright.release.people import read_people
from kitwright.work.working import work
from making import BATCH, CLUB, changed, line_of, make_archive, make_kit
from pydantic import ValidationError


def refused(root, text, **more) -> list[UserError]:
    with pytest.raises(UserError) as caught:
        make_kit(root, text, **more)
    return list(caught.value.each)


def lines(found) -> list[int]:
    return [one.place.line for one in found]


def test_a_slip_in_a_list_is_told_once(tmp_path):
    """Whatever stands in for what is wrong is no further slip: the panels are not called by it."""
    fold = "{scores: [2 back, 4 back], panels: [back, middle, front], front: front}"
    for n, (right, wrong, code) in enumerate(
        (
            ("front: front", "front: []", "spec.no-text"),
            ("middle, front", "middle, ''", "spec.empty-entry"),
            ("middle, front", "middle, ~", "spec.empty-entry"),
            ("4 back", "wide", "fields.no-score-line"),
        )
    ):
        found = refused(tmp_path / str(n), changed(BATCH, ("fold: side", f"fold: {fold.replace(right, wrong)}")))
        assert [one.code for one in found] == [code], wrong


@pytest.mark.parametrize(
    "right, wrong, code",
    [
        ("title: Nine strips", 'title: "\\U00110000"', "yaml.unreadable"),
        ("title: Nine strips", 'title: "\\UFFFFFFFF"', "yaml.unreadable"),
        ("cards: 9", "cards: 9\ndesigns: two", "spec.no-lines"),
        ("cards: 9", "cards: 9\ndesigns: {}", "spec.empty"),
        ("cards: 9", "cards: 9\npast: yes", "kits.past-and-described"),
        ("cards: 9", "cards: 9\n5: x", "spec.unknown-word"),
        ("cards: 9", "cards: 9\ntags: [" + "spring," * 61 + "]", "spec.too-long"),
        ("cards: 9", "cards: 9\ntags: " + "[" * 1200, "yaml.too-deep"),
    ],
)
def test_one_odd_entry_is_one_error_at_its_line(tmp_path, right, wrong, code):
    text = changed(BATCH, (right, wrong))
    found = refused(tmp_path, text)
    assert [(one.code, one.place.line) for one in found] == [(code, line_of(text, wrong.split("\n")[-1]))]


# --- all at once ------------------------------------------------------------------------------

SLIPS = {
    "  border: 1/8": "  bordr: 1/8",
    "cards: 9": "cards: nine",
    "  fold: side": "  fold: inside",
    "  A:\n    size: 3-3/4 x 1-1/4": "  A:\n    size: 3-3/4 by tall",
    "    paper: cream": "    paper: creme",
    "    - M": "    - N",
    "US A2 envelope": "A2",
    "    kind: patterned": "    knid: patterned",
    "  - papers: river": "  - papers: rivers",
    "  text: thank you": "  txt: thank you",
}
"""Ten slips of the pen: keys, values, names; each is its own cause."""


@given(st.sets(st.sampled_from(sorted(SLIPS)), min_size=1))
@tried(25)
def test_any_slips_together_are_all_told(tmp_path_factory, chosen):
    text = changed(BATCH, *((old, SLIPS[old]) for old in chosen))
    found = refused(tmp_path_factory.mktemp("slips"), text)
    wanted = {text[: text.index(SLIPS[old])].count("\n") + 1 + SLIPS[old].count("\n") for old in chosen}
    assert set(lines(found)) == wanted and lines(found) == sorted(lines(found))
    assert len(found) == len(chosen) and all(one.problem and one.remedy for one in found)


def test_the_command_prints_them_all(tmp_path):
    text = changed(BATCH, *SLIPS.items())
    make_archive(tmp_path, text, "One.\nA bell\x07.\nTwo \u202e turned.\n")
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    assert done.exit_code == 2 and done.output.count("kit.yaml:") == len(SLIPS) and done.output.count("notes.md:") == 2


def test_unknown_names_of_the_front_are_all_told(tmp_path):
    text = changed(
        BATCH,
        ("    - A\n    - B\n    - band\n", "    - A rivr\n    - [B, Q]\n    - band\n"),
        ("  on: band", "  on: bund"),
        ("    paper: white", "    paper: whit"),
    )
    assert lines(refused(tmp_path, text)) == [line_of(text, needle) for needle in ("paper: whit", "A rivr", "[B, Q]", "on: bund")]


def test_a_decimal_comma_and_a_look_by_another_name_are_told_as_such(tmp_path):
    """In braces a comma ends an entry, so 3,75 can never be one number there."""
    slips = ("    size: 3-3/4 x 1-1/4", "    size: 3,75 x 1-1/4"), ("  gap: 1/8", "  gap: 3,2 mm"), ("look: stripes", "look: Stripes")
    words = " ".join(f"{one.problem} {one.remedy}" for one in refused(tmp_path, changed(BATCH, *slips)))
    assert "write a point: 3.75" in words and "write a point: 3.2 mm" in words and "no look called Stripes" in words
    braced = changed(BATCH, ("  border: 1/8", "  over: [{piece: S, on: band, left: 3,2 mm}]\n  border: 1/8"))
    assert "a comma stands before “2 mm”" in " ".join(one.problem for one in refused(tmp_path / "braced", braced))


def test_what_is_missing_beside_what_is_misspelt(tmp_path):
    """A misspelt key is told once; another that is missing is told too."""
    found = refused(tmp_path, changed(BATCH, ("  fold: side\n", ""), ("    kind: patterned", "    knid: patterned")))
    assert [one.problem for one in found] == ["“knid” is not a word this file knows", "“fold” is missing here"]


def test_yaml_slips_are_told_together(tmp_path):
    text = 'title: a\ntitle: b\npapers: &x {}\npieces: *x\ncard: "\\a"\n'
    found = refused(tmp_path, text)
    assert lines(found[:3]) in ([2, 3, 5], [2, 4, 5]) and found[3].values["keys"] == ("summary", "cards", "front")


def test_a_file_that_is_wrong_all_over_is_told_briefly(tmp_path):
    text = BATCH + "".join(f"word{i}: {i}\n" for i in range(5000))
    found = refused(tmp_path, text)
    assert len(found) == 41 and "and more is wrong" in found[-1].problem and found[-1].remedy and lines(found) == sorted(lines(found))


def test_the_lines_of_a_guide_that_cannot_be_read_are_all_told(tmp_path):
    text = changed(
        BATCH,
        ("3 columns of 3-3/4 off the left", "3 colums of 3-3/4 off the left"),
        ("3 strips of 1-1/4 off the top: A", "several strips of 1-1/4 off the top: A"),
        ("6 strips of 7/8 off the top: B", "6 strips of 7/0 off the top: Q"),
    )
    found = errors(check(work(make_kit(tmp_path, text))))
    first = line_of(text, "colums")
    assert [f.place.line for f in found] == [first, first + 1, first + 2, first + 2]
    assert (
        "not a cut" in found[0].problem
        and "not a number of strips" in found[1].problem
        and {"no piece Q" in f.problem for f in found[2:]} == {True, False}
    )


def test_citations_that_name_nothing_are_all_told(tmp_path):
    text = (
        changed(BATCH, ("summary: Nine cards from one sheet.", 'summary: "[[crads]] of [[size of Q]]"'))
        + 'steps:\n  build:\n    - Cut [[size of A]].\n    - Glue [[sheet]].\nquestions:\n  - {ask: Why so, answer: "[[nothing]]"}\n  - {ask: How so, answer: Well., piece: Q}\n'
    )
    worked = work(make_kit(tmp_path, text, "One [[two]].\n\n[[three]] and [[cards]].\n"))
    found = errors([*check(worked), *look_over(worked, {})])
    wanted = {line_of(text, "summary"): 2, line_of(text, "Glue"): 1, line_of(text, "Why so"): 1, line_of(text, "How so"): 1}
    assert {line: len({f.problem for f in found if f.place.line == line and f.place.file.name == "kit.yaml"}) for line in wanted} == wanted
    assert [f.place.line for f in found if f.place.file.name == "notes.md"] == [1, 3]


def test_a_club_and_its_people_are_told_together(tmp_path):
    club = changed(
        CLUB,
        ("Europe/Lisbon", "Atlantis/Capital"),
        ("region: us", "region: mars"),
        ("  cut length: 12", "  cut lenght: 12"),
        ("tagline:", "address: cards.example\ntagline:"),
    )
    make_archive(tmp_path, BATCH, club=club)
    with pytest.raises(UserError) as caught:
        read_club(tmp_path / "kits")
    assert lines(caught.value.each) == [line_of(club, needle) for needle in ("address", "Atlantis", "mars", "lenght")]
    for key in ("ada-bell", "noor-hale"):
        folder = tmp_path / "kits" / "people" / key
        folder.mkdir(parents=True)
        (folder / "person.yaml").write_text("name: x\ntime zone: Nowhere\nphoto: none.jpg\nconsnt: {}\n")
    with pytest.raises(UserError) as caught:
        read_people(tmp_path / "kits")
    assert lines(caught.value.each) == [2, 3, 4, 2, 3, 4]
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    assert done.exit_code == 2 and done.output.count("club.yaml:") == 4 and done.output.count("person.yaml:") == 6


# --- a known word in the wrong place ------------------------------------------------------------


@pytest.mark.parametrize(
    "old, new, word, belongs, fits",
    [
        ("  fold: side\n", "  fold: side\n  rows: [A]\n", "rows", "under “front”", "envelope"),
        ("cards: 9\n", "cards: 9\nborder: 1/8\n", "border", "under “front”", "summary"),
        ("cards: 9\n", "cards: 9\nfold: side\n", "fold", "under “card”", "summary"),
        ("  border: 1/8\n", "  border: 1/8\n  layers: [M]\n", "layers", "under “card”", "columns"),
        ("    - A\n", "    - {piece: A, score: 1}\n", "score", "under “card”", "place"),
        ("    size: 12 x 12\n", "    size: 12 x 12\n    cards: 9\n", "cards", "at the top of the file", "weight"),
        ("    for: tall strip\n", "    for: tall strip\n    weight: 216 gsm\n", "weight", "under “papers”", "per card"),
        ("    - M\n", "    - {piece: M, gap: 1}\n", "gap", "under “front”", "raised"),
        ("cards: 9\n", "cards: 9\ncut length: 12\n", "cut length", "in club.yaml", "summary"),
        ("cards: 9\n", "cards: 9\nconsent: 12\n", "consent", "in person.yaml", "summary"),
    ],
)
def test_a_known_word_in_the_wrong_place(tmp_path, old, new, word, belongs, fits):
    (one,) = refused(tmp_path, changed(BATCH, (old, new)))
    assert f"“{word}” stands in the wrong" in one.problem and belongs in one.remedy and fits in one.remedy


def test_no_word_is_offered_in_its_own_stead(tmp_path):
    """Every word of the file, put at its top: it is never said to be unknown, nor offered instead of itself."""
    top = [word for word, under in _homes(KitSpec).items() if "" not in under and word not in BATCH.split("papers:")[0]]
    assert len(top) > 60
    for one in (
        one
        for i in range(0, len(top), 40)
        for one in refused(tmp_path / str(i), BATCH + "".join(f"{word}: x\n" for word in top[i : i + 40]))
    ):
        word = one.problem.split("”")[0][1:]
        assert (
            "stands in the wrong place" in one.problem and f"did you mean “{word}”" not in one.remedy and "it belongs under" in one.remedy
        )


@pytest.mark.parametrize(
    "old, new, says",
    [
        ("    - M\n", "    - white\n", "“white” is a paper, and a piece belongs here"),
        ("    paper: cream\n", "    paper: A\n", "“A” is a piece, and a paper belongs here"),
        ("    - A\n", "    - A M\n", "“M” is a piece, and a paper belongs here"),
        ("  cream:\n", "  sky: {kind: cardstock, name: x, size: Letter, front: {look: sky, colours: stripes}}\n  cream:\n", ""),
    ],
)
def test_a_known_name_of_the_other_kind(tmp_path, old, new, says):
    text = changed(BATCH, (old, new))
    if says:
        (one,) = refused(tmp_path, text)
        assert one.problem == says and one.remedy
    else:
        found = [f.problem for f in errors(check(work(make_kit(tmp_path, text))))]
        assert any("sky is a colour" in p for p in found) and any("stripes is a look" in p for p in found)


@pytest.mark.parametrize("top", [KitSpec, PastSpec, Club, PersonSpec, Anniversaries], ids=lambda m: m.__name__)
def test_what_may_be_chosen_is_read_from_the_types(top):
    """pydantic, which says it in words, is the reference: the same choices in the same order, wherever a wrong one is typed."""
    asked, models = 0, [top]
    for model in models:
        models += [m for info in model.model_fields.values() for m in _deep(info.annotation) if m not in models]
        for name, info in model.model_fields.items():
            for wrong in ("nope", ["nope"], {"nope": "x"}):
                with pytest.raises(ValidationError) as caught:
                    model.model_validate({info.alias or name: wrong, "no such word": "x"})
                for error in caught.value.errors():
                    if error["type"] == "literal_error":
                        assert _choices(model, error["loc"]) == tuple(re.findall("'(.*?)'", error["ctx"]["expected"])), error
                        asked += 1
    assert asked > 40 or top is not KitSpec
