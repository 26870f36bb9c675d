"""What is missing is told with the lines to add; one slip hides no other, whether of the text, of an entry, or of two together."""

from typing import get_args

import pytest
import yaml
from click.testing import CliRunner
from kitwright.cli import cli
from kitwright.errors import MOST_TOLD, Lacking, UserError
from kitwright.kit.examples import example, lines_for, needed, scalar
from kitwright.kit.model import Anniversaries, Club, KitSpec, PastSpec, PersonSpec, Spec
from kitwright.kit.model.guides import Stage
from kitwright.kit.read import look_at_club, read_club, read_kit
from kitwright.release.people import anniversaries, read_people
from making import BATCH, CLUB, changed, make_archive, make_kit


def told(run, *given) -> list[UserError]:
    with pytest.raises(UserError) as caught:
        run(*given)
    return list(caught.value.each)


def club_of(root, text: str) -> list[UserError]:
    root.mkdir(exist_ok=True)
    (root / "club.yaml").write_text(text, encoding="utf-8")
    return told(read_club, root)


def kinds(of: type[Spec] = Spec) -> list[type[Spec]]:
    return sorted(
        {one for kind in of.__subclasses__() if kind.__module__.startswith("kitwright.kit") for one in (kind, *kinds(kind))}, key=str
    )


# --- examples: one home, and sound ---------------------------------------------------------------


@pytest.mark.parametrize("metric", [False, True])
def test_an_example_of_every_kind_of_entry_is_sound(metric):
    assert len(kinds()) > 40
    for kind in kinds():
        kind.model_validate(example(kind, metric), context={"unit": "mm" if metric else "in"})


@pytest.mark.parametrize("model", [Club, KitSpec, PastSpec, PersonSpec], ids=lambda m: m.__name__)
@pytest.mark.parametrize("metric", [False, True])
def test_the_lines_to_add_are_read_back_as_the_example(model, metric):
    lines = lines_for(model, needed(model), metric, 4)
    assert yaml.load("\n".join(lines), Loader=yaml.BaseLoader) == example(model, metric)
    assert all("…" not in line for line in lines), "a field without an example, and without a remark to stand for it"


@pytest.mark.parametrize("text", ["plain", "a: b", "- x", "#x", "x #y", '"', "it's", "[x", "", " x", "yes: only", "\\", "@", "12 x 12"])
def test_words_are_typed_so_that_they_are_read_back(text):
    assert yaml.load(f"k: {scalar(text)}", Loader=yaml.BaseLoader) == {"k": text}


# --- eight things wrong with a club ---------------------------------------------------------------

EIGHT = """\
name: My club
tagine: One line
region: europe
address: www.cards.example
time zone: Europe/Atlantis
trimmer:
  finest mark: a hair
papers:
  white:
    name: White
    size: Letter
name: Other
"""


def test_all_that_is_wrong_with_a_club_is_told_in_one_run(tmp_path):
    found = club_of(tmp_path, EIGHT)
    wrong, lacking = [e for e in found if not isinstance(e, Lacking)], [e for e in found if isinstance(e, Lacking)]
    assert [e.place.line for e in wrong] == [2, 3, 4, 5, 7, 12] and found == wrong + lacking
    assert [(e.place.line, e.values["keys"], e.values["below"]) for e in lacking] == [
        (1, ("about", "terms", "cautions"), 1),
        (6, ("cut length", "least hold"), 7),
        (9, ("kind",), 11),
    ]
    assert "\n    terms: What readers may do with the printables.\n" in lacking[0].remedy
    assert "\n      cut length: 12   # The longest cut it makes.\n" in lacking[1].remedy


def test_a_club_mended_as_told_is_sound(tmp_path):
    """Every line is put where it is said, and every wrong one in the way that is said."""
    text = EIGHT.replace("tagine", "tagline").replace("europe\n", "us\n").replace("www.", "https://www.").replace("Atlantis", "Lisbon")
    lines = text.replace("a hair", "1/16").replace("name: Other\n", "").splitlines()
    lacking = club_of(tmp_path, "\n".join(lines))
    assert all(isinstance(one, Lacking) for one in lacking) and len(lacking) == 3
    for one in sorted(lacking, key=lambda one: one.values["below"], reverse=True):
        lines[one.values["below"] : one.values["below"]] = one.values["add"]
    (tmp_path / "club.yaml").write_text("\n".join(lines))
    assert read_club(tmp_path).trimmer.cut_length.inches == 12


