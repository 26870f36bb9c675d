"""Published corrections: draft one from the differences, publish it, list them.

An erratum is part of the revision that mends the fault. Who spotted it stands in that
person's own file, so that she can be forgotten and the revision stays as it is.
"""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

import yaml

from kitwright.errors import Place, UserError
from kitwright.files import held
from kitwright.findings import Finding
from kitwright.kit.model import Club, Consent, PersonSpec, Thanks
from kitwright.kit.read import Kit
from kitwright.kit.yamltext import read_yaml
from kitwright.release.calendar import aware, reveal_of, zone
from kitwright.release.diff import GRADE_WORDS, Difference, Grade, differences, worst
from kitwright.release.names import Named, find
from kitwright.release.numbers import ROOM, room_of
from kitwright.release.people import PEOPLE, PERSON_FILE, Person, names_in
from kitwright.release.publish import publish, ready
from kitwright.release.record import ChangeRecord, ErratumRecord, Revision, published_numbers, released
from kitwright.release.revisions import frozen, other_numbers
from kitwright.release.state import club_state, own_state
from kitwright.release.whole import stop_unless_whole
from kitwright.telling.words import date_text, led, listed
from kitwright.units import size_text
from kitwright.work.cite import OPEN
from kitwright.work.worked import Worked, work

LONGEST_NAME, LONGEST_ADVICE = 120, 2000


@dataclass(frozen=True)
class Draft:
    """An erratum that is not published yet."""

    old: Worked
    """The last revision."""
    new: Worked
    """The kit as it is now."""
    revision: Revision
    """The one that it corrects."""
    since: int
    """The first revision that had the fault."""
    differences: tuple[Difference, ...]
    warnings: tuple[Finding, ...]

    @property
    def number(self) -> int:
        """The revision that it will be."""
        return self.revision.number + 1

    @property
    def grade(self) -> Grade:
        return worst(self.differences)

    def lines(self) -> list[str]:
        """The draft in words, a line for each difference."""
        return [f"{sentence(d.words)} ({GRADE_WORDS[d.grade]})" for d in self.differences]


def sentence(words: str) -> str:
    """Words as a sentence. A label that leads it is a capital already."""
    return led(words) + "."


def draft(kit: Kit, people: Mapping[str, Person]) -> Draft:
    """Compare a kit with its last revision.

    Raises:
        UserError: it was never released, or nothing differs.
        NotReady: `check` has errors.
    """
    stop_unless_whole(kit.folder.parent, kit.id)
    revisions = released(kit)
    if not revisions:
        raise UserError(
            f"{kit.id} was never released, so there is nothing to correct",
            f"release it with  kitwright release {kit.id}",
            Place(kit.document.file),
        )
    new, warnings = ready(kit, people)
    last = revisions[-1]
    old = work(frozen(kit, last))
    anew = renewed(old, last)
    if own_state(old) == own_state(new) and club_state(old) == club_state(new) and not anew:
        raise UserError(
            f"{kit.id} is as revision {last.number} has it, so there is nothing to correct",
            "change the kit first",
            Place(kit.document.file),
        )
    found = differences(old, new) or anew
    told = {d.words for d in found if d.grade != "cosmetic"} or {d.words for d in found}
    since = last.number
    for earlier in reversed(revisions[:-1]):
        if not told <= {d.words for d in differences(work(frozen(kit, earlier)), new)}:
            break
        since = earlier.number
    return Draft(old, new, last, since, tuple(found), tuple(warnings))


def renewed(old: Worked, revision: Revision) -> list[Difference]:
    """What a renewed kitwright works out otherwise than was published, from one and the same spec."""
    changed = other_numbers(revision, old)
    found = []
    if ROOM in changed and old.enclosed.room:
        changed.remove(ROOM)
        was, now = room_of(published_numbers(revision)), old.enclosed.room
        unit = old.kit.spec.unit
        found.append(
            Difference(
                "words",
                "write in",
                f"the envelope leaves {size_text(now, unit)} of room" + (f", not {size_text(was, unit)}" if was else ""),
                size_text(was, unit) if was else "",
                size_text(now, unit),
            )
        )
    if changed:
        found.insert(0, Difference("cut", "recut", f"worked out anew, with another outcome: {listed(changed)}; see the new guides"))
    return found


