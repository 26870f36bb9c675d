"""A host that SFTP reaches, by the program of that name that comes with OpenSSH: its keys, agent and settings are the owner's."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection
from pathlib import Path

from kitwright.archive.built import RECORD, Built, Written, files_of
from kitwright.archive.hosting.plan import Plan, There, folders_of
from kitwright.archive.hosting.programs import SSH_OPTIONS, Said, run
from kitwright.archive.hosting.rsync import known_of
from kitwright.archive.hosting.target import Target
from kitwright.errors import UserError

PROGRAM: tuple[str, ...] = ("sftp",)
COMING = ".kitwright-coming"
"""Where files lie at the host until all are there. Then they take their places, one after the other."""
NO_CONNECTION = 255
MOST_READ_BACK = 200_000_000
"""Bytes that are read back; of more, the sizes are."""


class Sftp:
    """Sends everything aside first, then lets it take its places in one go."""

    def __init__(self, target: Target, shop: Path) -> None:
        self.target, self.shop = target, shop

    def look(self, site: Path, one: Built) -> There:
        """What the host has.

        Raises:
            UserError: it can't be reached, or there is no such folder.
        """
        files = one.files or {}
        there = self.shop / "there"
        there.mkdir(exist_ok=True)
        sizes = self._sizes(files, f"-get {_q(RECORD)} {_q(there / RECORD)}")
        known = known_of(there / RECORD, self.target)
        same = {name for name in files if name in known and known[name] == files[name] and sizes.get(name) == files[name].size}
        return There(known, same, {name for name in files if name in sizes and name not in same})

    def send(self, site: Path, plan: Plan) -> None:
        """Send what goes aside, let it take its places, then remove what is gone.

        Raises:
            UserError: it was cut off; what is public is whole, and it goes on when typed again.
        """
        coming = {name: hashlib.sha256(f"{name}\n{plan.files[name].sha256}".encode()).hexdigest()[:24] for name in plan.sent}
        arrived = self._sizes({f"{COMING}/x": Written(0, "")})
        lines = [f"-mkdir {_q(COMING)}"]
        for name in sorted(set(arrived) - {f"{COMING}/{aside}" for aside in coming.values()}):
            lines += [f"-rm {_q(name)}"] if name.startswith(f"{COMING}/") else []
        for name, aside in coming.items():
            # What had arrived before it was cut off need not go again.
            if arrived.get(f"{COMING}/{aside}") != plan.files[name].size:
                lines.append(f"put {_q(site / name)} {_q(f'{COMING}/{aside}')}")
        way = self.shop / "way"
        way.write_bytes(plan.on_its_way())
        probe = [f"put {_q(way)} {_q(f'{COMING}/{n}')}" for n in ("one", "other")]
        probe += [f"-rename {_q(f'{COMING}/one')} {_q(f'{COMING}/other')}", f"-ls -lna {_q(COMING)}", f"-rm {_q(f'{COMING}/other')}"]
        came = self._sent([*lines, *probe, f"put {_q(way)} {_q(f'{COMING}/way')}", f"put {_q(site / RECORD)} {_q(f'{COMING}/record')}"])
        # Some servers give no file a name that is taken: there the old one goes first, and for a moment there is none.
        over = f"{COMING}/one" not in _listed(came)

        def placed(aside: str, name: str) -> list[str]:
            return [*([] if over else [f"-rm {_q(name)}"]), f"rename {_q(f'{COMING}/{aside}')} {_q(name)}"]

        lines = placed("way", RECORD)
        lines += [] if over else [f"-rm {_q(f'{COMING}/one')}"]
        lines += [f"-mkdir {_q(folder)}" for folder in folders_of(plan.sent)]
        lines += [line for name, aside in coming.items() for line in placed(aside, name)]
        lines += [f"-rm {_q(name)}" for name in plan.gone]
        lines += [f"-rmdir {_q(folder)}" for folder in reversed(folders_of(plan.gone)) if folder not in folders_of(plan.files)]
        self._sent([*lines, *placed("record", RECORD), f"-rmdir {_q(COMING)}"])

    def differing(self, site: Path, one: Built, plan: Plan) -> list[str]:
        """What does not lie at the host as it was built, or lies there still: what was sent by its bytes, the rest by its size."""
        files, back = one.files or {}, self.shop / "back"
        back.mkdir()
        room, names = MOST_READ_BACK, []
        for name in plan.sent:
            room -= files[name].size
            if room >= 0:
                names.append(name)
        sizes = self._sizes(
            {**files, **dict.fromkeys(plan.gone, Written(0, ""))}, *(f"-get {_q(n)} {_q(back / str(i))}" for i, n in enumerate(names))
        )
        read = files_of(back)
        wrong = {name for i, name in enumerate(names) if (got := read.get(str(i))) is None or got != files[name]}
        wrong |= {name for name in files if sizes.get(name) != files[name].size}
        return sorted(wrong | {name for name in plan.gone if name in sizes})

    def _sizes(self, names: Collection[str], *lines: str) -> dict[str, int]:
        """The files in the folders of some files, with their sizes."""
        folders = ["", *folders_of(names)]
        done = self._batch([*lines, *(f"-ls -lna {_q(folder)}" if folder else "-ls -lna" for folder in folders)])
        if done.status:
            code = "hosting.not-reached" if done.status == NO_CONNECTION else "hosting.not-read"
            raise UserError(code, place=self.target.place, to=self.target.typed, why=done.why)
        return _listed(done.out)

    def _sent(self, lines: list[str]) -> str:
        done = self._batch(lines)
        if done.status:
            raise UserError("hosting.cut-off", place=self.target.place, to=self.target.typed, why=done.why)
        return done.out

    def _batch(self, lines: list[str]) -> Said:
        port = ("-P", str(self.target.port)) if self.target.port else ()
        words = (*PROGRAM, *SSH_OPTIONS, *port, "-b", "-", "--", self.target.host)
        return run(words, "".join(f"{line}\n" for line in (f"cd {_q(self.target.folder)}", *lines)), last=True)


def _q(name: str | Path) -> str:
    """A name as the program reads it, nothing in it taken for more than a letter."""
    text = str(name).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{text}"'


_ROW = re.compile(r"-\S{9}\S?\s+(?:\S+\s+){3}(\d+)\s+\S+\s+\d+\s+[\d:]+ (.*)")


def _listed(out: str) -> dict[str, int]:
    """Files and their sizes from long listings; what is no plain letter is told by its octal bytes."""
    found = {}
    for line in out.splitlines():
        row = _ROW.fullmatch(line)
        if row:
            name = re.sub(rb"\\(\d{3})", lambda octal: bytes([int(octal[1], 8)]), row[2].encode()).decode("utf-8", "replace")
            found[name.removeprefix("./")] = int(row[1])
    return found
