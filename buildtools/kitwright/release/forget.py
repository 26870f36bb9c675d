"""Take a person out of every file below `kits/`, whole or not at all.

Her folder goes; `a maker` stands wherever her key or her whole name stood, in every text,
whatever its kind and encoding, comments and the private list included; files and folders
named after her are renamed, and what names them follows. Samples of hers lose their picture.
What can't be changed is listed: what is no text, the ids of kits, the past of a repository.

Frozen revisions hold no names: a release refuses to freeze one. Where a frozen text holds
hers all the same, because she came on file only later, the name is replaced there too and
checksums, seals and the ledger are noted anew, while code, time and number stay.
"""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import yaml

from kitwright.errors import Place, UserError
from kitwright.files import OURS, held
from kitwright.kit.folder import opened as opened_file
from kitwright.kit.kit import Kit
from kitwright.kit.loose import NOT_KITS
from kitwright.kit.model import FORGOTTEN
from kitwright.kit.read import read_club, read_kit, shown
from kitwright.past.kept import FOLDER, WORDS
from kitwright.release import atomic, whole
from kitwright.release.ledger import LEDGER, PUBLISHED, RECORD, opened, resealed
from kitwright.release.names import Named, find_parts, folded, replaced
from kitwright.release.names import find as find_name
from kitwright.release.people import NO_PICTURE, PEOPLE, Person, named_as, read_people
from kitwright.release.publish import Draw, filled
from kitwright.release.publish import written as put
from kitwright.release.record import Revision, read_revision, record_text
from kitwright.release.textfile import buried, decoded, encoded, encodings
from kitwright.release.whole import FILES, checksum

NOWHERE = "https://a-maker.invalid/"
"""Stands for an address of hers where one has to stand; it never leads anywhere (RFC 6761, section 6.4)."""
PICTURES = {".jpg", ".jpeg", ".png", ".webp", ".gif", ".tif", ".tiff", ".bmp", ".avif", ".heic"}
LARGEST = 100_000_000
"""Bytes of a file that is looked into."""


Kept = Literal["link", "id", "unreadable", "buried", "no text", "hidden", "pictures", "old printables", "history"]
"""Why something that may hold her name is kept as it is: a link; the id of a kit; too large, or it can't be read;
her name is in it, and it is no text; it is no text; it is hidden; pictures that nobody can read; old printables, whose words lie beside; the past of a repository."""


@dataclass(frozen=True)
class Unchanged:
    """A file or folder that may still hold her name."""

    file: Path
    why: Kept
    pictures: int = 0
    """How many pictures, or old printables, there are, where these are the reason."""


@dataclass(frozen=True)
class Forgetting:
    """What forgetting a person changes."""

    person: Person
    written: dict[Path, bytes]
    removed: tuple[Path, ...]
    left: tuple[Place, ...]
    """Where a part of her name still stands, which may mean somebody else: for the author to look at."""
    refrozen: tuple[str, ...]
    """Kits of which something published named her."""
    renamed: tuple[tuple[Path, Path], ...]
    """Files and folders with their new names."""
    unchanged: tuple[Unchanged, ...]
    """What may still hold her name and can't be changed."""


def find(kits: Path, name: str) -> Person:
    """Who is meant by a key or a whole name.

    Raises:
        UserError: nobody, or a stopped change that can't be read.
    """
    people = read_people(kits)
    person = people.get(name) or next((p for p in people.values() if folded(p.spec.name) == folded(name)), None)
    if person is None:
        raise UserError("people.nobody-called", name=name, known=tuple(people), place=Place(shown(kits / PEOPLE)))
    return person


def forget(kits: Path, name: str, draw: Draw) -> Forgetting:
    """Take a person out of every file below `kits`.

    Args:
        kits: the folder of kits.
        name: whom.
        draw: draws what readers can download of a revision anew, where something that it froze named her.

    Raises:
        UserError: nobody of that name, something published was touched, or a file can't be changed without harm; nothing was.
    """
    with held(kits):
        atomic.finish(kits)
        planned = plan(kits, find(kits, name), draw)
        atomic.change(kits, planned.written, planned.removed)
    return planned


