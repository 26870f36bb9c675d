"""One vocabulary of tags: two ways to write one are one, and what is not in the club's list is told with the nearest."""

import demo
import pytest
from click.testing import CliRunner
from kitwright.archive.vocabulary import Tagged, in_use, nearly, of_club, of_kit, tag_key
from kitwright.cli import cli
from kitwright.errors import Place
from kitwright.kit.model import Club
from making import BATCH, CLUB, ID, make_archive

WORDS = {"technique": ("raised strip", "z-fold"), "occasion": ("birthday", "thank you"), "season": ("spring",)}


def club(words=None) -> Club:
    return demo.CLUB.model_copy(update={"tags": words or {}})


def tagged(*tags: str, kit: str = "2031-01-a") -> list[Tagged]:
    return [Tagged(tag, kit, Place(None, n), "warning") for n, tag in enumerate(tags, 1)]


def told(found) -> list[tuple]:
    return [(f.level, f.code, f.values.get("tag"), f.values.get("other", f.values.get("nearest"))) for f in found]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("half sheet", "half sheets"),
        ("half-sheet", "Half Sheets"),
        ("z-fold", "Z fold"),
        ("zfold", "z-fold"),
        ("thank you", "thankyou"),
        ("two colourways", "2 colourways"),
        ("Café", "cafe"),
        ("baby’s first", "baby's first"),
    ],
)
def test_two_ways_to_write_a_tag_are_one(one, other):
    assert tag_key(one) == tag_key(other)


def test_two_tags_are_two():
    assert len({tag_key(tag) for tags in demo.CLUB.tags.values() for tag in tags}) == sum(map(len, demo.CLUB.tags.values()))
    assert not list(of_club(demo.CLUB))
    assert not nearly("spring", "string") and not nearly("sea", "seas") and nearly("birthday", "birtday") and nearly("birthday", "brithday")


def test_a_tag_is_held_against_the_vocabulary():
    found = of_kit(tagged("birthday", "Birthdays", "thank-you", "springs", "raised strips!", "rocket"), club(WORDS))
    assert told(found) == [
        ("warning", "tags.alike", "Birthdays", "birthday"),
        ("warning", "tags.otherwise", "thank-you", "thank you"),
        ("warning", "tags.otherwise", "springs", "spring"),
        ("warning", "tags.otherwise", "raised strips!", "raised strip"),
        ("warning", "tags.unknown", "rocket", None),
    ]
    assert told(of_kit(tagged("birthdy"), club(WORDS))) == [("warning", "tags.unknown", "birthdy", "birthday")]
    assert not list(of_kit(tagged("rocket"), club())), "without a vocabulary a kit alone tells nothing"
    assert told(of_club(club({"a": ("sea", "tide"), "b": ("Seas",)}))) == [("warning", "tags.vocabulary-twice", "Seas", "sea")]


def test_what_values_say_needs_no_tag():
    worked = demo.worked("2026-08-rock-pool")
    tags = ("shakers", "pocket", "portrait", "two papers", "tags", "vellum", "sea", "square")
    assert told(of_kit(tagged(*tags), club(), worked)) == [("hint", "tags.said-by-values", tag, None) for tag in tags[:6]]
    metric = demo.worked("2026-01-low-tide")
    assert [f.values["tag"] for f in of_kit(tagged("metric", "ISO A6", "four papers", "two colourways"), club(), metric)] == [
        "metric",
        "ISO A6",
        "four papers",
    ]


def test_without_a_vocabulary_kits_agree_on_what_most_write():
    every = [*tagged("half sheet"), *tagged("half sheets", kit="b"), *tagged("half sheets", "string", kit="c"), *tagged("spring", kit="d")]
    assert [(f.values["tag"], f.values["other"], f.values["kit"]) for f in in_use(every, club())] == [("half sheet", "half sheets", "b")]
    assert not list(in_use(every, club(WORDS))), "the vocabulary has said it already"


def test_check_tells_of_both(tmp_path):
    other = "2031-02-b"
    folder = make_archive(tmp_path, BATCH.replace("cards: 9", "cards: 9\ntags: [scrap buster]"))
    (tmp_path / "kits" / other).mkdir()
    text = (folder / "kit.yaml").read_text().replace("[scrap buster]", "scrap-busters")
    (tmp_path / "kits" / other / "kit.yaml").write_text(text)

    def checked(*kit: str) -> str:
        result = CliRunner().invoke(cli, ["--root", str(tmp_path), "check", *kit])
        return f"{result.exit_code} {' '.join(result.output.split())}"

    found = checked()
    assert found.startswith("1 ") and f"the tag “scrap-busters” is “scrap buster” in {ID}" in found
    assert checked() == found, "warm as cold"
    (tmp_path / "kits" / "club.yaml").write_text(CLUB + "tags: {technique: scrap busters}\n", encoding="utf-8")
    found = checked()
    assert f"{ID}/kit.yaml:4: warning: the tag “scrap buster” is “scrap busters” in the club file" in found
    assert "the tag “scrap-busters” is “scrap busters” in the club file" in found
