"""Published corrections: draft one from the changes, publish it, list them.

An erratum is part of the revision that mends the fault. Who spotted it stands in that
person's own file, so that she can be forgotten and the revision stays as it is. What is told
of it is worked out from the two states at any time; its record keeps what was found, and the
author's advice.
"""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import yaml

from kitwright.errors import Place, UserError
from kitwright.files import held
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club, Consent, PersonSpec, Thanks
from kitwright.kit.yamltext import read_yaml
from kitwright.labels import key_of
from kitwright.materials import Range
from kitwright.papers import NamedSize, Weight
from kitwright.release.both import Difference
from kitwright.release.calendar import aware, reveal_of
from kitwright.release.changes import Differences
from kitwright.release.history import Copies, History, copy_now
from kitwright.release.names import Named, find
from kitwright.release.paths import Grade, worst
from kitwright.release.people import PEOPLE, PERSON_FILE, Person, names_in, thanked
from kitwright.release.publish import Draw, publish, ready
from kitwright.release.record import ChangeRecord, ErratumRecord, Plain, Revision, released
from kitwright.release.takeback import NOTHING, Instead
from kitwright.release.values import Value
from kitwright.release.whole import stop_unless_whole
from kitwright.units import Length, Size
from kitwright.work.cite import OPEN
from kitwright.work.worked import Worked

LONGEST_NAME, LONGEST_ADVICE = 120, 2000


@dataclass(frozen=True)
class ErratumDraft:
    """An erratum that is not published yet."""

    new: Worked
    """The kit as it is now."""
    revision: Revision
    """The one that it corrects."""
    changes: Differences
    """From that one to the kit as it is now."""
    groups: tuple[Copies, ...]
    """The copies of every revision, oldest first, against the kit as it is now."""
    warnings: tuple[Finding, ...]
    instead: Instead = NOTHING
    """Later revisions that nobody could have had yet, and that it replaces."""

    @property
    def number(self) -> int:
        """The revision that it will be."""
        return self.revision.number + 1

    @property
    def grade(self) -> Grade:
        return self.changes.grade


def draft(kit: Kit, people: Mapping[str, Person], instead: Instead = NOTHING) -> ErratumDraft:
    """Compare a kit with its revisions.

    Args:
        kit: as it is now.
        people: everybody on file.
        instead: the newest revisions, which nobody could have had yet, and which it would replace; not all of them.

    Raises:
        UserError: it was never released, or nothing differs.
        NotReady: `check` has errors.
    """
    stop_unless_whole(kit.folder.parent, kit.id)
    revisions = released(kit)
    revisions = revisions[: len(revisions) - len(instead.revisions)]
    if not revisions:
        raise UserError("errata.never-released", place=Place(kit.document.file), kit=kit.id)
    new, warnings = ready(kit, people)
    history = History(kit, revisions, copy_now(new))
    found = history.between(len(revisions), history.newest)
    if not found:
        raise UserError("errata.nothing-to-correct", place=Place(kit.document.file), kit=kit.id, revision=len(revisions))
    return ErratumDraft(new, revisions[-1], found, history.groups, tuple(warnings), instead)