def plan(kits: Path, person: Person, draw: Draw) -> Forgetting:
    """What is to be written and removed; nothing is done yet.

    Raises:
        UserError: as for `forget`.
    """
    her = _Her.of(kits, person)
    files, links = _below(kits, person.folder)
    moves = _moves(kits, files, her)
    unchanged = [Unchanged(path, "link") for path in links if her.named_in(f"/{path.name}/")]
    unchanged += [Unchanged(kits / kit, "id") for kit in her.kept]
    written: dict[Path, bytes] = {}
    removed: list[Path] = [person.folder]
    left: list[Place] = []
    pictures = old_printables = 0
    for file in files:
        if file.name == FILES and file.relative_to(kits).parts[1:2] == (PUBLISHED,):
            # Drawn from the texts beside it, and drawn anew where those named her.
            continue
        home = moves.get(file, file)
        data = _read(file)
        if data is None and home != file:
            raise UserError("people.named-after-her", place=Place(shown(file)))
        if data is None:
            unchanged.append(Unchanged(file, "unreadable"))
            continue
        # A PDF of letters alone is no text all the same: it says at which byte each part begins.
        names = () if data.startswith(b"%PDF-") else encodings(data)
        new = data
        if file != kits / LEDGER:
            for encoding in names:
                new = encoded(her.taken_from(decoded(new, encoding), file, moves), encoding)
        if names:
            text = decoded(new, names[0])
            left += [Place(shown(home), text.count("\n", 0, at) + 1) for at in find_parts(text, person.spec.name)]
        elif any(her.buried_in(part) for part in buried(data)):
            unchanged.append(Unchanged(file, "buried"))
        elif file.suffix.lower() in PICTURES:
            pictures += 1
        elif (words := _words_of(file)) is not None:
            if her.named_in(words):
                unchanged.append(Unchanged(file, "buried"))
            else:
                old_printables += 1
        else:
            unchanged.append(Unchanged(file, "no text"))
        if (new != data or home != file) and any(part.startswith(".") for part in file.relative_to(kits).parts):
            unchanged.append(Unchanged(file, "hidden"))
            continue
        if new != data and names:
            _sound(file, data, new, names[0])
        if home != file:
            removed.append(file)
        if new != data or home != file:
            written[home] = new
    if pictures:
        unchanged.append(Unchanged(kits, "pictures", pictures))
    if old_printables:
        unchanged.append(Unchanged(kits, "old printables", old_printables))
    if any((above / ".git").exists() for above in (kits, *kits.resolve().parents)):
        unchanged.append(Unchanged(kits, "history"))
    written, refrozen = _published(kits, written, draw)
    renamed = tuple((old, new) for old, new in moves.items() if old != new)
    return Forgetting(
        person,
        written,
        (*removed, *_emptied(kits, removed, written)),
        tuple(dict.fromkeys(left)),
        refrozen,
        renamed,
        tuple(dict.fromkeys(unchanged)),
    )


