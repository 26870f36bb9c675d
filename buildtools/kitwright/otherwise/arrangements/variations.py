"""Variations beyond the order of the pieces: each a kit of its own, worked out and checked.

A variation says what changes in cuts and supplies by comparing what the two kits need. One
that the checks refuse is kept with its reason, so that nobody wonders why it is missing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Literal

from kitwright.card.base import other_way
from kitwright.card.enclosed import foam_of
from kitwright.card.face import Face
from kitwright.card.notches import Way, ways
from kitwright.errors import UserError
from kitwright.findings import Finding, Note
from kitwright.kit.kit import Kit
from kitwright.kit.model import KitSpec
from kitwright.labels import is_base
from kitwright.otherwise.arrangements import changing
from kitwright.otherwise.arrangements.changing import NoChange
from kitwright.otherwise.arrangements.turning import later
from kitwright.otherwise.changed import new_findings, remade
from kitwright.units import Size
from kitwright.work.post import mailing
from kitwright.work.worked import Worked

Needs = Literal["nothing", "supplies", "cuts"]


@dataclass(frozen=True)
class Variation:
    """The same pieces on a card that is made differently in one way."""

    kind: str
    """`turned`, `fold`, `mat`, `strip`, `raised` or `stamped`."""
    name: str
    """A short label, unique within the kit, by which her own file may name it."""
    slug: str
    """Its link."""
    worked: Worked
    """The changed kit, worked out."""
    changes: tuple[Note, ...]
    """What is different: layout, cuts, supplies, post."""
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
    why: Note | Finding | UserError
    """What stands in its way."""


@dataclass(frozen=True, slots=True)
class _Idea:
    kind: str
    name: str
    slug: str
    change: Callable[[], KitSpec]
    changes: tuple[Note, ...]


def variations_of(worked: Worked, turned_is_free: bool) -> tuple[tuple[Variation, ...], tuple[Refused, ...]]:
    """Every variation that the spec allows, and those that can't be made.

    Args:
        worked: the kit.
        turned_is_free: whether the whole front can be turned round and then makes another layout.
    """
    made: list[Variation] = []
    refused: list[Refused] = []
    for idea in _ideas(worked, turned_is_free):
        if isinstance(idea, Refused):
            refused.append(idea)
            continue
        try:
            changed = remade(worked, idea.change())
        except NoChange as none:
            refused.append(Refused(idea.kind, idea.name, none.why))
            continue
        except UserError as error:
            refused.append(Refused(idea.kind, idea.name, error))
            continue
        if changed.face == worked.face and changed.base == worked.base:
            continue
        new = _new_findings(worked, changed)
        if new:
            refused.append(Refused(idea.kind, idea.name, new[0]))
            continue
        cuts = _cuts(worked, changed)
        supplies = _supplies(worked, changed)
        needs: Needs = "cuts" if cuts else "supplies" if supplies else "nothing"
        told = (*idea.changes, *cuts, *supplies, *_post(worked, changed))
        made.append(
            Variation(
                kind=idea.kind,
                name=idea.name,
                slug=idea.slug,
                worked=changed,
                changes=told if cuts or supplies else (*told, Note("variations.nothing-more")),
                needs=needs,
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
        except NoChange as none:
            yield Refused(kind, _NAMES[kind], none.why)


_NAMES = {
    "mat": "Mat moved along the base",
    "strip": "Sentiment somewhere else",
    "raised": "Strip on foam",
    "stamped": "Sentiment stamped on the band",
}


def _turned(worked: Worked) -> Iterator[_Idea | Refused]:
    name = "Front turned round"
    one_way = [worked.kit.papers[p.paper].name for p in worked.face.pieces if worked.kit.papers[p.paper].shown(p.face).up]
    if one_way:
        yield Refused("turned", name, Note("variations.upside-down", papers=tuple(dict.fromkeys(one_way))))
        return
    yield _Idea(
        "turned",
        name,
        "turned-round",
        lambda: changing.half_turned(worked.kit),
        (Note("variations.turned-whole", later=later(worked.face)),),
    )


def _folds(worked: Worked, kit: Kit) -> Iterator[_Idea | Refused]:
    if not worked.base.halves:
        # Only a card of two panels is the same card with its fold at another edge.
        return
    front = worked.base.front
    other = other_way(worked.base.fold)
    shape = _shape(front)
    yield _Idea(
        "fold",
        f"{shape}, {other} fold",
        f"{shape.lower()}-{other}-fold",
        lambda: changing.refolded(kit.spec, front, other),
        (Note("variations.folds", fold=other),),
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
            yield Refused("fold", name, Note("variations.on-its-side", papers=tuple(one_way)))
            continue
        yield _Idea(
            "fold",
            name,
            f"{_shape(lying).lower()}-{fold}-fold",
            partial(_refolded, kit, lying, fold),
            (Note("variations.quarter", fold=fold),),
        )


def _refolded(kit: Kit, front: Size, fold: str) -> KitSpec:
    return changing.refolded(changing.quarter_turned(kit), front, fold)


def _shape(front: Size) -> str:
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
            partial(lambda made: made, spec),
            (Note("variations.mat-lies", label=label, border=border, end=end, unit=kit.spec.unit),),
        )


def _strips(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    strip = changing.strip_of(kit)
    said = kit.spec.sentiment
    if said is None:
        raise NoChange("no-sentiment")
    what = "strip" if strip is not None else "sentiment"
    now = changing.place_of(kit.spec.front.over[strip]) if strip is not None else said.across
    for place, words in (("left", "at the left end"), ("centre", "in the middle"), ("right", "at the right end")):
        if place != now:
            yield _Idea(
                "strip",
                f"{what.capitalize()} {words}",
                f"{what}-{place}",
                partial(changing.sentiment_placed, kit, place),
                (Note("variations.goes", what=what, end=place),),
            )


def _raised(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    strip = changing.strip_of(kit)
    if strip is None:
        raise NoChange("no-strip")
    flat = kit.spec.front.over[strip].held == "foam"
    yield _Idea(
        "raised",
        "Strip laid flat" if flat else "Strip on foam",
        "strip-flat" if flat else "strip-on-foam",
        lambda: changing.strip_raised(kit, not flat),
        (Note("variations.flat" if flat else "variations.on-foam"),),
    )


def _stamped(worked: Worked, kit: Kit) -> Iterator[_Idea]:
    band = "on the band"
    yield _Idea("stamped", f"Sentiment stamped {band}", "stamped-on-band", lambda: changing.stamped(kit), (Note("variations.stamped"),))


# --- worked out and checked ----------------------------------------------------------------------


def _new_findings(worked: Worked, changed: Worked) -> list[Note | Finding]:
    """What the checks find in the changed kit that they didn't in the kit itself; hints don't count."""
    return [*_off_band(worked, changed), *new_findings(worked, changed)]


def _off_band(worked: Worked, changed: Worked) -> list[Note]:
    """Strips that lay within the free band and don't any more; the checks leave a strip over a band to its author."""

    def within(one: Worked) -> set[str]:
        on_band = {laid.piece for laid in one.kit.spec.front.over if laid.on == "band"}
        return {p.label for p in one.face.over if p.label in on_band and one.face.bands[0].contains(p.rect)}

    gone = sorted((within(worked) - within(changed)) & {p.label for p in changed.face.over})
    return [Note("variations.longer-than-band", label=label, band=changed.face.bands[0].size, unit=changed.kit.spec.unit) for label in gone]


