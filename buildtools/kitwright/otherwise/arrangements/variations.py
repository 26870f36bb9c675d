"""Variations beyond the order of the pieces: each a kit of its own, worked out and checked.

A variation says what changes in cuts and supplies by comparing what the two kits need. One
that the checks refuse is kept with its reason, so that nobody wonders why it is missing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.card.enclosed import foam_of
from kitwright.card.face import Face
from kitwright.check import of_the_card
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.kit.model import KitSpec
from kitwright.kit.names import BASE
from kitwright.kit.read import Kit
from kitwright.otherwise.arrangements import changing
from kitwright.otherwise.arrangements.changing import NoChange
from kitwright.otherwise.arrangements.turning import later_words
from kitwright.otherwise.changed import new_findings, remade
from kitwright.telling.notches import own_tool
from kitwright.telling.post import thickness_text, verdict_text
from kitwright.telling.words import label_text, listed, sheets_text
from kitwright.units import length_text, size_text
from kitwright.work.post import mailing
from kitwright.work.worked import Worked

Needs = Literal["nothing", "supplies", "cuts"]


@dataclass(frozen=True)
class Variation:
    """The same pieces on a card that is made differently in one way."""

    kind: str
    """`turned`, `fold`, `mat`, `strip`, `raised` or `stamped`."""
    name: str
    """In plain words, unique within the kit."""
    slug: str
    """Its link."""
    worked: Worked
    """The changed kit, worked out."""
    changes: tuple[str, ...]
    """What is different, one sentence each: layout, cuts, supplies, post."""
    needs: Needs
    """Whether anything else must be bought or cut."""

    @property
    def face(self) -> Face:
        """The front as it then looks."""
        return self.worked.face


@dataclass(frozen=True, slots=True)
class Refused:
    """A variation that this kit can't be made in."""

    kind: str
    name: str
    why: str


@dataclass(frozen=True, slots=True)
class _Idea:
    kind: str
    name: str
    slug: str
    change: Callable[[], KitSpec]
    changes: tuple[str, ...]


def variations_of(worked: Worked, turned_is_free: bool) -> tuple[tuple[Variation, ...], tuple[Refused, ...]]:
    """Every variation that the spec allows, and those that can't be made.

    Args:
        worked: the kit.
        turned_is_free: whether the whole front can be turned round and then makes another layout.
    """
    made: list[Variation] = []
    refused: list[Refused] = []
    before: list[tuple[str, Finding]] | None = None
    for idea in _ideas(worked, turned_is_free):
        if isinstance(idea, Refused):
            refused.append(idea)
            continue
        try:
            changed = remade(worked, idea.change())
        except (NoChange, UserError) as why:
            refused.append(Refused(idea.kind, idea.name, why.problem if isinstance(why, UserError) else str(why)))
            continue
        if changed.face == worked.face and changed.base == worked.base:
            continue
        before = before if before is not None else of_the_card(worked)
        new = _new_findings(worked, changed, before)
        if new:
            refused.append(Refused(idea.kind, idea.name, new[0]))
            continue
        cuts = _cuts(worked, changed)
        supplies = _supplies(worked, changed)
        needs: Needs = "cuts" if cuts else "supplies" if supplies else "nothing"
        told = (*idea.changes, *cuts, *supplies, *_post(worked, changed))
        made.append(
            Variation(
                idea.kind, idea.name, idea.slug, changed, told if cuts or supplies else (*told, "Cuts and supplies stay the same."), needs
            )
        )
    return tuple(made), tuple(refused)


# --- which there are -----------------------------------------------------------------------------


def _ideas(worked: Worked, turned_is_free: bool) -> Iterator[_Idea | Refused]:
    kit, vary = worked.kit, worked.kit.spec.arrangements.vary
    if turned_is_free:
        yield from _turned(worked)
    makers = {"fold": _folds, "mat": _mats, "strip": _strips, "raised": _raised, "stamped": _stamped}
    for kind in dict.fromkeys(vary):
        try:
            yield from makers[kind](worked, kit)
        except NoChange as why:
            yield Refused(kind, _NAMES[kind], str(why))


_NAMES = {
    "mat": "Mat moved along the base",
    "strip": "Sentiment somewhere else",
    "raised": "Strip on foam",
    "stamped": "Sentiment stamped on the band",
}