def publish_erratum(
    made: ErratumDraft,
    as_of: dt.datetime,
    draw: Draw,
    advice: str = "",
    spotted_by: str | None = None,
    thank: bool = False,
    kits: Path | None = None,
    people: Mapping[str, Person] | None = None,
    was_public: bool = False,
) -> Revision:
    """Publish a draft as the next revision.

    Args:
        made: the draft.
        as_of: the instant that is recorded; later than the revision before.
        draw: draws what readers can download.
        advice: what to do with pieces already cut.
        spotted_by: the whole name, or the key, of who spotted it.
        thank: whether she agreed to be thanked by name; without that nothing of her is kept.
        kits: the folder of kits, where she is noted.
        people: everybody on file.
        was_public: whether the revision before is known to have been out though the kit was not public yet.

    Raises:
        UserError: the time is not after the last revision, the name or the advice is far too long, or the advice names a person.
    """
    at, kit = aware(as_of).replace(microsecond=0), made.new.kit
    if at <= made.revision.at:
        raise UserError("errata.too-early", revision=made.revision.number, at=made.revision.at)
    spotted_by = " ".join((spotted_by or "").split())
    if len(spotted_by) > LONGEST_NAME:
        raise UserError("errata.long-name", letters=len(spotted_by), most=LONGEST_NAME)
    if len(advice) > LONGEST_ADVICE:
        raise UserError("errata.long-advice", letters=len(advice), most=LONGEST_ADVICE)
    if OPEN in advice:
        raise UserError("errata.advice-cites")
    if spotted_by and _mentions(advice, spotted_by):
        raise UserError("errata.advice-names-spotter")
    named = next((person for person, _, whole in names_in(advice, people or {}) if whole), None)
    if named is not None:
        raise UserError("errata.advice-names", name=named.spec.name)
    record = ErratumRecord(
        grade=made.grade,
        affects={group.number: group.grade for group in made.groups},
        changes=[_record(change) for change in made.changes.told],
        besides=[_record(change) for change in made.changes.besides],
        advice=" ".join(advice.split()),
        was_public=was_public or any(r.record.erratum and r.record.erratum.was_public for r in made.instead.revisions),
    )
    kits, people = kits or kit.folder.parent, people or {}
    with held(kits):
        if len(released(kit)) - len(made.instead.revisions) >= made.number:
            raise UserError("errata.published-meanwhile", place=Place(kit.document.file), kit=kit.id, revision=made.number)
        beside: dict[Path, bytes] = {}
        if spotted_by:
            beside |= _left_over(people, kit.id, made.number)
        if spotted_by and thank:
            beside |= thanks_noted(
                kits, people, spotted_by, Thanks(kit=kit.id, revision=made.number), at.astimezone(zone(kit.club.time_zone)).date()
            )
        return publish(made.new, made.number, at, record, draw, beside, made.instead)


def _record(change: Difference) -> ChangeRecord:
    return ChangeRecord(path=change.path, grade=change.grade, was=_plain(change.was), now=_plain(change.now))


def _plain(value: Value) -> Plain:
    """A value as plain data; whole texts and whole sheets stand in what is frozen, and are left out here."""
    match value:
        case Length():
            return str(value.inches)
        case Size():
            return [str(value.width.inches), str(value.height.inches)]
        case Range():
            return [str(value.low), str(value.high)]
        case NamedSize():
            return value.name or _plain(value.size)
        case Weight():
            return value.text
        case int() | Fraction() | str():
            return str(value)
    return ""


def _mentions(text: str, name: str) -> bool:
    return bool(find(text, Named(name)))


def thanks_noted(kits: Path, people: Mapping[str, Person], name: str, thanks: Thanks, day: dt.date) -> dict[Path, bytes]:
    """A person's file in which she is thanked, ready to be written; a new one where there is none."""
    wanted = " ".join(name.split())
    known = next((p for p in people.values() if p.key == wanted or p.spec.name.casefold() == wanted.casefold()), None)
    if known is None:
        key = _new_key(wanted, people)
        spec = PersonSpec(name=wanted, consent=Consent(on=day, to=("name", "thanks")), thanks=[thanks])
        return {kits / PEOPLE / key / PERSON_FILE: _person_text(spec).encode()}
    # Written into her file as it stands, so that comments and order stay.
    file = known.folder / PERSON_FILE
    data = read_yaml(file).data
    agreed = data["consent"].get("to") or []
    agreed = [agreed] if isinstance(agreed, str) else list(agreed)
    data["consent"]["to"] = agreed + [what for what in ("name", "thanks") if what not in agreed]
    noted = data.get("thanks") or []
    entry = {"kit": thanks.kit, "revision": str(thanks.revision)}
    if entry not in noted:
        data["thanks"] = [*noted, entry]
    return {file: yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=110).encode()}


def _left_over(people: Mapping[str, Person], kit: str, revision: int) -> dict[Path, bytes]:
    """Files of people thanked for a revision that is only now to be published, without that: an earlier kitwright left it where a try was cut short."""
    found = {}
    for person in people.values():
        if not any(t.kit == kit and t.revision == revision for t in person.spec.thanks):
            continue
        file = person.folder / PERSON_FILE
        data = read_yaml(file).data
        data["thanks"] = [t for t in data["thanks"] if (t["kit"].strip(), int(t["revision"])) != (kit, revision)]
        if not data["thanks"]:
            del data["thanks"]
        found[file] = yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=110).encode()
    return found


