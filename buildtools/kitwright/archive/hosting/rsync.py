"""A host that rsync reaches: over SSH, a server of its own, or a folder of this machine."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from pathlib import Path

from kitwright.archive.built import RECORD, Built, parsed
from kitwright.archive.hosting.plan import Plan, There, folders_of, is_page
from kitwright.archive.hosting.programs import run
from kitwright.archive.hosting.target import Target
from kitwright.errors import UserError

LEAST = (3, 1)
"""The first rsync that removes exactly the files that it is told."""
REACHED = (5, 10, 12, 30, 35, 127, 255)
"""Exit statuses of rsync (its manual, EXIT VALUES) and of SSH that mean: no connection, or one that broke."""
_ITEM = re.compile(r"[<>]f(\S{9})\|(.*)")


class Rsync:
    """Sends what differs by its digest. Files change places at the end of each stage, when all of that stage is there."""

    def __init__(self, target: Target, shop: Path) -> None:
        self.target, self.shop = target, shop
        version = re.match(r"rsync +version +v?(\d+)\.(\d+)", run(["rsync", "--version"]).out)
        if version is None or (int(version[1]), int(version[2])) < LEAST:
            raise UserError("hosting.old-program", program="rsync", least=LEAST)

    def look(self, site: Path, one: Built) -> There:
        """What the host has.

        Raises:
            UserError: it can't be reached, or there is no such folder.
        """
        self._rsync("--list-only", "--", self.target.folder, reading=True)
        there = self.shop / "there"
        there.mkdir(exist_ok=True)
        self._rsync("--ignore-missing-args", "--", self.target.folder + RECORD, f"{there}/", reading=True)
        known = known_of(there / RECORD, self.target)
        items = self._differing(site, one.files or {})
        other = {name for name, state in items.items() if set(state) != {"+"}}
        return There(known, {name for name in one.files or {} if name not in items}, other)

    def send(self, site: Path, plan: Plan) -> None:
        """Send what goes, then remove what is gone.

        Raises:
            UserError: it was cut off; what is public is whole, and it goes on when typed again.
        """
        if plan.sent or plan.gone:
            way = self.shop / "way"
            way.mkdir()
            (way / RECORD).write_bytes(plan.on_its_way())
            self._rsync("--checksum", "--", str(way / RECORD), self.target.folder)
        for stage in ([n for n in plan.sent if not is_page(n)], [n for n in plan.sent if is_page(n)]):
            if stage:
                self._with(stage, "--checksum", "--delay-updates", "--", f"{site}/", self.target.folder)
        if plan.gone:
            # From folders with nothing in them, for rsync counts a missing folder as a fault.
            bare = self.shop / "bare"
            for name in plan.gone:
                (bare / name).parent.mkdir(parents=True, exist_ok=True)
            self._with(plan.gone, "--delete-missing-args", "--", f"{bare}/", self.target.folder)
            self._without_folders(plan)
        self._rsync("--checksum", "--", str(site / RECORD), self.target.folder)

    def _without_folders(self, plan: Plan) -> None:
        """Remove folders that nothing lies in any more: their names tell of what is gone. Where something else lies there, they stay."""
        gone = [folder for folder in folders_of(plan.gone) if folder not in folders_of(plan.files)]
        for depth in sorted({folder.count("/") for folder in gone}, reverse=True):
            level = [folder for folder in gone if folder.count("/") == depth]
            bare = self.shop / f"bare-{depth}"
            for folder in level:
                (bare / folder).parent.mkdir(parents=True, exist_ok=True)
            self._with(level, "--dirs", "--delete-missing-args", "--", f"{bare}/", self.target.folder)

    def differing(self, site: Path, one: Built, plan: Plan) -> list[str]:
        """What does not lie at the host as it was built, or lies there still."""
        found = list(self._differing(site, [*(one.files or {}), RECORD]))
        if plan.gone:
            nowhere = self.shop / "nowhere"
            nowhere.mkdir()
            out = self._with(plan.gone, "--dry-run", *_ITEMS, "--ignore-missing-args", "--", self.target.folder, f"{nowhere}/")
            found += _items(out)
        return found

    def _differing(self, site: Path, names: Iterable[str]) -> dict[str, str]:
        return _items(self._with(list(names), "--dry-run", "--checksum", *_ITEMS, "--", f"{site}/", self.target.folder, reading=True))

    def _with(self, names: Collection[str], *words: str, reading: bool = False) -> str:
        listed = self.shop / "names"
        listed.write_text("".join(f"{name}\n" for name in names), encoding="utf-8", newline="\n")
        return self._rsync(f"--files-from={listed}", *words, reading=reading)

    def _rsync(self, *words: str, reading: bool = False) -> str:
        done = run(["rsync", "--protect-args", "--8-bit-output", "--timeout=120", *words])
        if done.status:
            code = "hosting.not-reached" if done.status in REACHED else "hosting.not-read"
            raise UserError(code if reading else "hosting.cut-off", place=self.target.place, to=self.target.typed, why=done.why)
        return done.out


_ITEMS: Sequence[str] = ("--out-format=%i|%n",)


def _items(out: str) -> dict[str, str]:
    """Files that rsync would send, and what is different about each."""
    return {found[2]: found[1] for line in out.splitlines() if (found := _ITEM.fullmatch(line))}


def known_of(file: Path, target: Target) -> dict:
    """What was put there from here, by the record that was fetched; nothing where there was none.

    Raises:
        UserError: it is no record of ours.
    """
    if not file.is_file():
        return {}
    try:
        return dict(parsed(file.read_bytes()).files or {})
    except ValueError:
        raise UserError("hosting.odd-record", place=target.place, file=RECORD) from None
