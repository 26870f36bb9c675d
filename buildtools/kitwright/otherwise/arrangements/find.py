"""All arrangements of a kit: counted, listed or sampled, grouped, named, and chosen for the batch."""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property, partial

from kitwright.errors import Place, UserError
from kitwright.findings import Note
from kitwright.labels import BASE
from kitwright.otherwise.arrangements.batch import CardsAlike, Chooser, Chosen, pool_of
from kitwright.otherwise.arrangements.counting import Counting, Filling, listing
from kitwright.otherwise.arrangements.found import Arrangement, Arrangements, Group, Set, SetPart, Tally
from kitwright.otherwise.arrangements.naming import Names
from kitwright.otherwise.arrangements.slots import Pool, face_of, places_of
from kitwright.otherwise.arrangements.turning import after, different, motions_of, moved, orbit
from kitwright.otherwise.arrangements.typed import AsTyped
from kitwright.otherwise.arrangements.variations import Refused, Variation, variations_of
from kitwright.work.worked import Worked

SHOWN = 60
"""More arrangements than this are sampled."""
LISTED = 20_000
"""More than this are counted only."""


def arrangements_of(worked: Worked, also: Sequence[str] = ()) -> Arrangements:
    """Find a kit's arrangements.

    Args:
        worked: the kit; it should have no errors left.
        also: names or links of arrangements that must be among those shown, such as those that samples used.

    Raises:
        UserError: `also` or the author's own mix names an arrangement that there is not, or the
            mix takes more pieces than are cut.
    """
    return worked.once(("arrangements", *also), lambda: _finder(worked).found(also))


def _finder(worked: Worked) -> _Finder:
    return worked.once("finder of arrangements", lambda: _Finder(worked))


def mistakes(worked: Worked) -> Iterator[UserError]:
    """What is wrong with the arrangements that a kit names, each with its line: in the author's own mix, and by samples.

    Args:
        worked: the kit; it should have no errors left.
    """
    for design in worked.designs:
        yield from _mistakes(design)


def _mistakes(worked: Worked) -> Iterator[UserError]:
    spec = worked.kit.spec
    try:
        finder = _finder(worked)
    except UserError as error:
        yield error.at(worked.kit.place("front"))
        return
    for i, sample in enumerate(spec.samples):
        if sample.arrangement and (sample.design or worked.whole.kit.leading) == worked.kit.leading:
            yield from _mistake(partial(finder.also, sample.arrangement, worked.kit.place("samples", i, "arrangement")))
    if spec.arrangements.mix:
        yield from _mistake(lambda: finder.mix(finder.chooser()))


def _mistake(tried: Callable[[], object]) -> Iterator[UserError]:
    try:
        tried()
    except UserError as error:
        yield error