# --- texts ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Her:
    """Whom to take out, and what must stay."""

    person: Person
    named: Named
    others: tuple[Named, ...]
    kept: tuple[str, ...]
    """Ids of kits that hold her name."""

    @classmethod
    def of(cls, kits: Path, person: Person) -> _Her:
        named = named_as(person)
        ids = [f.name for f in sorted(kits.iterdir()) if f.is_dir() and f.name not in NOT_KITS]
        return cls(
            person,
            named,
            tuple(named_as(p) for p in read_people(kits).values() if p.key != person.key),
            tuple(i for i in ids if find_name(i, named)),
        )

    def named_in(self, text: str) -> bool:
        return bool(find_name(text, self.named, self.others, self.kept))

    def without(self, text: str) -> str:
        return replaced(text, self.named, self.others, self.kept)

    def taken_from(self, text: str, file: Path, moves: dict[Path, Path]) -> str:
        """A text without her, in which renamed files are called by their new names."""
        tree = file.suffix.lower() in (".yaml", ".yml")
        if tree:
            text = _references(text, self.person.key)
        text = _without_link(text, self.person.spec.link, tree)
        for old, new in moves.items():
            if new.name != self.new_name(old.name) and old.parts[: len(file.parent.parts)] == file.parent.parts:
                # One of two that would have had the same name.
                text = re.sub(rf"(?<![\w.-]){re.escape(old.name)}(?![\w-])", new.name, text)
        return self.without(text)

    def new_name(self, name: str) -> str:
        return self.without(f"/{name}/")[1:-1]

    def buried_in(self, data: bytes) -> bool:
        """Whether bytes that are no text hold her name all the same."""
        low = data.lower()
        words = self.person.spec.name.lower().split()
        said = {joint.join(words) for joint in (" ", "-", "_", "")} if len(words) > 1 else set(words)
        said |= {self.person.key} if "-" in self.person.key else set()
        for text in said:
            for encoding in ("utf-8", "utf-16-le", "utf-16-be", "cp1252", "mac_roman"):
                try:
                    needle = text.encode(encoding)
                except UnicodeEncodeError:
                    continue
                found = low.find(needle)
                while found >= 0:
                    around = low[max(0, found - 1) : found] + low[found + len(needle) : found + len(needle) + 1]
                    if encoding.startswith("utf-16") or not re.search(rb"[a-z]", around):
                        return True
                    found = low.find(needle, found + 1)
        return False


def _without_link(text: str, link: str | None, tree: bool) -> str:
    """A text without her address, with or without what may stand before and after it."""
    core = re.sub(r"^https?://(www\.)?|/+$", "", link or "", flags=re.IGNORECASE)
    if not core:
        return text
    address = rf"(?:https?://)?(?:www\.)?{re.escape(core)}(?![\w.-]*\w)(?:/(?![^\s\"'<>)\]]))?"
    if "/" not in core:
        # The whole of it is hers: whatever lies below it too.
        address = rf"(?:https?://)?(?<![\w.-])(?:www\.)?{re.escape(core)}(?![\w-]|\.\w)(?:[/?#][^\s\"'<>)\]]*)?"
    text = re.sub(rf"\[([^\]\n]*)\]\(\s*<?{address}>?(?:\s+[^)\n]*)?\)", r"\1", text, flags=re.IGNORECASE)
    if tree:
        text = re.sub(rf"((?:address|link|url)['\"]?:\s+['\"]?){address}", rf"\g<1>{NOWHERE}", text, flags=re.IGNORECASE)
    return re.sub(address, "", text, flags=re.IGNORECASE)


def _references(text: str, key: str) -> str:
    """Scalars of a YAML text that name a person by her key, replaced where they stand."""
    try:
        node = yaml.compose(text, Loader=yaml.SafeLoader)
    except (yaml.YAMLError, RecursionError):
        return text
    spans: list[tuple[int, int, str]] = []

    def walk(node: yaml.Node | None) -> None:
        if isinstance(node, yaml.SequenceNode):
            for item in node.value:
                walk(item)
        elif isinstance(node, yaml.MappingNode):
            pairs = {k.value: v for k, v in node.value if isinstance(k, yaml.ScalarNode)}
            hers = False
            for name in ("by", "who"):
                value = pairs.get(name)
                if isinstance(value, yaml.ScalarNode) and value.value == key:
                    spans.append((value.start_mark.index, value.end_mark.index, FORGOTTEN))
                    hers = True
            photo = pairs.get("photo")
            if hers and isinstance(photo, yaml.ScalarNode):
                spans.append((photo.start_mark.index, photo.end_mark.index, NO_PICTURE))
            for value in pairs.values():
                walk(value)

    walk(node)
    # Typed as the key alone, where a team or the guests are listed.
    if isinstance(node, yaml.MappingNode):
        for name, value in ((k.value, v) for k, v in node.value if isinstance(k, yaml.ScalarNode)):
            if name in ("team", "guests") and isinstance(value, yaml.SequenceNode):
                spans += [
                    (i.start_mark.index, i.end_mark.index, FORGOTTEN)
                    for i in value.value
                    if isinstance(i, yaml.ScalarNode) and i.value == key
                ]
    for start, end, new in sorted(set(spans), reverse=True):
        text = text[:start] + new + text[end:]
    return text


