"""Seals of records, and the ledger of all releases: `kits/releases.yaml`, a line for each, in order.

A release that nobody could have had yet may be taken back. Its line stays, and a further line
says so, with the instant at which it would have become public: what was taken back is never
guessed from what is missing. A change of the club's time zone that she agreed to is a line too.

A record ends in the digest of the record before it and its own, so that a kit's revisions
form a chain. The ledger names every record with its digest, and each of its lines carries the
digest of everything above it. Nothing of it is secret: it is there so that no change goes
unnoticed, not to prove who made it.

Two people who publish on two copies of the archive each append a line. After a merge both
stand, the second following from what stood above the first: so a line may follow from any
beginning of the ledger above it, and what is published next follows from all of it.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.folder import MB, leads_out, read_own
from kitwright.kit.loose import PUBLISHED as PUBLISHED
from kitwright.kit.read import shown
from kitwright.kit.yamltext import read_text

LEDGER, RECORD = "releases.yaml", "release.yaml"
HEAD = "# Written by kitwright: every release, in the order of publishing. Keep it with the kits, and don't edit it.\n"
FORMAT = 3
"""The form of a record that is written now. 1, which no record says, kept no results and no files; 2 said no reveal. Lines of the ledger that came later say the form they came with."""
LARGEST = 20 * MB
"""Bytes of a ledger: some seventy thousand releases."""
_HEX = "[0-9a-f]{64}"
_LINE = re.compile(rf"- \{{kit: (\S+), revision: ([1-9][0-9]*), released: (\S+), code: (\S+), record: ({_HEX}), after: ({_HEX})\}}")
_BACK = re.compile(
    rf"- \{{format: 3, taken back: (\S+), kit: (\S+), revision: ([1-9][0-9]*), public: (\S+), code: (\S+), record: ({_HEX}), after: ({_HEX}), own: {_HEX}\}}"
)
_ZONE = re.compile(rf"- \{{format: 3, time zone: (\S+), was: (\S+), since: (\S+), after: ({_HEX}), own: {_HEX}\}}")
_LATER = re.compile(r"- \{format: ([0-9]{1,9}), .*\}")
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
class TakenBack:
    """A release that was taken back, since nobody could have had it."""

    kit: str
    revision: int
    at: str
    """The instant at which it was taken back."""
    public: str
    """The instant from which on readers could have had it, as it was known then; later than that."""
    code: str
    record: str
    """The digest of the record that it had."""
    after: str = ""
    line: int = 0

    @property
    def text(self) -> str:
        return _with_own(
            {"taken back": self.at, "kit": self.kit, "revision": self.revision, "public": self.public, "code": self.code}
            | {"record": self.record, "after": self.after}
        )

    def undoes(self, entry: LedgerLine) -> bool:
        """Whether it is this release that was taken back."""
        return (entry.kit, entry.revision, entry.code, entry.record) == (self.kit, self.revision, self.code, self.record)

    @property
    def in_time(self) -> bool:
        """Whether it was taken back before anybody could have had it."""
        try:
            return dt.datetime.fromisoformat(self.at) < dt.datetime.fromisoformat(self.public)
        except (ValueError, TypeError):
            return False


@dataclass(frozen=True)
class ZoneMove:
    """A change of the club's time zone, from an instant on."""

    now: str
    was: str
    since: str
    """The instant at which she agreed to it."""
    after: str = ""
    line: int = 0

    @property
    def text(self) -> str:
        return _with_own({"time zone": self.now, "was": self.was, "since": self.since, "after": self.after})


def _with_own(values: Mapping[str, object]) -> str:
    """A line that no record stands behind, with its own digest: as the last one nothing else would guard it."""
    plain = "- {" + ", ".join(f"{key}: {value}" for key, value in {"format": 3, **values}.items())
    return f"{plain}, own: {digest(plain)}}}\n"


Line = LedgerLine | TakenBack | ZoneMove


@dataclass(frozen=True)
class Ledger:
    """`kits/releases.yaml` as read."""

    file: Path
    head: str
    """The remarks above the first line."""
    lines: tuple[Line, ...]
    """All, in their order."""
    entries: tuple[LedgerLine, ...]
    """The releases that stand: those that were not taken back."""
    findings: tuple[Finding, ...]
    """What is wrong with it in itself."""

    def place(self, entry: Line) -> Place:
        return Place(shown(self.file), entry.line)

    def of(self, kit: str) -> list[LedgerLine]:
        """The releases of a kit that stand, in the order of the lines."""
        return [e for e in self.entries if e.kit == kit]

    def taken_back(self, kit: str) -> list[TakenBack]:
        """The releases of a kit that were taken back, in the order of the lines."""
        return [e for e in self.lines if isinstance(e, TakenBack) and e.kit == kit]

    @property
    def gone(self) -> frozenset[tuple[str, int]]:
        """Kit and revision of whatever was taken back and not released again."""
        back = {(e.kit, e.revision) for e in self.lines if isinstance(e, TakenBack)}
        return frozenset(back - {(e.kit, e.revision) for e in self.entries})

    @property
    def zones(self) -> tuple[ZoneMove, ...]:
        """Every change of the club's time zone."""
        return tuple(e for e in self.lines if isinstance(e, ZoneMove))

    @property
    def text(self) -> str:
        """The whole ledger anew, every line following from all above it."""
        return _followed(self.head, self.lines)


def _followed(text: str, lines: Iterable[Line]) -> str:
    """Some text with further lines, each following from all above it."""
    for line in lines:
        text += replace(line, after=digest(text)).text
    return text


