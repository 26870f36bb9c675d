"""A kit made otherwise: worked out anew, and what the checks find in it that they did not find before.

Whoever offers a change (a variation, the nearest size that fits another sheet) makes the
changed kit here first, so that nothing is offered that the rest of the kit does not bear.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.card.base import parted
from kitwright.check import of_the_card
from kitwright.cutting.asked import KitPlanner
from kitwright.cutting.stock import OtherSheet, halved
from kitwright.errors import Place, UserError
from kitwright.findings import LEVELS, Finding, errors_in
from kitwright.kit.model import DESIGNED, Guide, KitSpec
from kitwright.kit.model.card import CardSpec
from kitwright.labels import design_of, is_base
from kitwright.papers import SHEETS, NamedSize
from kitwright.units import HALF_MM, SIXTEENTH, ZERO, Length, Size
from kitwright.work.worked import Worked
from kitwright.work.working import work


def remade(worked: Worked, spec: KitSpec, sheets: Mapping[str, NamedSize] | None = None, planner: KitPlanner | None = None) -> Worked:
    """The changed kit, worked out; the author's guides stay where the pieces and sheets they cut do, else the cutting is planned anew.

    Args:
        worked: the kit as it is.
        spec: what it says once changed.
        sheets: papers that come in other sheets.
        planner: who plans what is cut anew, if not the kit's own.

    Raises:
        UserError: a front that can't be laid out at all.
    """
    if worked.whole is not worked:
        name = worked.kit.design
        return remade(worked.whole, put_back(worked.whole.kit.spec, name, spec), sheets, planner).of(name)
    kit, sheets = worked.kit, sheets or {}
    differ = {paper for paper in kit.papers if paper in sheets or _asked(kit.spec, paper) != _asked(spec, paper)}
    guides: list[Guide] = []
    for guide in spec.guides:
        kept = tuple(p for p in guide.papers if p not in differ)
        if kept:
            guides.append(guide.model_copy(update={"papers": kept}))
    # How many sheets are at hand is said of the old ones.
    papers = {
        key: paper.model_copy(update={"size": sheets[key], "sheets": None}) if key in sheets else paper for key, paper in kit.papers.items()
    }
    return work(replace(kit, spec=spec.model_copy(update={"guides": guides}), papers=papers), planner or worked.planner)


def put_back(whole: KitSpec, name: str, design: KitSpec) -> KitSpec:
    """A kit of several designs with one of them changed, as it is seen alone."""
    own = whole.designs[name].model_copy(update={field: getattr(design, field) for field in DESIGNED})
    # How many lie on a card is counted again.
    changed = {label: piece.model_copy(update={"per_card": whole.pieces[label].per_card}) for label, piece in design.pieces.items()}
    return whole.model_copy(update={"designs": {**whole.designs, name: own}, "pieces": {**whole.pieces, **changed}})


def _asked(spec: KitSpec, paper: str) -> list:
    sizes = [(label, piece.size, piece.share[paper]) for label, piece in spec.pieces.items() if paper in piece.share]
    bases = [(name, design.card.base) for name, design in spec.designs.items()] or [("", spec.card.base)]
    return sizes + [(name, base.size, 1) for name, base in bases if base.paper == paper]


def new_findings(worked: Worked, changed: Worked) -> tuple[Finding, ...]:
    """What the checks find in the changed kit and not, of that kind, there and as grave, in the kit itself; errors first, hints left out.

    Prose is not looked at: what the author tells is about the kit as it is.
    """
    known = Counter((kind, f.level, f.place) for kind, f in of_the_card(worked))
    new = []
    for kind, finding in of_the_card(changed):
        if known[kind, finding.level, finding.place] > 0:
            known[kind, finding.level, finding.place] -= 1
        elif finding.level != "hint":
            new.append(finding)
    return tuple(sorted(new, key=lambda f: LEVELS.index(f.level)))


# --- the nearest change -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Change:
    """Sizes that would suit another sheet, tried on the whole kit."""

    sizes: Mapping[str, Size]
    """The size to make each label, the base included, that has to change."""
    changed: Worked | None
    """The kit with them, from that sheet; None where it can't even be laid out."""
    broken: tuple[Finding, ...]
    """What does not work any more, errors first."""

    @property
    def works(self) -> bool:
        """Whether the whole kit works with it."""
        return not self.broken


def with_sizes(worked: Worked, sizes: Mapping[str, Size], other: OtherSheet) -> Change:
    """The kit with some labels in other sizes, and one paper in another sheet; tried once.

    Args:
        worked: the kit as it is.
        sizes: finished sizes by label, the base included.
        other: the batch from that sheet.
    """
    paper, sheet = other.demand.paper, NamedSize(other.name, other.demand.sheet, "")
    return worked.once(("tried", tuple(sizes.items()), paper, sheet.size), lambda: _tried(worked, sizes, {paper: sheet}))


