"""A kit whose printable goes to a reader with other sheets: what comes otherwise there, and the kit cut from them where its author allows it.

The printable has an edition for each of two pages, Letter and A4. Who prints one has that sheet for
cardstock too. Papers of other sizes, such as 12 × 12 and pads, are the same everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.check import errors
from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.stock import Misfit
from kitwright.errors import Place, UserError
from kitwright.findings import Finding, errors_in
from kitwright.kit.model import STAND_INS
from kitwright.otherwise.changed import Change, fitting, loses_a_base, new_findings, remade, two_bases
from kitwright.otherwise.planned import from_stock
from kitwright.papers import SHEETS, NamedSize
from kitwright.units import ZERO, Length, Size
from kitwright.work.cite import prose, rewritten
from kitwright.work.worked import Worked

BY_NAME: Mapping[str, NamedSize] = {sheet.name: sheet for sheet in SHEETS if sheet.name in STAND_INS}
"""The sheets that stand in for one another."""


@dataclass(frozen=True)
class FromEdition:
    """What comes of one paper in the edition's sheet, by the same cuts or others."""

    paper: str
    """Its key."""
    typed: NamedSize
    """The kit's own sheet."""
    sheet: NamedSize
    """The edition's."""
    own: Fraction
    """How many of its own the batch takes."""
    sheets: Fraction | None
    """How many of the edition's; None where a piece does not come out of one."""
    misfits: tuple[Misfit, ...]
    """The pieces that don't."""
    one_base: bool
    """Whether a sheet gives one card base where the kit's own gives two."""
    change: Change | None
    """The nearest sizes with which it fits, or with which a sheet gives two bases, tried on the whole kit."""

    @property
    def shrinks(self) -> bool:
        """Whether the whole kit works with smaller pieces: the cards shrink, where a base is one of them."""
        return self.change is not None and self.change.works


@dataclass(frozen=True)
class EditionNote:
    """What changes for a reader of an edition whose sheet is not the kit's."""

    sheet: NamedSize
    """The edition's."""
    papers: tuple[FromEdition, ...]
    """The papers that don't come out of it by the kit's own cuts, in the order of its plans."""
    follows: bool
    """Whether needs, cuts and guides of this edition are for its sheet; otherwise they are for the kit's own."""

    @property
    def impossible(self) -> bool:
        """Whether some piece does not come out of it at all."""
        return any(each.sheets is None for each in self.papers)


@dataclass(frozen=True)
class InEdition:
    """A kit as an edition shows it."""

    worked: Worked
    """As its pages tell it: the kit itself, or the kit cut from the edition's sheet."""
    note: EditionNote | None
    """None where nothing changes."""


def in_edition(worked: Worked, name: str) -> InEdition:
    """A kit as an edition shows it, by the name of its sheet: worked out once.

    Args:
        worked: the kit as a whole.
        name: `Letter` or `A4`.
    """
    return worked.once(("in edition", name), lambda: _in_edition(worked, name))


def _in_edition(worked: Worked, name: str) -> InEdition:
    papers = others(worked, name)
    changed = tuple(_paper(worked, plan, papers[plan.paper]) for plan in worked.plans if plan.paper in papers)
    if name in worked.kit.spec.also_from and changed and not any(each.sheets is None for each in changed):
        cut, wrong = cut_from(worked, name)
        if cut is not None and not errors(list(wrong)):
            follows = tuple(replace(each, sheets=cut.cut(each.paper).sheets) for each in changed)
            return InEdition(cut, EditionNote(BY_NAME[name], follows, True))
    told = tuple(each for each in changed if not by_the_same_cuts(worked.cut(each.paper), each.sheet.size))
    return InEdition(worked, EditionNote(BY_NAME[name], told, False) if told else None)


def others(worked: Worked, name: str) -> dict[str, NamedSize]:
    """The sheet of that name, the way round that the paper lies, for each paper that is cut and comes in the other one."""
    swapped = [BY_NAME[each].size for each in STAND_INS if each != name]
    wanted = BY_NAME[name]
    found: dict[str, NamedSize] = {}
    for plan in worked.plans:
        if plan.demand.sheet in swapped:
            found[plan.paper] = wanted
        elif plan.demand.sheet.turned in swapped:
            found[plan.paper] = replace(wanted, size=wanted.size.turned)
    return found


def by_the_same_cuts(plan: PaperPlan, sheet: Size) -> bool:
    """Whether every guide of a paper gives its pieces from another sheet as it stands."""
    return all(_does(run.layout.slack, run.layout.sheet, sheet) for run in plan.runs)


def _does(slack: Size, own: Size, other: Size) -> bool:
    def along(room: Length, was: Length, now: Length) -> bool:
        # From a larger sheet, the last piece is one cut more unless something falls off beside it.
        return now == was or (room > ZERO if now > was else was - now <= room)

    return along(slack.width, own.width, other.width) and along(slack.height, own.height, other.height)


def _paper(worked: Worked, plan: PaperPlan, sheet: NamedSize) -> FromEdition:
    other = from_stock(worked, plan, sheet.name, sheet.size)
    one_base = loses_a_base(worked, other)
    changes = two_bases(worked, other) if one_base else ()
    change = next((each for each in changes if each.works), None) if other.fits else fitting(worked, other)
    return FromEdition(
        plan.paper,
        worked.kit.papers[plan.paper].size,
        sheet,
        plan.sheets,
        other.sheets if other.fits else None,
        other.misfits,
        one_base,
        change,
    )


def cut_from(worked: Worked, name: str) -> tuple[Worked | None, tuple[Finding, ...]]:
    """The kit worked out on the sheets of an edition, once, and what the checks find in it and not in the kit itself."""
    return worked.once(("cut from", name), lambda: _cut_from(worked, name))


def _cut_from(worked: Worked, name: str) -> tuple[Worked | None, tuple[Finding, ...]]:
    kit = worked.kit
    typed = dict(prose(kit.typed)) if kit.typed else {}
    # What was filled in says how it is cut from the kit's own sheets.
    spec = rewritten(kit.spec, type(kit.spec), lambda path, text: typed.get(path, text))
    try:
        cut = remade(worked, spec, others(worked, name))
    except UserError as error:
        return None, errors_in(error, Place(kit.document.file))
    return cut, new_findings(worked, cut)


# --- looked over ------------------------------------------------------------------------------------


def find(worked: Worked) -> Iterator[Finding]:
    """What stands in the way of a sheet that the author says the kit may also be cut from."""
    kit = worked.kit
    for i, name in enumerate(kit.spec.also_from):
        place = kit.place("also from", i) if kit.stands("also from", i) else kit.place("also from")
        if not others(worked, name):
            yield Finding("error", place, "editions.nothing-to-change", sheet=name)
            continue
        for plan in worked.plans:
            wanted = others(worked, name).get(plan.paper)
            other = from_stock(worked, plan, name, wanted.size) if wanted else None
            if other is not None and not other.fits:
                wrong = other.misfits[0]
                yield Finding(
                    "error",
                    place,
                    "editions.does-not-fit",
                    sheet=name,
                    paper=kit.papers[plan.paper].name,
                    label=wrong.label,
                    size=wrong.size,
                    over=wrong.over,
                    unit=kit.spec.unit,
                )
                break
        else:
            if broken := cut_from(worked, name)[1]:
                yield Finding(broken[0].level, place, "editions.breaks", sheet=name, broken=broken)
