"""A small archive written on the fly: two kits in one month, told apart by their reveals, and a past one."""

from __future__ import annotations

import io
import os
import shutil
from pathlib import Path

from kitwright.cache import FOLDER
from pdfs import pdf
from PIL import Image

CLUB = """\
name: The <Test> & Bench
tagline: Cards cut on paper only
about: An archive that exists for the tests alone.
time zone: Europe/Lisbon
region: metric
trimmer: {cut length: 12-1/2, finest mark: 1/16, least hold: 1/2}
terms: For the tests alone.
cautions:
  - Keep fingers away from the blade.
"""

KIT = """\
title: "{title}"
summary: Three cards with a *plain* panel & a <strip>.
cards: 3
tags: [{tags}]
reveal: {reveal}
papers:
  field:
    kind: patterned
    name: Clover _field_
    size: 6 x 6
    front: {{look: dots, colours: [sage, white]}}
  white:
    kind: cardstock
    name: White cardstock
    size: Letter
    weight: 80 lb cover
pieces:
  A: {{size: 3-15/16 x 1-1/2, for: panel, paper: field}}
card:
  base: {{size: 8-1/2 x 5-1/2, paper: white}}
  fold: side
  envelope: US A2 envelope
front:
  places:
    - {{piece: A}}
guides:
  - papers: field
    cuts:
      - one column of 3-15/16 off the left:
          - 3 strips of 1-1/2 off the top: A
photos:
  - {{file: photos/one card.png, alt: "One of [[cards]] on a table", caption: "From [[sheets of field]], on a Tuesday"}}
"""

NOTES = """\
Cut [[count of A]] of A, each [[size of A]].

## Why so plain

A list:

- see ![a card](photos/one%20card.png)
- and the [words](../../words.md)

```
# not a heading, 15⁄16
```
"""

PAST = """\
past: yes
title: Old boats
summary: From the drawer.
printable: old boats.pdf
tags: [boats]
facts: {Paper: scraps}
"""

BOATS = pdf("Old boats")
"""Its printable."""

FIRST, SECOND, OLD = "2031-04-zinnia", "2031-04-aster", "2030-05-old-boats"
"""In the order of their reveals, which is not that of their names, except that the last is the oldest."""
TITLES = {FIRST: "Zinnia #1 {x} & <b> [y](z)", SECOND: "Aster", OLD: "Old boats"}


def write_small(root: Path) -> Path:
    """Write the archive below a folder; returns the folder."""
    kits = root / "kits"
    for kit_id, reveal, tags in ((FIRST, "2031-04-02 10:00", "quick"), (SECOND, "2031-04-20 10:00", "quick, ISO A6")):
        folder = kits / kit_id
        (folder / "photos").mkdir(parents=True)
        (folder / "kit.yaml").write_text(KIT.format(title=TITLES[kit_id], reveal=reveal, tags=tags), encoding="utf-8")
        (folder / "notes.md").write_text(NOTES, encoding="utf-8")
        picture = io.BytesIO()
        Image.new("RGB", (40, 30), (109, 173, 210)).save(picture, "PNG")
        (folder / "photos" / "one card.png").write_bytes(picture.getvalue())
    old = kits / OLD
    old.mkdir()
    (old / "kit.yaml").write_text(PAST, encoding="utf-8")
    (old / "old boats.pdf").write_bytes(BOATS)
    (kits / "club.yaml").write_text(CLUB, encoding="utf-8")
    return root


def left_in(folder: Path) -> list[str]:
    """What a build left beside the site, but for what it keeps for the next."""
    return [file.name for file in folder.glob(".*") if file.name != FOLDER]


def taken_over(root: Path, kept: Path) -> Path:
    """An archive that has what was made for its like, so that no build draws it again; returns its folder."""
    shutil.copytree(kept, root / FOLDER, copy_function=os.link)
    return root


def tree_of(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path."""
    return {f.relative_to(folder).as_posix(): f.read_bytes() for f in sorted(folder.rglob("*")) if f.is_file()}