class _Finder:
    def __init__(self, worked: Worked) -> None:
        self.worked, self.kit = worked, worked.kit
        self.places = places_of(worked)
        self.motions = motions_of(worked, self.places)
        choices = [slot.fills for slot in self.places.slots]
        self.countings = [Counting(choices, hand) for hand in self.places.hands]
        self.total = sum(c.total for c in self.countings)
        self.listable = self.total <= LISTED
        self.names = Names(self.kit, self.places, worked.face.field, self.countings)
        self.typed = AsTyped(worked, self.places)

    def link(self, filling: Filling) -> str:
        """The link of an arrangement."""
        return self.typed.link(filling) if self.typed.differs else self.names.link(filling)

    def found(self, also: Sequence[str]) -> Arrangements:
        all_sets = self._sets()
        called = {word: f for word in also if (f := self.also(word, None))}
        needed = [*called.values()] + [made.filling for _, choice in all_sets for made in choice.made]
        shown, rule = self._shown(needed)
        items = self._items(shown)
        variations, refused = self.variations
        sets = self._all_told(all_sets)
        return Arrangements(
            worked=self.worked,
            places=self.places,
            motions=self.motions,
            counts=self._counts(),
            items=items,
            rule=rule,
            groups=self._groups(items, variations),
            sets=sets,
            recommended=self._recommended(sets),
            lead=self.names.where[0] if self.names.where else "",
            shortcut=self._shortcut(all_sets, variations),
            rules=self._rules(),
            variations=variations,
            refused=refused,
            called={word: self.link(f) for word, f in called.items()},
        )

    @cached_property
    def variations(self) -> tuple[tuple[Variation, ...], tuple[Refused, ...]]:
        """The card made otherwise, and what was tried in vain."""
        return variations_of(self.worked, self.motions.other_layout)

    def also(self, said: str, place: Place | None) -> Filling | None:
        """The arrangement of that name or link; None where it is a variation, which is shown in any case.

        Raises:
            UserError: there is neither.
        """
        try:
            return self._named(said, place)
        except UserError:
            if any(said.strip().casefold() in (v.slug, v.name.casefold()) for v in self.variations[0]):
                return None
            raise

    # --- numbers ------------------------------------------------------------------------------

    def all(self) -> Iterator[Filling]:
        """Every arrangement, one after another."""
        for hand in self.places.hands:
            yield from listing([slot.fills for slot in self.places.slots], hand)

    def _counts(self) -> Tally:
        listed_, grouped = None, None
        if self.listable:
            every = list(self.all())
            listed_, grouped = len(every), len({frozenset(orbit(f, self.motions)) for f in every})
        return Tally(
            self.total, listed_, sum(different(self.places, hand, self.motions) for hand in self.places.hands), grouped, self._if_no_up()
        )

    def _if_no_up(self) -> tuple[int, int]:
        free = free_of_ups(self.worked)
        places = places_of(free)
        motions, choices = motions_of(free, places), [slot.fills for slot in places.slots]
        return (sum(Counting(choices, hand).total for hand in places.hands), sum(different(places, hand, motions) for hand in places.hands))

    # --- which are shown ----------------------------------------------------------------------

    def _at(self, rank: int) -> Filling:
        for counting in self.countings:
            if rank < counting.total:
                return counting.at(rank)
            rank -= counting.total
        raise IndexError(rank)

    def _shown(self, needed: Sequence[Filling]) -> tuple[list[Filling], Note | None]:
        if self.total <= SHOWN:
            return list(self.all()), None
        first = list(dict.fromkeys((*self.places.looks, *needed)))
        step = -(-self.total * len(self.motions.all) // SHOWN)
        sampled = [self._at(rank) for rank in range(0, self.total, step)]
        shown = list(dict.fromkeys(same for filling in (*first, *sampled) for same in orbit(filling, self.motions)))
        alike = len(self.motions.all) > 1
        return shown, Note("arranged.sampled", total=self.total, shown=len(shown), step=step, lead=self.names.where[0], alike=alike)

    def _items(self, shown: Sequence[Filling]) -> tuple[Arrangement, ...]:
        cards: dict[Filling, Filling] = {}
        ordered: dict[Filling, None] = {}
        there = set(shown)
        for filling in (*self.places.looks[:1], *shown):
            for same in orbit(filling, self.motions):
                cards.setdefault(same, filling)
                if same in there:
                    ordered[same] = None
        return tuple(self._item(filling, cards[filling]) for filling in ordered)

    def _item(self, filling: Filling, card: Filling) -> Arrangement:
        turned = self._turned(filling)
        face = replace(face_of(self.places, filling, self.kit, self.worked.face), name=self.names.name(filling), cards=0)
        return Arrangement(
            name=self.names.name(filling),
            slug=self.link(filling),
            face=face,
            differences=self.names.differences(filling),
            top=filling[0].paper if filling else "",
            card=self.link(card),
            turned=self.link(turned) if turned != filling else None,
            apart=self._apart(filling),
            own=filling in self.places.looks,
            filling=filling,
        )

    def _turned(self, filling: Filling) -> Filling:
        """What it becomes when turned round; itself where it can't be turned."""
        return filling if self.motions.turn is None or any(f.one_way for f in filling) else moved(filling, self.motions.turn)

    def _apart(self, filling: Filling) -> Note | None:
        """Why the half-turned arrangement is another card, where only a one-way paper makes it one."""
        up = [f for f in filling if f.one_way]
        if not up or self.motions.turn is None:
            return None
        twin = moved(filling, self.motions.turn)
        allowed = all(f in slot.fills for f, slot in zip(twin, self.places.slots))
        if twin == filling or not allowed:
            return None
        papers = tuple(dict.fromkeys(self.kit.papers[f.paper].name for f in up))
        return Note("arranged.apart", papers=papers, twin=self.names.name(twin))

    # --- groups -------------------------------------------------------------------------------

    def _groups(self, items: Sequence[Arrangement], variations: Sequence[Variation]) -> tuple[Group, ...]:
        found: list[Group] = []
        by_card: dict[str, list[str]] = {}
        for item in items:
            by_card.setdefault(item.card, []).append(item.slug)
        alone: list[str] = []
        for slugs in by_card.values():
            if len(slugs) > 1:
                found.append(Group("same", tuple(slugs)))
            else:
                alone += slugs
        if alone:
            found.append(Group("alone", tuple(alone)))
        for kind in ("order", "changes", "cuts"):
            chosen = tuple(
                v.slug for v in variations if kind == ("order" if v.kind == "turned" else "cuts" if v.needs == "cuts" else "changes")
            )
            if chosen:
                found.append(Group(kind, chosen))
        return tuple(found)

    # --- sets ---------------------------------------------------------------------------------

    def _sets(self) -> list[tuple[str, Chosen]]:
        spec, chooser = self.kit.spec, self.chooser()
        found: list[tuple[str, Chosen | None]] = []
        if spec.arrangements.mix:
            found.append(("mix", self.mix(chooser)))
        if len(self.worked.faces) > 1 and sum(face.cards for face in self.worked.faces) == spec.cards:
            mix: Counter[Filling] = Counter()
            for look, face in zip(self.places.looks, self.worked.faces):
                mix[look] += face.cards
            own, missing = chooser.given(mix)
            found.append(("own", own if not missing else None))
        alike = chooser.alike()
        found.append(("alike", alike))
        half = self._half_turned(alike)
        if half:
            found.append(("one order", half))
        found.append(("varied", chooser.varied()))
        if len({fill.paper for slot in self.places.slots[:1] for fill in slot.fills}) > 1:
            found.append(("tops", chooser.tops()))
        return [(kind, choice) for kind, choice in found if choice]

    def chooser(self) -> Chooser:
        """Chooses cards for the batch from what the sheets yield."""
        return Chooser(self.places, self._yielded(), self.kit.spec.cards, self._turned, lambda filling: orbit(filling, self.motions))

    def _yielded(self) -> Pool:
        made: Counter[tuple[str, str]] = Counter()
        for plan in self.worked.plans:
            for label, n in plan.made.items():
                made[label, plan.paper] += n
        # What the other designs take is theirs; what is spare may go on any card.
        for design in self.worked.whole.designs:
            if design.kit.design != self.kit.design:
                made.subtract({(label, paper): n for label in design.sizes for paper, n in design.counts(label).items()})
        # So is what lies on other faces of this card.
        for look in self.worked.faces:
            for placed in (placed for side in look.sides for placed in side.stack if placed.layer != "base"):
                made[placed.label, placed.paper] -= look.cards or self.kit.spec.cards
        made = +made
        return pool_of(self.places, dict(made))

    def _half_turned(self, alike: Chosen | None) -> Chosen | None:
        """The same cards, half of each turned round before anything lies over them."""
        if alike is None or self.motions.turn is None:
            return None
        made: Counter[Filling] = Counter()
        for one in alike.made:
            made[one.filling] += one.cards - one.cards // 2
            made[self._turned(one.filling)] += one.cards // 2
        parts = tuple(CardsAlike(filling, cards) for filling, cards in made.items() if cards)
        return Chosen(parts, alike.left) if len(parts) > len(alike.made) else None

    def mix(self, chooser: Chooser) -> Chosen:
        """The author's own mix.

        Raises:
            UserError: a name that there is not, or numbers that can't be made.
        """
        spec = self.kit.spec
        chosen: dict[Filling, int] = {}
        for said, cards in spec.arrangements.mix.items():
            filling = self._named(said, self.kit.place("arrangements", "mix", said))
            chosen[filling] = chosen.get(filling, 0) + cards
        place = self.kit.place("arrangements", "mix")
        if sum(chosen.values()) != spec.cards:
            raise UserError("arranged.mix-adds-up-otherwise", place=place, makes=sum(chosen.values()), cards=spec.cards)
        choice, missing = chooser.given(chosen)
        if missing:
            (label, paper), n = next(iter(missing.items()))
            raise UserError("arranged.mix-takes-too-many", place=place, more=n, label=label, paper=self.kit.papers[paper].name)
        return choice

    @cached_property
    def _by_word(self) -> dict[str, Filling]:
        """Arrangements by link and by name; only those in steps down the list where it is too long."""
        ranks = range(self.total) if self.listable else range(0, self.total, -(-self.total // SHOWN))
        every = [*self.places.looks, *map(self._at, ranks)]
        return {word: f for f in every for word in (self.link(f), self.names.name(f).casefold())}

    @cached_property
    def _by_label(self) -> dict[str, Filling]:
        """The same for what was two arrangements, while labels that are the same piece were taken for different ones."""
        return dict(self.typed.called(LISTED, SHOWN)) if self.typed.differs else {}

    def _named(self, said: str, place: Place | None) -> Filling:
        words = (said, said.casefold())
        found = next((self._by_word[word] for word in words if word in self._by_word), None)
        # Gone through only for a word that is not known otherwise.
        found = found or next((self._by_label[word] for word in words if word in self._by_label), None)
        if found is None:
            near = difflib.get_close_matches(said.casefold(), self._by_word, 1, 0.4)
            like = self.names.name(self._by_word[near[0]]) if near else None
            raise UserError("arranged.no-such", place=place, said=said, near=like, kit=self.kit.id)
        return found

    def _all_told(self, all_sets: Sequence[tuple[str, Chosen]]) -> tuple[Set, ...]:
        told: list[Set] = []
        for one in all_sets:
            new = self._told(*one)
            twin = next((s.kind for s in told if not s.same_as and set(s.parts) == set(new.parts)), "")
            told.append(replace(new, same_as=twin))
        return tuple(told)

    def _told(self, kind: str, choice: Chosen) -> Set:
        parts = tuple(SetPart(self.names.name(m.filling), self.link(m.filling), m.cards) for m in choice.made)
        left = tuple((label, paper, n) for (label, paper), n in choice.left.items())
        return Set(kind, parts, left, self._motions_note(choice))

    def _motions_note(self, choice: Chosen) -> Note | None:
        """How many different orders there are to put together, turning the rest."""
        builds = self._builds(choice)
        if len(builds) == len(choice.made):
            return None
        turns: Counter[str] = sum((turns for _, turns in builds.values()), Counter())
        return Note("arranged.put-together", orders=len(builds), turns=_in_order(turns))

    def _builds(self, choice: Chosen) -> dict[Filling, tuple[int, Counter[str]]]:
        """Fronts to put together in each order, and how many of them are turned afterwards, in which way."""
        builds: dict[Filling, tuple[int, Counter[str]]] = {}
        for made in choice.made:
            start, way = next(((turned, way) for turned, way in self._turns(made.filling) if turned in builds), (made.filling, ""))
            cards, turns = builds.get(start, (0, Counter()))
            builds[start] = cards + made.cards, turns + Counter({way: made.cards} if way else {})
        return builds

    def _turns(self, filling: Filling) -> Iterator[tuple[Filling, str]]:
        """What becomes of an arrangement when its front is turned, and how."""
        turn, quarter = self.motions.turn, self.motions.quarter
        if turn is None or any(f.one_way for f in filling):
            return
        yield moved(filling, turn), "round"
        for order in (quarter, after(quarter, turn)) if quarter else ():
            yield moved(filling, order), "by a quarter"

    def _recommended(self, sets: Sequence[Set]) -> Set | None:
        for kind in ("mix", "varied", "own", "alike"):
            for one in sets:
                if one.kind == kind:
                    return one
        return None

    # --- what is told of it -------------------------------------------------------------------

    def _shortcut(self, sets: Sequence[tuple[str, Chosen]], variations: Sequence[Variation]) -> Note | None:
        one = next((choice for kind, choice in sets if kind == "one order"), None)
        if one:
            builds = tuple((n, self.names.name(f), _in_order(turns)) for f, (n, turns) in self._builds(one).items())
            return Note("arranged.one-motion", builds=builds, stamped=self._stamped_front())
        if any(v.kind == "turned" for v in variations):
            return Note("arranged.turn-later", cards=self.kit.spec.cards, stamped=self._stamped_front())
        return None

    def _stamped_front(self) -> bool:
        """Whether the sentiment is stamped on what is turned, so that a front stamped before its turn would read upside down."""
        face = self.worked.face
        return face.sentiment is not None and face.sentiment.on not in {BASE, *(piece.label for piece in face.over)}

    def _rules(self) -> tuple[Note, ...]:
        slots, rules = self.places.slots, ["arranged.covers"]
        if any(slot.rect.width == slot.rect.height and len(slot.fills) > 1 for slot in slots):
            rules.append("arranged.square")
        if any(f.one_way for slot in slots for f in slot.fills):
            rules.append("arranged.upright")
        if self.kit.spec.arrangements.papers == "any":
            rules.append("arranged.any-paper")
        elif len(self.places.hands) > 1:
            rules.append("arranged.dealt")
        if self.kit.design:
            rules.append("arranged.other-designs")
        return tuple(map(Note, rules))


def free_of_ups(worked: Worked) -> Worked:
    """The same kit with papers that have no up, to show what an up makes of it."""
    kit = worked.kit
    papers = {
        key: paper.model_copy(
            update={side: face.model_copy(update={"up": None}) for side in ("front", "back") if (face := paper.face(side))}
        )
        for key, paper in kit.papers.items()
    }
    return replace(worked, kit=replace(kit, papers=papers))


def _in_order(turns: Counter[str]) -> tuple[tuple[str, int], ...]:
    """How many are turned in which way: `round`, `by a quarter`."""
    return tuple(sorted(turns.items(), reverse=True))
