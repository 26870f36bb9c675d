"""Take a person out of every file below `kits/`, whole or not at all.

Her folder goes; `a maker` stands wherever her key or her whole name stood, comments and the
private list included; samples of hers lose their picture. Frozen revisions hold no names:
a release refuses to freeze one. Where a frozen text holds hers all the same, because she
came on file only later, the name is replaced there too and the checksums are noted anew,
while code, time and number stay.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import yaml

from kitwright.errors import Place, UserError
from kitwright.kit.model import FORGOTTEN
from kitwright.kit.read import shown
from kitwright.release import atomic
from kitwright.release.people import NO_PICTURE, PEOPLE, PRIVATE_FILE, Person, name_pattern, read_people
from kitwright.release.ledger import PUBLISHED, RECORD, opened, resealed
from kitwright.release.whole import text_checksum

TEXTS = {".yaml", ".yml", ".md", ".txt", ".json", ".svg", ".csv"}


@dataclass(frozen=True)
class Forgetting:
    """What forgetting a person changes."""

    person: Person
    written: dict[Path, bytes]
    removed: tuple[Path, ...]
    left: tuple[Place, ...]
    """Where a part of her name still stands, which may mean somebody else: for the author to look at."""
    refrozen: tuple[str, ...]
    """Kits of which a frozen text named her, so that their printables are to be drawn anew."""


def find(kits: Path, name: str) -> Person:
    """Who is meant by a key or a whole name.

    Raises:
        UserError: nobody, or a stopped change that can't be read.
    """
    people = read_people(kits)
    wanted = " ".join(name.split()).casefold()
    person = people.get(name) or next((p for p in people.values() if " ".join(p.spec.name.split()).casefold() == wanted), None)
    if person is None:
        raise UserError(f"there is nobody called {name[:60]} in kits/people", f"on file: {', '.join(people) or 'nobody'}", Place(shown(kits / PEOPLE)))
    return person


def plan(kits: Path, person: Person) -> Forgetting:
    """What is to be written and removed; nothing is done yet."""
    written: dict[Path, bytes] = {}
    removed, left, refrozen = [person.folder], [], set()
    records: dict[Path, set[str]] = {}
    for file in sorted(f for f in kits.rglob("*") if f.is_file() and f.suffix.lower() in TEXTS and person.folder not in f.parents):
        try:
            text = file.read_bytes().decode("utf-8")
        except UnicodeDecodeError:
            continue
        new = _private(text, person) if file == kits / PEOPLE / PRIVATE_FILE else without(text, person, references=file.suffix in (".yaml", ".yml"))
        if new != text:
            written[file] = new.encode()
            if PUBLISHED in file.relative_to(kits).parts:
                revision = next(p for p in file.parents if p.parent.name == PUBLISHED)
                records.setdefault(revision, set()).add(file.relative_to(revision).as_posix())
                refrozen.add(file.relative_to(kits).parts[0])
        left += [Place(shown(file), new.count("\n", 0, m.start()) + 1) for part in person.spec.name.split() if len(part) > 2
                 for m in re.finditer(rf"(?<!\w){re.escape(part)}(?!\w)", new)]
    for revision, names in records.items():
        _renew_checksums(revision, names, written)
    written |= resealed(kits, {(r.parent.parent.name, int(r.name[1:])): opened(written.pop(r / RECORD).decode()).body for r in records})
    return Forgetting(person, written, tuple(removed), tuple(dict.fromkeys(left)), tuple(sorted(refrozen)))


def forget(kits: Path, name: str) -> Forgetting:
    """Take a person out of every file below `kits`.

    Raises:
        UserError: nobody of that name.
    """
    atomic.finish(kits)
    planned = plan(kits, find(kits, name))
    atomic.change(kits, planned.written, planned.removed)
    return planned


def _renew_checksums(revision: Path, names: set[str], written: dict[Path, bytes]) -> None:
    """The record of a revision with the checksums of the frozen texts as they will stand, and a word that they are not those of its code."""
    record = revision / RECORD
    text = opened(written.get(record, record.read_bytes()).decode()).body
    for name in sorted(names - {RECORD}):
        before, after = text_checksum((revision / name).read_bytes()), text_checksum(written[revision / name])
        text = text.replace(before, after)
        if not re.search(r"^reworded:", text, re.MULTILINE):
            text += "reworded: true\n"
    written[record] = text.encode()


def without(text: str, person: Person, *, references: bool) -> str:
    """A text without a person: her references become `a maker`, her samples lose their picture."""
    if references:
        text = _references(text, person.key)
    text = name_pattern(person.spec.name).sub(FORGOTTEN, text)
    for private in (person.spec.link,):
        if private:
            text = text.replace(private, "")
    # Her key in comments and in file names that a comment tells.
    return re.sub(rf"(?<![\w-]){re.escape(person.key)}(?![\w-])", FORGOTTEN, text) if _is_hers(person) else text


def _is_hers(person: Person) -> bool:
    """Whether a key is hers alone, and not a common word that may name a paper as well."""
    return "-" in person.key


def _references(text: str, key: str) -> str:
    """Scalars of a YAML text that name a person by her key, replaced where they stand."""
    try:
        node = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError:
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
                spans += [(i.start_mark.index, i.end_mark.index, FORGOTTEN) for i in value.value if isinstance(i, yaml.ScalarNode) and i.value == key]
    for start, end, new in sorted(spans, reverse=True):
        text = text[:start] + new + text[end:]
    return text


def _private(text: str, person: Person) -> str:
    """The private list without her entry."""
    return name_pattern(person.spec.name).sub(FORGOTTEN, text)


def refreeze_drawings(kits: Path, planned: Forgetting) -> None:
    """Note anew how the printables of touched revisions are drawn, now that a text in them has changed."""
    from kitwright.kit.read import Kit, read_club, read_kit
    from kitwright.release.revisions import redraw
    for name in planned.refrozen:
        kit = read_kit(kits / name, read_club(kits))
        if isinstance(kit, Kit):
            redraw(kit)


def mentions(kits: Path, person: Person) -> list[Path]:
    """Files below `kits` that still hold her whole name, her key or her link in any byte."""
    needles = [person.spec.name.encode(), person.spec.name.lower().encode(), person.key.encode(), *([person.spec.link.encode()] if person.spec.link else [])]
    return [f for f in sorted(kits.rglob("*")) if f.is_file() and any(n in f.read_bytes() for n in needles)]


__all__ = ["Forgetting", "find", "forget", "mentions", "plan", "refreeze_drawings", "without"]