def _turned(worked: Worked) -> Iterator[_Idea | Refused]:
    name = "Front turned round"
    one_way = [worked.kit.papers[p.paper].name for p in worked.face.pieces if worked.kit.papers[p.paper].face(p.face).up]
    if one_way:
        yield Refused("turned", name, f"{listed(list(dict.fromkeys(one_way)))} would hang upside down")
        return
    yield _Idea(
        "turned",
        name,
        "turned-round",
        lambda: changing.half_turned(worked.kit),
        (f"Built in the same order as the sketch, then turned round as a whole before {later_words(worked.face)}.",),
    )


def _folds(worked: Worked, kit: Kit) -> Iterator[_Idea | Refused]:
    front = worked.base.front
    other = "top" if worked.base.fold == "side" else "side"
    shape = _shape(front)
    yield _Idea(
        "fold",
        f"{shape}, {other} fold",
        f"{shape.lower()}-{other}-fold",
        lambda: changing.refolded(kit.spec, front, other),
        (f"The front stays as it is; the card folds at the {'top' if other == 'top' else 'left'}.",),
    )
    lying = front.turned
    if lying == front:
        return
    one_way = sorted(
        {
            kit.papers[p.paper].name
            for p in (*worked.face.pieces, *worked.face.layers)
            if (printed := kit.papers[p.paper].face(p.face)) and printed.up
        }
    )
    for fold in (other, worked.base.fold):
        name = f"{_shape(lying)}, {fold} fold"
        if one_way:
            yield Refused("fold", name, f"{listed(one_way)} would lie on {'its' if len(one_way) == 1 else 'their'} side")
            continue
        yield _Idea(
            "fold",
            name,
            f"{_shape(lying).lower()}-{fold}-fold",
            lambda fold=fold: changing.refolded(changing.quarter_turned(kit), lying, fold),
            (
                f"The front is turned a quarter to the left; the words stay level. The card folds at the {'left' if fold == 'side' else 'top'}.",
            ),
        )


def _shape(front) -> str:
    return "Portrait" if front.height > front.width else "Landscape" if front.width > front.height else "Square"


