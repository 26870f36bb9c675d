"""A small club's year, built at every moment that matters: what the tests of publishing day look at.

One kit of long ago, one that is revealed, sampled, corrected, and one that stays to come.
All its words are odd ones, so that a scan finds them and nothing else.
"""

from __future__ import annotations

import datetime as dt
import io
from pathlib import Path
from unittest import mock

from archive.small import BOATS, PAST
from kitwright.archive import make, workers
from kitwright.archive.build import build_archive
from kitwright.kit.kit import Kit
from kitwright.kit.read import read_club, read_kit
from kitwright.release import publish, takeback
from kitwright.release.errata import draft
from kitwright.release.people import read_people
from kitwright.release.revisions import sha256
from kitwright.release.state import canonical, state_of
from making import changed
from PIL import Image, PngImagePlugin
from release import bench
from release.bench import forget, publish_erratum

CLUB = """\
name: Harrow Lane Bench
tagline: Cards cut on paper only
about: An archive that exists for the tests alone.
time zone: Europe/Lisbon
region: metric
address: https://bench.example/kits/
trimmer: {cut length: 12-1/2, finest mark: 1/16, least hold: 1/2}
terms: For the tests alone.
cautions:
  - Keep fingers away from the blade.
team:
  - {who: ottoline-fairweather, role: design team}
"""
OLD, KIT, LATER = "2029-05-old-boats", "2030-07-quartz-lantern", "2030-11-ermine-moth"
SPEC = """\
title: Quartz lantern
summary: Three cards that glimmer.
cards: 3
unit: mm
tags: [glimmering]
reveal: 2030-07-06 10:00
moments:
  samples: 2030-07-08 10:00
  the guest’s turn: 2030-07-12 18:00
by: ottoline-fairweather
papers:
  zephyr:
    kind: patterned
    name: Zephyrine dots
    size: 152 x 152
    front: {look: dots, colours: [sage, white]}
  white:
    kind: cardstock
    name: Chalkmilk cardstock
    size: A4
    weight: 216 gsm
pieces:
  A: {size: 97.5 x 41.5, for: glow panel, paper: zephyr}
card:
  base: {size: 210 x 148, paper: white}
  fold: side
front:
  places:
    - {piece: A}
guides:
  - papers: zephyr
    cuts:
      - one column of 97.5 off the left:
          - 3 strips of 41.5 off the top: A
photos:
  - {file: photos/wickerwork.png, alt: A card among wickerwork, caption: Made on a Tuesday}
samples:
  - {by: ottoline-fairweather, photo: harlequin.png, alt: A harlequin card, changed: Marbled ink instead.}
  - {by: crispin-oldacre, photo: pomegranate.png, alt: A pomegranate card, from: the guest’s turn, changed: Gilded edges.}
guests:
  - {who: crispin-oldacre, make: one card, by: the guest’s turn}
members:
  - {file: extras/kelpwort.txt, name: a bonus greeting}
cut files: members
"""
NOTES = "Cut [[count of A]] of A, each [[size of A]]. Mind the thistledown.\n"
PERSON = """\
name: {name}
link: https://{link}.example/
consent: {{on: 2030-01-01, to: [name, link, photo, samples, thanks]}}
"""
REVEAL, SAMPLES, GUEST, MENDED = (
    dt.datetime.fromisoformat(f"{t}:00+00:00") for t in ("2030-07-06T09:00", "2030-07-08T09:00", "2030-07-12T17:00", "2030-07-20T12:00")
)
"""In UTC; Lisbon is an hour ahead of it in summer."""
SECOND = dt.timedelta(seconds=1)
OF_KIT = [
    "Quartz lantern",
    KIT,
    "quartz",
    "97.5 × 41.5",
    "41.5 mm",
    "Zephyrine",
    "Chalkmilk",
    "glow panel",
    "glimmer",
    "thistledown",
    "wickerwork",
    "2030-07",
]
"""Words of the kit that may stand nowhere before its reveal: title, id, sizes, papers, labels' uses, notes, file names, its month."""
OF_SAMPLES, OF_GUEST = (
    ["harlequin", "Marbled ink"],
    ["pomegranate", "Crispin Oldacre", "crispin-oldacre", "gilded edges", "oldacre.example"],
)
OF_LATER = ["Ermine moth", LATER, "ermine", "Saltmarsh", "95.5 × 40.5", "moonwort", "2030-11"]
OF_SLIP = ["tallowly", "gloaming"]
"""Words of what was taken back before the reveal."""
OF_MEMBERS = ["kelpwort", "the words of the bonus"]
OF_CORRECTION = ["Glow panel mended", "trim what you have by a hair"]


def picture(word: str) -> bytes:
    """A small picture that carries a word in its bytes."""
    note, out = PngImagePlugin.PngInfo(), io.BytesIO()
    note.add_text("Comment", word)
    Image.new("RGB", (40, 30), (109, 173, 210)).save(out, "PNG", pnginfo=note)
    return out.getvalue()