def read_ledger(kits: Path) -> Ledger | None:
    """The ledger of an archive; None where there is none.

    Raises:
        UserError: it can't be read at all.
    """
    file = kits / LEDGER
    if not file.exists() and not file.is_symlink():
        return None
    return read_lines(file, _text(file))


def zone_moves(kits: Path) -> tuple[ZoneMove, ...]:
    """Every change of the club's time zone, in the order of the lines; none where there is no ledger that can be read."""
    file = kits / LEDGER
    try:
        now = file.stat()
    except OSError:
        return ()
    return _zone_moves(file, now.st_mtime_ns, now.st_size)


@lru_cache(maxsize=16)
def _zone_moves(file: Path, _when: int, _size: int) -> tuple[ZoneMove, ...]:
    """The same, read once for a state of the file: every moment asks."""
    try:
        text = _text(file)
    except UserError:
        return ()
    return read_lines(file, text).zones if ", time zone: " in text else ()


def read_lines(file: Path, text: str) -> Ledger:
    """A ledger from its text, which may not be written yet."""
    return _read_lines(file, shown(file), text)


@lru_cache(maxsize=4)
def _read_lines(file: Path, named: Path, text: str) -> Ledger:
    """The same, read once for a text: every kit asks."""
    lines = text.splitlines(keepends=True)
    remarks = next((i for i, line in enumerate(lines) if not line.startswith("#")), len(lines))
    head = "".join(lines[:remarks])
    read: list[Line] = []
    standing: list[LedgerLine] = []
    findings: list[Finding] = []
    above = hashlib.sha256(head.encode())
    beginnings = {above.hexdigest()}

    def wrong(code: str, place: Place, **values: object) -> None:
        findings.append(Finding("error", place, code, **values))

    for number, line in enumerate(lines[remarks:], remarks + 1):
        entry, place = _line(line, number), Place(named, number)
        if entry is None:
            later = _LATER.fullmatch(line.removesuffix("\n"))
            if later and int(later[1]) > FORMAT:
                wrong("releases.newer", place, format=int(later[1]), known=FORMAT, kitwright="")
            else:
                wrong("releases.no-line", place)
        else:
            if entry.after not in beginnings:
                if isinstance(entry, ZoneMove):
                    wrong("releases.zone-not-following", place)
                else:
                    wrong("releases.not-following", place, kit=entry.kit, revision=entry.revision)
            if isinstance(entry, LedgerLine):
                if any((e.kit, e.revision) == (entry.kit, entry.revision) for e in standing):
                    wrong("releases.twice", place, kit=entry.kit, revision=entry.revision)
                standing.append(entry)
            elif isinstance(entry, TakenBack):
                # The newest alone, and none that readers could have had: else a line by hand would undo what was published.
                last = max((e for e in standing if e.kit == entry.kit), key=lambda e: e.revision, default=None)
                if last is None or not entry.undoes(last):
                    wrong("releases.nothing-to-take-back", place, kit=entry.kit, revision=entry.revision)
                elif not entry.in_time:
                    wrong("releases.taken-back-too-late", place, kit=entry.kit, revision=entry.revision)
                else:
                    standing.remove(last)
            read.append(entry)
        above.update(line.encode())
        beginnings.add(above.hexdigest())
    return Ledger(file, head, tuple(read), tuple(standing), tuple(findings))


def _line(text: str, number: int) -> Line | None:
    """A line of the ledger taken apart; None where it is none, or of a form that is not known."""
    plain = text.removesuffix("\n")
    if not text.endswith("\n"):
        return None
    if found := _LINE.fullmatch(plain):
        kit, revision, released, code, record, after = found.groups()
        return LedgerLine(kit, int(revision), released, code, record, after, number)
    entry: TakenBack | ZoneMove
    if found := _BACK.fullmatch(plain):
        at, kit, revision, public, code, record, after = found.groups()
        entry = TakenBack(kit, int(revision), at, public, code, record, after, number)
    elif found := _ZONE.fullmatch(plain):
        now, was, since, after = found.groups()
        entry = ZoneMove(now, was, since, after, number)
    else:
        return None
    return entry if entry.text == text and (isinstance(entry, TakenBack) or _is_a_move(entry)) else None


def _is_a_move(entry: ZoneMove) -> bool:
    """Whether zones and instant can be read: the ledger may come from a stranger, and every moment is read by them."""
    try:
        zone(entry.was), zone(entry.now)
        return dt.datetime.fromisoformat(entry.since).tzinfo is not None
    except (UserError, ValueError):
        return False


def _text(file: Path) -> str:
    place = Place(shown(file))
    try:
        if leads_out(file, file.parent):
            raise UserError("releases.ledger-is-a-link", place=place)
        return read_own(file, LARGEST).decode("utf-8").replace("\r\n", "\n")
    except (OSError, RuntimeError, OverflowError, UnicodeDecodeError):
        raise UserError("releases.unread-ledger", place=place) from None


def appended(kits: Path, entries: Iterable[Line]) -> dict[Path, bytes]:
    """The ledger with further lines at its end, ready to be written."""
    file = kits / LEDGER
    return {file: _followed(_text(file) if file.exists() else HEAD, entries).encode()}


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
    standing = {entry.line: digests.get((entry.kit, entry.revision), entry.record) for entry in ledger.entries}
    lines = (
        replace(line, record=standing[line.line]) if isinstance(line, LedgerLine) and line.line in standing else line
        for line in ledger.lines
    )
    renewed = replace(ledger, lines=tuple(lines))
    return written | {ledger.file: renewed.text.encode()} if written else {}