def _tried(worked: Worked, sizes: Mapping[str, Size], sheets: Mapping[str, NamedSize]) -> Change:
    spec = worked.kit.spec
    pieces = {label: piece.model_copy(update={"size": sizes[label]}) if label in sizes else piece for label, piece in spec.pieces.items()}
    spec = spec.model_copy(update={"pieces": pieces})
    for design in worked.designs:
        if (size := sizes.get(design.kit.base)) is not None:
            card = design.kit.spec.card
            card = card.model_copy(update={"base": card.base.model_copy(update={"size": size}), "score": _score(design, size)})
            spec = with_card(spec, design.kit.design, card)
    try:
        changed = remade(worked, spec, sheets)
    except UserError as error:
        return Change(sizes, None, errors_in(error, Place(worked.kit.document.file)))
    return Change(sizes, changed, new_findings(worked, changed))


def with_card(spec: KitSpec, design: str, card: CardSpec) -> KitSpec:
    """The kit with another card of one of its designs; of its only one where it has no several."""
    if not spec.designs:
        return spec.model_copy(update={"card": card})
    return spec.model_copy(update={"designs": {**spec.designs, design: spec.designs[design].model_copy(update={"card": card})}})


def _score(worked: Worked, cut: Size) -> Length | None:
    """Where the smaller base is scored: in the middle if the kit is; else so that the front stays as it is, if it can."""
    base = worked.base
    if not base.halves or base.front == base.back:
        return None
    score = parted(cut, base.fold) - parted(base.front, base.fold)
    return score if score > ZERO else None


def fitting(worked: Worked, other: OtherSheet) -> Change | None:
    """Every piece that the other sheet can't give, in the largest size by the ruler that it can.

    None where all fit, or nothing would be left of one.
    """
    spec, sizes = worked.kit.spec, {}
    for wrong in other.misfits:
        # What a punch trims off the ends is cut besides.
        whole = worked.sizes[wrong.label]
        own = worked.of(design_of(wrong.label)).base.cut if is_base(wrong.label) else spec.pieces[wrong.label].size
        least = Size(wrong.largest.width - (whole.width - own.width), wrong.largest.height - (whole.height - own.height))
        sizes[wrong.label] = Size(
            *(
                side if side == before else _to_mark(side, spec.unit)
                for side, before in ((least.width, own.width), (least.height, own.height))
            )
        )
    if not sizes or any(size.width <= ZERO or size.height <= ZERO for size in sizes.values()):
        return None
    return with_sizes(worked, sizes, other)


def _to_mark(length: Length, unit: str) -> Length:
    """Down to a mark of the ruler."""
    mark = HALF_MM if unit == "mm" else SIXTEENTH
    return Length(length.inches // mark * mark)


NEAR = Length(Fraction(3, 4))
"""A base that has to lose more than this makes another card, not a change to this one."""


def loses_a_base(worked: Worked, other: OtherSheet) -> bool:
    """Whether the kit's own sheet gives two bases or more where this one gives one, since half of it is too small."""
    own, half = worked.plan(other.demand.paper), halved(other.demand.sheet)
    return (
        other.fits
        and own is not None
        and own.made.get(worked.kit.base, 0) > own.sheets
        and other.demand.needs.get(worked.kit.base, 0) > 1
        and not any(way.fits(half) for way in (worked.base.cut, worked.base.cut.turned))
        and (plan := other.plan) is not None
        and plan.made.get(worked.kit.base, 0) <= plan.sheets
    )


def two_bases(worked: Worked, other: OtherSheet) -> tuple[Change, ...]:
    """The nearest bases of which the other sheet would give two: what is taken off by the ruler, and a card of a named size.

    None where the sheet loses no base, or would have to lose too much.
    """
    if not loses_a_base(worked, other):
        return ()
    half, base = halved(other.demand.sheet), worked.base.cut
    ways = [half, half.turned] if worked.kit.base not in other.demand.lies else [half]
    room = min(ways, key=lambda way: max(base.width - way.width, base.height - way.height))
    # Only what sticks out is taken off, down to a mark of the ruler whose half the score can still show.
    mark = Length.mm(1) if worked.kit.spec.unit == "mm" else Length(Fraction(1, 8))
    cut = Size(*(own if own <= there else mark * (there // mark) for own, there in ((base.width, room.width), (base.height, room.height))))
    if base.width - cut.width > NEAR or base.height - cut.height > NEAR:
        return ()
    # A named size that half a sheet folds to, give or take the half millimetre that ISO rounds away.
    whole = Size(*(Length.mm(edge.millimetres // 1) for edge in (room.width, room.height)))
    plain, named = (with_sizes(worked, {worked.kit.base: size}, other) for size in (cut, whole))
    # That one is halved and folded: no ruler has to show it.
    at = worked.kit.place("card", "base", "size")
    named = replace(named, broken=tuple(f for f in named.broken if f.level == "error" or f.place != at))
    return tuple(change for change in ((plain, named) if name_of(named) and cut != whole else (plain,)) if _gives_two(change, other))


def _gives_two(change: Change, other: OtherSheet) -> bool:
    if change.changed is None:
        return True
    plan = change.changed.plan(other.demand.paper)
    return plan is not None and any(run.layout.yields.get(change.changed.kit.base, 0) > 1 for run in plan.runs)


def name_of(change: Change) -> str:
    """The name of the size that the changed card has, such as ISO A6; empty where it has none."""
    card = change.changed.base.finished if change.changed else None
    return next((sheet.name for sheet in SHEETS if card in (sheet.size, sheet.size.turned)), "")