def test_a_metric_club_is_told_millimetres(tmp_path):
    found = club_of(tmp_path, changed(CLUB, ("region: us", "region: metric"), ("  cut length: 12\n", "")))
    assert [e.values["add"] for e in found] == [("  cut length: 305 mm   # The longest cut it makes.",)]


@pytest.mark.parametrize(
    "text, first", [("", "empty"), ("# soon\n\n", "empty"), ("- name: x\n- tagline: y\n", "not a list of"), ("My club\n", "not a list of")]
)
def test_a_club_without_any_entry_is_told_the_lines_of_one(tmp_path, text, first):
    (one,) = club_of(tmp_path, text)
    assert first in one.problem and one.place.line == 1
    (tmp_path / "club.yaml").write_text("\n".join(one.values["add"]))
    assert read_club(tmp_path).terms


@pytest.mark.parametrize("there", [None, "club.yml", "Club.yaml", "club.yaml.txt"])
def test_no_club_at_all(tmp_path, there):
    if there:
        (tmp_path / there).write_text(CLUB)
    (one,) = told(read_club, tmp_path)
    assert one.place.file.name == "club.yaml" and (
        f"rename {there} to club.yaml" == one.remedy if there else "kitwright begin" in one.remedy
    )


def test_blank_entries_are_told_with_their_lines(tmp_path):
    text = changed(
        CLUB,
        ("trimmer:\n  cut length: 12\n  finest mark: 1/16\n  least hold: 1\n", "trimmer:\n"),
        ("name: Test bench", "name:"),
        ("region: us", "region:"),
        ("cautions:\n  - Keep fingers away from the blade.\n", "cautions:\n"),
    )
    found = club_of(tmp_path, text)
    assert [e.code for e in found] == ["spec.blank"] * 4 and [e.values["needed"] for e in found] == [True, False, True, True]
    assert found[2].values["add"][1].startswith("  cut length: 12")


# --- one slip hides no other, and is told once -----------------------------------------------------


def test_tabs_are_told_once_and_the_rest_is_read(tmp_path):
    found = club_of(tmp_path, CLUB.replace("  cut", "\tcut").replace("  finest", "\tfinest").replace("  least hold: 1", "\tleast hold: x"))
    assert [e.code for e in found] == ["yaml.tabs", "units.no-length"] or [e.place.line for e in found] == [7, 9]
    assert found[0].values["lines"] == (7, 8, 9) and "lines 7, 8 and 9" in found[0].problem


@pytest.mark.parametrize(
    "old, new, code",
    [
        ("tagline: Cards cut on paper only", "tagline: Cards: cut on paper", "yaml.second-colon"),
        ("tagline: Cards cut on paper only", 'tagline: "Cards cut on paper only', "yaml.quote-open"),
        ("tagline: Cards cut on paper only", "tagline: [Cards", "yaml.bracket-open"),
        ("tagline: Cards cut on paper only", "tagline Cards cut on paper only", "yaml.no-entry"),
        ("tagline: Cards cut on paper only", "tagline: @cards", "yaml.sign-first"),
        ("tagline: Cards cut on paper only", "tagline: *cards", "yaml.sign-first"),
        ("tagline: Cards cut on paper only", "tagline: #1 in cards", "yaml.only-a-note"),
        ("tagline: Cards cut on paper only", "tagline: a\x07b", "yaml.no-text"),
        ("tagline: Cards cut on paper only", "tagline:\tCards cut on paper only", "yaml.tabs"),
    ],
)
def test_a_line_that_is_no_yaml_hides_nothing(tmp_path, old, new, code):
    """Nor is it told as missing besides."""
    text = changed(CLUB, (old, new), ("region: us", "region: mars"), ("terms: For the tests alone.\n", ""))
    found = club_of(tmp_path, text)
    assert [(e.code, e.place.line) for e in found] == [(code, 2), ("spec.no-choice", 5), ("spec.missing", 1)], found
    assert found[2].values["keys"] == ("terms",)


WORDS = ['Cards: cut "so"', "@home", "*Stars*", "*Stars", "& so on", "&Co cards", "! Sale", "!new", "% off", "`so`", "- cards", "> all"]
WORDS += ["| all", "? why", "[All] of it", "{All} of it", '"Cut" it', "'tis time", "'Tis the club's", "#1 in cards", "#cards"]


