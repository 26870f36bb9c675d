"""What may change after a release is looked over too, at its line."""

import pytest

from kitwright.release.lookover import look_over
from kitwright.release.members import extras_of
from kitwright.release.revisions import release
from kitwright.worked import work
from making import BATCH
from release.bench import archive, at, edit, kit_in, people_in

MORE = """\
tested:
  - {by: quill-nobody, on: 2030-01-01, code: K7MW-4TX2}
questions:
  - {ask: "Why?", answer: "[[cards]]."}
video:
  address: https://video.example/x
  steps: {cut: 1:20}
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


@pytest.mark.parametrize("old, new, level, told", [
    ("K7MW-4TX2", "K7MW-4TX3", "error", "a slip in the code"), ("[[cards]]", "[[cord]]", "error", "names nothing"), ("{cut: 1:20}", "{finish: 1:20}", "warning", "does not have"),
    ("extras/a.txt", "extras/b.txt", "error", "no file extras/b.txt"), ("extras/a.txt", "../a.txt", "error", "outside"), ("extras/a.txt", "photos/a.txt", "error", "public site"),
    ("quill-nobody", "nobody-known", "error", "nobody nobody-known"),
])
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
