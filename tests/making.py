"""Kits written on the fly, for tests: a club, a worked batch, and small helpers around them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path

from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.kit.read import read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.work.worked import Worked
from kitwright.work.working import work

CLUB = """\
name: Test bench
tagline: Cards cut on paper only
about: Kits that exist for the tests alone.
time zone: Europe/Lisbon
region: us
trimmer:
  cut length: 12
  finest mark: 1/16
  least hold: 1
terms: For the tests alone.
cautions:
  - Keep fingers away from the blade.
"""

BATCH = """\
title: Nine strips
summary: Nine cards from one sheet.
cards: 9
papers:
  river:
    kind: patterned
    name: River
    size: 12 x 12
    front: {look: stripes, colours: [sky, white]}
  cream:
    kind: cardstock
    name: Cream cardstock
    size: Letter
  white:
    kind: cardstock
    name: White cardstock
    size: Letter
pieces:
  A:
    size: 3-3/4 x 1-1/4
    for: tall strip
    paper: river
    per card: 1
  B:
    size: 3-3/4 x 7/8
    for: low strip
    paper: river
    per card: 2
  M:
    size: 4 x 5-1/4
    for: mat
    paper: cream
card:
  base:
    size: 8-1/2 x 5-1/2
    paper: white
  fold: side
  layers:
    - M
  envelope: US A2 envelope
front:
  border: 1/8
  gap: 1/8
  rows:
    - A
    - B
    - band
    - B
sentiment:
  text: thank you
  size: 2-1/2 x 3/4
  on: band
guides:
  - papers: river
    cuts:
      - 3 columns of 3-3/4 off the left:
          - 3 strips of 1-1/4 off the top: A
          - 6 strips of 7/8 off the top: B
"""
"""The batch that the job's issue works by hand: exact yields, leftovers, band and sheets."""

ID = "2030-01-test-kit"


def make_archive(root: Path, text: str | bytes, notes: str = "", *, name: str = ID, club: str = CLUB) -> Path:
    """Write a root with `kits/`, the club and one kit; the kit's folder."""
    folder = root / "kits" / name
    folder.mkdir(parents=True)
    (root / "kits" / "club.yaml").write_text(club, encoding="utf-8")
    (folder / "kit.yaml").write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    if notes:
        (folder / "notes.md").write_text(notes, encoding="utf-8")
    return folder


def in_both_regions(root: Path, papers: str) -> dict[str, Club]:
    """The club with some papers, by its region: one that thinks in inches, and one in millimetres."""
    found = {}
    for region in ("us", "metric"):
        home = root / region
        home.mkdir()
        (home / "club.yaml").write_text(CLUB.replace("region: us", f"region: {region}") + papers)
        found[region] = read_club(home)
    return found


def make_kit(root: Path, text: str, notes: str = "", *, name: str = ID, club: str = CLUB) -> Kit:
    """A kit read from the text of its spec."""
    folder = make_archive(root, text, notes, name=name, club=club)
    return read_kit(folder, read_club(root / "kits"))


def make_worked(root: Path, text: str, notes: str = "", **more: str) -> Worked:
    """The same, worked out."""
    return work(make_kit(root, text, notes, **more))


def look_over(root: Path, text: str, **more: str) -> list[Finding]:
    """What `check` finds in a kit of this text; all of it told by values alone."""
    worked = make_worked(root, text, **more)
    found, quoted = check(worked), "\n".join((text, *more.values(), *(layout.name for layout in worked.layouts)))
    assert [str(f) for f in found if not told_by_values(f, quoted)] == []
    return found


LONGEST_NAME = 4
"""Words that a value may have which is no name of the author's: a label, a key."""


def told_by_values(finding: Finding, quoted: str) -> bool:
    """Whether a finding's values can be compared and kept, and none is a sentence, but what the author typed, or a guide is called."""
    hash(finding)
    typed = _plain(quoted)
    return all(len(text.split()) <= LONGEST_NAME or _plain(text) in typed for text in _texts(tuple(finding.values.values())))


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _texts(value: object) -> Iterator[str]:
    """Every text in a value, however deep."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from _texts(each)
    elif is_dataclass(value):
        for each in fields(value):
            yield from _texts(getattr(value, each.name))


def changed(text: str, *pairs: tuple[str, str]) -> str:
    """The text with each old part, which must stand there exactly once, replaced."""
    for old, new in pairs:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


TWO_PAPERS = changed(
    BATCH,
    (
        "  cream:\n    kind",
        "  meadow:\n    kind: patterned\n    name: Meadow\n    size: 12 x 12\n    front: {look: dots, colours: [sage, white]}\n  cream:\n    kind",
    ),
    ("cards: 9\n", "cards: 18\n"),
    ("    paper: river\n    per card: 1\n", "    per card: {river: 1/2, meadow: 1/2}\n"),
    ("    paper: river\n    per card: 2\n", "    per card: {river: 1, meadow: 1}\n"),
    ("    - A\n    - B\n    - band\n    - B\n", "    - A river\n    - B river\n    - band\n    - B river\n"),
    ("  gap: 1/8\n", "  gap: 1/8\n  looks:\n    - {name: river, cards: 9}\n    - {name: meadow, cards: 9, swap: {river: meadow}}\n"),
    ("  - papers: river\n", "  - papers: [river, meadow]\n"),
)
"""Two papers cut alike by one guide, nine cards of each."""


def line_of(text: str, needle: str) -> int:
    """The number of the only line that holds these words."""
    found = [i for i, line in enumerate(text.splitlines(), 1) if needle in line]
    assert len(found) == 1, f"{needle!r} stands on lines {found}"
    return found[0]


def serious(findings: list[Finding]) -> list[Finding]:
    """Findings without hints."""
    return [f for f in findings if f.level != "hint"]