def _mats(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    ends = {"left": "to the left", "right": "to the right", "top": "up", "bottom": "down"}
    label = kit.spec.card.layers[0].piece if kit.spec.card.layers else ""
    for end, spec in changing.mat_moved(kit, worked.base):
        border = getattr(spec.card.layers[0], end)
        yield _Idea(
            "mat",
            f"Mat moved {ends[end]}",
            f"mat-{end}",
            lambda spec=spec: spec,
            (
                f"{label} lies {length_text(border, kit.spec.unit)} from the {end} edge of the base; the rest of the base shows at the other end.",
            ),
        )


def _strips(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    strip = changing.strip_of(kit)
    said = kit.spec.sentiment
    if said is None:
        raise NoChange("there is no sentiment")
    what = "strip" if strip is not None else "sentiment"
    now = changing.place_of(kit.spec.front.over[strip]) if strip is not None else said.place
    for place, words in (("left", "at the left end"), ("centre", "in the middle"), ("right", "at the right end")):
        if place != now:
            yield _Idea(
                "strip",
                f"{what.capitalize()} {words}",
                f"{what}-{place}",
                lambda place=place: changing.sentiment_placed(kit, place),
                (f"The {what} goes {words}.",),
            )


def _raised(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    strip = changing.strip_of(kit)
    if strip is None:
        raise NoChange("the sentiment has no strip of its own")
    flat = kit.spec.front.over[strip].raised
    yield _Idea(
        "raised",
        "Strip laid flat" if flat else "Strip on foam",
        "strip-flat" if flat else "strip-on-foam",
        lambda: changing.strip_raised(kit, not flat),
        ("The strip is glued flat." if flat else "The strip stands on foam.",),
    )


def _stamped(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    band = "on the band"
    yield _Idea(
        "stamped",
        f"Sentiment stamped {band}",
        "stamped-on-band",
        lambda: changing.stamped(kit),
        (f"There is no strip: the sentiment is stamped {band} before the pieces are glued. Choose an ink that shows on its paper.",),
    )


# --- worked out and checked ----------------------------------------------------------------------


def _new_findings(worked: Worked, changed: Worked, before: list[tuple[str, Finding]]) -> list[str]:
    """What the checks find in the changed kit that they didn't in the kit itself; hints don't count."""
    return [*_off_band(worked, changed), *(f.problem for f in new_findings(worked, changed, before))]


def _off_band(worked: Worked, changed: Worked) -> list[str]:
    """Strips that lay within the free band and don't any more; the checks leave a strip over a band to its author."""

    def within(one: Worked) -> set[str]:
        on_band = {laid.piece for laid in one.kit.spec.front.over if laid.on == "band"}
        return {p.label for p in one.face.over if p.label in on_band and one.face.bands[0].contains(p.rect)}

    gone = sorted((within(worked) - within(changed)) & {p.label for p in changed.face.over})
    return [f"{label} is longer than the free band, {size_text(changed.face.bands[0].size, changed.kit.spec.unit)}" for label in gone]


# --- what changes --------------------------------------------------------------------------------


def _pieces(worked: Worked) -> Counter:
    """Pieces to cut by paper and size, whichever way they lie."""
    counts: Counter = Counter()
    for plan in worked.plans:
        for label, n in plan.demand.needs.items():
            size = plan.demand.sizes[label]
            counts[plan.paper, min(size.width, size.height), max(size.width, size.height), label] += n
    return counts


def _cuts(worked: Worked, changed: Worked) -> tuple[str, ...]:
    """Which pieces are cut besides, or no longer, and from how many sheets."""
    before, after = _pieces(worked), _pieces(changed)
    unit, papers = worked.kit.spec.unit, worked.kit.papers
    told, touched = [], []
    gone = {(paper, label): n for (paper, _, _, label), n in (before - after).items()}
    for (paper, _, _, label), n in (after - before).items():
        touched.append(paper)
        instead = f" instead of {size_text(worked.sizes[label], unit)}" if gone.pop((paper, label), None) == n else ""
        told.append(
            f"Cut {n} {label_text(label, n)} of {size_text(changed.sizes[label], unit)}{_punch(changed, label)}{instead} from {papers[paper].name}."
        )
    for (paper, label), n in gone.items():
        touched.append(paper)
        told.append(
            f"No longer cut {n} {label_text(label, n)} of {size_text(worked.sizes[label], unit)}{_punch(worked, label)} from {papers[paper].name}."
        )
    for paper in dict.fromkeys(touched):
        old, new = (w.plan(paper).sheets if w.plan(paper) else Fraction(0) for w in (worked, changed))
        if old != new:
            told.append(f"{papers[paper].name}: {sheets_text(new) if new else 'none'} instead of {sheets_text(old) if old else 'none'}.")
    return tuple(told)


def _punch(worked: Worked, label: str) -> str:
    """The punch that the size to cut holds for, in brackets."""
    tool = own_tool(worked.kit.spec.pieces[label], worked.kit.spec.unit) if label != BASE else ""
    return f" ({tool})" if tool else ""


def _supplies(worked: Worked, changed: Worked) -> tuple[str, ...]:
    """Foam that is needed besides, or no longer; decoration that is left out."""
    told = []
    foam = [sum(p.raised for p in w.face.stack) for w in (worked, changed)]
    if not foam[0] and foam[1]:
        told.append("You need foam.")
    elif foam[0] and not foam[1]:
        told.append("No foam is needed.")
    gone = Counter(s.name for s in worked.face.spots) - Counter(s.name for s in changed.face.spots)
    if gone:
        told.append(f"There is no room for {listed(list(gone))}, which may be left out.")
    return tuple(told)


def _post(worked: Worked, changed: Worked) -> tuple[str, ...]:
    """What the post says of it that it did not say before, and how much thicker or thinner it is."""
    before, after = mailing(worked), mailing(changed)
    if before is None or after is None:
        return ()
    known = {v.about for v in before.verdicts}
    told = [
        f"By post: {verdict_text(v, after.letters)}{'' if v.within is False else ', perhaps'}."
        for v in after.verdicts
        if v.about not in known
    ]
    if changed.base.front == worked.base.front and before.parcel.thickness != after.parcel.thickness:
        foam = [p.raised for p in changed.face.stack].count(True) - [p.raised for p in worked.face.stack].count(True)
        if abs(foam) == 1:
            told.insert(
                0, f"It is {thickness_text(foam_of(worked.kit), worked.kit.spec.unit)} {'thicker' if foam > 0 else 'thinner'} at the strip."
            )
    return tuple(told)
