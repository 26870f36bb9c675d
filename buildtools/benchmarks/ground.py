"""The ground on which commands are tried: archives made from the demo kits, put back after each try."""

from __future__ import annotations

import datetime as dt
import hashlib
import shutil
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from archive.small import KIT
from click.exceptions import Exit
from click.testing import CliRunner
from forked import load
from kitwright import cache
from kitwright.cli import build, cli
from PIL import Image
from trying import Tried, attempt

DEMO = Path(__file__).resolve().parents[2] / "kits"
WHEN = "2030-01-01 12:00"
"""The moment that sites are built for: every demo kit is public, the secret one is not."""
# These moments have come: one that is still to come fills no default folder.
build.now = lambda: dt.datetime(2032, 1, 1, tzinfo=dt.UTC)
SECRET_WORD = "Quillfeather"
"""Stands in the kit that is still to come and in the file outside, and may stand in no site."""
COMING = "2090-01-quillfeather"
PAST = "2019-05-old-boats"
GONE = object()


@dataclass(frozen=True)
class Result:
    """One try, told."""

    kind: str
    name: str
    faults: tuple[str, ...]
    output: str = ""

    def as_data(self) -> dict[str, Any]:
        """As plain data; what was printed only where something failed."""
        return asdict(self) | {"output": ""}

    @classmethod
    def from_data(cls, data: dict[str, Any]) -> Result:
        """The other way round."""
        return cls(**data | {"faults": tuple(data["faults"])})


@dataclass
class Site:
    """One archive under test."""

    root: Path
    sound: Path
    """A copy that nothing touches."""
    digests: dict[str, str]
    """Every file of the sound state, by its path from the root."""

    @property
    def kits(self) -> Path:
        return self.root / "kits"

    def changed(self) -> list[str]:
        """Paths that are not as in the sound state: written anew, gone or added; sockets, pipes and links by their names."""
        now = digests(self.root)
        return sorted(path for path in now.keys() | self.digests.keys() if now.get(path) != self.digests.get(path))

    def put_back(self) -> None:
        """Make the archive sound again."""
        changed = self.changed()
        if (
            len(changed) == 1
            and (self.root / changed[0]).is_file()
            and not (self.root / changed[0]).is_symlink()
            and (self.sound / changed[0]).is_file()
        ):
            shutil.copyfile(self.sound / changed[0], self.root / changed[0])
            return
        if not changed:
            return
        if self.root.is_symlink() or self.root.exists():
            shutil.rmtree(self.root)
        shutil.copytree(self.sound, self.root, symlinks=True)


class Ground:
    """A folder with archives, and something outside of them that must stay secret."""

    def __init__(self, home: Path) -> None:
        load()
        self.home = home
        self.secret = home / "outside" / "secret.txt"
        self.secret.parent.mkdir()
        self.secret.write_text(f"{SECRET_WORD} outside\n", encoding="utf-8")
        self._sites: dict[tuple[str, bool], Site] = {}
        self.kept: dict[int, Any] = {}
        """What is set up once for many tries, by number."""

    def site(self, kit: str, released: bool) -> Site:
        """An archive with one demo kit, a past one and one still to come, and yesterday's site."""
        key = kit, released
        if key not in self._sites:
            name = f"{kit}-{'released' if released else 'fresh'}"
            sound = self.home / f"sound-{name}"
            make(sound, kit, released)
            root = self.home / name
            shutil.copytree(sound, root, symlinks=True)
            self._sites[key] = Site(root, sound, digests(root))
        return self._sites[key]

    def command(self, site: Site, *words: str) -> Tried:
        """A command on an archive, in a process of its own."""

        def act() -> int:
            try:
                return cli([*("--root", str(site.root)), *words], standalone_mode=False) or 0
            except Exit as ended:
                return ended.exit_code

        return attempt(act, self.home, secrets=(self.secret,))

    def leftovers(self) -> list[str]:
        """Temporary files that a command left behind."""
        return sorted(f.name for f in (self.home / "tmp").iterdir())

    def clear(self) -> None:
        """Take away temporary files."""
        shutil.rmtree(self.home / "tmp", ignore_errors=True)


def digests(folder: Path) -> dict[str, str]:
    """Path → what is there, for all below a folder; schemas aside, which any build renews, and what is only kept to be quick."""
    found = {}
    for path in folder.rglob("*"):
        name = path.relative_to(folder).as_posix()
        if name.endswith(".schema.json") or name.split("/")[0] == cache.FOLDER:
            continue
        if path.is_symlink():
            found[name] = "a link"
        elif path.is_file():
            found[name] = hashlib.sha256(path.read_bytes()).hexdigest() if path.stat().st_size < 1 << 24 else "large"
        elif not path.is_dir():
            found[name] = "neither file nor folder"
    return found


def make(root: Path, kit: str, released: bool) -> None:
    """Write an archive: the demo's club and people, one demo kit, a past kit and one still to come."""
    kits = root / "kits"
    kits.mkdir(parents=True)
    for file in (DEMO / "club.yaml", *DEMO.glob("*.svg")):
        shutil.copy(file, kits)
    shutil.copytree(DEMO / "people", kits / "people")
    for photo in (kits / "people").glob("*/*.jpg"):
        # Small ones do as well, and are copied quickly.
        Image.new("RGB", (40, 30), "white").save(photo)
    shutil.copytree(DEMO / kit, kits / kit, ignore=None if released else shutil.ignore_patterns("published"))
    coming = kits / COMING
    coming.mkdir()
    (coming / "kit.yaml").write_text(
        KIT.format(title=SECRET_WORD, reveal="2090-01-02 10:00", tags="quick").split("photos:")[0], encoding="utf-8"
    )
    (coming / "notes.md").write_text(f"{SECRET_WORD} notes.\n", encoding="utf-8")
    past = kits / PAST
    past.mkdir()
    (past / "kit.yaml").write_text(
        "past: yes\ntitle: Old boats\nsummary: From the drawer.\nprintable: boats.pdf\nreveal: 2019-05-05\n", encoding="utf-8"
    )
    shutil.copy(DEMO / "2025-05-paper-kites" / "paper-kites.pdf", past / "boats.pdf")
    site = root / "site"
    site.mkdir()
    (site / ".kitwright").write_text("Made by kitwright build. The next build replaces this whole folder.\n", encoding="utf-8")
    (site / "index.html").write_text("yesterday\n", encoding="utf-8")
    if released:
        # The demo's ledger tells of all its kits; this one, of the one that is here.
        done = CliRunner().invoke(cli, ["--root", str(root), "release", "--adopt"])
        if done.exit_code:
            raise RuntimeError(f"{kit} could not be taken into a ledger: {done.output}")
