"""Odd pictures where an archive shows pictures: a kit's photos, a person, the thumbnail of a past kit."""

from __future__ import annotations

import io
import random
from collections.abc import Iterator
from pathlib import Path

from archive.small import FIRST, OLD, write_small
from ground import Ground, Result
from kitwright.archive.content import data_of
from kitwright.archive.make import make
from kitwright.archive.photos import photo, photos_of
from kitwright.cli import cli
from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.read import read_club, read_kit
from odd_pictures import SECRET, odd_pictures
from PIL import Image
from trying import attempt

LARGEST = 1200
"""Pixels along an edge of anything that is published."""
WHOLE_EVERY = 60


def pictures(ground: Ground, seed: str) -> Iterator[Result]:
    """One odd picture in one place, looked over, made ready, and now and then published."""
    chance = random.Random(seed)
    folder = ground.home / "pictures"
    if not folder.exists():
        _archive(folder)
    kits = folder / "kits"
    ((name, data),) = list(odd_pictures(chance.randrange(1 << 30), chance.randrange(1, 40)))[-1:]
    where = chance.choice(
        (
            kits / OLD / "old.png",
            kits / OLD / "old.jpg",
            kits / FIRST / "photos" / "one card.png",
            kits / FIRST / "photos" / "other.jpg",
            kits / FIRST / "photos" / "third.webp",
            kits / FIRST / "photos" / "page.html",
            kits / "people" / "ada-bell" / "ada.jpg",
        )
    )
    before, spec = where.read_bytes() if where.is_file() else None, kits / OLD / "kit.yaml"
    written = spec.read_text(encoding="utf-8")
    try:
        where.write_bytes(data)
        if where.parent.name == OLD:
            spec.write_text(f"{written}thumbnail: {where.name}\n", encoding="utf-8")
        kit = OLD if where.parent.name == OLD else FIRST
        tried = attempt(lambda: _looked_over(folder, kit), ground.home)
        faults = list(tried.faults)
        if not tried.status:
            ready = attempt(lambda: _published(kits, kit), ground.home)
            faults += ready.faults
        if chance.random() * WHOLE_EVERY < 1 and where.parent.name == OLD:
            # Only the past kit is due, so that nothing but its pages and its picture is made.
            built = attempt(lambda: _command(folder, "build", "--as-of", "2030-06-01 12:00"), ground.home)
            faults += built.faults
            faults += [f"leak: {file.name}" for file in (folder / "site").rglob("*") if file.is_file() and SECRET in file.read_bytes()]
        yield Result("pictures", f"{name} as {where.relative_to(kits)} ({seed})", tuple(faults), tried.output)
    finally:
        spec.write_text(written, encoding="utf-8")
        where.unlink() if before is None else where.write_bytes(before)
        ground.clear()


def _archive(folder: Path) -> None:
    write_small(folder)
    spec = folder / "kits" / FIRST / "kit.yaml"
    spec.write_text(spec.read_text(encoding="utf-8").replace("cards: 3\n", "cards: 3\nby: ada-bell\n"), encoding="utf-8")
    person = folder / "kits" / "people" / "ada-bell"
    person.mkdir(parents=True)
    (person / "person.yaml").write_text(
        "name: Ada Bell\nphoto: ada.jpg\nalt: Ada at her bench\nconsent: {on: 2031-01-10, to: [name, photo]}\n", encoding="utf-8"
    )
    Image.new("RGB", (30, 40), "white").save(person / "ada.jpg")
    Image.new("RGB", (30, 40), "white").save(folder / "kits" / FIRST / "photos" / "other.jpg")


def _command(folder: Path, *words: str) -> int:
    try:
        return cli(["--root", str(folder), *words], standalone_mode=True) or 0
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else 0


def _looked_over(folder: Path, kit: str) -> int:
    """`check` of the kit: it may find anything, and 1 says so."""
    return 0 if _command(folder, "check", kit) in (0, 1) else 2


def _published(kits: Path, kit_id: str) -> int:
    """Whatever of the pictures would be published, made ready as a build does, and opened again."""
    club = read_club(kits)
    try:
        kit = read_kit(kits / kit_id, club)
        made = photos_of(kit)[1] if isinstance(kit, Kit) else make(kit, kit, {}, None, "public").files
        if isinstance(kit, Kit):
            portrait = kits / "people" / "ada-bell" / "ada.jpg"
            made["ada.jpg"] = photo(portrait, "ada.jpg", Place(portrait))[1]
    except UserError as error:
        print(error)
        return 2
    for name, content in made.items():
        data = data_of(content)
        assert name.rpartition(".")[2].lower() in ("png", "jpg", "jpeg", "webp", "pdf"), f"{name} would be published"
        assert SECRET not in data, f"{name} tells what the camera noted"
        if not name.endswith(".pdf"):
            with Image.open(io.BytesIO(data)) as picture:
                picture.load()
                assert max(picture.size) <= LARGEST, f"{name} is published at {picture.size}"
                assert not picture.getexif() and not {"exif", "icc_profile", "comment", "xmp"} & set(picture.info), f"{name} carries notes"
    return 0