# --- what changes --------------------------------------------------------------------------------


def _pieces(worked: Worked) -> Counter:
    """Pieces to cut by paper and size, whichever way they lie."""
    counts: Counter = Counter()
    for plan in worked.plans:
        for label, n in plan.demand.needs.items():
            size = plan.demand.sizes[label]
            counts[plan.paper, min(size.width, size.height), max(size.width, size.height), label] += n
    return counts


def _cuts(worked: Worked, changed: Worked) -> tuple[Note, ...]:
    """Which pieces are cut besides, or no longer, and from how many sheets."""
    before, after = _pieces(worked), _pieces(changed)
    unit, papers = worked.kit.spec.unit, worked.kit.papers
    told, touched = [], []
    gone = {(paper, label): n for (paper, _, _, label), n in (before - after).items()}
    for (paper, _, _, label), n in (after - before).items():
        touched.append(paper)
        instead = worked.sizes[label] if gone.pop((paper, label), None) == n else None
        told.append(
            Note(
                "variations.cut",
                n=n,
                label=label,
                size=changed.sizes[label],
                way=_own_way(changed, label),
                instead=instead,
                paper=papers[paper].name,
                unit=unit,
            )
        )
    for (paper, label), n in gone.items():
        touched.append(paper)
        way = _own_way(worked, label)
        told.append(
            Note("variations.no-longer-cut", n=n, label=label, size=worked.sizes[label], way=way, paper=papers[paper].name, unit=unit)
        )
    for paper in dict.fromkeys(touched):
        old, new = (plan.sheets if (plan := w.plan(paper)) else Fraction(0) for w in (worked, changed))
        if old != new:
            told.append(Note("variations.sheets", paper=papers[paper].name, new=new, old=old))
    return tuple(told)


def _own_way(worked: Worked, label: str) -> Way | None:
    """How the author makes its notches, for whose punch the size to cut holds."""
    found = ways(worked.kit.spec.pieces[label], worked.kit.spec.unit) if not is_base(label) else ()
    return found[0] if found else None


def _supplies(worked: Worked, changed: Worked) -> tuple[Note, ...]:
    """Foam that is needed besides, or no longer; decoration that is left out."""
    told = []
    foam = [sum(p.raised for p in w.face.stack) for w in (worked, changed)]
    if not foam[0] and foam[1]:
        told.append(Note("variations.foam"))
    elif foam[0] and not foam[1]:
        told.append(Note("variations.no-foam"))
    gone = Counter(s.name for s in worked.face.spots) - Counter(s.name for s in changed.face.spots)
    if gone:
        told.append(Note("variations.no-room", decorations=tuple(gone)))
    return tuple(told)


def _post(worked: Worked, changed: Worked) -> tuple[Note, ...]:
    """What the post says of it that it did not say before, and how much thicker or thinner it is."""
    before, after = mailing(worked), mailing(changed)
    if before is None or after is None:
        return ()
    known = {v.about for v in before.verdicts}
    told = [Note("variations.by-post", verdict=v, letters=after.letters) for v in after.verdicts if v.about not in known]
    if changed.base.front == worked.base.front and before.parcel.thickness != after.parcel.thickness:
        foam = [p.raised for p in changed.face.stack].count(True) - [p.raised for p in worked.face.stack].count(True)
        if abs(foam) == 1:
            told.insert(0, Note("variations.thicker", by=foam_of(worked.kit), thicker=foam > 0, unit=worked.kit.spec.unit))
    return tuple(told)