def without(text: str, person: Person, *, references: bool) -> str:
    """A text without a person: her references become `a maker`, her samples lose their picture."""
    if references:
        text = _references(text, person.key)
    return replaced(_without_link(text, person.spec.link, references), Named(person.spec.name, person.key))


def _sound(file: Path, before: bytes, after: bytes, encoding: str) -> None:
    """Refuse a change after which a spec or other data would not be what it was.

    Raises:
        UserError: so it would be.
    """
    if file.suffix.lower() not in (".yaml", ".yml"):
        return
    try:
        was = _shape(yaml.compose(decoded(before, encoding), Loader=yaml.SafeLoader))
    except (yaml.YAMLError, RecursionError):
        return
    try:
        if was == _shape(yaml.compose(decoded(after, encoding), Loader=yaml.SafeLoader)):
            return
    except (yaml.YAMLError, RecursionError):
        pass
    raise UserError("people.other-meaning", place=Place(shown(file)))


def _shape(node: yaml.Node | None) -> object:
    if isinstance(node, yaml.MappingNode):
        pairs = [(k.value if isinstance(k, yaml.ScalarNode) else "", _shape(v)) for k, v in node.value]
        # Names may change, but two of them not into one.
        return [len({k for k, _ in pairs}), [v for _, v in pairs]]
    return [_shape(item) for item in node.value] if isinstance(node, yaml.SequenceNode) else 0


# --- files ----------------------------------------------------------------------------------------


def _below(kits: Path, hers: Path) -> tuple[list[Path], list[Path]]:
    """Every file below the folder of kits that is not in her own, and every link; nothing behind a link."""
    files, links = [], []
    for here, folders, names in os.walk(kits):
        links += [Path(here, n) for n in (*folders, *names) if Path(here, n).is_symlink()]
        folders[:] = sorted(
            n for n in folders if n != ".git" and not n.startswith(OURS) and Path(here, n) != hers and not Path(here, n).is_symlink()
        )
        files += [
            Path(here, n) for n in sorted(names) if not n.startswith(OURS) and Path(here, n).is_file() and not Path(here, n).is_symlink()
        ]
    return files, links


def _words_of(file: Path) -> str | None:
    """The words that an import took from an old printable, which stand beside it; None where this is none."""
    words = file.parent / FOLDER / WORDS
    data = _read(words) if file.suffix.lower() == ".pdf" and not words.is_symlink() else None
    return None if data is None else data.decode("utf-8", "replace")


def _read(file: Path) -> bytes | None:
    try:
        with opened_file(file) as stream:
            data = stream.read(LARGEST + 1)
    except OSError:
        return None
    return data if len(data) <= LARGEST else None


def _moves(kits: Path, files: list[Path], her: _Her) -> dict[Path, Path]:
    """Where files go that are named after her, or lie in a folder that is; those alone that move."""
    folders: dict[Path, Path] = {}
    taken = set(files) | {above for f in files for above in f.parents}

    def moved(path: Path, settled: Path) -> Path:
        wanted = settled / her.new_name(path.name)
        if wanted.name == path.name:
            return settled / path.name
        stem, n, free = wanted.stem, 2, wanted
        while free in taken:
            free, n = wanted.with_name(f"{stem}-{n}{wanted.suffix}"), n + 1
        taken.add(free)
        return free

    def folder(path: Path) -> Path:
        """The folder as it will be called. Kits, people and what was published keep their names."""
        parts = path.relative_to(kits).parts
        if len(parts) < 2 or parts[0] == PEOPLE and len(parts) == 2 or parts[1] == PUBLISHED:
            return path
        if path not in folders:
            folders[path] = moved(path, folder(path.parent))
        return folders[path]

    found = {}
    for file in files:
        settled = folder(file.parent)
        home = settled / file.name if PUBLISHED in file.relative_to(kits).parts[1:2] else moved(file, settled)
        if home != file:
            found[file] = home
    return found