def write(root: Path) -> Path:
    """The archive as it stands before anything is released; its folder of kits."""
    kits = root / "kits"
    later = changed(
        SPEC,
        ("Quartz lantern", "Ermine moth"),
        ("Zephyrine dots", "Saltmarsh dots"),
        ("2030-07-06 10:00", "2030-11-02 10:00"),
        ("2030-07-08 10:00", "2030-11-04 10:00"),
        ("2030-07-12 18:00", "2030-11-08 18:00"),
        ("97.5 x 41.5", "95.5 x 40.5"),
        ("column of 97.5", "column of 95.5"),
        ("strips of 41.5", "strips of 40.5"),
        ("Chalkmilk", "Chalky"),
        ("glow panel", "wing panel"),
        ("that glimmer", "that flutter"),
        ("glimmering", "fluttering"),
    )
    for name, spec, notes in ((KIT, SPEC, NOTES), (LATER, later[: later.index("photos:")] + "cut files: none\n", "Mind the moonwort.\n")):
        (kits / name / "photos").mkdir(parents=True)
        (kits / name / "kit.yaml").write_text(spec, encoding="utf-8")
        (kits / name / "notes.md").write_text(notes, encoding="utf-8")
    (kits / KIT / "photos" / "wickerwork.png").write_bytes(picture("wickerwork"))
    (kits / KIT / "extras").mkdir()
    (kits / KIT / "extras" / "kelpwort.txt").write_text("the words of the bonus\n", encoding="utf-8")
    (kits / OLD).mkdir()
    (kits / OLD / "kit.yaml").write_text(PAST + "reveal: 2029-05-02\n", encoding="utf-8")
    (kits / OLD / "old boats.pdf").write_bytes(BOATS)
    (kits / "club.yaml").write_text(CLUB, encoding="utf-8")
    for key, name, shot in (
        ("ottoline-fairweather", "Ottoline Fairweather", "harlequin"),
        ("crispin-oldacre", "Crispin Oldacre", "pomegranate"),
    ):
        folder = kits / "people" / key
        folder.mkdir(parents=True)
        (folder / "person.yaml").write_text(PERSON.format(name=name, link=key.split("-")[1]), encoding="utf-8")
        (folder / f"{shot}.png").write_bytes(picture(shot))
    return kits


def kit_of(kits: Path, name: str = KIT) -> Kit:
    return read_kit(kits / name, read_club(kits))


def build_all(folder: Path) -> None:
    """Release, correct, build at each moment, and at last forget somebody and build again.

    What depends on no moment, the drawing of one state with one stamp, is drawn once.
    """
    with (
        mock.patch.object(workers, "cpu_count", lambda: 1),
        mock.patch.object(make, "_kit", _once(make._kit)),
        mock.patch.object(bench.offered, "offered", _once(bench.offered.offered)),
    ):
        _build_all(folder)


def _once(draw):
    """A function of a worked kit and whatever goes with it that draws each state once."""
    drawn = {}

    def drawing(worked, *with_it):
        key = canonical([state_of(worked), sha256(repr(with_it).encode()), str(worked.kit.spec)])
        if key not in drawn:
            drawn[key] = draw(worked, *with_it)
        return drawn[key]

    return drawing


def _build_all(folder: Path) -> None:
    kits = write(folder)

    def build(name: str, when: dt.datetime, audience: str = "public") -> None:
        build_archive(folder, folder / name, as_of=when, audience=audience, now=when)

    file = kits / KIT / "kit.yaml"
    spec = file.read_text(encoding="utf-8")
    # A slip is found the evening before: what was released with it is taken back, and replaced.
    file.write_text(changed(spec, ("that glimmer", "that tallowly smoulder"), ("for: glow panel", "for: gloaming panel")), encoding="utf-8")
    publish.release(
        kit_of(kits), read_people(kits), REVEAL - dt.timedelta(days=4), lambda worked, stamp: {f"{KIT}-letter.pdf": b"tallowly"}
    )
    file.write_text(spec, encoding="utf-8")
    evening = REVEAL - dt.timedelta(hours=12)
    publish.release(
        kit_of(kits), read_people(kits), REVEAL - dt.timedelta(days=3), bench.offered.offered, takeback.unread(kit_of(kits), evening)
    )
    build("before", REVEAL - SECOND)
    build("team", REVEAL - SECOND, "team")
    build("members-before", REVEAL - SECOND, "members")
    build("at", REVEAL)
    build("samples-before", SAMPLES - SECOND)
    build("samples", SAMPLES)
    build("guest-before", GUEST - SECOND)
    build("guest", GUEST)
    build("members", GUEST, "members")
    file.write_text(
        changed(
            file.read_text(encoding="utf-8"),
            ("for: glow panel", "for: glow panel mended"),
            ("97.5 x 41.5", "97.5 x 40.5"),
            ("strips of 41.5", "strips of 40.5"),
        ),
        encoding="utf-8",
    )
    made = draft(kit_of(kits), read_people(kits))
    publish_erratum(made, MENDED, "Trim what you have by a hair.", "Crispin Oldacre", True, kits, read_people(kits))
    build("mended-before", MENDED - SECOND)
    build("mended", MENDED)
    build("team-mended", MENDED, "team")
    forget(kits, "Crispin Oldacre")
    for audience in ("public", "team", "members"):
        build(f"forgotten-{audience}", MENDED + SECOND, audience)