@pytest.mark.parametrize("words", WORDS)
def test_the_line_in_quotes_is_read(tmp_path, words):
    """YAML 1.2.2, 5.3 and 7.3.3, says which signs no plain words begin with; none of them loses a word without being told."""
    (one,) = club_of(tmp_path, changed(CLUB, ("tagline: Cards cut on paper only", f"tagline: {words}")))
    assert one.place.line == 2
    (tmp_path / "club.yaml").write_text(changed(CLUB, ("tagline: Cards cut on paper only", one.values["line"])))
    assert read_club(tmp_path).tagline == words


@pytest.mark.parametrize(
    "words, line, code, values",
    [
        ("[all, @home]", 2, "sign-in-brackets", {"sign": "@", "words": "@home"}),
        ("[all, %50 off, b]", 2, "sign-in-brackets", {"sign": "%", "words": "%50 off"}),
        ("[all, !new]", 2, "sign-in-brackets", {"sign": "!", "words": "!new"}),
        ("[all,\n  *star]", 3, "sign-in-brackets", {"sign": "*", "words": "*star"}),
        ("{a: b, c: &d}", 2, "sign-in-brackets", {"sign": "&", "words": "&d"}),
        ("[all, 'tis time, so]", 2, "quote-open", {"quote": "'", "words": "'tis time"}),
        ('[all, "so]', 2, "quote-open", {"quote": '"', "words": '"so'}),
        ('[all, "a" b]', 2, "quote-ends-early", {"words": '"a" b'}),
        ("[all, at: 10: 30]", 2, "colon-in-brackets", {"words": "10"}),
        ("{a: b c: d}", 2, "colon-in-brackets", {"words": "b c"}),
        ("[all,, so]", 2, "comma-twice", {}),
        ("[all [so]]", 2, "no-comma", {"before": "["}),
        ("[all, so", 2, "bracket-open", {"bracket": "[", "note": ""}),
        ("[all\n  , {a: b, so]", 3, "bracket-other", {"opened": "{", "closed": "]", "right": "}"}),
        ("[all #1, so]", 2, "bracket-open", {"bracket": "[", "note": "#1, so]"}),
        ("[all, so]]", 2, "bracket-too-many", {"bracket": "]"}),
        ("[all, so}", 2, "bracket-other", {"opened": "[", "closed": "}", "right": "]"}),
    ],
)
def test_a_slip_between_brackets_is_told_where_it_is(tmp_path, words, line, code, values):
    """YAML 1.2.2, 7.4 (flow collections) and 7.3.3 (which signs begin no plain words)."""
    (one,) = club_of(tmp_path, changed(CLUB, ("tagline: Cards cut on paper only", f"tagline: {words}")))
    assert (one.place.line, one.code, dict(one.values)) == (line, f"yaml.{code}", values)


def test_a_note_behind_a_colon_leaves_its_block_to_be_read_entry_by_entry(tmp_path):
    text = changed(BATCH, ("front:\n", "front:   # what lies on the mat: this\n"), ("  gap: 1/8\n", "  gap 1/8\n"))
    (one,) = told(make_kit, tmp_path, text)
    assert (one.code, one.place.line) == ("yaml.no-entry", 1 + text.splitlines().index("  gap 1/8"))


def test_a_step_of_the_video_that_is_none_is_told_with_those_there_are(tmp_path):
    text = BATCH + "video:\n  address: https://video.example/a\n  steps: {cut: 1:20, glue: 2:00}\n"
    (one,) = told(make_kit, tmp_path, text)
    assert (one.code, one.values["text"], one.values["under"]) == ("spec.no-such-entry", "glue", "steps")
    assert one.values["choices"] == get_args(Stage) and "chapters" in one.remedy


def test_brackets_in_words_below_their_entry_are_words(tmp_path):
    words = "|\n  [one, @two\n  - {three"
    (one,) = club_of(tmp_path, changed(CLUB, ("tagline: Cards cut on paper only", f"tagline: {words}\nabout: [so, @home]")))
    assert (one.code, one.values["words"]) == ("yaml.sign-in-brackets", "@home")


def test_a_broken_line_deep_in_a_kit_hides_none_of_its_neighbours(tmp_path):
    text = changed(
        BATCH,
        ("    size: 3-3/4 x 1-1/4\n", "    size: [3-3/4\n"),
        ("    size: 3-3/4 x 7/8", "    size: 3-3/4"),
        ("    paper: cream", "    paper: creme"),
        ("  on: band", "  on: bund"),
        ("  border: 1/8\n", "  border: 1/8\n  columns: [A]\n"),
    )
    found = told(make_kit, tmp_path, text)
    assert [e.place.line for e in found] == [
        1 + text.splitlines().index(needle)
        for needle in ("    size: [3-3/4", "    size: 3-3/4", "    paper: creme", "front:", "  on: bund")
    ], found