def _emptied(kits: Path, removed: list[Path], written: Iterable[Path]) -> Iterator[Path]:
    """The topmost folders in which nothing stays and nothing new will stand."""
    gone, filled = set(removed), {above for file in written for above in file.parents}
    for file in removed[1:]:
        for above in reversed(file.relative_to(kits).parents):
            folder = kits / above
            if len(above.parts) > 1 and folder not in gone and folder not in filled:
                inside = [f for f in folder.rglob("*") if not f.is_dir() or f.is_symlink()]
                if inside and all(f in gone for f in inside):
                    gone.add(folder)
                    yield folder
                    break


# --- what was published ---------------------------------------------------------------------------


def _published(kits: Path, written: dict[Path, bytes], draw: Draw) -> tuple[dict[Path, bytes], tuple[str, ...]]:
    """The same with the records of touched revisions noted anew, their seals and the ledger; and of which kits."""
    revisions: dict[Path, set[str]] = {}
    for file in written:
        folder = next((p for p in file.parents if p.parent.name == PUBLISHED and p.parent.parent.parent == kits), None)
        if folder is not None:
            revisions.setdefault(folder, set()).add(file.relative_to(folder).as_posix())
    touched = tuple(sorted({folder.parent.parent.name for folder in revisions}))
    for kit in touched:
        # What is noted anew must be what was published.
        whole.stop_unless_untouched(kits, kit)
    bodies = {}
    rest = dict(written)
    for folder, names in revisions.items():
        rest.pop(folder / RECORD, None)
        body, drawn = _kept_anew(kits, folder, names, written, draw)
        bodies[folder.parent.parent.name, int(folder.name[1:])] = body
        rest |= drawn
    return rest | resealed(kits, bodies), touched


def _kept_anew(kits: Path, folder: Path, names: set[str], written: dict[Path, bytes], draw: Draw) -> tuple[str, dict[Path, bytes]]:
    """A record without its seal, with the checksums of what is kept as it will be, and the files drawn anew, where they were kept."""
    kit = folder.parent.parent.name
    old = read_revision(kit, folder)
    body = opened(written.get(folder / RECORD, (folder / RECORD).read_bytes()).decode()).body
    if not names - {RECORD}:
        return body, {}
    with tempfile.TemporaryDirectory(prefix="kitwright-") as aside:
        said, texts = _aside(folder, body, written, Path(aside))
        blank = replace(said, record=said.record.model_copy(update={"reworded": True, "before": "", "digest": ""}))
        before = None
        if old.number > 1:
            # What it corrects is told by what the one before will say.
            there = folder.with_name(f"r{old.number - 1}")
            before, _ = _aside(there, (written.get(there / RECORD) or (there / RECORD).read_bytes()).decode(), written, Path(aside))
        try:
            read = read_kit(kits / kit, read_club(kits))
            if not isinstance(read, Kit):
                raise UserError("releases.past-kit", place=Place(read.document.file), kit=kit)
            record, kept = filled(read, blank, texts, draw, before)
        except UserError:
            if old.keeps:
                raise
            # Then how its printables are drawn now can't be said.
            return record_text(blank.record.model_copy(update={"frozen": {n: checksum(n, d) for n, d in texts.items()}})), {}
    if not old.keeps:
        drawn = {name: record.files.get(name, was) for name, was in old.record.printables.items()}
        frozen = {name: said for name, said in record.frozen.items() if name != FILES}
        return record_text(record.model_copy(update={"files": {}, "printables": drawn, "frozen": frozen})), {}
    return record_text(record), {folder / FILES: kept[FILES]}


def _aside(folder: Path, body: str, written: dict[Path, bytes], aside: Path) -> tuple[Revision, dict[str, bytes]]:
    """A revision as it will be, put aside, and its texts."""
    kit, home = folder.parent.parent.name, aside / folder.name
    old = read_revision(kit, folder)
    texts = {name: written.get(folder / name, (folder / name).read_bytes()) for name in old.record.frozen if name != FILES}
    put(home, {**texts, RECORD: body.encode()})
    said = read_revision(kit, home)
    return replace(said, record=said.record.model_copy(update={"frozen": {n: checksum(n, d) for n, d in texts.items()}})), texts


__all__ = ["Forgetting", "find", "forget", "plan", "without"]
