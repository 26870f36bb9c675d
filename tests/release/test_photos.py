"""Photos are looked over where they are named: those that can't be opened, and those without words for who can't see them."""

import pytest
from click.testing import CliRunner
from kitwright.cli import cli
from making import BATCH, line_of
from PIL import Image
from release.bench import archive

PERSON = "name: Ada Bellwether\nphoto: me.jpg\nalt: Ada at her bench\nconsent: {on: 2029-12-01, to: [name, photo, samples]}\n"
KIT = BATCH + (
    "photos:\n  - file: photos/first.jpg\n    alt: The card\nsamples:\n  - by: ada-bellwether\n    photo: card.jpg\n    alt: Her card\n"
)
NOTES = "So it looks.\n\n![The card on a table](photos/first.jpg)\n"


def checked(tmp_path, *, kit=KIT, person=PERSON, notes=NOTES, broken=()):
    """What `check` prints of an archive with three photos; `broken`: those that are none."""
    kits = archive(tmp_path, kit)
    here, hers = kits / "2030-01-test-kit", kits / "people" / "ada-bellwether"
    (here / "notes.md").write_text(notes, encoding="utf-8")
    (hers / "person.yaml").write_text(person, encoding="utf-8")
    for file in (here / "photos" / "first.jpg", hers / "card.jpg", hers / "me.jpg"):
        file.parent.mkdir(exist_ok=True)
        Image.new("RGB", (30, 40), "teal").save(file)
        if file.name in broken:
            file.write_bytes(file.read_bytes()[:60])
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check"])
    return done.exit_code, [line for line in done.output.splitlines() if line.startswith(str(tmp_path))]


def test_sound_photos_are_silent(tmp_path):
    assert checked(tmp_path) == (0, [])


@pytest.mark.parametrize(
    "broken, file, needle",
    [
        ("first.jpg", "kit.yaml", "file: photos/first.jpg"),
        ("card.jpg", "kit.yaml", "photo: card.jpg"),
        ("me.jpg", "person.yaml", "photo: me.jpg"),
    ],
)
def test_a_photo_that_cant_be_opened_is_told_once_at_its_line(tmp_path, broken, file, needle):
    status, told = checked(tmp_path, broken=(broken,))
    line = line_of(KIT if file == "kit.yaml" else PERSON, needle)
    assert status == 1 and len(told) == 1 and f"{file}:{line}: error" in told[0] and "can't be read as a picture" in told[0]


@pytest.mark.parametrize(
    "where, old, new, file, needle, words",
    [
        ("kit", "    alt: The card\n", "", "kit.yaml", "file: photos/first.jpg", "no text for those"),
        ("kit", "    alt: Her card\n", "", "kit.yaml", "photo: card.jpg", "no text for those"),
        ("person", "alt: Ada at her bench\n", "", "person.yaml", "photo: me.jpg", "no text for those"),
        ("kit", "    alt: The card\n", "    alt:\n", "kit.yaml", "file: photos/first.jpg", "no text for those"),
        ("person", "alt: Ada at her bench\n", 'alt: "  "\n', "person.yaml", 'alt: "  "', "“alt” is empty"),
        ("kit", "    alt: Her card\n", '    alt: ""\n', "kit.yaml", 'alt: ""', "“alt” is empty"),
        ("notes", "![The card on a table]", "![ ]", "notes.md", "![ ]", "no text for those"),
    ],
)
def test_a_photo_without_words_is_told_once_at_its_line(tmp_path, where, old, new, file, needle, words):
    texts = {"kit": KIT, "person": PERSON, "notes": NOTES}
    assert texts[where].count(old) == 1
    texts[where] = texts[where].replace(old, new)
    status, told = checked(tmp_path, **texts)
    line = line_of(texts[where], needle)
    assert status in (1, 2) and len(told) == 1 and f"{file}:{line}: " in told[0] and words in told[0]


def test_what_she_did_not_agree_to_show_is_not_looked_at(tmp_path):
    status, told = checked(
        tmp_path, person=PERSON.replace("photo, samples", "thanks").replace("alt: Ada at her bench\n", ""), broken=("me.jpg",)
    )
    assert status == 0 and all(": hint: " in line for line in told)