@pytest.mark.parametrize(
    "pairs, codes",
    [
        ([("cards: 9\n", "")], ["spec.rows-and-columns", "spec.missing"]),
        ([("  border: 1/8\n", "  border: wide\n")], ["spec.rows-and-columns", "units.no-length"]),
        ([("    - M\n", "    - {piece: M, left: 0, right: 0, raised: perhaps}\n")], ["spec.both-edges", "spec.neither-yes-nor-no"]),
        ([("  border: 1/8\n", "  bordr: wide\n")], ["spec.misspelt", "spec.rows-and-columns", "units.no-length"]),
    ],
)
def test_what_two_entries_get_wrong_together_is_seen_beside_another_slip(tmp_path, pairs, codes):
    text = changed(BATCH, *pairs, ("  gap: 1/8\n", "  gap: 1/8\n  columns: [A]\n"))
    found = told(make_kit, tmp_path, text)
    assert {e.code.split(".")[0] + "." + e.code.split(".")[1] for e in found} >= {c for c in codes if c.startswith("spec.")}, found
    assert len(found) == len({*codes, "spec.rows-and-columns"}), found


@pytest.mark.parametrize(
    "pairs",
    [
        # An indent forgotten: the words are told at their lines, and not as missing besides, nor the entry as empty.
        [("  cut length: 12\n  finest mark: 1/16\n  least hold: 1\n", "cut length: 12\nfinest mark: 1/16\nleast hold: 1\n")],
        [("  cut length: 12\n", ""), ("name: Test bench\n", "name: Test bench\ncut length: 12\n")],
    ],
)
def test_a_word_in_the_wrong_place_is_not_missing_besides(tmp_path, pairs):
    found = club_of(tmp_path, changed(CLUB, *pairs))
    assert {e.code for e in found} == {"spec.wrong-place"} and len(found) in (1, 3)


def test_a_label_in_small_letters_is_told_once(tmp_path):
    assert [e.code for e in told(make_kit, tmp_path, changed(BATCH, ("  A:\n", "  a:\n")))] == ["names.no-label"]


def test_an_unknown_word_does_not_make_its_entry_unsound_besides(tmp_path):
    text = BATCH + "questions:\n  - {ask: Why, reply in words: So}\n"
    assert [e.code for e in told(make_kit, tmp_path, text)] == ["spec.unknown-word"]


# --- every file of an archive in one run --------------------------------------------------------------


def wrong_archive(root):
    """A club, two people, the private list and three kits, each with something wrong."""
    kits = make_archive(
        root,
        changed(BATCH, ("cards: 9\n", ""), ("    paper: cream", "    paper: linen")),
        club=changed(CLUB, ("region: us", "region: mars")),
    ).parent
    for name, text in (
        ("2030-02-second", changed(BATCH, ("  fold: side\n", "")) + "team: [ada-bel]\nphotos:\n  - {file: none.jpg}\n"),
        ("2030-03-old", "past: yes\ntitle: Old\nprintable: none.pdf\nthumbnail: none.png\n"),
    ):
        (kits / name).mkdir()
        (kits / name / "kit.yaml").write_text(text)
    (kits / "2030-04-empty").mkdir()
    for key, text in (("ada-bell", "name: Ada\n"), ("noor-hale", None)):
        (kits / "people" / key).mkdir(parents=True)
        if text:
            (kits / "people" / key / "person.yaml").write_text(text)
    (kits / "people" / "private.yaml").write_text("members:\n  - {name: X}\n")
    return kits


WANTED = [
    ("club.yaml", "spec.no-choice"),
    ("ada-bell/person.yaml", "spec.missing"),
    ("noor-hale/person.yaml", "kits.no-file"),
    ("people/private.yaml", "spec.missing"),
    ("2030-01-test-kit/kit.yaml", "names.unknown"),
    ("2030-01-test-kit/kit.yaml", "spec.missing"),
    ("2030-02-second/kit.yaml", "people.nobody"),
    ("2030-02-second/kit.yaml", "files.not-there"),
    ("2030-02-second/kit.yaml", "spec.missing"),
    ("2030-03-old/kit.yaml", "files.not-there"),
    ("2030-03-old/kit.yaml", "files.not-there"),
    ("2030-04-empty/kit.yaml", "kits.no-file"),
]


