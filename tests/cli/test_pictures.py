"""`kitwright pictures`: which files there are, what options choose, what stays in the folder, and what is refused."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from archive.small import tree_of
from click.testing import CliRunner
from kitwright.archive import elsewhere
from kitwright.archive.apart import SHOWN
from kitwright.archive.elsewhere import ALT, choice_of, pictures_elsewhere
from kitwright.cli import cli
from kitwright.drawing.display.ratios import RATIOS
from kitwright.drawing.png import png
from kitwright.drawing.shown import looks_of_each
from making import BATCH, CLUB
from PIL import Image
from scanned import worked_with
from several import SEVERAL

ONE, TWO, OLD = "2030-01-nine-strips", "2030-02-moss-and-shore", "2029-01-old"
PAST = "past: yes\ntitle: Old one\nprintable: old.pdf\nfacts: {papers: any}\n"


@pytest.fixture
def root(tmp_path, monkeypatch) -> Path:
    """A small archive; what pens make of a scene is quick here: its name, size and words."""
    kits = tmp_path / "club" / "kits"
    for name, text in ((ONE, BATCH), (TWO, SEVERAL), (OLD, PAST)):
        (kits / name).mkdir(parents=True)
        (kits / name / "kit.yaml").write_text(text, encoding="utf-8")
    (kits / "club.yaml").write_text(CLUB, encoding="utf-8")
    (kits / OLD / "old.pdf").write_bytes(b"%PDF-1.4\n%%EOF\n")

    def quick(scene, *_):
        return f"{scene.title} {scene.width} × {scene.height}: {scene.shapes[0]} {[text.text for text in scene.texts]}".encode()

    monkeypatch.setattr(elsewhere, "png", quick)
    monkeypatch.setattr(elsewhere, "see_through", quick)
    monkeypatch.chdir(kits.parent)
    return kits.parent


def run(*words: str, status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["pictures", *words])
    assert result.exit_code == status, result.output
    return result.output


def pictures(folder: Path) -> set[str]:
    return {name for name in tree_of(folder) if name != SHOWN}


def at_every_shape(*names: str) -> set[str]:
    return {f"{name}-{ratio}.png" for name in names for ratio in RATIOS}


def test_a_kit_of_one_design_is_shown_alone_fanned_and_whole(root):
    assert f"to {ONE}-pictures" in run("nine-strips")
    home = root / f"{ONE}-pictures"
    expected = at_every_shape(*(f"{ONE}-{what}" for what in ("card", "fan", "batch"))) | {f"{ONE}-card-transparent.png", ALT}
    assert pictures(home) == expected
    told = (home / ALT).read_text(encoding="utf-8").split("\n\n")
    assert [entry.split("\n")[0] for entry in told] == [f"{ONE}-card", f"{ONE}-fan", f"{ONE}-batch"]
    assert told[0].split("\n")[1].startswith("Nine strips: a 4¼ × 5½ in card, folded at the left, of River")
    assert "All nine cards of Nine strips in rows" in told[2] and "“thank you”" in told[2]
    assert "Nothing has changed" in run(ONE)


def test_of_several_designs_each_all_and_every_look_is_shown(root):
    run("moss-and-shore", "--out", "shown")
    own = ("cards", "card-standing", "card-lying", "fan", "batch")
    looks = ("card-standing", "card-standing-shore-above", "card-lying", "card-lying-shore-outside")
    expected = at_every_shape(*(f"{TWO}-{what}" for what in own)) | {f"{TWO}-{what}-transparent.png" for what in looks} | {ALT}
    assert pictures(root / "shown") == expected
    told = (root / "shown" / ALT).read_text(encoding="utf-8")
    assert "four “moss above”, four “shore above”, four “moss outside” and four “shore outside”" in told


def test_one_shape_one_design_or_one_look_leaves_the_others_as_they_are(root):
    home = root / f"{TWO}-pictures"
    run(TWO, "--ratio", "16:9", "--ratio", "4x5", "--design", "lying")
    own = {f"{TWO}-{what}-lying-{ratio}.png" for what in ("card", "fan", "batch") for ratio in ("16x9", "4x5")}
    transparent = {f"{TWO}-card-lying-transparent.png", f"{TWO}-card-lying-shore-outside-transparent.png"}
    assert pictures(home) == own | transparent | {ALT}
    run(TWO, "--look", "Shore above", "--ratio", "1.91")
    look = {f"{TWO}-card-standing-shore-above-{shape}.png" for shape in ("1.91x1", "transparent")}
    assert pictures(home) == own | transparent | look | {ALT}
    # A whole run clears away what is not drawn any more.
    run(TWO)
    assert not {f"{TWO}-fan-lying-16x9.png", f"{TWO}-card-standing-shore-above-1.91x1.png"} & pictures(home)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ((), []),
        (("--title",), ["Nine strips", "January 2030"]),
        (("--words", " Out on\tSaturday "), ["Out on Saturday"]),
        (("--words", "Früh übt sich", "--title"), ["Früh übt sich", "January 2030"]),
    ],
)
def test_words_are_set_where_they_are_asked_for(root, typed, words):
    run(ONE, "--ratio", "1:1", *typed)
    drawn = (root / f"{ONE}-pictures" / f"{ONE}-card-1x1.png").read_text(encoding="utf-8")
    assert drawn.endswith(f" {words}")
    assert (root / f"{ONE}-pictures" / f"{ONE}-card-transparent.png").read_text(encoding="utf-8").endswith(" []")


@pytest.mark.parametrize(
    ("typed", "name"),
    [("Sage", "sage"), ("#7a9e7e", "#7A9E7E"), ("river", "sky"), ("page", "paper"), ("accent", "accent"), ("cream", "white")],
)
def test_the_ground_is_a_colour_by_any_of_its_names(root, typed, name):
    run(ONE, "--ratio", "1:1", "--ground", typed)
    drawn = (root / f"{ONE}-pictures" / f"{ONE}-card-1x1.png").read_text(encoding="utf-8")
    assert f"Ink(name='{name}', strength=Exact(1, 1)" in drawn or f"Ink(name='{name}', strength=Fraction(1, 1)" in drawn


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ((ONE, "--ratio", "3:2"), ("no picture is drawn 3:2", "16:9, 1:1, 4:5, 9:16 or 1.91:1")),
        ((ONE, "--ratio", ""), ("without a shape", "16:9")),
        ((ONE, "--ratio", "16:0"), ("16:0", "16:9")),
        ((ONE, "--ground", "puce"), ("no colour puce", "river")),
        ((ONE, "--ground", "#12"), ("no colour #12", "#rrggbb")),
        ((ONE, "--design", "Lying"), ("one design", "--design")),
        ((TWO, "--design", "Sitting"), ("no design Sitting", "Standing, Lying")),
        ((TWO, "--look", "sea above"), ("no look sea above", "moss above, shore above")),
        ((TWO, "--design", "Lying", "--look", "moss above"), ("no look moss above", "moss outside")),
        ((ONE, "--look", "x"), ("all look alike", "--look")),
        ((ONE, "--words", " "), ("--words is empty",)),
        ((ONE, "--words", "Out now 🎉"), ("our type has no 🎉", "leave that out")),
        ((ONE, "--words", "so" * 300), ("too long for a picture of", "fewer or shorter")),
        ((OLD,), ("past kit", "there is no card to show")),
        (("no-such-kit",), ("no kit no-such-kit",)),
    ],
)
def test_what_there_is_not_is_told_and_nothing_is_written(root, typed, told):
    said = run(*typed, status=2)
    assert all(each in said for each in told) and "Traceback" not in said
    assert not list(root.glob("*-pictures"))


def test_a_picture_that_was_changed_by_hand_is_not_drawn_over(root):
    run(ONE)
    home = root / f"{ONE}-pictures"
    (home / f"{ONE}-fan-16x9.png").write_bytes(b"with words of her own")
    (home / "sketch.xcf").write_bytes(b"hers")
    before = tree_of(home)
    said = run(ONE, "--title", status=2)
    assert f"{ONE}-fan-16x9.png" in said and "nothing was written" in said and tree_of(home) == before
    # Under another name it stays; what was drawn in its place is drawn again.
    (home / f"{ONE}-fan-16x9.png").rename(home / "fan with words.png")
    run(ONE, "--title")
    assert (home / "fan with words.png").read_bytes() == b"with words of her own" and (home / "sketch.xcf").exists()


def test_a_folder_that_holds_something_else_is_left_alone(root):
    (root / "mine").mkdir()
    (root / "mine" / "notes.txt").write_text("mine")
    said = run(ONE, "--out", "mine", status=2)
    assert "kitwright pictures" in said and tree_of(root / "mine") == {"notes.txt": b"mine"}


def test_a_kit_with_an_error_is_told_and_not_drawn(root):
    file = root / "kits" / ONE / "kit.yaml"
    file.write_text(BATCH.replace("3-3/4 x 1-1/4", "3-3/4 x 2"), encoding="utf-8")
    run(ONE, status=1)
    assert not list(root.glob("*-pictures"))


def test_the_files_are_pictures_of_the_size_that_they_say(root, monkeypatch):
    monkeypatch.setattr(elsewhere, "png", png)
    card_alone(monkeypatch)
    run(ONE, "--ratio", "9:16", "--title")
    with Image.open(root / f"{ONE}-pictures" / f"{ONE}-card-9x16.png") as found:
        assert found.size == (1440, 2560) and found.format == "PNG"


def card_alone(monkeypatch) -> None:
    monkeypatch.setattr(elsewhere, "fans", lambda _: [])
    monkeypatch.setattr(elsewhere, "every_card", lambda _: [])


@pytest.mark.parametrize(("public", "asked", "seen"), [("yes", False, True), ("no", False, False), ("no", True, True)])
def test_scans_are_seen_where_they_may_be_and_then_a_picture_is_a_jpeg(tmp_path, monkeypatch, public, asked, seen):
    worked = worked_with(tmp_path, f"front: {{scan: river.png, public: {public}, source: The mill}}")
    card_alone(monkeypatch)
    monkeypatch.setattr(elsewhere, "png", lambda *_: b"")
    monkeypatch.setattr(elsewhere, "see_through", lambda *_, **__: b"")
    choice = choice_of(worked.kit, ["1:1"], scans=asked)
    found = pictures_elsewhere(worked, choice)
    assert {name.rsplit(".")[-1] for name in found if "1x1" in name} == {"jpg" if seen else "png"}
    assert (b"Paper: The mill" in found[ALT]) == seen
    for name in found:
        if name.endswith(".jpg"):
            with Image.open(io.BytesIO(found[name])) as picture:
                assert picture.format == "JPEG" and picture.size == (1440, 1440)


def test_the_cards_of_a_batch_show_other_places_of_the_scan(tmp_path):
    worked = worked_with(tmp_path)
    looks = looks_of_each(worked, [worked.face] * 3)
    places = [{look.cut for piece, look in each.items() if "A" in piece} for each in looks]
    assert all(places) and places[0] != places[1] != places[2] != places[0]
