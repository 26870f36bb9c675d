"""A proposal written as a kit folder: the way to write it down in which nothing is found."""

from __future__ import annotations

from pathlib import Path

from kitwright.archive.starter import put_new
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.kit.kit import NOTES_FILE, Kit
from kitwright.kit.model.club import Club
from kitwright.kit.read import KIT_FILE, read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.proposing.records import Proposal
from kitwright.proposing.wish import Wish
from kitwright.proposing.written import KitDraft, drafts
from kitwright.telling.proposed_kit import kit_text, notes_text
from kitwright.work.working import work


def write_proposed(kits: Path, name: str, wish: Wish, proposal: Proposal, title: str | None = None) -> tuple[Path, list[Finding]]:
    """Write a proposal as a kit, and return its folder and what `check` finds in it, which is nothing but by rare chance.

    Args:
        kits: the folder of kits, with the club's file.
        name: the kit's id.
        wish: the question.
        proposal: which of its answers.
        title: what it is called; by its id where it is left out.

    Raises:
        UserError: the name is no kit id, the folder is there already, or its pieces can't be dealt to whole cards.
    """
    return put_new(kits, name, title, lambda new, words: fill_proposed(new, read_club(kits), wish, proposal, words))


def fill_proposed(folder: Path, club: Club, wish: Wish, proposal: Proposal, title: str) -> list[Finding]:
    """Write the files of a proposed kit into a new folder, which is called by its id; what is found in it.

    Raises:
        UserError: its pieces can't be dealt to whole cards.
    """
    known = {key: paper.size for key, paper in club.papers.items()}
    best: tuple[KitDraft, list[Finding]] | None = None
    folder.mkdir()
    for draft in drafts(wish, proposal, known):
        _write(folder, draft, title)
        found = _found(folder, club)
        if best is None or len(found) < len(best[1]):
            best = draft, found
        if not found:
            return found
    if best is None:
        raise UserError("proposing.not-dealt", number=proposal.number)
    _write(folder, best[0], title)
    return best[1]


def _write(folder: Path, draft: KitDraft, title: str) -> None:
    (folder / KIT_FILE).write_text(kit_text(draft, folder.name, title), encoding="utf-8", newline="\n")
    (folder / NOTES_FILE).write_text(notes_text(draft), encoding="utf-8", newline="\n")


def _found(folder: Path, club: Club) -> list[Finding]:
    kit = read_kit(folder, club)
    assert isinstance(kit, Kit)
    return check(work(kit))