def test_check_tells_of_every_file_in_one_run(tmp_path):
    wrong_archive(tmp_path)
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    heads = [line for line in done.output.splitlines() if line.startswith(str(tmp_path))]
    assert done.exit_code == 2 and len(heads) == len(WANTED)
    assert all(file in head for head, (file, _) in zip(heads, WANTED, strict=True)), done.output


def test_build_tells_of_every_kit_though_the_club_is_wrong(tmp_path):
    wrong_archive(tmp_path)
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "build"])
    assert done.exit_code == 2 and not (tmp_path / "site").exists()
    for file, _ in WANTED:
        assert file in done.output or file == "people/private.yaml"


@pytest.mark.parametrize(
    "named, there, near", [("pic.jpg", "Pic.JPG", True), ("frist.jpg", "first.jpg", True), ("pic.jpg", "table.png", False)]
)
def test_a_file_called_alike_is_named(tmp_path, named, there, near):
    folder = make_archive(tmp_path, BATCH + f"photos:\n  - {{file: photos/{named}, alt: A card}}\n")
    (folder / "photos").mkdir()
    (folder / "photos" / there).write_bytes(b"x")
    (slip,) = told(read_kit, folder, read_club(tmp_path / "kits"))
    assert slip.code == "files.not-there" and (slip.remedy == f"did you mean photos/{there}?") is near


def test_a_schema_is_no_club(tmp_path):
    (tmp_path / "club.schema.json").write_text("{}")
    (one,) = told(read_club, tmp_path)
    assert (one.code, one.values["near"]) == ("kits.no-file", None)


def test_without_a_club_no_paper_is_called_unknown(tmp_path):
    """A kit may use papers that only the club file knows."""
    make_archive(tmp_path, changed(BATCH, ("    paper: cream", "    paper: linen"), ("cards: 9\n", "cards: x\n")))
    (tmp_path / "kits" / "club.yaml").unlink()
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    assert (
        done.exit_code == 2
        and "linen" not in done.output
        and "“x” is not a whole number" in done.output
        and "club.yaml: there is no such file" in done.output
    )


def test_papers_that_the_club_names_are_known_though_they_are_wrong(tmp_path):
    club = CLUB + "papers:\n  linen: {kind: cardstock, name: Linen, size: Leter}\n"
    make_archive(tmp_path, changed(BATCH, ("    paper: cream", "    paper: linen")), club=club)
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    assert done.exit_code == 2 and done.output.count("kits/") == 1 and "Leter" in done.output


def test_many_wrong_kits_are_told_briefly(tmp_path):
    kits = make_archive(tmp_path, BATCH).parent
    for month in range(1, 10):
        (kits / f"2031-0{month}-bare").mkdir()
        (kits / f"2031-0{month}-bare" / "kit.yaml").write_text("title: x\n" + "".join(f"wordy{i}: x\n" for i in range(5)))
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    assert done.output.count("missing here") + done.output.count("not a word this file") == MOST_TOLD and "and more is wrong" in done.output


def test_the_private_list_is_looked_at(tmp_path):
    kits = make_archive(tmp_path, BATCH).parent
    (kits / "people").mkdir()
    (kits / "people" / "private.yaml").write_text("")
    (one,) = told(anniversaries, kits)
    assert "empty" in one.problem and one.values["add"][0] == "members:"


def test_a_person_without_anything_sound(tmp_path):
    (tmp_path / "people" / "ada-bell").mkdir(parents=True)
    (tmp_path / "people" / "ada-bell" / "person.yaml").write_text("nme: x\ntime zone: Nowhere\nconsent: {to: [nam, link]}\n")
    found = told(read_people, tmp_path)
    assert [(e.place.line, isinstance(e, Lacking)) for e in found] == [(1, False), (2, False), (3, False), (3, True)]


def test_a_sound_club_is_the_same_for_those_who_look_on(tmp_path):
    from kitwright.errors import Slips

    make_archive(tmp_path, BATCH)
    slips = Slips()
    assert look_at_club(tmp_path / "kits", slips) == read_club(tmp_path / "kits") and not slips.errors
    assert read_kit(tmp_path / "kits" / "2030-01-test-kit", read_club(tmp_path / "kits")).spec.cards == 9
    assert Anniversaries().members == []
