"""Archives on the fly for these tests, with people and quick stand-ins for all that readers can download."""

from __future__ import annotations

import contextlib
import datetime as dt
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from kitwright.archive import offered, workers
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.read import read_club, read_kit
from kitwright.release import errata, publish
from kitwright.release import forget as forgetting
from kitwright.release.history import corrected
from kitwright.release.people import Person, read_people
from kitwright.release.record import Revision
from kitwright.release.revisions import as_published, files_of
from kitwright.release.state import canonical, state_of
from making import BATCH, CLUB, ID, changed, make_archive
from PIL import Image

UTC = dt.UTC
ADA = """\
name: Ada Bellwether
link: https://bellwether.example/
time zone: Asia/Kolkata
photo: ada.jpg
alt: A portrait
consent: {on: 2029-12-01, to: [name, link, photo, samples, thanks]}
"""
QUIET = """\
name: Quill Nobody
consent: {on: 2029-12-01, to: []}
"""
LIVING = """\
by: ada-bellwether
moments:
  samples: {at: 2030-01-10 18:00, show: everything}
  late turn: 2030-01-20 18:00
team:
  - {who: ada-bellwether, make: two cards, by: samples}
guests:
  - quill-nobody
samples:
  - by: ada-bellwether   # ada-bellwether sent this
    photo: card.jpg
    alt: A card by Ada Bellwether
    changed: Another ink.
  - {by: quill-nobody, photo: q.jpg, from: late turn}
"""
PEOPLE = {"ada-bellwether": ADA, "quill-nobody": QUIET}


def at(text: str) -> dt.datetime:
    """An instant in UTC."""
    return dt.datetime.fromisoformat(text).replace(tzinfo=UTC)


def archive(
    root: Path, text: str = BATCH + "reveal: 2030-01-05 18:00\n", notes: str = "Nine of [[size of A]].\n", club: str = CLUB
) -> Path:
    """An archive with one kit and two people; its folder of kits."""
    make_archive(root, text, notes, club=club)
    kits = root / "kits"
    for key, spec in PEOPLE.items():
        (kits / "people" / key).mkdir(parents=True)
        (kits / "people" / key / "person.yaml").write_text(spec, encoding="utf-8")
    for picture in ("ada-bellwether/ada.jpg", "ada-bellwether/card.jpg", "quill-nobody/q.jpg"):
        Image.new("RGB", (4, 3), "white").save(kits / "people" / picture)
    return kits


def kit_in(kits: Path, name: str = ID) -> Kit:
    return read_kit(kits / name, read_club(kits))


def people_in(kits: Path) -> dict[str, Person]:
    return read_people(kits)


def edit(kits: Path, *pairs: tuple[str, str], name: str = ID) -> Kit:
    """Change the text of a kit's spec and read it again."""
    file = kits / name / "kit.yaml"
    file.write_text(changed(file.read_text(encoding="utf-8"), *pairs), encoding="utf-8")
    return kit_in(kits, name)


def everything(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes."""
    return {f.relative_to(folder).as_posix(): f.read_bytes() for f in sorted(folder.rglob("*")) if f.is_file()}


def take_back(kits: Path, name: str = ID) -> None:
    """Undo the last release of an archive, which is the only one of its kit, as its warning of a slip of the pen says."""
    shutil.rmtree(kits / name / "published")
    ledger = kits / "releases.yaml"
    ledger.write_text("".join(ledger.read_text(encoding="utf-8").splitlines(keepends=True)[:-1]), encoding="utf-8")


def release(kit: Kit, people: dict[str, Person], as_of: dt.datetime) -> tuple[Revision, list[Finding]]:
    """As the command does it."""
    return publish.release(kit, people, as_of, offered.offered)


def publish_erratum(made: errata.ErratumDraft, as_of: dt.datetime, *more) -> Revision:
    """As the command does it."""
    return errata.publish_erratum(made, as_of, offered.offered, *more)


def forget(kits: Path, name: str) -> forgetting.Forgetting:
    """As the command does it."""
    return forgetting.forget(kits, name, offered.offered)


def plan(kits: Path, person: Person) -> forgetting.Forgetting:
    """The same, and nothing is done yet."""
    return forgetting.plan(kits, person, offered.offered)


def keeps_its_drawing(kit: Kit, revision: Revision) -> bool:
    """Whether the files that a revision kept are those that are drawn from what was kept with them."""
    worked = as_published(kit, revision)
    return files_of(revision) == offered.offered(worked, revision.stamp(worked.kit.club.time_zone, corrected(kit, revision, worked)))


def quick_files() -> dict[str, object]:
    """Stand-ins, by their names in `offered`, that take no time: the state and the stamp in a few bytes, so that they still tell states apart."""

    def printables(worked, edition, *, stamp):
        return {ink: canonical([edition, ink, state_of(worked), str(stamp)]) for ink in ("full", "light", "outline")}

    def sheet(found, edition, *, stamp):
        return canonical([edition, [item.name for item in found.items], str(stamp)])

    def cut_files(worked, *, by_label=False):
        return {f"{worked.kit.id}-cut-files.zip": canonical(state_of(worked))} if worked.kit.spec.cut_files != "none" else {}

    def workbook(worked, edition, *, stamp):
        return canonical([edition, "workbook", state_of(worked), str(stamp)])

    return {"printables": printables, "workbook_pdf": workbook, "contact_sheet_pdf": sheet, "cut_files_of": cut_files}


def quick_printables(monkeypatch) -> None:
    """Use them in a test."""
    for name, stand_in in quick_files().items():
        monkeypatch.setattr(offered, name, stand_in)


@contextlib.contextmanager
def quickly() -> Iterator[None]:
    """Use them for a while, and draw in one process, which others would not hear of: for what is made once for many tests."""
    with pytest.MonkeyPatch.context() as patch:
        quick_printables(patch)
        patch.setattr(workers, "cpu_count", lambda: 1)
        yield


@pytest.fixture
def quick(monkeypatch):
    """The same as a fixture."""
    quick_printables(monkeypatch)
