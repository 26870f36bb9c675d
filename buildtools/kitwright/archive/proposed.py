"""A proposal written as a kit folder: the way to write it down in which nothing is found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path

from kitwright.archive.kept import copy_scans, kept_of
from kitwright.archive.starter import found_there, put_new
from kitwright.errors import UserError
from kitwright.findings import LEVELS, Finding
from kitwright.kit.kit import NOTES_FILE, Kit
from kitwright.kit.model.club import Club
from kitwright.kit.read import KIT_FILE, read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.proposing.records import Proposal
from kitwright.proposing.wish import Wish
from kitwright.proposing.written import KitDraft, drafts
from kitwright.telling.proposed_kit import kit_text, notes_text
from kitwright.units import ZERO
from kitwright.work.batches import guided_sheets, own_guide
from kitwright.work.compared import comparisons
from kitwright.work.worked import Worked
from kitwright.work.working import work

PiecesOf = tuple[Worked, Mapping[str, str]]
"""A kit, and by the label that a piece of it has on other cards, its own label there (`again.whose`)."""


def write_proposed(
    kits: Path, name: str, wish: Wish, proposal: Proposal, title: str | None = None, pieces_of: PiecesOf | None = None
) -> tuple[Path, list[Finding]]:
    """Write a proposal as a kit, and return its folder and what `check` finds in it, which is nothing but by rare chance.

    Args:
        kits: the folder of kits, with the club's file.
        name: the kit's id.
        wish: the question.
        proposal: which of its answers.
        title: what it is called; by its id where it is left out.
        pieces_of: the kit whose pieces these are, where they are another's.

    Raises:
        UserError: the name is no kit id, the folder is there already, or its pieces can't be dealt to whole cards.
    """
    folder, found = put_new(kits, name, title, lambda new, words: fill_proposed(new, read_club(kits), wish, proposal, words, pieces_of))
    return folder, found_there(found, folder)


def kept_whole(kits: Path, name: str) -> list[tuple[str, Fraction]]:
    """What a kit that was written needs less of than lies on the table: names of papers, and how many sheets of each stay whole, in halves."""
    kit = read_kit(kits / name, read_club(kits))
    assert isinstance(kit, Kit)
    return [
        (kit.papers[plan.paper].name, plan.demand.given - plan.sheets)
        for plan in work(kit).plans
        if plan.demand.given is not None and plan.demand.given > plan.sheets
    ]


def fill_proposed(folder: Path, club: Club, wish: Wish, proposal: Proposal, title: str, pieces_of: PiecesOf | None = None) -> list[Finding]:
    """Write the files of a proposed kit into a new folder, which is called by its id; what is found in it.

    Raises:
        UserError: its pieces can't be dealt to whole cards.
    """
    known = {key: paper.size for key, paper in club.papers.items()}
    best: tuple[KitDraft, list[Finding]] | None = None
    folder.mkdir()
    kept = None
    if pieces_of:
        kept = kept_of(*pieces_of)
        copy_scans(pieces_of[0], folder)
    for draft, worked in _ways(folder, club, title, drafts(wish, proposal, known, kept)):
        found = check(worked)
        if best is None or _weight(found) < _weight(best[1]):
            best = draft, found
        if not found:
            return found
    if best is None:
        raise UserError("proposing.not-dealt", number=proposal.number)
    _write(folder, best[0], title)
    return best[1]


def _ways(folder: Path, club: Club, title: str, drafted: Iterable[KitDraft]) -> Iterator[tuple[KitDraft, Worked]]:
    """Each draft as it is, with what it comes to; then with the planner's cuts where those are better, and no more sheets of a guide than the batch
    takes; then all of it left to the planner."""
    for draft in drafted:
        worked = _worked(folder, club, draft, title)
        yield draft, worked
        # Slack that she asked for is kept, even where cuts without it would be fewer.
        kept = draft.wish.slack or ZERO
        planned = {one.guide for one in comparisons(worked) if one.better and one.held and one.planned.slack >= kept}
        otherwise = draft.cut_otherwise(planned, _counted(worked))
        if otherwise != draft:
            yield otherwise, _worked(folder, club, otherwise, title)
        planned_whole = draft.cut_otherwise(range(len(draft.guides)), ())
        yield planned_whole, _worked(folder, club, planned_whole, title)


def _counted(worked: Worked) -> set[int]:
    """Guides of which fewer sheets are enough than they are drawn for, told by their place."""
    found = set()
    for plan in worked.plans:
        guide = own_guide(plan)
        if guide and guide.guide is not None and guided_sheets(worked, plan, worked.kit.spec.cards) < plan.sheets:
            found.add(guide.guide)
    return found


def _weight(found: list[Finding]) -> tuple[int, ...]:
    """The worse, the larger: errors before warnings before hints."""
    return tuple(sum(1 for one in found if one.level == level) for level in LEVELS)


def _write(folder: Path, draft: KitDraft, title: str) -> None:
    (folder / KIT_FILE).write_text(kit_text(draft, folder.name, title), encoding="utf-8", newline="\n")
    (folder / NOTES_FILE).write_text(notes_text(draft), encoding="utf-8", newline="\n")


def _worked(folder: Path, club: Club, draft: KitDraft, title: str) -> Worked:
    """A draft written, read back and worked out."""
    _write(folder, draft, title)
    kit = read_kit(folder, club)
    assert isinstance(kit, Kit)
    return work(kit)
