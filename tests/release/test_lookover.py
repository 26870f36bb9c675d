"""What may change after a release is looked over too, at its line."""

import zlib

import pytest
from kitwright.archive.photos import photos_of
from kitwright.release.lookover import look_over
from kitwright.release.members import extras_of
from kitwright.work.working import work
from making import BATCH
from PIL import Image
from release.bench import archive, at, edit, kit_in, people_in, release

MORE = """\
tested:
  - {by: quill-nobody, on: 2030-01-01, code: K7MW-4TX2}
questions:
  - {ask: "Why?", answer: "[[cards]]."}
video:
  address: https://video.example/x
  steps: {cut: 1:20, build: 4:05}
samples:
  - {by: ada-bellwether, photo: card.jpg, alt: A card}
members:
  - {file: extras/a.txt, name: a file}
"""


def made(tmp_path, text):
    kits = archive(tmp_path, BATCH + text)
    (kits / "2030-01-test-kit" / "extras").mkdir()
    (kits / "2030-01-test-kit" / "extras" / "a.txt").write_text("x", encoding="utf-8")
    (kits / "2030-01-test-kit" / "photos").mkdir()
    (kits / "2030-01-test-kit" / "photos" / "a.txt").write_text("x", encoding="utf-8")
    return kits


def test_a_sound_kit_is_silent(tmp_path, quick):
    kits = made(tmp_path, MORE)
    assert look_over(work(kit_in(kits)), people_in(kits)) == []
    assert [path.name for _, path in extras_of(kit_in(kits))] == ["a.txt"]


@pytest.mark.parametrize(
    "old, new, level, told",
    [
        ("K7MW-4TX2", "K7MW-4TX3", "error", "a slip in the code"),
        ("[[cards]]", "[[cord]]", "error", "names nothing"),
        ("{cut: 1:20,", "{finish: 9:20,", "warning", "does not have"),
        ("1:20", "9:20", "hint", "“build” begins before “cut”"),
        ("extras/a.txt", "extras/b.txt", "error", "no file extras/b.txt"),
        ("extras/a.txt", "../a.txt", "error", "outside"),
        ("extras/a.txt", "photos/a.txt", "error", "public site"),
        ("quill-nobody", "nobody-known", "error", "nobody nobody-known"),
    ],
)
def test_slips_are_told_at_their_line(tmp_path, quick, old, new, level, told):
    assert MORE.count(old) == 1
    text = MORE.replace(old, new)
    kits = made(tmp_path, text)
    found = look_over(work(kit_in(kits)), people_in(kits))
    assert [(f.level, told in f.problem) for f in found] == [(level, True)]
    assert new in (BATCH + text).splitlines()[found[0].place.line - 1]


def test_the_guard_speaks_here_too(tmp_path, quick):
    kits = made(tmp_path, MORE)
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    assert look_over(work(kit_in(kits)), people_in(kits)) == []
    found = look_over(work(edit(kits, ("cards: 9", "cards: 18"))), people_in(kits))
    assert ["differs from revision 1" in f.problem for f in found] == [True]


def test_pictures_that_a_build_would_stop_at(tmp_path, quick):
    kits = made(tmp_path, MORE)
    file = kits / "people" / "ada-bellwether" / "card.jpg"
    file.write_text("name: no picture", encoding="utf-8")
    found = look_over(work(kit_in(kits)), people_in(kits))
    assert [(f.level, f.problem) for f in found] == [("error", "card.jpg can't be read as a picture")]
    assert "card.jpg" in (BATCH + MORE).splitlines()[found[0].place.line - 1]
    # A picture of four hundred million pixels in some hundred bytes: only its head is looked at.
    head = b"IHDR" + (20_000).to_bytes(4, "big") * 2 + b"\x01\x00\x00\x00\x00"
    file.write_bytes(
        b"\x89PNG\r\n\x1a\n" + (13).to_bytes(4, "big") + head + zlib.crc32(head).to_bytes(4, "big") + bytes(4) + b"IDAT" + bytes(8)
    )
    assert ["far too many pixels" in f.problem for f in look_over(work(kit_in(kits)), people_in(kits))] == [True]


def test_what_lies_in_photos_and_is_no_picture_is_named(tmp_path, quick):
    kits = made(tmp_path, MORE + "photos:\n  - {file: photos/own.png, alt: a card}\n")
    photos = kits / "2030-01-test-kit" / "photos"
    Image.new("RGB", (9, 9)).save(photos / "own.png")
    Image.new("RGB", (9, 9)).save(photos / "more.webp")
    for name in (".DS_Store", "Thumbs.db", "notes.txt"):
        (photos / name).write_text("x")
    assert look_over(work(kit_in(kits)), people_in(kits)) == []
    for name in ("a.svg", "b.HTML", "c.js", "d.jpg", "e.zip", "f.gif", "g"):
        (photos / name).write_text("<svg onload='alert(1)'/>")
    found = look_over(work(kit_in(kits)), people_in(kits))
    assert [(f.level, f.place.file.name) for f in found] == [
        ("warning", name) for name in ("a.svg", "b.HTML", "c.js", "d.jpg", "e.zip", "f.gif", "g")
    ]
    assert all(f.remedy and "publish" in f.problem for f in found)
    for name in ("a.svg", "b.HTML", "c.js", "d.jpg", "e.zip", "f.gif", "g"):
        (photos / name).unlink()
    # One that the kit names stops a build, and is told once.
    (photos / "own.png").write_text("x")
    found = look_over(work(kit_in(kits)), people_in(kits))
    assert [(f.level, f.problem) for f in found] == [("error", "photos/own.png can't be read as a picture")] and found[0].place.line


def test_a_folder_of_photos_that_is_a_link_is_named(tmp_path, quick):
    kits = made(tmp_path, MORE)
    photos = kits / "2030-01-test-kit" / "photos"
    (tmp_path / "private").mkdir()
    Image.new("RGB", (9, 9)).save(tmp_path / "private" / "secret.png")
    (photos / "a.txt").unlink()
    photos.rmdir()
    photos.symlink_to(tmp_path / "private")
    found = look_over(work(kit_in(kits)), people_in(kits))
    assert [(f.level, "link" in f.problem) for f in found] == [("warning", True)]
    assert photos_of(kit_in(kits)) == ({}, {})