def publish_erratum(
    made: Draft,
    as_of: dt.datetime,
    advice: str = "",
    spotted_by: str | None = None,
    thank: bool = False,
    kits: Path | None = None,
    people: Mapping[str, Person] | None = None,
) -> Revision:
    """Publish a draft as the next revision.

    Args:
        made: the draft.
        as_of: the instant that is recorded; later than the revision before.
        advice: what to do with pieces already cut.
        spotted_by: the whole name, or the key, of who spotted it.
        thank: whether she agreed to be thanked by name; without that nothing of her is kept.
        kits: the folder of kits, where she is noted.
        people: everybody on file.

    Raises:
        UserError: the time is not after the last revision, the name or the advice is far too long, or the advice names a person.
    """
    at, kit = aware(as_of).replace(microsecond=0), made.new.kit
    if at <= made.revision.at:
        raise UserError(
            f"revision {made.revision.number} is dated {made.revision.at:%Y-%m-%d %H:%M} UTC, and a correction comes after it",
            "give a later time with --as-of",
        )
    spotted_by = " ".join((spotted_by or "").split())
    if len(spotted_by) > LONGEST_NAME:
        raise UserError(f"a name has {LONGEST_NAME} letters at most, not {len(spotted_by)}", "give the name alone after --spotted-by")
    if len(advice) > LONGEST_ADVICE:
        raise UserError(
            f"the advice has {len(advice)} letters, and {LONGEST_ADVICE} are the most",
            "say in a sentence or two what to do with pieces already cut",
        )
    if OPEN in advice:
        raise UserError("nothing can be cited in the advice", "write the size or the count out")
    if spotted_by and _mentions(advice, spotted_by):
        raise UserError("the advice names who spotted it, and would be frozen with the name", "take the name out; she is thanked beside it")
    named = next((person for person, _, whole in names_in(advice, people or {}) if whole), None)
    if named is not None:
        raise UserError(
            f"the advice names {named.spec.name}, who may ask one day to be forgotten, and would be frozen with the name",
            "take the name out",
        )
    record = ErratumRecord(
        grade=made.grade,
        since=made.since,
        advice=" ".join(advice.split()),
        changes=[ChangeRecord(grade=d.grade, words=d.words, was=d.was, now=d.now) for d in made.differences],
    )
    kits, people = kits or kit.folder.parent, people or {}
    with held(kits):
        if len(released(kit)) >= made.number:
            raise UserError(
                f"revision {made.number} of {kit.id} was published meanwhile",
                "look at it, and draft the correction again if it is still needed; nothing was changed",
                Place(kit.document.file),
            )
        beside: dict[Path, bytes] = {}
        if spotted_by:
            beside |= _left_over(people, kit.id, made.number)
        if spotted_by and thank:
            beside |= thanks_noted(
                kits, people, spotted_by, Thanks(kit=kit.id, revision=made.number), at.astimezone(zone(kit.club.time_zone)).date()
            )
        return publish(made.new, made.number, at, record, beside)


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
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    key = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-")
    if not key or not key[0].isalpha():
        key = f"reader-{key}".strip("-")
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

TO_DO: dict[Grade, str] = {
    "cosmetic": "Nothing need be done.",
    "write in": "Write the change on your copy by hand, or print the new one.",
    "recut": "Print the new one, and cut the pieces named here again.",
}
"""What a grade asks of a reader who has an old copy."""


@dataclass(frozen=True)
class Erratum:
    """A published correction, as a page tells it."""

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
    changes: tuple[ChangeRecord, ...]
    grade: Grade
    advice: str
    spotted_by: Person | None
    """Who is thanked for it, if anybody."""
    zone: str
    """The club's time zone."""
    public: dt.datetime
    """When the correction became public: its release, or the kit's reveal where that is later. In UTC."""

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

    @property
    def affected(self) -> str:
        """Who is affected, in a sentence."""
        marks = listed([str(n) for n in range(self.first, self.corrects.number + 1)], "or")
        return (
            f"Your copy is affected if it says revision {marks}{'' if self.first > 1 else ' or PREVIEW'}, "
            f"or names no revision and was downloaded before {date_text(self.date)}."
        )

    @property
    def to_do(self) -> str:
        """What to do, in a sentence or two: the author's advice, or what the grade says."""
        return self.advice or TO_DO[self.grade]


def errata(kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[Erratum]:
    """Every correction of a kit that is public at an instant, newest first."""
    at, revisions, reveal = aware(as_of), released(kit), reveal_of(kit, club)
    found = []
    for before, after in zip(revisions, revisions[1:]):
        public = max(after.at, reveal)
        if after.record.erratum is None or public > at:
            continue
        said = after.record.erratum
        thanked = next((p for p in people.values() if p.thanked(kit.id, after.number)), None)
        title = read_yaml(after.folder / kit.id / "kit.yaml").data["title"]
        found.append(
            Erratum(
                kit.id,
                title,
                after,
                before,
                max(revisions[said.since - 1].at, reveal),
                said.since,
                tuple(said.changes),
                said.grade,
                said.advice,
                thanked,
                club.time_zone,
                public,
            )
        )
    return found[::-1]


def all_errata(kits: Iterable[Kit], club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[Erratum]:
    """Every correction of the whole archive that is public at an instant, newest first."""
    found = [e for kit in kits for e in errata(kit, club, people, as_of)]
    return sorted(found, key=lambda e: (e.public, e.kit, e.revision.number), reverse=True)


def compared(kit: Kit, erratum: Erratum) -> tuple[Worked, Worked, list[Difference]]:
    """Both states worked out, with the differences and where they show: what a page needs to draw and circle them."""
    old, new = work(frozen(kit, erratum.corrects)), work(frozen(kit, erratum.revision))
    return old, new, differences(old, new)