def _new_key(name: str, people: Mapping[str, Person]) -> str:
    key = key_of(name, "reader", 40)
    taken, n = key, 2
    while taken in people:
        taken, n = f"{key}-{n}", n + 1
    return taken


def _person_text(spec: PersonSpec) -> str:
    data = {
        "name": spec.name,
        "consent": {"on": spec.consent.on.isoformat(), "to": list(spec.consent.to)},
        "thanks": [{"kit": t.kit, "revision": str(t.revision)} for t in spec.thanks],
    }
    return yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=110)


# --- listing --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Erratum:
    """A published correction, as it stands at an instant."""

    kit: str
    title: str
    """The kit's title in the revision that mends it."""
    revision: Revision
    """The one that mends it."""
    corrects: Revision
    """The one before."""
    since: dt.datetime
    """From when on the fault was in public, in UTC."""
    first: int
    """The first revision that had it."""
    changes: Differences
    """What it mends."""
    old: Worked
    """The state that it corrects."""
    new: Worked
    """The state that is right."""
    groups: tuple[Copies, ...]
    """The copies of every revision before it, where it is the newest correction of that instant; else none."""
    still_wrong: Mapping[int, Grade]
    """Revisions whose copies have what this mends, and which nothing later has put right otherwise; and what that asks now."""
    advice: str
    """The author's, on pieces already cut; empty once it holds for no copy any more."""
    spotted_by: Person | None
    """Who is thanked for it, if anybody."""
    zone: str
    """The club's time zone when it was published."""
    public: dt.datetime
    """When the correction became public: its release, or the kit's reveal where that is later. In UTC."""
    early: bool
    """Whether it was published before the kit was public, so that only copies handed out to be tested have the slip."""

    @property
    def grade(self) -> Grade:
        """What its changes ask of a reader at most."""
        return self.changes.grade

    @property
    def asks(self) -> Grade:
        """What is to be done now with copies that have what this mends: less, or nothing, where a later revision changed it back."""
        return self.grade if self.groups else worst(self.still_wrong.values())

    @property
    def id(self) -> str:
        """The same for ever."""
        return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'kitwright:erratum/{self.kit}/{self.revision.number}')}"

    @property
    def anchor(self) -> str:
        """Its place on a page of errata."""
        return f"{self.kit}-r{self.revision.number}"

    @property
    def date(self) -> dt.date:
        """The day of the correction, in the club's own time."""
        return self.revision.at.astimezone(zone(self.zone)).date()


def errata(kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[Erratum]:
    """Every correction of a kit that is public at an instant, newest first."""
    at, reveal = aware(as_of), reveal_of(kit, club)
    revisions = [revision for revision in released(kit) if max(revision.at, reveal) <= at]
    history, found = History(kit, revisions), []
    newest = max((r.number for r in revisions if r.record.erratum is not None), default=0)
    for before, after in zip(revisions, revisions[1:]):
        said = after.record.erratum
        if said is None:
            continue
        wrong = history.still_wrong(after.number)
        first = min(wrong, default=before.number)
        old, new = (history.copy(revision.number).worked for revision in (before, after))
        # A reveal that was moved afterwards makes nothing unseen that had come.
        noted = [r.reveal for r in revisions[: after.number] if r.reveal is not None]
        found.append(
            Erratum(
                kit=kit.id,
                title=new.kit.spec.title,
                revision=after,
                corrects=before,
                since=max(revisions[first - 1].at, reveal),
                first=first,
                changes=history.between(before.number, after.number),
                old=old,
                new=new,
                groups=history.groups[: before.number] if after.number == newest else (),
                still_wrong=wrong,
                advice=history.advised(said.advice, wrong),
                spotted_by=next((p for p in thanked(people, kit.id) if p.thanked(kit.id, after.number)), None),
                zone=new.kit.club.time_zone,
                public=max(after.at, reveal),
                early=after.at < min(noted, default=reveal) and not said.was_public,
            )
        )
    return found[::-1]
