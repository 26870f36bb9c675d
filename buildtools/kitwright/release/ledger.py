"""Seals of records, and the ledger of all releases: `kits/releases.yaml`, a line for each, in order.

A record ends in the digest of the record before it and its own, so that a kit's revisions
form a chain. The ledger names every record with its digest, and each of its lines carries the
digest of everything above it. Nothing of it is secret: it is there so that no change goes
unnoticed, not to prove who made it.

Two people who publish on two copies of the archive each append a line. After a merge both
stand, the second following from what stood above the first: so a line may follow from any
beginning of the ledger above it, and what is published next follows from all of it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.folder import MB, leads_out, read_own
from kitwright.kit.read import shown
from kitwright.kit.yamltext import read_text

LEDGER, PUBLISHED, RECORD = "releases.yaml", "published", "release.yaml"
HEAD = "# Written by kitwright: every release, in the order of publishing. Keep it with the kits, and don't edit it.\n"
LARGEST = 20 * MB
"""Bytes of a ledger: some seventy thousand releases."""
_HEX = "[0-9a-f]{64}"
_LINE = re.compile(rf"- \{{kit: (\S+), revision: ([1-9][0-9]*), released: (\S+), code: (\S+), record: ({_HEX}), after: ({_HEX})\}}")
_SEAL = re.compile(rf"(?:^before: ({_HEX})\n)?^digest: ({_HEX})\n\Z", re.MULTILINE)


def digest(text: str) -> str:
    """A digest of text that holds whatever the line endings that a machine gave it."""
    return hashlib.sha256(text.replace("\r\n", "\n").encode()).hexdigest()


# --- seals of records -------------------------------------------------------------------------------


@dataclass(frozen=True)
class Sealed:
    """A record's text, taken apart."""

    body: str
    """Without its seal."""
    before: str = ""
    """The digest of the record before, as it is noted; empty for the first."""
    digest: str = ""
    """Its own, as it is noted; empty where it was never sealed."""

    @property
    def holds(self) -> bool:
        """Whether the noted digest is that of the text."""
        return self.digest == digest(self.body + _before(self.before))


def opened(text: str) -> Sealed:
    """A record's text without its seal, and the seal."""
    text = text.replace("\r\n", "\n")
    found = _SEAL.search(text)
    return Sealed(text[: found.start()], found[1] or "", found[2]) if found else Sealed(text)


def sealed(body: str, before: str) -> tuple[str, str]:
    """A record's text with its seal, and its digest."""
    whole = body + _before(before)
    own = digest(whole)
    return f"{whole}digest: {own}\n", own


def _before(before: str) -> str:
    return f"before: {before}\n" if before else ""


def record_file(kits: Path, kit: str, revision: int) -> Path:
    """Where the record of a revision lies."""
    return kits / kit / PUBLISHED / f"r{revision}" / RECORD


# --- the ledger -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class LedgerLine:
    """One release, as the ledger names it."""

    kit: str
    revision: int
    released: str
    """The instant, as its record has it."""
    code: str
    record: str
    """The digest of its record."""
    after: str = ""
    """The digest of everything above this line."""
    line: int = 0
    """Where it stands, counted from 1."""

    @property
    def text(self) -> str:
        return f"- {{kit: {self.kit}, revision: {self.revision}, released: {self.released}, code: {self.code}, record: {self.record}, after: {self.after}}}\n"


@dataclass(frozen=True)
class Ledger:
    """`kits/releases.yaml` as read."""

    file: Path
    head: str
    """The remarks above the first line."""
    entries: tuple[LedgerLine, ...]
    findings: tuple[Finding, ...]
    """What is wrong with it in itself."""

    def place(self, entry: LedgerLine) -> Place:
        return Place(shown(self.file), entry.line)

    def of(self, kit: str) -> list[LedgerLine]:
        """The releases of a kit, in the order of the lines."""
        return [e for e in self.entries if e.kit == kit]

    @property
    def text(self) -> str:
        """The whole ledger anew, every line following from all above it."""
        text = self.head
        for entry in self.entries:
            text += replace(entry, after=digest(text)).text
        return text


def read_ledger(kits: Path) -> Ledger | None:
    """The ledger of an archive; None where there is none.

    Raises:
        UserError: it can't be read at all.
    """
    file = kits / LEDGER
    if not file.exists() and not file.is_symlink():
        return None
    text = _text(file)
    lines = text.splitlines(keepends=True)
    remarks = next((i for i, line in enumerate(lines) if not line.startswith("#")), len(lines))
    head = "".join(lines[:remarks])
    entries: list[LedgerLine] = []
    findings: list[Finding] = []
    above = hashlib.sha256(head.encode())
    beginnings = {above.hexdigest()}
    for number, line in enumerate(lines[remarks:], remarks + 1):
        place = Place(shown(file), number)
        found = _LINE.fullmatch(line.removesuffix("\n"))
        if found is None or not line.endswith("\n"):
            findings.append(Finding("error", place, "releases.no-line"))
        else:
            kit, revision, released, code, record, after = found.groups()
            entry = LedgerLine(kit, int(revision), released, code, record, after, number)
            if after not in beginnings:
                findings.append(Finding("error", place, "releases.not-following", kit=kit, revision=entry.revision))
            if any((e.kit, e.revision) == (kit, entry.revision) for e in entries):
                findings.append(Finding("error", place, "releases.twice", kit=kit, revision=entry.revision))
            entries.append(entry)
        above.update(line.encode())
        beginnings.add(above.hexdigest())
    return Ledger(file, head, tuple(entries), tuple(findings))


def _text(file: Path) -> str:
    place = Place(shown(file))
    try:
        if leads_out(file, file.parent):
            raise UserError("releases.ledger-is-a-link", place=place)
        return read_own(file, LARGEST).decode("utf-8").replace("\r\n", "\n")
    except (OSError, RuntimeError, OverflowError, UnicodeDecodeError):
        raise UserError("releases.unread-ledger", place=place) from None


def appended(kits: Path, entries: Iterable[LedgerLine]) -> dict[Path, bytes]:
    """The ledger with further releases at its end, ready to be written."""
    file = kits / LEDGER
    text = _text(file) if file.exists() else HEAD
    for entry in entries:
        text += replace(entry, after=digest(text)).text
    return {file: text.encode()}


def resealed(kits: Path, bodies: Mapping[tuple[str, int], str]) -> dict[Path, bytes]:
    """Records whose text changes, ready to be written, with the seals of all that follow them and the ledger.

    Args:
        kits: the folder of kits.
        bodies: kit and revision → the new text of its record, without a seal.
    """
    ledger = read_ledger(kits)
    if ledger is None:
        return {record_file(kits, *key): body.encode() for key, body in bodies.items()}
    written: dict[Path, bytes] = {}
    digests: dict[tuple[str, int], str] = {}
    for kit in sorted({kit for kit, _ in bodies}):
        before = ""
        for entry in sorted(ledger.of(kit), key=lambda e: e.revision):
            file = record_file(kits, kit, entry.revision)
            old = read_text(file, shown(file)).replace("\r\n", "\n")
            new, before = sealed(bodies.get((kit, entry.revision), opened(old).body), before)
            digests[kit, entry.revision] = before
            if new != old:
                written[file] = new.encode()
    renewed = replace(ledger, entries=tuple(replace(e, record=digests.get((e.kit, e.revision), e.record)) for e in ledger.entries))
    return written | {ledger.file: renewed.text.encode()} if written else {}
